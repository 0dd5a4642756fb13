"""The calls as methods of the clients: catalogue.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

import datetime as dt
from typing import Literal

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.values import Choice


class CatalogueMethods(Sender):
    """The calls about catalogue."""

    def get_catalogue(self, *, timeout: Timeout = UNCHANGED) -> models.CurrentRevision:
        """The newest revision of the catalogue.

        Its number, when it was made, and how many records it holds.
        """
        return self.send(calls.get_catalogue(), timeout=timeout)

    def list_catalogue_revisions(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> Pages[models.RevisionPage, models.RevisionRecord]:
        """All revisions of the catalogue, newest first.

        Every revision stays readable: name it in `revision` of a reading, or in
        `catalogue_revision` of a calculation.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_catalogue_revisions(limit=limit, cursor=cursor),
        )

    def list_consumable_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.ConsumableRulePage, models.ConsumableRule]:
        """The catalogue's consumable rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_consumable_rules(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    def get_consumable_rule(
        self,
        consumable_rule_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ConsumableRule:
        """One consumable rule.

        The consumable rule as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_consumable_rule(consumable_rule_id, units=units, revision=revision),
            timeout=timeout,
        )

    def list_packs(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        product: str | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.PackPage, models.PackRecord]:
        """The catalogue's packs, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_packs(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                product=product,
                currency=currency,
                priced_on=priced_on,
            ),
        )

    def get_pack(
        self,
        pack_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """One pack.

        The pack as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_pack(
                pack_id, units=units, revision=revision, currency=currency, priced_on=priced_on
            ),
            timeout=timeout,
        )

    def list_products(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        role: Choice[
            Literal[
                "body_coat",
                "broadcast_aggregate",
                "cove_mortar",
                "crack_filler",
                "joint_filler",
                "patch_mortar",
                "primer",
                "solvent",
                "topcoat",
            ]
        ]
        | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.ProductPage, models.Product]:
        """The catalogue's products, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_products(
                limit=limit, cursor=cursor, units=units, revision=revision, role=role
            ),
        )

    def get_product(
        self,
        product_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Product:
        """One product.

        The product as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_product(product_id, units=units, revision=revision), timeout=timeout
        )

    def list_rate_books(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RateBookPage, models.RateBook]:
        """The catalogue's rate books, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rate_books(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    def get_rate_book(
        self,
        rate_book_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """One rate book.

        The rate book as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_rate_book(rate_book_id, units=units, revision=revision), timeout=timeout
        )

    def list_suppliers(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.SupplierPage, models.Supplier]:
        """The catalogue's suppliers, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_suppliers(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    def get_supplier(
        self,
        supplier_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Supplier:
        """One supplier.

        The supplier as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_supplier(supplier_id, units=units, revision=revision), timeout=timeout
        )

    def list_systems(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.SystemPage, models.System]:
        """The catalogue's systems, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_systems(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    def get_system(
        self,
        system_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.System:
        """One system.

        The system as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_system(system_id, units=units, revision=revision), timeout=timeout
        )

    def list_tax_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.TaxRulePage, models.TaxRule]:
        """The catalogue's tax rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_tax_rules(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    def get_tax_rule(
        self,
        tax_rule_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TaxRule:
        """One tax rule.

        The tax rule as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_tax_rule(tax_rule_id, units=units, revision=revision), timeout=timeout
        )


class AsyncCatalogueMethods(AsyncSender):
    """The calls about catalogue."""

    async def get_catalogue(self, *, timeout: Timeout = UNCHANGED) -> models.CurrentRevision:
        """The newest revision of the catalogue.

        Its number, when it was made, and how many records it holds.
        """
        return await self.send(calls.get_catalogue(), timeout=timeout)

    def list_catalogue_revisions(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncPages[models.RevisionPage, models.RevisionRecord]:
        """All revisions of the catalogue, newest first.

        Every revision stays readable: name it in `revision` of a reading, or in
        `catalogue_revision` of a calculation.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_catalogue_revisions(limit=limit, cursor=cursor),
        )

    def list_consumable_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.ConsumableRulePage, models.ConsumableRule]:
        """The catalogue's consumable rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_consumable_rules(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    async def get_consumable_rule(
        self,
        consumable_rule_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ConsumableRule:
        """One consumable rule.

        The consumable rule as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_consumable_rule(consumable_rule_id, units=units, revision=revision),
            timeout=timeout,
        )

    def list_packs(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        product: str | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.PackPage, models.PackRecord]:
        """The catalogue's packs, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_packs(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                product=product,
                currency=currency,
                priced_on=priced_on,
            ),
        )

    async def get_pack(
        self,
        pack_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """One pack.

        The pack as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_pack(
                pack_id, units=units, revision=revision, currency=currency, priced_on=priced_on
            ),
            timeout=timeout,
        )

    def list_products(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        role: Choice[
            Literal[
                "body_coat",
                "broadcast_aggregate",
                "cove_mortar",
                "crack_filler",
                "joint_filler",
                "patch_mortar",
                "primer",
                "solvent",
                "topcoat",
            ]
        ]
        | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.ProductPage, models.Product]:
        """The catalogue's products, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_products(
                limit=limit, cursor=cursor, units=units, revision=revision, role=role
            ),
        )

    async def get_product(
        self,
        product_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Product:
        """One product.

        The product as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_product(product_id, units=units, revision=revision), timeout=timeout
        )

    def list_rate_books(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RateBookPage, models.RateBook]:
        """The catalogue's rate books, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rate_books(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    async def get_rate_book(
        self,
        rate_book_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """One rate book.

        The rate book as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_rate_book(rate_book_id, units=units, revision=revision), timeout=timeout
        )

    def list_suppliers(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.SupplierPage, models.Supplier]:
        """The catalogue's suppliers, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_suppliers(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    async def get_supplier(
        self,
        supplier_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Supplier:
        """One supplier.

        The supplier as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_supplier(supplier_id, units=units, revision=revision), timeout=timeout
        )

    def list_systems(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.SystemPage, models.System]:
        """The catalogue's systems, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_systems(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    async def get_system(
        self,
        system_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.System:
        """One system.

        The system as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_system(system_id, units=units, revision=revision), timeout=timeout
        )

    def list_tax_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.TaxRulePage, models.TaxRule]:
        """The catalogue's tax rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_tax_rules(limit=limit, cursor=cursor, units=units, revision=revision),
        )

    async def get_tax_rule(
        self,
        tax_rule_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TaxRule:
        """One tax rule.

        The tax rule as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_tax_rule(tax_rule_id, units=units, revision=revision), timeout=timeout
        )
