"""Lets in who brings a good key, and tells browsers which pages may bring one."""

import re
from collections.abc import Callable
from datetime import UTC, datetime

import msgspec
from litestar.types import HTTPScope

from filmbuild.accounts.keys import KeyKind, allows, digest_of
from filmbuild.accounts.usage import Usage
from filmbuild.db import Database
from filmbuild.edge.gate import Admission, RawHeaders
from filmbuild.edge.operations import AnyOperation, Caller
from filmbuild.errors import FilmbuildError, Forbidden, Unauthorized

# RFC 6750 section 2.1, with the colon of RFC 8959's scheme and its percent-encoded octets
_BEARER = re.compile(rb"bearer +([A-Za-z0-9._~+/:%-]{20,200}=*)", re.IGNORECASE)
_CHALLENGE = ("www-authenticate", 'Bearer realm="filmbuild"')
_BAD_KEY = ("www-authenticate", 'Bearer realm="filmbuild", error="invalid_token"')
_COLUMNS = ("organisation_id", "id", "kind", "scopes", "origins", "expires_at", "revoked_at")
_LIST = msgspec.json.Decoder(tuple[str, ...])
_SHOWN_TO_PAGES = "X-Request-Id, ETag, Link, Location, Retry-After, RateLimit, RateLimit-Policy"
_SENT_BY_PAGES = "Authorization, Content-Type, Accept, Idempotency-Key, If-Match, X-Request-Id"
_REMEMBERED_SECONDS = "600"
_VARY = ("vary", "Origin")


def utc_now() -> datetime:
    return datetime.now(UTC)


class _Found(msgspec.Struct, frozen=True):
    organisation: str
    id: str
    kind: KeyKind
    scopes: tuple[str, ...]
    origins: tuple[str, ...]
    ends_at: datetime | None


class KeyGate:
    """Looks up each key at each request: one that is revoked is refused at once, by all processes."""

    def __init__(
        self, database: Database, usage: Usage, clock: Callable[[], datetime] = utc_now
    ) -> None:
        self._keys = database.lookup("api_key", "digest", _COLUMNS)
        self._origins = database.lookup("key_origin", "origin", ("origin",))
        self._usage = usage
        self._clock = clock

    async def admit(self, operation: AnyOperation, scope: HTTPScope) -> Admission:
        if operation.public:
            return Admission()
        given = header(scope, b"authorization")
        if given is None:
            detail = "Send a key in the header Authorization, as Bearer and the key."
            return await self._refused(Unauthorized(detail), _CHALLENGE, scope)
        found = await self._find(given)
        if found is None:
            detail = "The key is not known, or has ended."
            return await self._refused(Unauthorized(detail), _BAD_KEY, scope)
        caller = Caller(
            organisation=found.organisation, actor=found.id, kind=found.kind, scopes=found.scopes
        )
        self._usage.note(found.organisation, found.id)
        headers: RawHeaders = ()
        if found.kind == "publishable":
            origin = _origin(scope)
            if origin not in found.origins:
                detail = "Pages of this origin may not use the key."
                return Admission(caller=caller, headers=(_VARY,), refusal=Forbidden(detail))
            headers = _for_page(origin)
        return Admission(caller=caller, headers=headers, refusal=_refusal(operation, found))

    async def preflight(self, operations: dict[str, AnyOperation], scope: HTTPScope) -> RawHeaders:
        origin = header(scope, b"origin")
        if origin is None or await self._origins.find(origin.decode("latin-1")) is None:
            return (_VARY,)
        methods = [name for name, one in operations.items() if one.publishable or one.public]
        if not methods:
            return (_VARY,)
        return (
            *_for_page(origin.decode("latin-1")),
            ("access-control-allow-methods", ", ".join(sorted(methods))),
            ("access-control-allow-headers", _SENT_BY_PAGES),
            ("access-control-max-age", _REMEMBERED_SECONDS),
        )

    async def _refused(
        self, error: FilmbuildError, challenge: tuple[str, str], scope: HTTPScope
    ) -> Admission:
        """Pages of origins that are known may read why: a mistyped key looks like an outage else."""
        origin = header(scope, b"origin")
        if origin is None or await self._origins.find(origin.decode("latin-1")) is None:
            return Admission(headers=(challenge,), refusal=error)
        return Admission(headers=(challenge, *_for_page(origin.decode("latin-1"))), refusal=error)

    async def _find(self, authorization: bytes) -> _Found | None:
        bearer = _BEARER.fullmatch(authorization)
        if bearer is None:
            return None
        row = await self._keys.find(digest_of(bearer[1].decode()))
        if row is None:
            return None
        organisation, name, kind, scopes, origins, *ends = row
        moments = [_moment(one) for one in ends if one is not None]
        found = _Found(
            organisation,
            name,
            kind,
            _LIST.decode(scopes),
            _LIST.decode(origins),
            min(moments, default=None),
        )
        if found.ends_at is not None and found.ends_at <= self._clock():
            return None
        return found


def header(scope: HTTPScope, name: bytes) -> bytes | None:
    """None too where it comes more than once: which of them counts is not to be guessed."""
    found = [value for one, value in scope["headers"] if one == name]
    return found[0] if len(found) == 1 else None


def _refusal(operation: AnyOperation, found: _Found) -> FilmbuildError | None:
    if found.kind == "publishable":
        if operation.publishable:
            return None
        return Forbidden("The key of a web page may not do this; it takes a secret key.")
    if allows(found.scopes, operation.scope):
        return None
    return Forbidden(f"The key lacks the scope {operation.scope}.")


def _origin(scope: HTTPScope) -> str:
    """Of the page that asks; browsers leave it out where a page reads from its own origin."""
    given = header(scope, b"origin")
    if given is not None:
        return given.decode("latin-1")
    if header(scope, b"sec-fetch-site") == b"same-origin":
        host = (header(scope, b"host") or b"").decode("latin-1")
        return f"{scope.get('scheme', 'http')}://{host}"
    return ""


def _for_page(origin: str) -> RawHeaders:
    return (
        ("access-control-allow-origin", origin),
        ("access-control-expose-headers", _SHOWN_TO_PAGES),
        _VARY,
    )


def _moment(value: datetime | str) -> datetime:
    """SQLite hands over text, in UTC and without saying so."""
    if isinstance(value, str):
        return datetime.fromisoformat(value).replace(tzinfo=UTC)
    return value
