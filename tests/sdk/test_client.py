"""How requests are sent: where to, with which headers and timeouts, through whose HTTP client."""

import asyncio
from typing import Any

import httpx
import pytest

import filmbuild_sdk
from filmbuild_sdk import AsyncClient, Client, calls, models

Play = Any
UP = {"status": "up"}
EVERY_TIMEOUT = ("connect", "read", "write", "pool")


def up(_request: httpx.Request) -> httpx.Response:
    return httpx.Response(200, json=UP)


def test_a_base_path_is_kept_and_parts_of_paths_are_escaped(play: Play) -> None:
    _, requests = play(calls.get_product("two/parts ?"), httpx.Response(404))
    assert str(requests[0].url) == "http://floors.test/base/v1/products/two%2Fparts%20%3F"


def test_query_parameters_that_are_not_given_are_not_sent(play: Play) -> None:
    _, requests = play(calls.list_products(limit=5, units="si"), httpx.Response(404))
    assert dict(requests[0].url.params) == {"limit": "5", "units": "si"}
    _, requests = play(calls.list_products(), httpx.Response(404))
    assert str(requests[0].url).endswith("/products")


def test_requests_say_who_asks_and_what_is_read(play: Play) -> None:
    _, requests = play(calls.health(), httpx.Response(200, json=UP))
    headers = requests[0].headers
    assert headers["user-agent"].startswith(f"filmbuild-sdk/{filmbuild_sdk.__version__} python/")
    assert headers["accept"] == "application/json, application/problem+json"
    assert "content-type" not in headers


def test_headers_of_the_callers_own_go_with_every_request(play: Play) -> None:
    own = {"X-Request-Id": "estimate-7", "user-agent": "harbour-office"}
    _, requests = play(
        calls.health(), httpx.Response(503), httpx.Response(200, json=UP), headers=own
    )
    assert [one.headers["x-request-id"] for one in requests] == ["estimate-7"] * 2
    assert {one.headers["user-agent"] for one in requests} == {"harbour-office"}


def test_there_is_a_timeout_unless_it_is_switched_off(play: Play) -> None:
    def timeouts(**options: object) -> dict[str, float | None]:
        _, requests = play(calls.health(), httpx.Response(200, json=UP), **options)
        chosen: dict[str, float | None] = requests[0].extensions["timeout"]
        return chosen

    assert timeouts() == {"connect": 5.0, "read": 30.0, "write": 30.0, "pool": 30.0}
    assert timeouts(timeout=3.0) == dict.fromkeys(EVERY_TIMEOUT, 3.0)
    assert timeouts(timeout=3.0, call_timeout=1.5) == dict.fromkeys(EVERY_TIMEOUT, 1.5)
    assert timeouts(timeout=3.0, call_timeout=None) == dict.fromkeys(EVERY_TIMEOUT, None)
    assert timeouts(timeout=None) == dict.fromkeys(EVERY_TIMEOUT, None)


def test_an_http_client_of_the_callers_own_keeps_its_timeout_and_stays_open() -> None:
    seen: list[httpx.Request] = []

    def answer(request: httpx.Request) -> httpx.Response:
        seen.append(request)
        return up(request)

    with httpx.Client(transport=httpx.MockTransport(answer), timeout=2.0) as own:
        with Client("http://floors.test", http_client=own) as client:
            client.health()
            client.health(timeout=9.0)
        assert not own.is_closed
    assert [one.extensions["timeout"]["read"] for one in seen] == [2.0, 9.0]


async def test_an_async_http_client_of_the_callers_own_stays_open() -> None:
    async with httpx.AsyncClient(transport=httpx.MockTransport(up)) as own:
        async with AsyncClient("http://floors.test", http_client=own) as client:
            assert (await client.health()).status == "up"
        assert not own.is_closed


def test_a_client_closes_what_it_made() -> None:
    client = Client("http://floors.test", transport=httpx.MockTransport(up))
    with client:
        client.health()
    with pytest.raises(RuntimeError, match="closed"):
        client.health()


def test_a_transport_and_an_http_client_exclude_each_other() -> None:
    with (
        httpx.Client() as own,
        pytest.raises(TypeError, match="not both"),
    ):
        Client("http://a.test", http_client=own, transport=httpx.MockTransport(up))


def page(items: list[str], following: str | None) -> dict[str, object]:
    rules = [{"id": one, "statement": "s", "equation": None, "source": "none"} for one in items]
    return {"items": rules, "next": following}


class Pager:
    """Three pages, of which the middle one is empty."""

    PAGES = {
        None: page(["a", "b"], "c1"),
        "c1": page([], "c2"),
        "c2": page(["c"], None),
    }

    def __init__(self) -> None:
        self.asked: list[dict[str, str]] = []

    def __call__(self, request: httpx.Request) -> httpx.Response:
        parameters = dict(request.url.params)
        self.asked.append(parameters)
        return httpx.Response(200, json=self.PAGES[parameters.get("cursor")])


def test_a_list_is_walked_over_all_its_pages() -> None:
    pager = Pager()
    with Client("http://floors.test", transport=httpx.MockTransport(pager)) as client:
        rules = client.list_rules(limit=2)
        assert pager.asked == []
        assert [one.id for one in rules] == ["a", "b", "c"]
        assert pager.asked == [
            {"limit": "2"},
            {"limit": "2", "cursor": "c1"},
            {"limit": "2", "cursor": "c2"},
        ]
        assert [len(one.items) for one in rules.pages()] == [2, 0, 1]


def test_a_page_is_asked_for_when_it_is_reached() -> None:
    pager = Pager()
    with Client("http://floors.test", transport=httpx.MockTransport(pager)) as client:
        walk = iter(client.list_rules())
        assert [next(walk).id, next(walk).id] == ["a", "b"]
        assert len(pager.asked) == 1


def test_a_walk_can_be_taken_up_at_a_cursor() -> None:
    with Client("http://floors.test", transport=httpx.MockTransport(Pager())) as client:
        assert [one.id for one in client.list_rules(cursor="c2")] == ["c"]


async def test_a_list_is_walked_asynchronously() -> None:
    pager = Pager()
    async with AsyncClient("http://floors.test", transport=httpx.MockTransport(pager)) as client:
        rules = client.list_rules(limit=2)
        assert [one.id async for one in rules] == ["a", "b", "c"]
        assert [one.next async for one in rules.pages()] == ["c1", "c2", None]


async def test_calls_run_side_by_side() -> None:
    arrived = asyncio.Event()

    async def answer(request: httpx.Request) -> httpx.Response:
        if request.url.path == "/v1/health":
            await asyncio.wait_for(arrived.wait(), 5)
        arrived.set()
        return up(request) if request.url.path == "/v1/health" else httpx.Response(404)

    transport = httpx.MockTransport(answer)
    async with AsyncClient("http://floors.test", transport=transport) as client:
        first, second = await asyncio.gather(
            client.health(), client.readiness(), return_exceptions=True
        )
    assert first == models.Health(status="up")
    assert isinstance(second, filmbuild_sdk.NotFound)
