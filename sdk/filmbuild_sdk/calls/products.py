"""Calls of the service, described without sending them: products.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Any, Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


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
