"""Where a request came from, in front of the proxies that are trusted to say so.

Proxies add to the right of `Forwarded` (RFC 7239) or of `X-Forwarded-For`; what stands further left
may be made up. A proxy that adds to one of the two passes the other on as it came, so where both are
there and differ, neither counts.
"""

import ipaddress
import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from litestar.types import ASGIApp, HTTPScope, Receive, Scope, Send

Address = ipaddress.IPv4Address | ipaddress.IPv6Address
Network = ipaddress.IPv4Network | ipaddress.IPv6Network
_HOUSEHOLD_BITS = 64
_PAIR = re.compile(r'\s*([!#$%&\'*+.^_`|~0-9A-Za-z-]+)=("(?:[^"\\]|\\.)*"|[^\s",;]*)\s*')
_ELEMENT = re.compile(r'(?:[^",]|"(?:[^"\\]|\\.)*")+')
_PART = re.compile(r'(?:[^";]|"(?:[^"\\]|\\.)*")+')
_ESCAPED = re.compile(r"\\(.)")
_SCHEMES = frozenset({"http", "https"})
_LONGEST_FIELD = 2000


def bucket_of(scope: HTTPScope) -> str:
    client = scope.get("client")
    return "local" if client is None else bucket_of_host(client[0])


@lru_cache(maxsize=10_000)
def bucket_of_host(host: str) -> str:
    """An IPv6 network is given out whole, so that its addresses share one bucket."""
    address = parsed(host)
    if isinstance(address, ipaddress.IPv6Address):
        network = ipaddress.ip_network((address, _HOUSEHOLD_BITS), strict=False)
        return str(network)
    return host if address is None else str(address)


def parsed(text: str) -> Address | None:
    """With or without a port; an IPv4 address that is written as IPv6 is IPv4."""
    text = text.strip()
    if text.startswith("["):
        text = text[1:].partition("]")[0]
    elif text.count(":") == 1:
        text = text.partition(":")[0]
    try:
        address = ipaddress.ip_address(text.partition("%")[0])
    except ValueError:
        return None
    if isinstance(address, ipaddress.IPv6Address) and address.ipv4_mapped is not None:
        return address.ipv4_mapped
    return address


def is_among(host: str, networks: Sequence[Network]) -> bool:
    address = parsed(host)
    return address is not None and any(address in network for network in networks)


def client_behind(
    peer: str, headers: Iterable[tuple[bytes, bytes]], trusted: Sequence[Network]
) -> tuple[str, str | None]:
    """The address that the outermost trusted proxy was called from, and by which scheme if it says."""
    if not is_among(peer, trusted):
        return peer, None
    fields = _fields(headers)
    standard = _by_forwarded(peer, fields.get(b"forwarded", ""), trusted)
    common = _by_common(peer, fields, trusted)
    if b"forwarded" not in fields:
        return common
    if b"x-forwarded-for" not in fields:
        return standard
    return standard if standard[0] == common[0] else (peer, None)


class BehindProxies:
    """Puts the caller's own address and scheme in the place of the proxy's, for all that follows."""

    def __init__(self, app: ASGIApp, trusted: Sequence[Network]) -> None:
        self._app = app
        self._trusted = trusted

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        peer = scope.get("client")
        if peer is not None:
            host, scheme = client_behind(peer[0], scope["headers"], self._trusted)
            if host != peer[0]:
                scope["client"] = (host, 0)
            if scheme is not None:
                scope["scheme"] = scheme
        await self._app(scope, receive, send)


def _fields(headers: Iterable[tuple[bytes, bytes]]) -> dict[bytes, str]:
    """The right ends of what came, as far back as any true chain of proxies reaches."""
    found: dict[bytes, str] = {}
    for name, value in headers:
        if name in (b"forwarded", b"x-forwarded-for", b"x-forwarded-proto"):
            text = value.decode("latin-1")
            joined = f"{found[name]},{text}" if name in found else text
            found[name] = joined[-_LONGEST_FIELD:]
    return found


def _by_forwarded(peer: str, text: str, trusted: Sequence[Network]) -> tuple[str, str | None]:
    hops = [dict(_pairs(element)) for element in _ELEMENT.findall(text)]
    client, place = _outermost(peer, [one.get("for", "") for one in hops], trusted)
    return client, _scheme(hops[place].get("proto", "")) if hops else None


def _by_common(
    peer: str, fields: dict[bytes, str], trusted: Sequence[Network]
) -> tuple[str, str | None]:
    given = fields.get(b"x-forwarded-for")
    client, _ = _outermost(peer, given.split(",") if given else [], trusted)
    return client, _scheme(fields.get(b"x-forwarded-proto", "").rpartition(",")[2])


def _outermost(peer: str, hops: Sequence[str], trusted: Sequence[Network]) -> tuple[str, int]:
    """The first from the right that is not trusted, and its place; one without address ends it."""
    client, place = peer, len(hops) - 1
    for place in reversed(range(len(hops))):
        address = parsed(hops[place])
        if address is None:
            break
        client = str(address)
        if not is_among(client, trusted):
            break
    return client, place


def _pairs(element: str) -> Iterable[tuple[str, str]]:
    for part in _PART.findall(element):
        pair = _PAIR.fullmatch(part)
        if pair is not None:
            value = pair[2]
            if value.startswith('"'):
                value = _ESCAPED.sub(r"\1", value[1:-1])
            yield pair[1].lower(), value


def _scheme(text: str) -> str | None:
    scheme = text.strip().lower()
    return scheme if scheme in _SCHEMES else None
