"""What a caller sees of a bad line: the SDK against a served application, through a proxy."""

import asyncio
from collections.abc import Awaitable, Callable, Iterator
from email.utils import formatdate
from pathlib import Path
from typing import Any

import httpx
import loopback
import msgspec
import pytest
from calling import KEY
from loopback import Plan, Proxy
from plan_cases import by_hand, square
from running import running
from serving import NewDatabase

import examples
from filmbuild_sdk import (
    AsyncClient,
    Client,
    DecodeError,
    RateLimited,
    Retries,
    TransportError,
    Unavailable,
    models,
)

AT_ONCE = Retries(tries=4, first_wait=0.0)
BUSY = loopback.answer(503, "unavailable", "The database does not answer.", retry_after="0")
Action = Callable[[Any], Any]
Ask = Callable[..., Any]


@pytest.fixture(scope="module")
def port(new_sqlite: NewDatabase) -> Iterator[int]:
    with new_sqlite(True, loaded=True) as url, running(url) as service:
        yield service.port


@pytest.fixture
def proxy(port: int) -> Iterator[Proxy]:
    with loopback.before(port) as proxy:
        yield proxy


def _sync(url: str, action: Action, options: dict[str, Any]) -> Any:
    with Client(url, key=KEY, **options) as client:
        return action(client)


def _async(url: str, action: Action, options: dict[str, Any]) -> Any:
    async def ask() -> Any:
        async with AsyncClient(url, key=KEY, **options) as client:
            answer = action(client)
            return await answer if isinstance(answer, Awaitable) else answer

    return asyncio.run(ask())


@pytest.fixture(params=[_sync, _async], ids=["sync", "async"])
def ask(request: pytest.FixtureRequest, proxy: Proxy) -> Ask:
    """Does something with either client, through the proxy."""

    def asked(action: Action, **options: Any) -> Any:
        return request.param(proxy.url, action, {"retries": AT_ONCE, **options})

    return asked


@pytest.fixture(scope="module")
def request_() -> models.EstimateRequest:
    body = examples.read("calculateEstimate")[0].body
    return msgspec.json.decode(msgspec.json.encode(body), type=models.EstimateRequest)


def kept(port: int) -> list[str]:
    with Client(f"http://127.0.0.1:{port}", key=KEY) as client:
        return [one.id for one in client.list_estimates(limit=100)]


def lines(requests: list[bytes], name: bytes) -> set[bytes]:
    return {
        line
        for request in requests
        for line in request.partition(loopback.END_OF_HEAD)[0].split(b"\r\n")
        if line.lower().startswith(name + b":")
    }


@pytest.mark.parametrize(
    "plan",
    [loopback.DROP, loopback.lose_the_answer, loopback.cut_the_answer, BUSY],
    ids=["before the request", "after the commit", "in the middle of the answer", "503"],
)
def test_one_estimate_is_made_whatever_becomes_of_the_answers(
    ask: Ask, proxy: Proxy, port: int, request_: models.EstimateRequest, plan: Plan | None
) -> None:
    before = kept(port)
    proxy.plans.extend([plan, plan])
    stored = ask(lambda client: client.create_estimate(request_))
    assert kept(port) == [stored.id, *before]
    assert len(lines(proxy.requests, b"idempotency-key")) == 1
    assert proxy.requests[-1].endswith(msgspec.json.encode(request_))


def test_who_tries_again_later_under_the_same_key_finds_what_was_made(
    ask: Ask, proxy: Proxy, port: int, request_: models.EstimateRequest
) -> None:
    before = kept(port)
    key = f"hall-{len(before)}"
    proxy.plans.extend([loopback.lose_the_answer] * 4)
    with pytest.raises(TransportError) as lost:
        ask(lambda client: client.create_estimate(request_, idempotency_key=key))
    assert "POST " in str(lost.value)
    assert "/v1/estimates" in str(lost.value)
    stored = ask(lambda client: client.create_estimate(request_, idempotency_key=key))
    assert kept(port) == [stored.id, *before]


def test_half_a_json_document_is_told_apart_and_the_work_is_not_done_twice(
    ask: Ask, proxy: Proxy, port: int, request_: models.EstimateRequest
) -> None:
    before = kept(port)
    key = f"half-{len(before)}"
    proxy.plans.append(loopback.shorten_the_json)
    with pytest.raises(DecodeError) as cut:
        ask(lambda client: client.create_estimate(request_, idempotency_key=key))
    assert cut.value.status == 201
    assert cut.value.request_id
    assert len(proxy.requests) == 1
    assert ask(lambda client: client.create_estimate(request_, idempotency_key=key)).id
    assert len(kept(port)) == len(before) + 1


def test_what_computes_and_stores_nothing_is_sent_again_where_its_answer_is_lost(
    ask: Ask, proxy: Proxy, request_: models.EstimateRequest
) -> None:
    proxy.plans.append(loopback.lose_the_answer)
    assert ask(lambda client: client.calculate(request_)).price.total
    assert len(proxy.requests) == 2


def test_what_may_have_changed_something_is_sent_once_where_its_answer_is_lost(
    ask: Ask, proxy: Proxy
) -> None:
    proxy.plans.append(loopback.lose_the_answer)
    with pytest.raises(TransportError) as lost:
        ask(lambda client: client.stop_repricing(f"rpr_{'0' * 26}"))
    assert lost.value.passing
    assert not lost.value.undone
    assert len(proxy.requests) == 1


def test_a_slow_answer_is_waited_for_and_a_stuck_one_is_not(ask: Ask, proxy: Proxy) -> None:
    proxy.plans.append(loopback.dribble)
    assert ask(lambda client: client.get_catalogue()).revision == 1
    proxy.plans.append(loopback.stall)
    with pytest.raises(TransportError) as stuck:
        ask(lambda client: client.get_catalogue(), timeout=0.3, retries=None)
    assert isinstance(stuck.value.__cause__, httpx.ReadTimeout)
    proxy.plans.append(loopback.stall)
    assert ask(lambda client: client.get_catalogue(), timeout=0.3).revision == 1


@pytest.fixture
def slept(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """What the clients waited, instead of waiting."""
    waits: list[float] = []

    async def nap(seconds: float) -> None:
        waits.append(seconds)

    monkeypatch.setattr("filmbuild_sdk.client.time.sleep", waits.append)
    monkeypatch.setattr("filmbuild_sdk.client.asyncio.sleep", nap)
    return waits


def too_many(retry_after: str) -> Plan:
    return loopback.answer(429, "too-many-requests", "Too many.", retry_after=retry_after)


def test_a_limit_is_waited_out_for_anything_as_nothing_was_begun(
    ask: Ask, proxy: Proxy, slept: list[float], request_: models.EstimateRequest
) -> None:
    """RFC 9110 section 10.2.3: seconds, or a date."""
    proxy.plans.extend([too_many("7"), too_many(formatdate(usegmt=True)), too_many("0")])
    assert ask(lambda client: client.calculate(request_)).price.total.amount > 0
    assert slept == [7.0, 0.0, 0.0]


def test_a_limit_that_lasts_is_an_error_that_says_how_long(
    ask: Ask, proxy: Proxy, slept: list[float]
) -> None:
    proxy.plans.append(too_many("3600"))
    with pytest.raises(RateLimited) as limited:
        ask(lambda client: client.get_catalogue())
    assert slept == []
    assert limited.value.retry_after == 3600.0
    assert limited.value.request_id == "from-the-proxy"
    assert str(limited.value) == "429: Too many. (request from-the-proxy)"


def test_a_service_that_stays_busy_is_an_error_after_all_tries(ask: Ask, proxy: Proxy) -> None:
    proxy.plans.extend([BUSY] * 4)
    with pytest.raises(Unavailable) as busy:
        ask(lambda client: client.get_catalogue())
    assert "The database does not answer." in str(busy.value)
    assert len(proxy.requests) == 4


def test_a_service_that_is_not_there_is_tried_again_for_anything(
    ask: Ask, proxy: Proxy, slept: list[float], request_: models.EstimateRequest
) -> None:
    proxy.close()
    with pytest.raises(TransportError) as gone:
        ask(lambda client: client.calculate(request_))
    assert gone.value.undone
    assert len(slept) == 3


RISE = b"pack,amount,effective_from\nharbour-20-kit-3gal,%d.00,2026-06-01\n"
ROOMS = by_hand(square(0, 0), square(9, 9))


def test_a_price_file_whose_answer_is_lost_is_written_once(
    ask: Ask, proxy: Proxy, port: int, tmp_path: Path
) -> None:
    with Client(f"http://127.0.0.1:{port}", key=KEY) as client:
        before = [one.id for one in client.list_price_updates()]
    content = RISE % (200 + len(before))
    path = tmp_path / "rise.csv"
    path.write_bytes(content)
    told: list[tuple[int, int | None]] = []
    proxy.plans.extend([loopback.lose_the_answer, loopback.cut_the_answer])
    update = ask(
        lambda client: client.update_prices(
            path,
            media_type="text/csv",
            currency="USD",
            progress=lambda sent, total: told.append((sent, total)),
        )
    )
    assert told == [(0, len(content)), (len(content), len(content))] * 3
    assert [one.endswith(content) for one in proxy.requests] == [True] * 3
    with Client(f"http://127.0.0.1:{port}", key=KEY) as client:
        assert [one.id for one in client.list_price_updates()] == [update.id, *before]


def test_drawings_and_catalogues_are_read_from_files(ask: Ask, tmp_path: Path) -> None:
    told: list[tuple[int, int | None]] = []

    def progress(sent: int, total: int | None) -> None:
        told.append((sent, total))

    plan, whole, tables = (tmp_path / name for name in ("plan.dxf", "all.json", "all.zip"))
    plan.write_bytes(ROOMS)
    whole.write_bytes(msgspec.json.encode(ask(lambda client: client.export_catalogue())))
    tables.write_bytes(ask(lambda client: client.export_catalogue_tables_archive()))
    reading = ask(lambda client: client.read_plan(plan, layers="floor", progress=progress))
    assert len(reading.areas) == 2
    for upload in (
        lambda client: client.import_catalogue(whole, check_only=True, progress=progress),
        lambda client: client.import_catalogue_tables(
            tables, media_type="application/zip", check_only=True, progress=progress
        ),
    ):
        assert ask(upload).changes == ()
    sizes = [path.stat().st_size for path in (plan, whole, tables)]
    assert [sent for sent, total in told if sent == total] == sizes
    assert [total for sent, total in told if sent == 0] == sizes
