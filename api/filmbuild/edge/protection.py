"""Headers that tell browsers and caches to be careful with answers, on every one of them.

What an operation says itself is left as it is: its own policy for a page, its own caching. Nothing
may be shown in a frame unless it says by whom.
"""

from functools import lru_cache
from http import HTTPStatus

from litestar.enums import ScopeType
from litestar.types import ASGIApp, HTTPResponseStartEvent, Message, Receive, Scope, Send

from filmbuild.edge.operations import AnyOperation

RawHeader = tuple[bytes, bytes]

_NO_SNIFF = (b"x-content-type-options", b"nosniff")
_NO_REFERRER = (b"referrer-policy", b"no-referrer")
_NO_DEVICES = (b"permissions-policy", b"camera=(), geolocation=(), microphone=()")
_NOTHING_LOADED = (b"content-security-policy", b"default-src 'none'; frame-ancestors 'none'")
# browsers' own viewers of PDF are pages too, which the stricter policy would leave blank
_NOT_FRAMED = (b"content-security-policy", b"frame-ancestors 'none'")
_OWN_PAGES = (b"cross-origin-resource-policy", b"same-origin")
_ALL_PAGES = (b"cross-origin-resource-policy", b"cross-origin")
_NOT_KEPT = (b"cache-control", b"no-store")
_ASKED_AGAIN = (b"cache-control", b"private, no-cache")
_ONLY_TLS = (b"strict-transport-security", b"max-age=31536000")
_PDF = b"application/pdf"


class Protected:
    """An application, the answers of which carry the headers; `tls` where it is reached by https."""

    def __init__(self, inner: ASGIApp, *, tls: bool) -> None:
        self._inner = inner
        self._tls = tls

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != ScopeType.HTTP:
            await self._inner(scope, receive, send)
            return

        async def protecting(message: Message) -> None:
            if message["type"] == "http.response.start":
                operation: AnyOperation | None = scope["state"].get("operation")
                _protect(message, operation, self._tls)
            await send(message)

        await self._inner(scope, receive, protecting)


def _protect(message: HTTPResponseStartEvent, operation: AnyOperation | None, tls: bool) -> None:
    given = list(message["headers"])
    names = dict(given)
    pdf = (b"content-type", _PDF) in given
    caching = _caching(operation, message["status"])
    reach = bool(operation and operation.publishable)
    given += [one for one in _headers(caching, reach, pdf, tls) if one[0] not in names]
    policy = names.get(_NOT_FRAMED[0])
    if policy is not None and b"frame-ancestors" not in policy:
        # of several policies each holds
        given.append(_NOT_FRAMED)
    message["headers"] = given


@lru_cache(maxsize=64)
def _headers(caching: RawHeader | None, reach: bool, pdf: bool, tls: bool) -> tuple[RawHeader, ...]:
    return (
        _NO_SNIFF,
        _NO_REFERRER,
        _NO_DEVICES,
        _NOT_FRAMED if pdf else _NOTHING_LOADED,
        _ALL_PAGES if reach else _OWN_PAGES,
        *(() if caching is None else (caching,)),
        *((_ONLY_TLS,) if tls else ()),
    )


def _caching(operation: AnyOperation | None, status: int) -> RawHeader | None:
    """What a key protects is kept by nobody, unless it is asked for by its tag each time."""
    if operation is None or status >= HTTPStatus.BAD_REQUEST:
        return _NOT_KEPT
    if operation.public:
        return None
    if HTTPStatus.NOT_MODIFIED in operation.other_statuses:
        return _ASKED_AGAIN
    return _NOT_KEPT
