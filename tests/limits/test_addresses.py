"""Whose address counts, where proxies say what they were called from."""

from ipaddress import ip_network

import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.limits.addresses import bucket_of_host, client_behind

TRUSTED = (ip_network("10.0.0.0/8"), ip_network("fd00::/8"))
PROXY = "10.0.0.1"


def seen(*headers: tuple[str, str], peer: str = PROXY) -> tuple[str, str | None]:
    raw = [(name.encode(), value.encode("latin-1")) for name, value in headers]
    return client_behind(peer, raw, TRUSTED)


@pytest.mark.parametrize(
    ("forwarded", "address", "scheme"),
    [
        # RFC 7239 sections 4 and 6
        ('for="[2001:db8:cafe::17]:4711"', "2001:db8:cafe::17", None),
        ("for=192.0.2.60;proto=http;by=203.0.113.43", "192.0.2.60", "http"),
        ("for=192.0.2.43, for=198.51.100.17", "198.51.100.17", None),
        ('For="192.0.2.60:8080" ; PROTO=https', "192.0.2.60", "https"),
        ('for=192.0.2.1;host="a,b;c"', "192.0.2.1", None),
        # each hop's scheme is that by which it was called itself
        ("for=192.0.2.9;proto=https, for=10.0.0.7;proto=http", "192.0.2.9", "https"),
        # what a proxy cannot or does not say ends what is known
        ("for=192.0.2.43, for=unknown", PROXY, None),
        ("for=192.0.2.43, for=_hidden, for=10.0.0.9", "10.0.0.9", None),
        ("nonsense", PROXY, None),
        ("for=192.0.2.1;proto=gopher", "192.0.2.1", None),
    ],
)
def test_forwarded(forwarded: str, address: str, scheme: str | None) -> None:
    assert seen(("forwarded", forwarded)) == (address, scheme)


def test_x_forwarded_for() -> None:
    assert seen(("x-forwarded-for", "192.0.2.1")) == ("192.0.2.1", None)
    assert seen(("x-forwarded-for", "203.0.113.9, 192.0.2.1, 10.1.1.1")) == ("192.0.2.1", None)
    assert seen(("x-forwarded-for", "203.0.113.9"), ("x-forwarded-for", "192.0.2.1")) == (
        "192.0.2.1",
        None,
    )
    both = (("x-forwarded-for", "2001:db8::1"), ("x-forwarded-proto", "https"))
    assert seen(*both) == ("2001:db8::1", "https")
    # all of them trusted: the outermost is who called
    assert seen(("x-forwarded-for", "10.0.0.3, fd00::2")) == ("10.0.0.3", None)


def test_only_a_trusted_proxy_is_believed() -> None:
    headers = (("x-forwarded-for", "192.0.2.1"), ("forwarded", "for=192.0.2.1;proto=https"))
    for peer in ("192.0.2.99", "2001:db8::9", "testclient", ""):
        assert seen(*headers, peer=peer) == (peer, None)


def test_where_the_two_fields_differ_neither_counts() -> None:
    """A proxy that adds to one of them passes the other on, with whatever the caller wrote there."""
    made_up = ("forwarded", "for=203.0.113.1;proto=https")
    assert seen(made_up, ("x-forwarded-for", "192.0.2.1")) == (PROXY, None)
    made_up = ("x-forwarded-for", "203.0.113.1")
    assert seen(("forwarded", "for=192.0.2.1"), made_up) == (PROXY, None)
    agreed = ("forwarded", "for=192.0.2.1;proto=https")
    assert seen(agreed, ("x-forwarded-for", "192.0.2.1")) == ("192.0.2.1", "https")


@given(st.text(st.characters(max_codepoint=255)), st.text(st.characters(max_codepoint=255)))
def test_nothing_that_is_sent_breaks_it(forwarded: str, listed: str) -> None:
    seen(("forwarded", forwarded))
    seen(("x-forwarded-for", listed))
    seen(("forwarded", f"for=192.0.2.1, {forwarded}"), ("x-forwarded-for", listed))


@given(st.text(st.characters(max_codepoint=255), max_size=40))
def test_what_a_caller_writes_before_cannot_hide_its_address(made_up: str) -> None:
    assert seen(("x-forwarded-for", f"{made_up}, 192.0.2.1"))[0] == "192.0.2.1"


def test_ipv6_addresses_of_one_household_share_a_bucket() -> None:
    # RFC 6177: sites are given at least a /64
    assert bucket_of_host("2001:db8:1:2:3:4:5:6") == "2001:db8:1:2::/64"
    assert bucket_of_host("2001:db8:1:2::") == bucket_of_host("2001:db8:1:2:ffff::1")
    assert bucket_of_host("2001:db8:1:3::") != bucket_of_host("2001:db8:1:2::")
    assert bucket_of_host("::ffff:192.0.2.1") == bucket_of_host("192.0.2.1") == "192.0.2.1"
