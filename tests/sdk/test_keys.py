"""The caller's key: on every request to the service, and nowhere else."""

import logging
import pickle
from typing import Any

import httpx
import loopback
import pytest

from filmbuild_sdk import ApiError, AsyncClient, Client, TransportError, calls
from filmbuild_sdk.testing import FakeService

Play = Any
KEY = "secret-token:filmbuild_never-to-be-seen"
UP = httpx.Response(200, json={"status": "up"})
LOCAL = ("http://127.0.0.1:8080", "http://127.8.8.8", "http://[::1]:8080", "http://localhost")


def test_it_goes_with_every_try(play: Play) -> None:
    """RFC 6750 section 2.1."""
    _, requests = play(calls.health(), httpx.Response(503), UP, key=KEY)
    assert [one.headers["authorization"] for one in requests] == [f"Bearer {KEY}"] * 2


def test_without_one_nothing_is_sent(play: Play) -> None:
    _, requests = play(calls.health(), UP)
    assert "authorization" not in requests[0].headers


@pytest.mark.parametrize(
    "url", ["http://floors.example", "http://10.0.0.7:8080", "http://localhost.example"]
)
@pytest.mark.parametrize("kind", [Client, AsyncClient])
def test_it_is_not_sent_where_others_can_read_it(kind: Any, url: str) -> None:
    with pytest.raises(ValueError, match="unencrypted") as refused:
        kind(url, key=KEY)
    assert KEY not in str(refused.value)
    kind(url)
    kind(url, key=KEY, plain_http=True)
    kind(url.replace("http:", "https:"), key=KEY)


@pytest.mark.parametrize("url", [*LOCAL, "http://filmbuild.localhost"])
def test_this_machine_needs_no_encryption(url: str) -> None:
    Client(url, key=KEY).close()


def test_what_stays_within_the_process_needs_none_either() -> None:
    service = FakeService({("GET", "/v1/health"): {"status": "up"}})
    with Client("http://floors.test", key=KEY, transport=service) as client:
        client.health()
    assert service.requests[0].headers["authorization"] == f"Bearer {KEY}"


@pytest.mark.parametrize("key", ["two words", "line\nfeed", "schlüssel", " padded"])
def test_what_cannot_be_a_key_is_refused_without_repeating_it(key: str) -> None:
    with pytest.raises(ValueError, match="visible ASCII") as refused:
        Client("http://127.0.0.1", key=key)
    assert key not in str(refused.value)


def test_another_host_that_the_service_points_to_does_not_get_it() -> None:
    seen: list[httpx.Request] = []

    def answer(request: httpx.Request) -> httpx.Response:
        seen.append(request)
        if request.url.host == "127.0.0.1":
            return httpx.Response(307, headers={"location": "https://elsewhere.example/"})
        return UP

    transport = httpx.MockTransport(answer)
    own = httpx.Client(transport=transport, follow_redirects=True)
    with own, Client("http://127.0.0.1", key=KEY, http_client=own) as client:
        client.health()
    assert [one.url.host for one in seen] == ["127.0.0.1", "elsewhere.example"]
    assert "authorization" not in seen[1].headers


def everything_said(error: BaseException) -> str:
    parts = [str(error), repr(error), repr(getattr(error, "__cause__", None)), repr(vars(error))]
    return "\n".join(parts)


def test_no_error_log_or_repr_shows_it(caplog: pytest.LogCaptureFixture) -> None:
    """Over a real connection, with everything logged that the HTTP client can log."""
    caplog.set_level(logging.DEBUG)
    with loopback.before(0) as proxy, Client(proxy.url, key=KEY, retries=None) as client:
        proxy.plans.append(loopback.answer(401, "unauthorized", "No such key."))
        with pytest.raises(ApiError) as refused:
            client.health()
        proxy.plans.append(loopback.DROP)
        with pytest.raises(TransportError) as dropped:
            client.health()
        assert KEY.encode() in proxy.requests[0]
        shown = [repr(client), repr(vars(client)), repr(vars(client._requests))]  # noqa: SLF001 - what a debugger shows
    assert caplog.text
    said = [everything_said(refused.value), everything_said(dropped.value), caplog.text, *shown]
    assert not any("never-to-be-seen" in one for one in said)
    assert b"never-to-be-seen" not in pickle.dumps(refused.value)
