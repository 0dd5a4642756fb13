"""Where messages may be sent: never to what only this machine or its network can reach.

By the IANA registries of special-purpose addresses (RFC 6890 and its updates), written out here, as
Python's own notion of a global address differs between its releases.
"""

import re
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network
from urllib.parse import urlsplit

import msgspec

from filmbuild.errors import Refusal

Address = IPv4Address | IPv6Address
LONGEST_URL = 2000
PORTS = {"https": 443, "http": 80}
LAST_PORT = 65_535
_CHARACTERS = re.compile(r"[!#$%&'()*+,\-./0-9:;=?@A-Z\[\]_a-z~]+")
_LABEL = r"[a-z0-9_]([a-z0-9_-]{0,61}[a-z0-9])?"
_NAME = re.compile(rf"{_LABEL}(\.{_LABEL})*\.?")
_NUMBER = re.compile(r"[0-9]+|0x[0-9a-f]*")
_LOCAL = ("localhost", "local", "internal", "home.arpa")

_NEVER = tuple(
    ip_network(one)
    for one in (
        "0.0.0.0/8",
        "169.254.0.0/16",
        "224.0.0.0/4",
        "240.0.0.0/4",
        # addresses at which providers of machines tell these their own secrets
        "100.100.100.200/32",
        "168.63.129.16/32",
        "192.0.0.192/32",
        "fd00:ec2::254/128",
        "::/128",
        "fe80::/10",
        "ff00::/8",
    )
)
"""Nobody's receiver is there, whoever asks for it."""
_NOT_PUBLIC = tuple(
    ip_network(one)
    for one in (
        "10.0.0.0/8",
        "100.64.0.0/10",
        "127.0.0.0/8",
        "172.16.0.0/12",
        "192.0.0.0/24",
        "192.0.2.0/24",
        "192.88.99.0/24",
        "192.168.0.0/16",
        "198.18.0.0/15",
        "198.51.100.0/24",
        "203.0.113.0/24",
        "2001::/23",
        "2001:db8::/32",
        "3fff::/20",
    )
)
_PUBLIC_V6 = ip_network("2000::/3")
_TRANSLATED = ip_network("64:ff9b::/96")
_COMPATIBLE = ip_network("::/96")
_LOW_BITS = 0xFFFF_FFFF


class Target(msgspec.Struct, frozen=True, kw_only=True):
    """A URL in its parts, so that nothing else reads it another way."""

    scheme: str
    host: str
    port: int
    path: str

    @property
    def is_standard(self) -> bool:
        return self.scheme == "https" and self.port == PORTS["https"]


def is_allowed(address: Address, *, private: bool) -> bool:
    """Whether messages may be sent there; `private` lets them out to networks that are not public.

    An IPv6 address that stands for an IPv4 one is judged by that.
    """
    inner = _inner(address)
    if inner is not None:
        return is_allowed(inner, private=private)
    if any(address in one for one in _NEVER):
        return False
    if private:
        return True
    if isinstance(address, IPv6Address) and address not in _PUBLIC_V6:
        return False
    return not any(address in one for one in _NOT_PUBLIC)


def _inner(address: Address) -> IPv4Address | None:
    if isinstance(address, IPv4Address):
        return None
    if address.ipv4_mapped is not None:
        return address.ipv4_mapped
    if address.sixtofour is not None:
        return address.sixtofour
    compatible = address in _COMPATIBLE and int(address) > 1
    if address in _TRANSLATED or compatible:
        return IPv4Address(int(address) & _LOW_BITS)
    return None


def target_of(url: str, *, private: bool) -> Target:
    """Raises Refusal. Names are not looked up: what they stand for may change with every look."""
    if len(url) > LONGEST_URL or _CHARACTERS.fullmatch(url) is None:
        raise _refused(f"up to {LONGEST_URL} characters of those that RFC 3986 has in URLs")
    try:
        parts = urlsplit(url)
        port = parts.port
    except ValueError as error:
        raise _refused("a URL such as https://hooks.example.com/filmbuild") from error
    if parts.scheme not in (PORTS if private else ("https",)):
        raise _refused("an https URL")
    if "@" in parts.netloc:
        raise _refused("a URL without a name or a password before its host")
    host = (parts.hostname or "").removesuffix(".")
    _check_host(host, private=private)
    path = (parts.path or "/") + (f"?{parts.query}" if parts.query else "")
    if not path.startswith("/"):
        raise _refused("a path that begins with a slash")
    target = Target(
        scheme=parts.scheme,
        host=host,
        port=PORTS[parts.scheme] if port is None else port,
        path=path,
    )
    if not private and not target.is_standard:
        raise _refused("the port of https, 443")
    if not 0 < target.port <= LAST_PORT:
        raise _refused(f"a port from 1 to {LAST_PORT}")
    return target


def _check_host(host: str, *, private: bool) -> None:
    """Numbers in other than the plain form are addresses to some programs and names to others."""
    last = host.rpartition(".")[2]
    if ":" in host or _NUMBER.fullmatch(last):
        try:
            address = ip_address(host)
        except ValueError as error:
            raise _refused(
                "an address in its plain form, such as [2001:4860:4860::8888]"
            ) from error
        if not is_allowed(address, private=private):
            raise _refused("a public address")
    elif _NAME.fullmatch(host) is None:
        raise _refused("the name of a host in ASCII, without characters that names do not have")
    elif not private and (last in _LOCAL or "." not in host or host.endswith(".home.arpa")):
        raise _refused("the full name of a public host")


def _refused(accepted: str) -> Refusal:
    return Refusal("invalid-url", f"accepted: {accepted}")
