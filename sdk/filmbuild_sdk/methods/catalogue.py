"""The calls as methods of the clients: catalogue.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

import datetime as dt
from typing import Any, Literal

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

    def change_catalogue(
        self,
        request: models.CatalogueChanges,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Put, patch and retire records of several kinds together.

        All of it or none, as one revision, checked as a whole: a product and its packs can be
        retired at once. Records that have changed since `catalogue_revision` are not written over.
        Faults of a patch stand at `/patch/{n}/patch` and the place in the record as it would
        become. With `check_only`, the faults or the whole difference.
        """
        return self.send(
            calls.change_catalogue(request, idempotency_key=idempotency_key), timeout=timeout
        )

    def export_catalogue(
        self, *, revision: int | None = None, timeout: Timeout = UNCHANGED
    ) -> dict[str, Any]:
        """The whole catalogue as one document.

        Records and prices of the newest revision, or of that of `revision`, as they were written.
        Imported again, it changes nothing.
        """
        return self.send(calls.export_catalogue(revision=revision), timeout=timeout)

    def import_catalogue(
        self,
        request: models.CatalogueImport,
        *,
        check_only: bool | None = None,
        missing: Choice[Literal["keep", "retire"]] | None = None,
        based_on: int | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Bring the catalogue to what a document says.

        A document as the export answers it, or a part of one: records are put, prices added. One
        revision is made, or none where nothing differs. With `check_only=true`, the faults or the
        whole difference.
        """
        return self.send(
            calls.import_catalogue(
                request,
                check_only=check_only,
                missing=missing,
                based_on=based_on,
                note=note,
                idempotency_key=idempotency_key,
            ),
            timeout=timeout,
        )

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

    def import_catalogue_tables(
        self,
        content: bytes,
        *,
        media_type: Choice[Literal["application/zip", "text/csv"]] = "application/zip",
        check_only: bool | None = None,
        missing: Choice[Literal["keep", "retire"]] | None = None,
        based_on: int | None = None,
        note: str | None = None,
        kind: Choice[
            Literal[
                "consumables",
                "packs",
                "prices",
                "products",
                "rate_books",
                "suppliers",
                "systems",
                "taxes",
            ]
        ]
        | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Bring the catalogue to what tables say.

        An archive as the export answers it, with some of its tables or all, or one table as
        text/csv with its `kind`. Columns may be left out and stand in any order. Faults have
        pointers of file, row and column, such as `/packs.csv/17/~1contents~10~1volume`; the row
        with the titles is row 1. With `check_only=true`, the faults or the whole difference.
        """
        return self.send(
            calls.import_catalogue_tables(
                content,
                media_type=media_type,
                check_only=check_only,
                missing=missing,
                based_on=based_on,
                note=note,
                kind=kind,
                idempotency_key=idempotency_key,
            ),
            timeout=timeout,
        )

    def list_consumable_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        kind: Choice[Literal["consumable", "protective_equipment", "tool"]] | None = None,
        currency: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.ConsumableRulePage, models.ConsumableRule]:
        """The catalogue's consumable rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_consumable_rules(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                kind=kind,
                currency=currency,
            ),
        )

    def create_consumable_rule(
        self,
        request: models.ConsumableRuleInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ConsumableRule:
        """Add a consumable rule to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A consumable rule of this id
        that was retired is there again. Makes a revision.
        """
        return self.send(
            calls.create_consumable_rule(
                request, units=units, note=note, idempotency_key=idempotency_key
            ),
            timeout=timeout,
        )

    def retire_consumable_rule(
        self,
        consumable_rule_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a consumable rule.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return self.send(
            calls.retire_consumable_rule(consumable_rule_id, if_match=if_match, note=note),
            timeout=timeout,
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

    def patch_consumable_rule(
        self,
        consumable_rule_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ConsumableRule:
        """Change some members of a consumable rule.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return self.send(
            calls.patch_consumable_rule(
                consumable_rule_id, request, if_match=if_match, units=units, note=note
            ),
            timeout=timeout,
        )

    def put_consumable_rule(
        self,
        consumable_rule_id: str,
        request: models.ConsumableRuleInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ConsumableRule:
        """Replace a consumable rule, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return self.send(
            calls.put_consumable_rule(
                consumable_rule_id, request, if_match=if_match, units=units, note=note
            ),
            timeout=timeout,
        )

    def get_consumable_rule_history(
        self,
        consumable_rule_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a consumable rule, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_consumable_rule_history(consumable_rule_id, limit=limit, cursor=cursor),
        )

    def list_packs(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
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
                q=q,
                retired=retired,
                product=product,
                currency=currency,
                priced_on=priced_on,
            ),
        )

    def create_pack(
        self,
        request: models.PackInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Add a pack to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A pack of this id that was
        retired is there again. Makes a revision.
        """
        return self.send(
            calls.create_pack(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def retire_pack(
        self, pack_id: str, *, if_match: str, note: str | None = None, timeout: Timeout = UNCHANGED
    ) -> None:
        """Retire a pack.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return self.send(calls.retire_pack(pack_id, if_match=if_match, note=note), timeout=timeout)

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

    def patch_pack(
        self,
        pack_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Change some members of a pack.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return self.send(
            calls.patch_pack(pack_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def put_pack(
        self,
        pack_id: str,
        request: models.PackInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Replace a pack, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return self.send(
            calls.put_pack(pack_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_pack_history(
        self,
        pack_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a pack, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_pack_history(pack_id, limit=limit, cursor=cursor),
        )

    def list_products(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
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
        supplier: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.ProductPage, models.Product]:
        """The catalogue's products, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_products(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                role=role,
                supplier=supplier,
            ),
        )

    def create_product(
        self,
        request: models.ProductInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Product:
        """Add a product to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A product of this id that
        was retired is there again. Makes a revision.
        """
        return self.send(
            calls.create_product(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def retire_product(
        self,
        product_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a product.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return self.send(
            calls.retire_product(product_id, if_match=if_match, note=note), timeout=timeout
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

    def patch_product(
        self,
        product_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Product:
        """Change some members of a product.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return self.send(
            calls.patch_product(product_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def put_product(
        self,
        product_id: str,
        request: models.ProductInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Product:
        """Replace a product, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return self.send(
            calls.put_product(product_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_product_history(
        self,
        product_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a product, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_product_history(product_id, limit=limit, cursor=cursor),
        )

    def list_rate_books(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        currency: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RateBookPage, models.RateBook]:
        """The catalogue's rate books, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rate_books(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                currency=currency,
            ),
        )

    def create_rate_book(
        self,
        request: models.RateBookInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Add a rate book to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A rate book of this id that
        was retired is there again. Makes a revision.
        """
        return self.send(
            calls.create_rate_book(
                request, units=units, note=note, idempotency_key=idempotency_key
            ),
            timeout=timeout,
        )

    def retire_rate_book(
        self,
        rate_book_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a rate book.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return self.send(
            calls.retire_rate_book(rate_book_id, if_match=if_match, note=note), timeout=timeout
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

    def patch_rate_book(
        self,
        rate_book_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Change some members of a rate book.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return self.send(
            calls.patch_rate_book(rate_book_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def put_rate_book(
        self,
        rate_book_id: str,
        request: models.RateBookInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Replace a rate book, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return self.send(
            calls.put_rate_book(rate_book_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_rate_book_history(
        self,
        rate_book_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a rate book, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_rate_book_history(rate_book_id, limit=limit, cursor=cursor),
        )

    def list_suppliers(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        currency: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.SupplierPage, models.Supplier]:
        """The catalogue's suppliers, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_suppliers(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                currency=currency,
            ),
        )

    def create_supplier(
        self,
        request: models.SupplierInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Supplier:
        """Add a supplier to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A supplier of this id that
        was retired is there again. Makes a revision.
        """
        return self.send(
            calls.create_supplier(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def retire_supplier(
        self,
        supplier_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a supplier.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return self.send(
            calls.retire_supplier(supplier_id, if_match=if_match, note=note), timeout=timeout
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

    def patch_supplier(
        self,
        supplier_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Supplier:
        """Change some members of a supplier.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return self.send(
            calls.patch_supplier(supplier_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def put_supplier(
        self,
        supplier_id: str,
        request: models.SupplierInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Supplier:
        """Replace a supplier, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return self.send(
            calls.put_supplier(supplier_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_supplier_history(
        self,
        supplier_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a supplier, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_supplier_history(supplier_id, limit=limit, cursor=cursor),
        )

    def list_systems(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.SystemPage, models.System]:
        """The catalogue's systems, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_systems(
                limit=limit, cursor=cursor, units=units, revision=revision, q=q, retired=retired
            ),
        )

    def create_system(
        self,
        request: models.SystemInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.System:
        """Add a system to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A system of this id that was
        retired is there again. Makes a revision.
        """
        return self.send(
            calls.create_system(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def retire_system(
        self,
        system_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a system.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return self.send(
            calls.retire_system(system_id, if_match=if_match, note=note), timeout=timeout
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

    def patch_system(
        self,
        system_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.System:
        """Change some members of a system.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return self.send(
            calls.patch_system(system_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def put_system(
        self,
        system_id: str,
        request: models.SystemInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.System:
        """Replace a system, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return self.send(
            calls.put_system(system_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_system_history(
        self,
        system_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a system, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_system_history(system_id, limit=limit, cursor=cursor),
        )

    def list_tax_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        place: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.TaxRulePage, models.TaxRule]:
        """The catalogue's tax rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_tax_rules(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                place=place,
            ),
        )

    def create_tax_rule(
        self,
        request: models.TaxRuleInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TaxRule:
        """Add a tax rule to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A tax rule of this id that
        was retired is there again. Makes a revision.
        """
        return self.send(
            calls.create_tax_rule(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def retire_tax_rule(
        self,
        tax_rule_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a tax rule.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return self.send(
            calls.retire_tax_rule(tax_rule_id, if_match=if_match, note=note), timeout=timeout
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

    def patch_tax_rule(
        self,
        tax_rule_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TaxRule:
        """Change some members of a tax rule.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return self.send(
            calls.patch_tax_rule(tax_rule_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def put_tax_rule(
        self,
        tax_rule_id: str,
        request: models.TaxRuleInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TaxRule:
        """Replace a tax rule, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return self.send(
            calls.put_tax_rule(tax_rule_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_tax_rule_history(
        self,
        tax_rule_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a tax rule, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_tax_rule_history(tax_rule_id, limit=limit, cursor=cursor),
        )


class AsyncCatalogueMethods(AsyncSender):
    """The calls about catalogue."""

    async def get_catalogue(self, *, timeout: Timeout = UNCHANGED) -> models.CurrentRevision:
        """The newest revision of the catalogue.

        Its number, when it was made, and how many records it holds.
        """
        return await self.send(calls.get_catalogue(), timeout=timeout)

    async def change_catalogue(
        self,
        request: models.CatalogueChanges,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Put, patch and retire records of several kinds together.

        All of it or none, as one revision, checked as a whole: a product and its packs can be
        retired at once. Records that have changed since `catalogue_revision` are not written over.
        Faults of a patch stand at `/patch/{n}/patch` and the place in the record as it would
        become. With `check_only`, the faults or the whole difference.
        """
        return await self.send(
            calls.change_catalogue(request, idempotency_key=idempotency_key), timeout=timeout
        )

    async def export_catalogue(
        self, *, revision: int | None = None, timeout: Timeout = UNCHANGED
    ) -> dict[str, Any]:
        """The whole catalogue as one document.

        Records and prices of the newest revision, or of that of `revision`, as they were written.
        Imported again, it changes nothing.
        """
        return await self.send(calls.export_catalogue(revision=revision), timeout=timeout)

    async def import_catalogue(
        self,
        request: models.CatalogueImport,
        *,
        check_only: bool | None = None,
        missing: Choice[Literal["keep", "retire"]] | None = None,
        based_on: int | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Bring the catalogue to what a document says.

        A document as the export answers it, or a part of one: records are put, prices added. One
        revision is made, or none where nothing differs. With `check_only=true`, the faults or the
        whole difference.
        """
        return await self.send(
            calls.import_catalogue(
                request,
                check_only=check_only,
                missing=missing,
                based_on=based_on,
                note=note,
                idempotency_key=idempotency_key,
            ),
            timeout=timeout,
        )

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

    async def import_catalogue_tables(
        self,
        content: bytes,
        *,
        media_type: Choice[Literal["application/zip", "text/csv"]] = "application/zip",
        check_only: bool | None = None,
        missing: Choice[Literal["keep", "retire"]] | None = None,
        based_on: int | None = None,
        note: str | None = None,
        kind: Choice[
            Literal[
                "consumables",
                "packs",
                "prices",
                "products",
                "rate_books",
                "suppliers",
                "systems",
                "taxes",
            ]
        ]
        | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Bring the catalogue to what tables say.

        An archive as the export answers it, with some of its tables or all, or one table as
        text/csv with its `kind`. Columns may be left out and stand in any order. Faults have
        pointers of file, row and column, such as `/packs.csv/17/~1contents~10~1volume`; the row
        with the titles is row 1. With `check_only=true`, the faults or the whole difference.
        """
        return await self.send(
            calls.import_catalogue_tables(
                content,
                media_type=media_type,
                check_only=check_only,
                missing=missing,
                based_on=based_on,
                note=note,
                kind=kind,
                idempotency_key=idempotency_key,
            ),
            timeout=timeout,
        )

    def list_consumable_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        kind: Choice[Literal["consumable", "protective_equipment", "tool"]] | None = None,
        currency: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.ConsumableRulePage, models.ConsumableRule]:
        """The catalogue's consumable rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_consumable_rules(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                kind=kind,
                currency=currency,
            ),
        )

    async def create_consumable_rule(
        self,
        request: models.ConsumableRuleInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ConsumableRule:
        """Add a consumable rule to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A consumable rule of this id
        that was retired is there again. Makes a revision.
        """
        return await self.send(
            calls.create_consumable_rule(
                request, units=units, note=note, idempotency_key=idempotency_key
            ),
            timeout=timeout,
        )

    async def retire_consumable_rule(
        self,
        consumable_rule_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a consumable rule.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return await self.send(
            calls.retire_consumable_rule(consumable_rule_id, if_match=if_match, note=note),
            timeout=timeout,
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

    async def patch_consumable_rule(
        self,
        consumable_rule_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ConsumableRule:
        """Change some members of a consumable rule.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return await self.send(
            calls.patch_consumable_rule(
                consumable_rule_id, request, if_match=if_match, units=units, note=note
            ),
            timeout=timeout,
        )

    async def put_consumable_rule(
        self,
        consumable_rule_id: str,
        request: models.ConsumableRuleInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ConsumableRule:
        """Replace a consumable rule, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return await self.send(
            calls.put_consumable_rule(
                consumable_rule_id, request, if_match=if_match, units=units, note=note
            ),
            timeout=timeout,
        )

    def get_consumable_rule_history(
        self,
        consumable_rule_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a consumable rule, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_consumable_rule_history(consumable_rule_id, limit=limit, cursor=cursor),
        )

    def list_packs(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
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
                q=q,
                retired=retired,
                product=product,
                currency=currency,
                priced_on=priced_on,
            ),
        )

    async def create_pack(
        self,
        request: models.PackInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Add a pack to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A pack of this id that was
        retired is there again. Makes a revision.
        """
        return await self.send(
            calls.create_pack(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    async def retire_pack(
        self, pack_id: str, *, if_match: str, note: str | None = None, timeout: Timeout = UNCHANGED
    ) -> None:
        """Retire a pack.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return await self.send(
            calls.retire_pack(pack_id, if_match=if_match, note=note), timeout=timeout
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

    async def patch_pack(
        self,
        pack_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Change some members of a pack.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return await self.send(
            calls.patch_pack(pack_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    async def put_pack(
        self,
        pack_id: str,
        request: models.PackInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Replace a pack, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return await self.send(
            calls.put_pack(pack_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_pack_history(
        self,
        pack_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a pack, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_pack_history(pack_id, limit=limit, cursor=cursor),
        )

    def list_products(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
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
        supplier: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.ProductPage, models.Product]:
        """The catalogue's products, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_products(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                role=role,
                supplier=supplier,
            ),
        )

    async def create_product(
        self,
        request: models.ProductInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Product:
        """Add a product to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A product of this id that
        was retired is there again. Makes a revision.
        """
        return await self.send(
            calls.create_product(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    async def retire_product(
        self,
        product_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a product.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return await self.send(
            calls.retire_product(product_id, if_match=if_match, note=note), timeout=timeout
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

    async def patch_product(
        self,
        product_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Product:
        """Change some members of a product.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return await self.send(
            calls.patch_product(product_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    async def put_product(
        self,
        product_id: str,
        request: models.ProductInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Product:
        """Replace a product, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return await self.send(
            calls.put_product(product_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_product_history(
        self,
        product_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a product, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_product_history(product_id, limit=limit, cursor=cursor),
        )

    def list_rate_books(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        currency: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RateBookPage, models.RateBook]:
        """The catalogue's rate books, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rate_books(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                currency=currency,
            ),
        )

    async def create_rate_book(
        self,
        request: models.RateBookInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Add a rate book to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A rate book of this id that
        was retired is there again. Makes a revision.
        """
        return await self.send(
            calls.create_rate_book(
                request, units=units, note=note, idempotency_key=idempotency_key
            ),
            timeout=timeout,
        )

    async def retire_rate_book(
        self,
        rate_book_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a rate book.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return await self.send(
            calls.retire_rate_book(rate_book_id, if_match=if_match, note=note), timeout=timeout
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

    async def patch_rate_book(
        self,
        rate_book_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Change some members of a rate book.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return await self.send(
            calls.patch_rate_book(rate_book_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    async def put_rate_book(
        self,
        rate_book_id: str,
        request: models.RateBookInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Replace a rate book, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return await self.send(
            calls.put_rate_book(rate_book_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_rate_book_history(
        self,
        rate_book_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a rate book, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_rate_book_history(rate_book_id, limit=limit, cursor=cursor),
        )

    def list_suppliers(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        currency: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.SupplierPage, models.Supplier]:
        """The catalogue's suppliers, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_suppliers(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                currency=currency,
            ),
        )

    async def create_supplier(
        self,
        request: models.SupplierInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Supplier:
        """Add a supplier to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A supplier of this id that
        was retired is there again. Makes a revision.
        """
        return await self.send(
            calls.create_supplier(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    async def retire_supplier(
        self,
        supplier_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a supplier.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return await self.send(
            calls.retire_supplier(supplier_id, if_match=if_match, note=note), timeout=timeout
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

    async def patch_supplier(
        self,
        supplier_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Supplier:
        """Change some members of a supplier.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return await self.send(
            calls.patch_supplier(supplier_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    async def put_supplier(
        self,
        supplier_id: str,
        request: models.SupplierInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Supplier:
        """Replace a supplier, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return await self.send(
            calls.put_supplier(supplier_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_supplier_history(
        self,
        supplier_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a supplier, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_supplier_history(supplier_id, limit=limit, cursor=cursor),
        )

    def list_systems(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.SystemPage, models.System]:
        """The catalogue's systems, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_systems(
                limit=limit, cursor=cursor, units=units, revision=revision, q=q, retired=retired
            ),
        )

    async def create_system(
        self,
        request: models.SystemInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.System:
        """Add a system to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A system of this id that was
        retired is there again. Makes a revision.
        """
        return await self.send(
            calls.create_system(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    async def retire_system(
        self,
        system_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a system.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return await self.send(
            calls.retire_system(system_id, if_match=if_match, note=note), timeout=timeout
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

    async def patch_system(
        self,
        system_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.System:
        """Change some members of a system.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return await self.send(
            calls.patch_system(system_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    async def put_system(
        self,
        system_id: str,
        request: models.SystemInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.System:
        """Replace a system, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return await self.send(
            calls.put_system(system_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_system_history(
        self,
        system_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a system, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_system_history(system_id, limit=limit, cursor=cursor),
        )

    def list_tax_rules(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        place: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.TaxRulePage, models.TaxRule]:
        """The catalogue's tax rules, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_tax_rules(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                place=place,
            ),
        )

    async def create_tax_rule(
        self,
        request: models.TaxRuleInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TaxRule:
        """Add a tax rule to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A tax rule of this id that
        was retired is there again. Makes a revision.
        """
        return await self.send(
            calls.create_tax_rule(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    async def retire_tax_rule(
        self,
        tax_rule_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a tax rule.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return await self.send(
            calls.retire_tax_rule(tax_rule_id, if_match=if_match, note=note), timeout=timeout
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

    async def patch_tax_rule(
        self,
        tax_rule_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TaxRule:
        """Change some members of a tax rule.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return await self.send(
            calls.patch_tax_rule(tax_rule_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    async def put_tax_rule(
        self,
        tax_rule_id: str,
        request: models.TaxRuleInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TaxRule:
        """Replace a tax rule, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return await self.send(
            calls.put_tax_rule(tax_rule_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_tax_rule_history(
        self,
        tax_rule_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a tax rule, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_tax_rule_history(tax_rule_id, limit=limit, cursor=cursor),
        )
