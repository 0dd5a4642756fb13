"""The database goes away for a while, and comes back: pytest --outage-seconds 30 for longer."""

import time
from collections.abc import Iterator
from typing import Any

import httpx
import new_databases
import private_cluster
import pytest
import repricing_cases as cases
import serving
from private_cluster import Cluster
from running import running
from sqlalchemy import URL
from waiting import until

MANY = 100
LONGEST_SECONDS = 120.0


@pytest.fixture(scope="module")
def own_cluster() -> Iterator[Cluster]:
    """The other tests' cluster is not to be stopped under them."""
    binaries = private_cluster.programs()
    if binaries is None:
        pytest.skip("PostgreSQL's server is not installed; conftest.py fails on that in CI")
    with private_cluster.cluster(binaries) as cluster:
        yield cluster


@pytest.fixture
def url(own_cluster: Cluster) -> URL:
    url = own_cluster.create("outage")
    new_databases.make(url)
    serving.load_demo(url)
    return url


def unavailable(response: httpx.Response) -> dict[str, Any]:
    assert response.status_code == 503, response.text
    assert response.headers["content-type"] == "application/problem+json"
    problem: dict[str, Any] = response.json()
    assert problem["type"] == "/problems/unavailable"
    return problem


def test_the_service_says_so_and_goes_on_when_it_is_back(
    url: URL, own_cluster: Cluster, request: pytest.FixtureRequest
) -> None:
    gone = request.config.getoption("--outage-seconds")
    cases.make_many(url, MANY)
    cases.raise_prices(url)
    with running(url) as service:
        client = service.client
        body = {"note": "Dearer resin"}
        begun = client.post("/v1/repricings", json=body).json()
        progress = f"/v1/repricings/{begun['id']}"
        until(lambda: client.get(progress).json()["done"] > 0)
        assert client.get(progress).json()["done"] < MANY
        own_cluster.stop()
        try:
            since = time.monotonic()
            while time.monotonic() < since + gone:
                assert client.get("/v1/health").status_code == 200
                assert "database" in unavailable(client.get("/v1/readiness"))["detail"]
                unavailable(client.post("/v1/estimates", json=cases.request()))
                unavailable(client.get("/v1/estimates"))
                unavailable(client.get(progress))
                unavailable(client.post("/v1/repricings", json=body))
        finally:
            own_cluster.start()
        until(lambda: client.get("/v1/readiness").status_code == 200)
        assert client.post("/v1/estimates", json=cases.request()).status_code == 201
        # nothing that was refused meanwhile is there
        assert len(client.get("/v1/repricings").json()["items"]) == 1
        until(lambda: client.get(progress).json()["state"] == "done", LONGEST_SECONDS)
        assert client.get(progress).json()["repriced"] == MANY
