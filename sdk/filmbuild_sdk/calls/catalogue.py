"""Calls of the service, described without sending them: catalogue.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

import datetime as dt
from typing import Any, Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


def get_catalogue() -> Call[models.CurrentRevision]:
    """The newest revision of the catalogue."""
    return Call("GET", "/v1/catalogue", models.CurrentRevision)


def change_catalogue(
    request: models.CatalogueChanges, *, idempotency_key: str | None = None
) -> Call[models.ChangesReport]:
    """Put, patch and retire records of several kinds together."""
    return Call(
        "POST",
        "/v1/catalogue/changes",
        models.ChangesReport,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def export_catalogue(*, revision: int | None = None) -> Call[dict[str, Any]]:
    """The whole catalogue as one document."""
    return Call("GET", "/v1/catalogue/export", dict[str, Any], query=query(revision=revision))


def import_catalogue(
    request: models.CatalogueImport,
    *,
    check_only: bool | None = None,
    missing: Choice[Literal["keep", "retire"]] | None = None,
    based_on: int | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.ChangesReport]:
    """Bring the catalogue to what a document says."""
    return Call(
        "POST",
        "/v1/catalogue/import",
        models.ChangesReport,
        query=query(check_only=check_only, missing=missing, based_on=based_on, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


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


def import_catalogue_tables(
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
) -> Call[models.ChangesReport]:
    """Bring the catalogue to what tables say."""
    return Call(
        "POST",
        "/v1/catalogue/tables",
        models.ChangesReport,
        query=query(
            check_only=check_only, missing=missing, based_on=based_on, note=note, kind=kind
        ),
        body=content,
        media_type=media_type,
        idempotency_key=key(idempotency_key),
    )


def list_consumable_rules(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    q: str | None = None,
    retired: bool | None = None,
    kind: Choice[Literal["consumable", "protective_equipment", "tool"]] | None = None,
    currency: str | None = None,
) -> Call[models.ConsumableRulePage]:
    """The catalogue's consumable rules, a page at a time."""
    return Call(
        "GET",
        "/v1/consumable-rules",
        models.ConsumableRulePage,
        query=query(
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
    request: models.ConsumableRuleInput,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.ConsumableRule]:
    """Add a consumable rule to the catalogue."""
    return Call(
        "POST",
        "/v1/consumable-rules",
        models.ConsumableRule,
        query=query(units=units, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


def retire_consumable_rule(
    consumable_rule_id: str, *, if_match: str, note: str | None = None
) -> Call[None]:
    """Retire a consumable rule."""
    return Call(
        "DELETE",
        path("/v1/consumable-rules/{}", consumable_rule_id),
        type(None),
        query=query(note=note),
        if_match=if_match,
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


def patch_consumable_rule(
    consumable_rule_id: str,
    request: dict[str, Any],
    *,
    if_match: str,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.ConsumableRule]:
    """Change some members of a consumable rule."""
    return Call(
        "PATCH",
        path("/v1/consumable-rules/{}", consumable_rule_id),
        models.ConsumableRule,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
    )


def put_consumable_rule(
    consumable_rule_id: str,
    request: models.ConsumableRuleInput,
    *,
    if_match: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.ConsumableRule]:
    """Replace a consumable rule, or make it under its id."""
    return Call(
        "PUT",
        path("/v1/consumable-rules/{}", consumable_rule_id),
        models.ConsumableRule,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
        making=if_match is None,
    )


def get_consumable_rule_history(
    consumable_rule_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RecordHistoryPage]:
    """What became of a consumable rule, newest first."""
    return Call(
        "GET",
        path("/v1/consumable-rules/{}/history", consumable_rule_id),
        models.RecordHistoryPage,
        query=query(limit=limit, cursor=cursor),
    )


def list_packs(
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
            q=q,
            retired=retired,
            product=product,
            currency=currency,
            priced_on=priced_on,
        ),
    )


def create_pack(
    request: models.PackInput,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.PackRecord]:
    """Add a pack to the catalogue."""
    return Call(
        "POST",
        "/v1/packs",
        models.PackRecord,
        query=query(units=units, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


def retire_pack(pack_id: str, *, if_match: str, note: str | None = None) -> Call[None]:
    """Retire a pack."""
    return Call(
        "DELETE",
        path("/v1/packs/{}", pack_id),
        type(None),
        query=query(note=note),
        if_match=if_match,
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


def patch_pack(
    pack_id: str,
    request: dict[str, Any],
    *,
    if_match: str,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.PackRecord]:
    """Change some members of a pack."""
    return Call(
        "PATCH",
        path("/v1/packs/{}", pack_id),
        models.PackRecord,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
    )


def put_pack(
    pack_id: str,
    request: models.PackInput,
    *,
    if_match: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.PackRecord]:
    """Replace a pack, or make it under its id."""
    return Call(
        "PUT",
        path("/v1/packs/{}", pack_id),
        models.PackRecord,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
        making=if_match is None,
    )


def get_pack_history(
    pack_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RecordHistoryPage]:
    """What became of a pack, newest first."""
    return Call(
        "GET",
        path("/v1/packs/{}/history", pack_id),
        models.RecordHistoryPage,
        query=query(limit=limit, cursor=cursor),
    )


def list_products(
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
) -> Call[models.ProductPage]:
    """The catalogue's products, a page at a time."""
    return Call(
        "GET",
        "/v1/products",
        models.ProductPage,
        query=query(
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
    request: models.ProductInput,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.Product]:
    """Add a product to the catalogue."""
    return Call(
        "POST",
        "/v1/products",
        models.Product,
        query=query(units=units, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


def retire_product(product_id: str, *, if_match: str, note: str | None = None) -> Call[None]:
    """Retire a product."""
    return Call(
        "DELETE",
        path("/v1/products/{}", product_id),
        type(None),
        query=query(note=note),
        if_match=if_match,
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


def patch_product(
    product_id: str,
    request: dict[str, Any],
    *,
    if_match: str,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.Product]:
    """Change some members of a product."""
    return Call(
        "PATCH",
        path("/v1/products/{}", product_id),
        models.Product,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
    )


def put_product(
    product_id: str,
    request: models.ProductInput,
    *,
    if_match: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.Product]:
    """Replace a product, or make it under its id."""
    return Call(
        "PUT",
        path("/v1/products/{}", product_id),
        models.Product,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
        making=if_match is None,
    )


def get_product_history(
    product_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RecordHistoryPage]:
    """What became of a product, newest first."""
    return Call(
        "GET",
        path("/v1/products/{}/history", product_id),
        models.RecordHistoryPage,
        query=query(limit=limit, cursor=cursor),
    )


def list_rate_books(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    q: str | None = None,
    retired: bool | None = None,
    currency: str | None = None,
) -> Call[models.RateBookPage]:
    """The catalogue's rate books, a page at a time."""
    return Call(
        "GET",
        "/v1/rate-books",
        models.RateBookPage,
        query=query(
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
    request: models.RateBookInput,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.RateBook]:
    """Add a rate book to the catalogue."""
    return Call(
        "POST",
        "/v1/rate-books",
        models.RateBook,
        query=query(units=units, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


def retire_rate_book(rate_book_id: str, *, if_match: str, note: str | None = None) -> Call[None]:
    """Retire a rate book."""
    return Call(
        "DELETE",
        path("/v1/rate-books/{}", rate_book_id),
        type(None),
        query=query(note=note),
        if_match=if_match,
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


def patch_rate_book(
    rate_book_id: str,
    request: dict[str, Any],
    *,
    if_match: str,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.RateBook]:
    """Change some members of a rate book."""
    return Call(
        "PATCH",
        path("/v1/rate-books/{}", rate_book_id),
        models.RateBook,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
    )


def put_rate_book(
    rate_book_id: str,
    request: models.RateBookInput,
    *,
    if_match: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.RateBook]:
    """Replace a rate book, or make it under its id."""
    return Call(
        "PUT",
        path("/v1/rate-books/{}", rate_book_id),
        models.RateBook,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
        making=if_match is None,
    )


def get_rate_book_history(
    rate_book_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RecordHistoryPage]:
    """What became of a rate book, newest first."""
    return Call(
        "GET",
        path("/v1/rate-books/{}/history", rate_book_id),
        models.RecordHistoryPage,
        query=query(limit=limit, cursor=cursor),
    )


def list_suppliers(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    q: str | None = None,
    retired: bool | None = None,
    currency: str | None = None,
) -> Call[models.SupplierPage]:
    """The catalogue's suppliers, a page at a time."""
    return Call(
        "GET",
        "/v1/suppliers",
        models.SupplierPage,
        query=query(
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
    request: models.SupplierInput,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.Supplier]:
    """Add a supplier to the catalogue."""
    return Call(
        "POST",
        "/v1/suppliers",
        models.Supplier,
        query=query(units=units, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


def retire_supplier(supplier_id: str, *, if_match: str, note: str | None = None) -> Call[None]:
    """Retire a supplier."""
    return Call(
        "DELETE",
        path("/v1/suppliers/{}", supplier_id),
        type(None),
        query=query(note=note),
        if_match=if_match,
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


def patch_supplier(
    supplier_id: str,
    request: dict[str, Any],
    *,
    if_match: str,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.Supplier]:
    """Change some members of a supplier."""
    return Call(
        "PATCH",
        path("/v1/suppliers/{}", supplier_id),
        models.Supplier,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
    )


def put_supplier(
    supplier_id: str,
    request: models.SupplierInput,
    *,
    if_match: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.Supplier]:
    """Replace a supplier, or make it under its id."""
    return Call(
        "PUT",
        path("/v1/suppliers/{}", supplier_id),
        models.Supplier,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
        making=if_match is None,
    )


def get_supplier_history(
    supplier_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RecordHistoryPage]:
    """What became of a supplier, newest first."""
    return Call(
        "GET",
        path("/v1/suppliers/{}/history", supplier_id),
        models.RecordHistoryPage,
        query=query(limit=limit, cursor=cursor),
    )


def list_systems(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    q: str | None = None,
    retired: bool | None = None,
) -> Call[models.SystemPage]:
    """The catalogue's systems, a page at a time."""
    return Call(
        "GET",
        "/v1/systems",
        models.SystemPage,
        query=query(
            limit=limit, cursor=cursor, units=units, revision=revision, q=q, retired=retired
        ),
    )


def create_system(
    request: models.SystemInput,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.System]:
    """Add a system to the catalogue."""
    return Call(
        "POST",
        "/v1/systems",
        models.System,
        query=query(units=units, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


def retire_system(system_id: str, *, if_match: str, note: str | None = None) -> Call[None]:
    """Retire a system."""
    return Call(
        "DELETE",
        path("/v1/systems/{}", system_id),
        type(None),
        query=query(note=note),
        if_match=if_match,
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


def patch_system(
    system_id: str,
    request: dict[str, Any],
    *,
    if_match: str,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.System]:
    """Change some members of a system."""
    return Call(
        "PATCH",
        path("/v1/systems/{}", system_id),
        models.System,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
    )


def put_system(
    system_id: str,
    request: models.SystemInput,
    *,
    if_match: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.System]:
    """Replace a system, or make it under its id."""
    return Call(
        "PUT",
        path("/v1/systems/{}", system_id),
        models.System,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
        making=if_match is None,
    )


def get_system_history(
    system_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RecordHistoryPage]:
    """What became of a system, newest first."""
    return Call(
        "GET",
        path("/v1/systems/{}/history", system_id),
        models.RecordHistoryPage,
        query=query(limit=limit, cursor=cursor),
    )


def list_tax_rules(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    revision: int | None = None,
    q: str | None = None,
    retired: bool | None = None,
    place: str | None = None,
) -> Call[models.TaxRulePage]:
    """The catalogue's tax rules, a page at a time."""
    return Call(
        "GET",
        "/v1/tax-rules",
        models.TaxRulePage,
        query=query(
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
    request: models.TaxRuleInput,
    *,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
    idempotency_key: str | None = None,
) -> Call[models.TaxRule]:
    """Add a tax rule to the catalogue."""
    return Call(
        "POST",
        "/v1/tax-rules",
        models.TaxRule,
        query=query(units=units, note=note),
        body=request,
        idempotency_key=key(idempotency_key),
    )


def retire_tax_rule(tax_rule_id: str, *, if_match: str, note: str | None = None) -> Call[None]:
    """Retire a tax rule."""
    return Call(
        "DELETE",
        path("/v1/tax-rules/{}", tax_rule_id),
        type(None),
        query=query(note=note),
        if_match=if_match,
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


def patch_tax_rule(
    tax_rule_id: str,
    request: dict[str, Any],
    *,
    if_match: str,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.TaxRule]:
    """Change some members of a tax rule."""
    return Call(
        "PATCH",
        path("/v1/tax-rules/{}", tax_rule_id),
        models.TaxRule,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
    )


def put_tax_rule(
    tax_rule_id: str,
    request: models.TaxRuleInput,
    *,
    if_match: str | None = None,
    units: Choice[Literal["si", "us"]] | None = None,
    note: str | None = None,
) -> Call[models.TaxRule]:
    """Replace a tax rule, or make it under its id."""
    return Call(
        "PUT",
        path("/v1/tax-rules/{}", tax_rule_id),
        models.TaxRule,
        query=query(units=units, note=note),
        body=request,
        if_match=if_match,
        making=if_match is None,
    )


def get_tax_rule_history(
    tax_rule_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RecordHistoryPage]:
    """What became of a tax rule, newest first."""
    return Call(
        "GET",
        path("/v1/tax-rules/{}/history", tax_rule_id),
        models.RecordHistoryPage,
        query=query(limit=limit, cursor=cursor),
    )
