"""What is tried again, what never is, and how long is waited between."""

import datetime as dt
from email.utils import format_datetime
from typing import Any

import httpx
import msgspec
import pytest

from filmbuild_sdk import ApiError, Call, Retries, ServerError, TransportError, calls, models
from filmbuild_sdk.errors import error_of
from filmbuild_sdk.retries import Attempts

Play = Any
SITE = models.Site(
    areas=[models.SiteArea(id="bay", outline=models.Rectangle(length="9 m", width="7 m"))]
)
REQUEST = models.EstimateRequest(site=SITE, job=models.Job(system="harbour"))
UP = httpx.Response(200, json={"status": "up"})
GONE = httpx.ReadError("connection reset")


def answered(status: int, **headers: str) -> ApiError:
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return error_of(status, httpx.Headers(named), b"")


@pytest.mark.parametrize(
    "passing",
    [
        httpx.ConnectError("refused"),
        GONE,
        httpx.RemoteProtocolError("server disconnected"),
        httpx.ReadTimeout("too slow"),
        *(httpx.Response(status) for status in (429, 502, 503, 504)),
    ],
    ids=repr,
)
def test_reading_is_tried_again(play: Play, passing: object) -> None:
    answer, requests = play(calls.health(), passing, passing, UP)
    assert answer == models.Health(status="up")
    assert len(requests) == 3


def test_the_last_failure_is_raised_when_the_tries_are_used_up(play: Play) -> None:
    error, requests = play(calls.health(), GONE, httpx.Response(502), GONE, httpx.Response(503))
    assert isinstance(error, ServerError)
    assert error.status == 503
    assert len(requests) == 4


@pytest.mark.parametrize("status", [400, 404, 409, 422, 500, 501])
def test_what_would_fail_again_is_not_tried_again(play: Play, status: int) -> None:
    error, requests = play(calls.health(), httpx.Response(status))
    assert error.status == status
    assert len(requests) == 1


def test_a_request_that_cannot_be_sent_at_all_is_not_tried_again(play: Play) -> None:
    error, requests = play(calls.health(), httpx.UnsupportedProtocol("no scheme"))
    assert isinstance(error, TransportError)
    assert len(requests) == 1


def test_what_computes_and_stores_nothing_is_tried_again(play: Play) -> None:
    _, requests = play(calls.calculate(REQUEST), GONE, httpx.Response(400))
    assert len(requests) == 2


def test_a_post_that_may_have_stored_something_is_never_repeated(play: Play) -> None:
    error, requests = play(calls.stop_repricing(f"rpr_{'0' * 26}"), GONE)
    assert isinstance(error, TransportError)
    assert isinstance(error.__cause__, httpx.ReadError)
    assert len(requests) == 1


def test_creating_is_repeated_under_one_key_with_one_body(play: Play) -> None:
    _, requests = play(
        calls.create_estimate(REQUEST), GONE, httpx.Response(503), httpx.Response(400)
    )
    keys = {request.headers["idempotency-key"] for request in requests}
    assert len(requests) == 3
    assert len(keys) == 1
    assert {request.content for request in requests} == {msgspec.json.encode(REQUEST)}


def test_every_creation_has_a_key_of_its_own() -> None:
    keys = {calls.create_estimate(REQUEST).idempotency_key for _ in range(100)}
    assert len(keys) == 100


@pytest.mark.parametrize("given", ["hall-2", '"hall-2"'])
def test_a_key_of_the_callers_own_is_sent_as_a_quoted_string(play: Play, given: str) -> None:
    _, requests = play(calls.create_estimate(REQUEST, idempotency_key=given), httpx.Response(400))
    # draft-ietf-httpapi-idempotency-key-header-07 section 2.1: a Structured Field string
    assert requests[0].headers["idempotency-key"] == '"hall-2"'


def test_retries_can_be_switched_off(play: Play) -> None:
    error, requests = play(calls.health(), GONE, retries=None)
    assert isinstance(error, TransportError)
    assert len(requests) == 1


def waits(policy: Retries, *failures: ApiError | TransportError) -> list[float | None]:
    attempts = Attempts(calls.health(), policy)
    return [attempts.wait_after(failure) for failure in failures]


def test_waits_double_up_to_the_longest_and_are_spread() -> None:
    policy = Retries(tries=7, first_wait=1.0, longest_wait=8.0)
    runs = [waits(policy, *[TransportError("gone")] * 7) for _ in range(200)]
    for place, bound in enumerate((1, 2, 4, 8, 8, 8)):
        column = [run[place] or 0.0 for run in runs]
        assert bound / 2 <= min(column) < max(column) <= bound
        assert max(column) - min(column) > bound / 4
    assert {run[6] for run in runs} == {None}


def test_the_service_decides_how_long_to_wait() -> None:
    assert waits(Retries(first_wait=0.0), answered(429, retry_after="7")) == [7.0]
    assert waits(Retries(first_wait=0.0), answered(503, retry_after="0")) == [0.0]


def test_a_wait_beyond_what_is_worth_it_ends_the_tries() -> None:
    assert waits(Retries(longest_retry_after=60.0), answered(429, retry_after="61")) == [None]


def test_retry_after_may_be_a_date() -> None:
    moment = dt.datetime.now(dt.UTC) + dt.timedelta(seconds=30)
    error = answered(503, retry_after=format_datetime(moment, usegmt=True))
    assert error.retry_after == pytest.approx(30.0, abs=2.0)
    for zone in ("GMT", "-0000"):
        past = answered(503, retry_after=f"Wed, 21 Oct 2015 07:28:00 {zone}")
        assert past.retry_after == 0.0


@pytest.mark.parametrize("nonsense", ["soon", "-1", "1.5", "", "٣"])
def test_a_retry_after_that_says_nothing_is_passed_over(nonsense: str) -> None:
    # as it would come over the wire: header values are bytes, read as latin-1
    text = nonsense.encode().decode("latin-1")
    assert error_of(503, {"retry-after": text}, b"").retry_after is None


def test_sending_waits_as_long_as_it_was_told(play: Play, monkeypatch: pytest.MonkeyPatch) -> None:
    slept: list[float] = []

    async def sleep(seconds: float) -> None:
        slept.append(seconds)

    monkeypatch.setattr("filmbuild_sdk.client.time.sleep", slept.append)
    monkeypatch.setattr("filmbuild_sdk.client.asyncio.sleep", sleep)
    play(calls.health(), httpx.Response(429, headers={"retry-after": "9"}), UP)
    assert slept == [9.0]


def test_only_reading_computing_and_keyed_creating_count_as_repeatable() -> None:
    assert calls.get_rule("takeoff.floor").repeatable
    assert calls.create_estimate(REQUEST).repeatable
    assert calls.calculate(REQUEST).repeatable
    assert not Call("POST", "/v1/takeoff", models.TakeoffDocument).repeatable
    assert not Call("DELETE", "/v1/anything", models.Health).repeatable
