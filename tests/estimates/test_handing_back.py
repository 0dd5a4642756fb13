"""Answers handed back over HTTP: as they were, changed, and for another job."""

import copy
from collections.abc import Iterator
from typing import Any

import httpx
import pytest
from serving import Client, NewDatabase, serving

import examples


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


@pytest.fixture
def asked() -> dict[str, Any]:
    """The request of the contract's example, to be changed at will."""
    body = copy.deepcopy(examples.read("calculateEstimate")[0].body)
    assert isinstance(body, dict)
    return body


def refused(response: httpx.Response) -> list[str]:
    assert response.status_code == 422, response.text
    return [fault["pointer"] for fault in response.json()["errors"]]


def test_an_answer_that_was_changed_is_not_taken_back(
    client: Client, asked: dict[str, Any]
) -> None:
    answer = client.post(
        "/v1/takeoff", json={name: asked[name] for name in ("units", "site")}
    ).json()
    answer["takeoff"]["totals"]["floor"]["value"] *= 2
    body = {"units": asked["units"], "job": asked["job"], "takeoff": answer}
    response = client.post("/v1/materials", json=body)
    assert refused(response) == ["/takeoff/takeoff/totals/floor"]
    assert response.json()["errors"][0]["code"] == "totals-mismatch"


def test_an_answer_is_not_taken_back_for_another_job(client: Client, asked: dict[str, Any]) -> None:
    answer = client.post("/v1/materials", json=asked).json()
    job = {**asked["job"], "conditions": {"surface_temperature": "60 degF"}}
    response = client.post("/v1/labour", json={"job": job, "materials": answer})
    assert refused(response) == ["/job/conditions/surface_temperature"]
    assert response.json()["errors"][0]["code"] == "basis-mismatch"


def test_the_day_of_prices_is_that_of_the_answer_handed_in(
    client: Client, asked: dict[str, Any]
) -> None:
    """A job gets its start only when it is to be scheduled: its prices stay what they were."""
    start = asked["job"].pop("start")
    asked["job"].pop("priced_on", None)
    answer = client.post("/v1/labour", json=asked).json()
    body = {"units": asked["units"], "job": {**asked["job"], "start": start}, "labour": answer}
    response = client.post("/v1/schedule", json=body)
    assert response.status_code == 200, response.text
    assert response.json()["priced_on"] == answer["priced_on"] != start
    body["job"]["priced_on"] = start
    assert refused(client.post("/v1/schedule", json=body)) == ["/job/priced_on"]
