"""One line a request: what was asked of which operation, by whom, and how it went.

Paths are told by their templates, since links of customers are in paths. Nothing of a body, of a
query or of a header is told, but the request's id and the name of the program that calls.
"""

import re
from collections.abc import Callable, Iterable
from datetime import UTC, datetime
from functools import lru_cache
from ipaddress import ip_address
from typing import Literal

import msgspec

from filmbuild.watching.exchange import Exchange
from filmbuild.watching.lines import Lines

METHODS = frozenset({"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS"})
AddressClass = Literal["loopback", "private", "public", "none"]
# RFC 9110 section 10.1.5, without what a comment would say
_PRODUCT = re.compile(rb"([A-Za-z][A-Za-z0-9_-]{0,31})(?:/([0-9][0-9.]{0,11}))?(?: |$)")
_SERVER_ERROR = 500
LONGEST_REMEMBERED = 80


class RequestLine(msgspec.Struct, frozen=True, kw_only=True):
    time: datetime
    level: Literal["info", "error"]
    event: Literal["request"] = "request"
    request_id: str | None
    method: str
    path: str | None
    operation: str | None
    status: int
    duration_ms: float
    bytes_in: int
    bytes_out: int
    organisation: str | None
    actor: str | None
    address: AddressClass
    agent: str | None


Format = Callable[[RequestLine], bytes]
_encode = msgspec.json.Encoder().encode


def as_json(line: RequestLine) -> bytes:
    return _encode(line) + b"\n"


def as_text(line: RequestLine) -> bytes:
    """For people, on a terminal."""
    told = (
        f"{line.time:%H:%M:%S} {line.level:<7} {line.method} {line.path or '-'} {line.status} "
        f"{line.duration_ms:.1f} ms, {line.bytes_in} B in, {line.bytes_out} B out, "
        f"request {line.request_id or '-'}\n"
    )
    return told.encode()


class RequestLog:
    """Where `quiet`, only requests that the service failed are told."""

    def __init__(self, lines: Lines, form: Format, *, quiet: bool = False) -> None:
        self._lines = lines
        self._form = form
        self._quiet = quiet

    def begin(self, exchange: Exchange) -> None:
        """Nothing is told before the end."""

    def end(self, exchange: Exchange) -> None:
        if exchange.status >= _SERVER_ERROR or not self._quiet:
            self._lines.add(self._form(line_of(exchange)))


def line_of(exchange: Exchange) -> RequestLine:
    scope, operation, caller = exchange.scope, exchange.operation, exchange.caller
    client = scope["client"]
    return RequestLine(
        time=datetime.now(UTC),
        level="error" if exchange.status >= _SERVER_ERROR else "info",
        request_id=scope["state"].get("request_id"),
        method=scope["method"] if scope["method"] in METHODS else "other",
        path=operation.path if operation else _template(scope.get("path_template")),
        operation=operation.id if operation else None,
        status=exchange.status,
        duration_ms=round(exchange.seconds * 1e3, 3),
        bytes_in=exchange.received,
        bytes_out=exchange.sent,
        organisation=caller.organisation or None,
        actor=caller.actor if caller.organisation else None,
        address=address_class(client[0][:LONGEST_REMEMBERED]) if client else "none",
        agent=_agent(scope["headers"]),
    )


def _template(path: str | None) -> str | None:
    return path.replace(":str}", "}") if path else None


@lru_cache(maxsize=4096)
def address_class(text: str) -> AddressClass:
    """Which sort of address a request came from, and not which one: addresses are personal data."""
    try:
        address = ip_address(text)
    except ValueError:
        return "none"
    if address.is_loopback:
        return "loopback"
    return "public" if address.is_global else "private"


def _agent(headers: Iterable[tuple[bytes, bytes]]) -> str | None:
    # cut, as what callers send is remembered with what is made of it
    found = (value[:LONGEST_REMEMBERED] for name, value in headers if name == b"user-agent")
    return next(map(product, found), None)


@lru_cache(maxsize=1024)
def product(agent: bytes) -> str | None:
    """The first product of a User-Agent, and its version."""
    found = _PRODUCT.match(agent)
    return None if found is None else found[0].strip().decode("ascii")
