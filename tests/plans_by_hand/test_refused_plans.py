"""A plan that cannot be a floor is refused with the place on it where it goes wrong, by hand."""

from collections.abc import Iterator
from typing import Any

import pytest
from serving import Client, NewDatabase, serving


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


def area(identity: str, text: str, unit: str = "m", **rest: Any) -> dict[str, Any]:
    return {"id": identity, "outline": {"kind": "wkt", "unit": unit, "text": text}, **rest}


HALL = "POLYGON ((0 0, 8 0, 8 6, 0 6, 0 0))"
PAD = {"kind": "rectangle", "length": "1 m", "width": "1 m", "origin": {"x": "4 m", "y": "0 m"}}


@pytest.mark.parametrize(
    ("areas", "pointer", "code", "place"),
    [
        # Sides from (0, 0) to (6, 6) and from (6, 0) to (0, 6) cross half way.
        (
            [area("hall", "POLYGON ((0 0, 6 6, 6 0, 0 6, 0 0))")],
            "/site/areas/0/outline",
            "self-crossing",
            "(3 m, 3 m)",
        ),
        (
            [area("hall", "POLYGON ((0 0, 20 20, 20 0, 0 20, 0 0))", "ft")],
            "/site/areas/0/outline",
            "self-crossing",
            "(10 ft, 10 ft)",
        ),
        # A ring whose one corner lies in the east wall.
        (
            [area("hall", f"{HALL[:-1]}, (8 2, 7 1, 7 3, 8 2))")],
            "/site/areas/0/outline",
            "island-touches-outline",
            "(8 m, 2 m)",
        ),
        # A pad that stands against the south wall from 4 m to 5 m.
        (
            [area("hall", HALL, islands=[{"outline": PAD}])],
            "/site/areas/0/islands/0/outline",
            "island-touches-outline",
            "(4 m, 0 m)",
        ),
        # The floor that both cover is one of 1 m, with its middle there.
        (
            [area("hall", HALL), area("store", "POLYGON ((7 5, 12 5, 12 9, 7 9, 7 5))")],
            "/site/areas/1/outline",
            "areas-overlap",
            "(7.5 m, 5.5 m)",
        ),
    ],
)
def test_the_place_is_told(
    client: Client, areas: list[dict[str, Any]], pointer: str, code: str, place: str
) -> None:
    answer = client.post("/v1/takeoff", json={"units": "si", "site": {"areas": areas}})
    assert answer.status_code == 422
    (fault,) = answer.json()["errors"]
    assert (fault["pointer"], fault["code"]) == (pointer, code)
    assert place in fault["detail"]
