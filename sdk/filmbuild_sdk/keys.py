"""The caller's key: sent with each request, and shown nowhere."""

import ipaddress
import re
from collections.abc import Iterator

import httpx

# what RFC 9110 section 5.5 lets stand in a header, without blanks
_VISIBLE = re.compile(r"[!-~]+")
_WITHIN_THE_PROCESS = (httpx.MockTransport, httpx.ASGITransport, httpx.WSGITransport)


class Bearer(httpx.Auth):
    """Puts the key into the Authorization header (RFC 6750 section 2.1)."""

    def __init__(self, key: str) -> None:
        if not _VISIBLE.fullmatch(key):
            raise ValueError("a key is one word of visible ASCII characters")
        self._key = key

    def auth_flow(self, request: httpx.Request) -> Iterator[httpx.Request]:  # type: ignore[override]  # no answer is waited for
        request.headers["authorization"] = f"Bearer {self._key}"
        yield request

    def __repr__(self) -> str:
        return "Bearer(***)"

    def __reduce__(self) -> str:
        raise TypeError("a key is not written down")


def bearer(base_url: str, key: str, transport: object, *, plain_http: bool) -> Bearer:
    """Raises ValueError where anyone on the way could read the key."""
    url = httpx.URL(base_url)
    within = isinstance(transport, _WITHIN_THE_PROCESS)
    if url.scheme == "http" and not (plain_http or within or _is_loopback(url.host)):
        raise ValueError(
            f"the key would go to {url.host} unencrypted: use https, or plain_http=True where "
            "nobody else is on the way"
        )
    return Bearer(key)


def _is_loopback(host: str) -> bool:
    # RFC 6761 section 6.3: localhost and all below it
    if host == "localhost" or host.endswith(".localhost"):
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
