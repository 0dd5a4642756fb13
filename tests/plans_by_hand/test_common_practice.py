"""What contractors reckon with on a plain floor. Common practice, no source."""

from collections.abc import Iterator
from typing import Any

import pytest
from serving import Client, NewDatabase, serving

PLAIN = [("10 m", "6 m"), ("10 m", "6.5 m"), ("8.2 m", "8 m"), ("10 m", "7 m")]
"""Floors of 60 to 70 m2."""


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


def totals(client: Client, length: str, width: str, **rest: Any) -> dict[str, float]:
    """With the bands that the service takes where none are given."""
    outline = {"kind": "rectangle", "length": length, "width": width}
    site = {"areas": [{"id": "floor", "outline": outline, **rest}]}
    answer = client.post("/v1/takeoff", json={"units": "si", "site": site})
    assert answer.status_code == 200, answer.text
    found = answer.json()["takeoff"]["totals"]
    return {field: one["value"] for field, one in found.items() if "value" in one}


@pytest.mark.parametrize(("length", "width"), PLAIN)
def test_a_walk_behind_grinder_reaches_about_95_percent(
    client: Client, length: str, width: str
) -> None:
    """Common practice, no source; the rest is ground by hand."""
    found = totals(client, length, width)
    assert found["machine_grind"] / found["floor"] == pytest.approx(0.95, abs=0.005)
    assert found["machine_grind"] + found["hand_grind"] == found["floor"]


@pytest.mark.parametrize(("length", "width"), PLAIN)
def test_a_wide_roller_does_about_90_percent(client: Client, length: str, width: str) -> None:
    """Common practice, no source: 450 mm wide; a roller of 230 mm and a brush do the perimeter."""
    found = totals(client, length, width)
    assert found["field"] / found["floor"] == pytest.approx(0.9, abs=0.025)
    assert found["field"] + found["cut_in"] == found["floor"]


def test_tape_runs_along_walls_and_where_the_coating_stops(client: Client) -> None:
    """Common practice, no source: not where it runs on."""
    edges = [
        {"side": 0, "kind": "open", "offset": "1 m", "length": "3 m"},
        {"side": 2, "kind": "joined", "length": "2 m"},
    ]
    found = totals(client, "10 m", "6.5 m", edges=edges)
    assert found["tape_length"] == pytest.approx(2 * (10 + 6.5) - 2)


@pytest.mark.parametrize(
    ("upright", "runs"),
    [
        # Along 4 m of wall, whose tape is the one above it.
        ({"base_walls": [{"height": "150 mm", "length": "4 m"}]}, 4),
        # A step of one riser, at its head and at its foot.
        ({"steps": [{"risers": 1, "width": "1.2 m", "rise": "170 mm"}]}, 2 * 1.2),
        # Both feet of a curb that is coated over its top.
        ({"curbs": [{"length": "2 m", "height": "100 mm", "width": "150 mm"}]}, 2 * 2),
        ({"collars": [{"width": "100 mm", "height": "150 mm"}]}, 2 * 0.4),
        ({"pits": [{"width": "1 m", "depth": "1 m"}]}, 2 * 4),
    ],
)
def test_verticals_are_taped_above_and_below(
    client: Client, upright: dict[str, Any], runs: float
) -> None:
    """Common practice, no source: what they add to the tape of a plain floor."""
    plain = totals(client, "10 m", "6.5 m")
    found = totals(client, "10 m", "6.5 m", **upright)
    assert found["tape_length"] - plain["tape_length"] == pytest.approx(runs)
