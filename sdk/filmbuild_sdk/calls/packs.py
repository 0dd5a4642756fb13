"""Calls of the service, described without sending them: packs.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

import datetime as dt
from typing import Any, Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


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
