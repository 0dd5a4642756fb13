"""Requests at the edges of what numbers and geometry can hold."""

import copy
from collections.abc import Iterator
from typing import Any

import pytest
from serving import Client, NewDatabase, serving

import examples
from filmbuild.pipeline import overlap


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


def test_air_of_nearly_no_humidity_is_dry(client: Client, asked: dict[str, Any]) -> None:
    asked["job"]["conditions"] = {"relative_humidity_percent": 0}
    dry = client.post("/v1/schedule", json=asked)
    asked["job"]["conditions"] = {"relative_humidity_percent": 5e-324}
    nearly = client.post("/v1/schedule", json=asked)
    assert nearly.status_code == dry.status_code == 200, nearly.text
    for coat, other in zip(
        nearly.json()["schedule"]["coats"], dry.json()["schedule"]["coats"], strict=True
    ):
        assert {**coat, "trace": None} == {**other, "trace": None}


def test_outlines_too_many_to_be_compared_are_refused(
    client: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(overlap, "MOST_EFFORT", 1)
    areas = [
        {
            "id": f"band-{y}",
            "outline": {
                "kind": "polygon",
                "unit": "m",
                "vertices": [[0, y], [9, y + 9], [9, y + 9.5], [0, y + 0.5]],
            },
        }
        for y in range(40)
    ]
    response = client.post("/v1/takeoff", json={"site": {"areas": areas}})
    assert response.status_code == 422, response.text
    (fault,) = response.json()["errors"]
    assert (fault["pointer"], fault["code"]) == ("/site/areas", "areas-entangled")
