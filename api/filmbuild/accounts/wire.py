"""Keys and audit entries as callers see them."""

from datetime import datetime, timedelta
from typing import Annotated, Any

import msgspec
from msgspec import Meta

from filmbuild.accounts.keys import KeyKind
from filmbuild.edge.paging import PageQuery

ORIGIN = r"^https?://[a-z0-9.-]{1,200}(:[0-9]{1,5})?$(?!\n)"
Scope = Annotated[
    str,
    Meta(
        pattern=r"^(\*|[a-z]{1,30}:(read|write))$(?!\n)",
        description="A tag of this contract with :read or :write, which holds :read as well; or * "
        "for everything.",
    ),
]
Origin = Annotated[
    str,
    Meta(
        pattern=ORIGIN,
        description="Scheme, host and port of a page, as browsers send it in Origin.",
    ),
]
KeyName = Annotated[
    str, Meta(min_length=1, max_length=100, pattern=r"^[^\u0000-\u001f\u007f]*$(?!\n)")
]


class ApiKey(msgspec.Struct, frozen=True, kw_only=True):
    """A key without the key itself; `hint` is its last letters.

    `state` is "live", "expired" or "revoked". `last_used_at` is exact to a minute or two.
    """

    id: str
    kind: KeyKind
    name: str
    hint: str
    state: str
    scopes: tuple[str, ...]
    origins: tuple[str, ...]
    created_at: datetime
    created_by: str
    expires_at: datetime | None
    revoked_at: datetime | None
    last_used_at: datetime | None
    replaced_by: str | None


class KeyPage(msgspec.Struct, frozen=True, kw_only=True):
    items: tuple[ApiKey, ...]
    next: str | None


class NewApiKey(msgspec.Struct, frozen=True, kw_only=True):
    """`secret` is the key. It is told this once: a repeated request is answered without it."""

    key: ApiKey
    secret: str | None


class KeyRequest(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A secret key has scopes, of those that the asking key has itself.

    A publishable one has the origins of the pages that may use it.
    """

    name: KeyName
    kind: KeyKind = "secret"
    scopes: Annotated[tuple[Scope, ...], Meta(max_length=50)] = ()
    origins: Annotated[tuple[Origin, ...], Meta(max_length=20)] = ()
    expires_at: datetime | None = None


class RotationRequest(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The old key goes on working for `overlap`, at most 30 days.

    Give none where somebody has seen the key who should not.
    """

    overlap: timedelta = timedelta(days=1)
    expires_at: datetime | None = None


class AuditQuery(PageQuery, frozen=True, kw_only=True, forbid_unknown_fields=True):
    action: Annotated[str, Meta(pattern=r"^[a-z]{1,20}\.[a-z-]{1,40}$(?!\n)")] | None = None


class AuditEntry(msgspec.Struct, frozen=True, kw_only=True):
    """What was done: by which key or command, with what, and when."""

    id: str
    at: datetime
    actor: str
    action: str
    subject: str
    detail: dict[str, Any]


class AuditPage(msgspec.Struct, frozen=True, kw_only=True):
    items: tuple[AuditEntry, ...]
    next: str | None
