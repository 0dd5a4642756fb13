"""The SDK against the whole application, on the demo catalogue."""

import datetime as dt
from collections.abc import AsyncIterator, Callable, Iterable, Iterator
from contextlib import asynccontextmanager
from typing import Any

import httpx
import msgspec
import pytest
import serving
from calling import KEY
from serving import NewDatabase
from sqlalchemy import URL

import examples
from filmbuild.app import create_app
from filmbuild_sdk import (
    ApiError,
    AsyncClient,
    Client,
    InvalidInput,
    NotFound,
    Retries,
    TransportError,
    Unavailable,
    models,
)

BASE = "http://127.0.0.1"
AT_ONCE = Retries(tries=3, first_wait=0.0)


class Line(httpx.BaseTransport):
    """Carries requests to the application, and can lose its answers on the way back."""

    def __init__(self, service: httpx.Client) -> None:
        self._service = service
        self.losing = 0
        self.keys: list[str | None] = []

    def handle_request(self, request: httpx.Request) -> httpx.Response:
        self.keys.append(request.headers.get("idempotency-key"))
        answer = self._service.send(request)
        if self.losing:
            self.losing -= 1
            raise httpx.ReadError("connection reset by peer")
        return httpx.Response(answer.status_code, headers=answer.headers, content=answer.content)


@pytest.fixture(scope="module")
def service(new_sqlite: NewDatabase) -> Iterator[httpx.Client]:
    with serving.serving(new_sqlite) as service:
        yield service


@pytest.fixture
def line(service: httpx.Client) -> Line:
    return Line(service)


@pytest.fixture
def client(line: Line) -> Iterator[Client]:
    with Client(BASE, key=KEY, transport=line, retries=AT_ONCE) as client:
        yield client


@asynccontextmanager
async def awaiting(url: URL) -> AsyncIterator[AsyncClient]:
    app = create_app(serving.settings_for(url))
    transport = httpx.ASGITransport(app=app)  # type: ignore[arg-type]  # litestar's own words for ASGI
    async with (
        app.lifespan(),
        AsyncClient(BASE, key=KEY, transport=transport, retries=None) as client,
    ):
        yield client


@pytest.fixture(scope="module")
def request_() -> models.EstimateRequest:
    body = examples.read("calculateEstimate")[0].body
    return msgspec.json.decode(msgspec.json.encode(body), type=models.EstimateRequest)


def kept(client: Client) -> list[str]:
    return [one.id for one in client.list_estimates(limit=100)]


def test_each_stage_takes_the_answer_of_the_one_before(
    client: Client, request_: models.EstimateRequest
) -> None:
    job = request_.job
    takeoff = client.takeoff(models.TakeoffRequest(site=request_.site))
    materials = client.materials(models.MaterialsRequest(job=job, takeoff=takeoff))
    labour = client.labour(models.LabourRequest(job=job, materials=materials))
    schedule = client.schedule(models.ScheduleRequest(job=job, labour=labour))
    whole = client.calculate(request_)
    names = [area.id for area in takeoff.takeoff.areas]
    assert names == [area.id for area in request_.site.areas]
    assert [coat.layer for coat in materials.materials.coats] == [
        coat.layer for coat in whole.materials.coats
    ]
    bought = [
        (one.product, pack.pack, pack.count)
        for one in whole.materials.purchases
        for pack in one.packs
    ]
    assert bought
    assert bought == [
        (one.product, pack.pack, pack.count)
        for one in materials.materials.purchases
        for pack in one.packs
    ]
    assert [(one.activity, one.start, one.finish) for one in schedule.schedule.activities] == [
        (one.activity, one.start, one.finish) for one in whole.schedule.activities
    ]


def test_the_takeoff_is_drawn_and_set_in_a_table(
    client: Client, request_: models.EstimateRequest
) -> None:
    request = models.TakeoffRequest(site=request_.site, units="si")
    drawing, table = client.takeoff_drawing(request), client.takeoff_table(request)
    assert drawing.startswith('<svg xmlns="http://www.w3.org/2000/svg"')
    header, *lines = table.split("\r\n")
    assert "floor [m2]" in header
    assert len(lines) == len(request_.site.areas) + 2
    assert client.takeoff_drawing(request) == drawing


def test_a_refused_drawing_is_an_error_like_any_other(
    client: Client, request_: models.EstimateRequest
) -> None:
    wrong = msgspec.structs.replace(request_.site.areas[0], id="no spaces")
    request = models.TakeoffRequest(site=models.Site(areas=[wrong]))
    for ask in (client.takeoff_drawing, client.takeoff_table):
        with pytest.raises(InvalidInput) as refused:
            ask(request)
        assert [one.pointer for one in refused.value.errors] == ["/site/areas/0/id"]


def test_answers_are_typed_values(client: Client, request_: models.EstimateRequest) -> None:
    document = client.calculate(request_)
    floor = document.takeoff.totals.floor
    assert (floor.unit, type(floor.value)) == ("ft2", float)
    assert document.schedule.activities[0].start.utcoffset() is not None
    assert isinstance(document.schedule.first_day, dt.date)
    assert document.labour.activities[0].duration > dt.timedelta(0)
    price = document.price
    assert price.total.currency == "USD"
    assert price.total.amount == price.net.amount + sum(tax.amount.amount for tax in price.taxes)


def test_an_estimate_is_made_read_and_listed(
    client: Client, request_: models.EstimateRequest
) -> None:
    made = [client.create_estimate(request_) for _ in range(3)]
    assert client.get_estimate(made[0].id) == made[0]
    assert made[0].document == client.calculate(request_)
    assert made[0].created_at.tzinfo is not None
    walked = [one.id for one in client.list_estimates(limit=2)]
    assert walked[:3] == [one.id for one in reversed(made)]
    assert len(walked) == len(set(walked))


def test_an_estimate_whose_answer_was_lost_is_made_once(
    client: Client, line: Line, request_: models.EstimateRequest
) -> None:
    before = kept(client)
    line.keys.clear()
    line.losing = 2
    stored = client.create_estimate(request_)
    assert len(line.keys) == 3
    assert len(set(line.keys)) == 1
    assert kept(client) == [stored.id, *before]


def test_a_key_of_the_callers_own_finds_what_was_made_before(
    client: Client, line: Line, request_: models.EstimateRequest
) -> None:
    before = kept(client)
    line.losing = 3
    with pytest.raises(TransportError):
        client.create_estimate(request_, idempotency_key="second-bay")
    stored = client.create_estimate(request_, idempotency_key="second-bay")
    assert kept(client) == [stored.id, *before]
    other = msgspec.structs.replace(request_, reference="another")
    with pytest.raises(ApiError) as refused:
        client.create_estimate(other, idempotency_key="second-bay")
    # draft-ietf-httpapi-idempotency-key-header-07 section 2.7
    assert refused.value.status == 422


def test_a_refusal_points_at_everything_that_is_wrong(
    client: Client, request_: models.EstimateRequest
) -> None:
    first = request_.site.areas[0]
    outline = models.Rectangle(length="24 parsecs", width="-3 ft")
    wrong = msgspec.structs.replace(first, id="no spaces", outline=outline)
    with pytest.raises(InvalidInput) as refused:
        client.takeoff(models.TakeoffRequest(site=models.Site(areas=[wrong])))
    error = refused.value
    assert {one.pointer for one in error.errors} == {
        "/site/areas/0/id",
        "/site/areas/0/outline/length",
        "/site/areas/0/outline/width",
    }
    assert error.problem is not None
    assert error.problem.type == "/problems/invalid-input"
    assert error.request_id == error.headers["x-request-id"]
    for one in error.errors:
        assert one.pointer in str(error)
        assert one.detail in str(error)


def test_what_is_not_there_is_not_found(client: Client) -> None:
    with pytest.raises(NotFound) as missing:
        client.get_estimate("est_00000000000000000000000000")
    assert missing.value.problem is not None
    assert missing.value.problem.status == 404


def test_the_catalogue_is_read_record_by_record(client: Client) -> None:
    walks: list[tuple[Iterable[Any], Callable[[str], Any]]] = [
        (client.list_products(limit=3), client.get_product),
        (client.list_packs(limit=3), client.get_pack),
        (client.list_suppliers(limit=3), client.get_supplier),
        (client.list_systems(limit=3), client.get_system),
        (client.list_rate_books(limit=3), client.get_rate_book),
        (client.list_consumable_rules(limit=3), client.get_consumable_rule),
        (client.list_tax_rules(limit=3), client.get_tax_rule),
    ]
    counts = []
    for walk, get in walks:
        records = list(walk)
        assert get(records[-1].id) == records[-1]
        counts.append(len(records))
    assert sorted(counts) == sorted(client.get_catalogue().records.values())
    revisions = list(client.list_catalogue_revisions())
    assert [one.revision for one in revisions] == [client.get_catalogue().revision]


def test_every_trace_names_a_rule_that_can_be_read(
    client: Client, request_: models.EstimateRequest
) -> None:
    named = {
        trace.rule
        for area in client.calculate(request_).takeoff.areas
        for trace in area.traces.values()
    }
    assert named
    assert named <= {one.id for one in client.list_rules(limit=100)}
    one = min(named)
    assert client.get_rule(one).id == one


def test_the_service_speaks_of_itself(client: Client) -> None:
    assert client.health().status == "up"
    assert client.readiness().status == "ready"
    assert client.contract()["openapi"].startswith("3.1")


async def test_the_async_client_does_the_same(
    new_sqlite: NewDatabase, request_: models.EstimateRequest
) -> None:
    with new_sqlite(True) as url:
        async with awaiting(url) as client:
            assert (await client.health()).status == "up"
            assert [one.id async for one in client.list_estimates()] == []
            takeoff = await client.takeoff(models.TakeoffRequest(site=request_.site))
            drawing = await client.takeoff_drawing(models.TakeoffRequest(site=request_.site))
            table = await client.takeoff_table(models.TakeoffRequest(site=request_.site))
            with pytest.raises(Unavailable):
                await client.create_estimate(request_)
    assert [one.id for one in takeoff.takeoff.areas] == [one.id for one in request_.site.areas]
    assert drawing.endswith("</svg>")
    assert table.count("\r\n") == len(request_.site.areas) + 2
