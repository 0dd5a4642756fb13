"""What a scrape of /metrics tells, and who may scrape."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import calling
import httpx
import msgspec
import pytest
from litestar import Litestar
from new_databases import NewDatabase
from prometheus_client.parser import text_string_to_metric_families
from serving import settings_for

from filmbuild.app import create_app
from filmbuild.settings import MetricsAccess
from filmbuild.watching.gauges import Gauges
from filmbuild.watching.metrics import Metrics

BODY = {
    "site": {
        "areas": [{"id": "a", "outline": {"kind": "rectangle", "length": "6 m", "width": "4 m"}}]
    }
}
Samples = dict[tuple[str, ...], float]


@contextmanager
def application(new: NewDatabase, metrics: MetricsAccess) -> Iterator[Litestar]:
    with new(True, loaded=True) as url:
        yield create_app(msgspec.structs.replace(settings_for(url), metrics=metrics))


def client_from(app: Litestar, address: str = "127.0.0.1", **more: Any) -> httpx.AsyncClient:
    transport = httpx.ASGITransport(app, client=(address, 1234))  # type: ignore[arg-type] # litestar's own scope types
    headers = {**calling.HEADERS, **more.pop("headers", {})}
    return httpx.AsyncClient(transport=transport, base_url="http://test", headers=headers)


async def scraped(client: httpx.AsyncClient) -> Samples:
    """Read as Prometheus' own client library reads it."""
    text = (await client.get("/metrics")).text
    return {
        (sample.name, *(sample.labels[name] for name in sorted(sample.labels))): sample.value
        for family in text_string_to_metric_families(text)
        for sample in family.samples
    }


async def test_requests_are_counted_by_operation_and_class_of_status(
    new_database: NewDatabase,
) -> None:
    with application(new_database, "loopback") as app:
        async with app.lifespan(), client_from(app) as client:
            assert (await client.post("/v1/takeoff", json=BODY)).is_success
            assert (await client.post("/v1/takeoff", json={})).status_code == 422
            assert (await client.get("/v1/products")).is_success
            for number in range(5):
                assert (await client.get(f"/nowhere/{number}")).status_code == 404
            found = await scraped(client)
    count = "filmbuild_request_seconds_count"
    assert found[count, "computeTakeoff", "2xx"] == 1
    assert found[count, "computeTakeoff", "4xx"] == 1
    assert found[count, "listProducts", "2xx"] == 1
    assert found[count, "none", "4xx"] == 5
    assert found["filmbuild_requests_in_flight",] == 1, "the scrape itself"
    assert found["filmbuild_body_bytes_sum", "in"] == len(msgspec.json.encode(BODY)) + len("{}")


async def test_work_and_what_waits_are_told(new_database: NewDatabase) -> None:
    with application(new_database, "on") as app:
        async with app.lifespan(), client_from(app, "8.8.8.8") as client:
            assert (await client.post("/v1/takeoff", json=BODY)).is_success
            assert (await client.get("/v1/products")).is_success
            await client.get("/v1/readiness")
            found = await scraped(client)
    assert found["filmbuild_work_seconds_count", "stage.takeoff"] == 1
    assert found["filmbuild_work_seconds_count", "database.read"] >= 2
    assert found["filmbuild_jobs_due",] == 0
    assert ("filmbuild_jobs_oldest_due_seconds",) not in found
    assert found["filmbuild_catalogue_snapshots",] == 1
    assert found["process_resident_memory_bytes",] > 1e6
    assert found["filmbuild_event_loop_lag_seconds",] >= 0


async def test_refusals_are_counted_by_reason(new_sqlite: NewDatabase) -> None:
    with application(new_sqlite, "loopback") as app:
        async with app.lifespan(), client_from(app) as client:
            for _ in range(3):
                answer = await client.get("/v1/products", headers={"authorization": "Bearer x"})
                assert answer.status_code == 401
            found = await scraped(client)
    assert found["filmbuild_refusals_total", "unauthorized"] == 3
    assert found["filmbuild_refusals_total", "too-many-requests"] == 0


@pytest.mark.parametrize(
    ("access", "address", "headers", "status"),
    [
        ("off", "127.0.0.1", {}, 404),
        ("loopback", "127.0.0.1", {}, 200),
        ("loopback", "::1", {}, 200),
        ("loopback", "10.0.0.5", {}, 404),
        ("loopback", "127.0.0.1", {"x-forwarded-for": "10.0.0.5"}, 404),
        ("loopback", "127.0.0.1", {"forwarded": "for=10.0.0.5"}, 404),
        ("on", "8.8.8.8", {}, 200),
    ],
)
async def test_who_may_scrape(
    new_sqlite: NewDatabase,
    access: MetricsAccess,
    address: str,
    headers: dict[str, str],
    status: int,
) -> None:
    with new_sqlite(False) as url:
        app = create_app(msgspec.structs.replace(settings_for(url), metrics=access))
        async with app.lifespan(), client_from(app, address, headers=headers) as client:
            answer = await client.get("/metrics")
    assert answer.status_code == status
    if status == 404:
        assert answer.headers["content-type"] == "application/problem+json"


async def test_a_figure_that_fails_takes_no_other_away() -> None:
    gauges, metrics = Gauges(), Metrics()

    async def failing() -> float:
        raise RuntimeError

    async def three() -> float:
        return 3.0

    async def nothing() -> None:
        return None

    gauges.add("failing", "Fails.", failing)
    gauges.add("three", "Three.", three)
    gauges.add("nothing", "Has no figure.", nothing)
    with pytest.raises(ValueError, match="already"):
        gauges.add("three", "Again.", three)
    assert [(one.name, one.value) for one in await gauges.read(metrics.failed)] == [
        ("filmbuild_three", 3.0)
    ]
    failed = metrics.registry.get_sample_value(
        "filmbuild_failures_total", {"part": "gauge-failing"}
    )
    assert failed == 1
