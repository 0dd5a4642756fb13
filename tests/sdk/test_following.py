"""A repricing followed event by event, through connections that break."""

import asyncio
from collections.abc import Callable, Iterator
from typing import Any

import httpx
import loopback
import msgspec
import pytest
from calling import KEY
from running import running
from serving import NewDatabase

import examples
from filmbuild_sdk import (
    AsyncClient,
    Client,
    DecodeError,
    NotFound,
    RepricingEvent,
    Retries,
    TransportError,
    models,
)

BASE = "http://floors.test"
AT_ONCE = Retries(tries=3, first_wait=0.0)
NAME = "rep_" + 26 * "0"
REFUSED: dict[str, Any] = {
    "estimate": "est_" + 26 * "0",
    "outcome": "refused",
    "was": None,
    "now": None,
    "below_margin": False,
    "problem": "/problems/infeasible",
    "errors": [],
}
EVENTS = {"content-type": "text/event-stream"}
RISE = b"pack,amount,effective_from\nharbour-20-kit-3gal,199.00,2026-01-02\n"


def shown(operation: str) -> Any:
    """As the contract shows one."""
    return examples.read(operation)[0].answer


def event(kind: str, identity: str, data: Any) -> bytes:
    content = msgspec.json.encode(data)
    return b"event: %s\nid: %s\ndata: %s\n\n" % (kind.encode(), identity.encode(), content)


def estimate(number: int) -> bytes:
    return event("estimate", str(number), REFUSED | {"sequence": number})


def end(number: int) -> bytes:
    return event("end", f"{number}.end", shown("getRepricing") | {"state": "done"})


Outcome = bytes | httpx.Response | Exception
Follow = Callable[..., tuple[list[RepricingEvent], Exception | None, list[str | None]]]


def followed(kind: str, outcomes: list[Outcome], **rest: Any) -> Any:
    """The events, what they ended in, and the Last-Event-ID of each connection."""
    asked: list[str | None] = []
    events: list[RepricingEvent] = []

    def answer(request: httpx.Request) -> httpx.Response:
        asked.append(request.headers.get("last-event-id"))
        outcome = outcomes.pop(0)
        if isinstance(outcome, Exception):
            raise outcome
        if isinstance(outcome, httpx.Response):
            return outcome
        return httpx.Response(200, headers=EVENTS, content=outcome)

    async def wait() -> None:
        transport = httpx.MockTransport(answer)
        async with AsyncClient(BASE, key=KEY, transport=transport, retries=AT_ONCE) as client:
            async for one in client.follow_repricing(NAME, **rest):
                events.append(one)  # noqa: PERF401 - those before a failure are kept

    failure = None
    try:
        if kind == "async":
            asyncio.run(wait())
        else:
            transport = httpx.MockTransport(answer)
            with Client(BASE, key=KEY, transport=transport, retries=AT_ONCE) as client:
                events.extend(client.follow_repricing(NAME, **rest))
    except Exception as error:  # noqa: BLE001 - what was raised is what the test looks at
        failure = error
    return events, failure, asked


@pytest.fixture(params=["sync", "async"])
def follow(request: pytest.FixtureRequest) -> Follow:
    return lambda *outcomes, **rest: followed(request.param, list(outcomes), **rest)


def test_events_are_typed_and_end_with_the_work(follow: Follow) -> None:
    progress = event("progress", "1", shown("getRepricing"))
    events, failure, asked = follow(b": hello\n\n" + estimate(1) + progress + end(1))
    assert failure is None
    assert asked == [None]
    assert [(one.type, one.id) for one in events] == [
        ("estimate", "1"),
        ("progress", "1"),
        ("end", "1.end"),
    ]
    assert [type(one.data) for one in events] == [
        models.RepricedEstimate,
        models.Repricing,
        models.Repricing,
    ]


def test_it_goes_on_after_the_last_event_that_came(follow: Follow) -> None:
    events, failure, asked = follow(
        estimate(1) + estimate(2)[:-1],
        httpx.Response(503),
        estimate(2) + estimate(3),
        end(3),
    )
    assert failure is None
    assert asked == [None, "1", "1", "3"]
    assert [one.id for one in events] == ["1", "2", "3", "3.end"]


def test_it_can_be_taken_up_where_another_walk_ended(follow: Follow) -> None:
    events, failure, asked = follow(end(7), last_event_id="7")
    assert (failure, asked, [one.id for one in events]) == (None, ["7"], ["7.end"])


def test_there_may_be_nothing_more_to_tell(follow: Follow) -> None:
    assert follow(httpx.Response(204), last_event_id="7.end") == ([], None, ["7.end"])


def test_a_service_that_tells_nothing_is_given_up(follow: Follow) -> None:
    events, failure, asked = follow(estimate(1), *[httpx.ReadError("reset")] * 3)
    assert [one.id for one in events] == ["1"]
    assert isinstance(failure, TransportError)
    assert len(asked) == 3


def test_what_is_not_there_is_not_followed(follow: Follow) -> None:
    _, failure, asked = follow(httpx.Response(404, json={"title": "No such repricing"}))
    assert isinstance(failure, NotFound)
    assert "No such repricing" in str(failure)
    assert len(asked) == 1


def test_events_of_a_later_service_are_passed_over(follow: Follow) -> None:
    events, failure, _ = follow(event("weather", "4", {"rain": True}) + end(4))
    assert failure is None
    assert [one.type for one in events] == ["end"]


def test_what_cannot_be_read_is_an_error(follow: Follow) -> None:
    _, failure, asked = follow(event("estimate", "1", {"odd": 1}))
    assert isinstance(failure, DecodeError)
    assert len(asked) == 1


@pytest.fixture(scope="module")
def port(new_sqlite: NewDatabase) -> Iterator[int]:
    with new_sqlite(True, loaded=True) as url, running(url) as service:
        yield service.port


@pytest.fixture(scope="module")
def repricing(port: int) -> models.Repricing:
    """Of four estimates."""
    request = msgspec.convert(examples.read("createEstimate")[0].body, models.EstimateRequest)
    with Client(f"http://127.0.0.1:{port}", key=KEY) as client:
        for _ in range(4):
            client.create_estimate(request)
        client.update_prices(RISE, media_type="text/csv", currency="USD")
        return client.create_repricing(models.RepricingRequest(note="Dearer primer"))


@pytest.mark.parametrize("kind", ["sync", "async"])
def test_every_estimate_is_told_once_over_a_line_that_breaks(
    port: int, repricing: models.Repricing, kind: str
) -> None:
    """Cut in the head, in an event, and some events on."""
    with loopback.before(port) as proxy:
        cuts = [loopback.cut_after(many) for many in (40, 500, 900)]
        proxy.plans.extend([loopback.DROP, *cuts])

        async def wait() -> list[RepricingEvent]:
            async with AsyncClient(proxy.url, key=KEY, retries=Retries(first_wait=0.0)) as client:
                return [one async for one in client.follow_repricing(repricing.id)]

        if kind == "async":
            events = asyncio.run(wait())
        else:
            with Client(proxy.url, key=KEY, retries=Retries(first_wait=0.0)) as client:
                events = list(client.follow_repricing(repricing.id))
        assert not proxy.plans
    told = [one.data.estimate for one in events if isinstance(one.data, models.RepricedEstimate)]
    assert len(told) == len(set(told)) == 4
    last = events[-1]
    assert last.type == "end"
    assert isinstance(last.data, models.Repricing)
    assert (last.data.state, last.data.done) == ("done", 4)
