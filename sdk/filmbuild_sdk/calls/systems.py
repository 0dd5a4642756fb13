"""Calls of the service, described without sending them: systems.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Any, Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


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
