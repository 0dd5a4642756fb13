"""Calls of the service, described without sending them: keys.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query


def list_audit_entries(
    *, limit: int | None = None, cursor: str | None = None, action: str | None = None
) -> Call[models.AuditPage]:
    """Who did what with keys and prices, newest first."""
    return Call(
        "GET",
        "/v1/audit-log",
        models.AuditPage,
        query=query(limit=limit, cursor=cursor, action=action),
    )


def list_keys(*, limit: int | None = None, cursor: str | None = None) -> Call[models.KeyPage]:
    """Keys, the oldest first."""
    return Call("GET", "/v1/keys", models.KeyPage, query=query(limit=limit, cursor=cursor))


def create_key(
    request: models.KeyRequest, *, idempotency_key: str | None = None
) -> Call[models.NewApiKey]:
    """Make a key."""
    return Call(
        "POST", "/v1/keys", models.NewApiKey, body=request, idempotency_key=key(idempotency_key)
    )


def get_key(key_id: str) -> Call[models.ApiKey]:
    """What a key may do, and whether it still does."""
    return Call("GET", path("/v1/keys/{}", key_id), models.ApiKey)


def revoke_key(key_id: str) -> Call[models.ApiKey]:
    """End a key at once."""
    return Call("POST", path("/v1/keys/{}/revocation", key_id), models.ApiKey)


def rotate_key(
    key_id: str, request: models.RotationRequest, *, idempotency_key: str | None = None
) -> Call[models.NewApiKey]:
    """Put a new key in the place of one."""
    return Call(
        "POST",
        path("/v1/keys/{}/rotation", key_id),
        models.NewApiKey,
        body=request,
        idempotency_key=key(idempotency_key),
    )
