"""Calls of the service, described without sending them: catalogue.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

import datetime as dt
from typing import Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, path, query
from filmbuild_sdk.values import Choice


def get_catalogue() -> Call[models.CurrentRevision]:
    """The newest revision of the catalogue."""
    return Call("GET", "/v1/catalogue", models.CurrentRevision)


def list_catalogue_revisions(
    *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RevisionPage]:
    """All revisions of the catalogue, newest first."""
    return Call(
        "GET",
        "/v1/catalogue/revisions",
        models.RevisionPage,
        query=query(limit=limit, cursor=cursor),
    )


def list_consumable_rules(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.ConsumableRulePage]:
    """The catalogue's consumable rules, a page at a time."""
    return Call(
        "GET",
        "/v1/consumable-rules",
        models.ConsumableRulePage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision),
    )


def get_consumable_rule(
    consumable_rule_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.ConsumableRule]:
    """One consumable rule."""
    return Call(
        "GET",
        path("/v1/consumable-rules/{}", consumable_rule_id),
        models.ConsumableRule,
        query=query(units=units, revision=revision),
    )


def list_packs(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    product: str | None = None,
    currency: str | None = None,
    priced_on: dt.date | None = None,
) -> Call[models.PackPage]:
    """The catalogue's packs, a page at a time."""
    return Call(
        "GET",
        "/v1/packs",
        models.PackPage,
        query=query(
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
    pack_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    currency: str | None = None,
    priced_on: dt.date | None = None,
) -> Call[models.PackRecord]:
    """One pack."""
    return Call(
        "GET",
        path("/v1/packs/{}", pack_id),
        models.PackRecord,
        query=query(units=units, revision=revision, currency=currency, priced_on=priced_on),
    )


def list_products(
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
) -> Call[models.ProductPage]:
    """The catalogue's products, a page at a time."""
    return Call(
        "GET",
        "/v1/products",
        models.ProductPage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision, role=role),
    )


def get_product(
    product_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.Product]:
    """One product."""
    return Call(
        "GET",
        path("/v1/products/{}", product_id),
        models.Product,
        query=query(units=units, revision=revision),
    )


def list_rate_books(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.RateBookPage]:
    """The catalogue's rate books, a page at a time."""
    return Call(
        "GET",
        "/v1/rate-books",
        models.RateBookPage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision),
    )


def get_rate_book(
    rate_book_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.RateBook]:
    """One rate book."""
    return Call(
        "GET",
        path("/v1/rate-books/{}", rate_book_id),
        models.RateBook,
        query=query(units=units, revision=revision),
    )


def list_suppliers(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.SupplierPage]:
    """The catalogue's suppliers, a page at a time."""
    return Call(
        "GET",
        "/v1/suppliers",
        models.SupplierPage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision),
    )


def get_supplier(
    supplier_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.Supplier]:
    """One supplier."""
    return Call(
        "GET",
        path("/v1/suppliers/{}", supplier_id),
        models.Supplier,
        query=query(units=units, revision=revision),
    )


def list_systems(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.SystemPage]:
    """The catalogue's systems, a page at a time."""
    return Call(
        "GET",
        "/v1/systems",
        models.SystemPage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision),
    )


def get_system(
    system_id: str, *, units: Choice[Literal["si", "us"]] | None = None, revision: int | None = None
) -> Call[models.System]:
    """One system."""
    return Call(
        "GET",
        path("/v1/systems/{}", system_id),
        models.System,
        query=query(units=units, revision=revision),
    )


def list_tax_rules(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.TaxRulePage]:
    """The catalogue's tax rules, a page at a time."""
    return Call(
        "GET",
        "/v1/tax-rules",
        models.TaxRulePage,
        query=query(limit=limit, cursor=cursor, units=units, revision=revision),
    )


def get_tax_rule(
    tax_rule_id: str,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
) -> Call[models.TaxRule]:
    """One tax rule."""
    return Call(
        "GET",
        path("/v1/tax-rules/{}", tax_rule_id),
        models.TaxRule,
        query=query(units=units, revision=revision),
    )
