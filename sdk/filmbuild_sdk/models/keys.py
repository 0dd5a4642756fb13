"""What the service is sent and what it answers: keys.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from collections.abc import Sequence
from typing import Any, Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.values import Answer, Choice, Input


class ApiKey(Answer, frozen=True, kw_only=True):
    """A key without the key itself; `hint` is its last letters.

    `state` is "live", "expired" or "revoked". `last_used_at` is exact to a minute or two.
    """

    id: str
    kind: str
    name: str
    hint: str
    state: str
    scopes: tuple[str, ...]
    origins: tuple[str, ...]
    created_at: str
    created_by: str
    expires_at: str | None
    revoked_at: str | None
    last_used_at: str | None
    replaced_by: str | None


class AuditEntry(Answer, frozen=True, kw_only=True):
    """What was done: by which key or command, with what, and when."""

    id: str
    at: str
    actor: str
    action: str
    subject: str
    detail: dict[str, Any]


class AuditPage(Answer, frozen=True, kw_only=True):
    items: tuple[AuditEntry, ...]
    next: str | None


class KeyPage(Answer, frozen=True, kw_only=True):
    items: tuple[ApiKey, ...]
    next: str | None


class KeyRequest(Input, frozen=True, kw_only=True):
    """A secret key has scopes, of those that the asking key has itself.

    A publishable one has the origins of the pages that may use it.
    """

    name: str
    expires_at: str | None = None
    kind: Choice[Literal["publishable", "secret"]] | UnsetType = UNSET  # left out: "secret"
    origins: Sequence[str] = ()
    scopes: Sequence[str] = ()


class NewApiKey(Answer, frozen=True, kw_only=True):
    """`secret` is the key. It is told this once: a repeated request is answered without it."""

    key: ApiKey
    secret: str | None


class RotationRequest(Input, frozen=True, kw_only=True):
    """The old key goes on working for `overlap`, at most 30 days.

    Give none where somebody has seen the key who should not.
    """

    expires_at: str | None = None
    overlap: str | UnsetType = UNSET  # left out: "P1D"
