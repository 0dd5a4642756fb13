"""Calls of the service, described without sending them: suppliers.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Any, Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


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
