"""Sections that are handed back: they are the whole floor, and activities are of them."""

from collections.abc import Callable
from copy import deepcopy
from functools import cache
from typing import Any

import pytest
from handing_on import DAY, computed

from filmbuild.errors import InvalidInput

Change = Callable[[dict[str, Any]], None]


@cache
def document() -> tuple[dict[str, Any], dict[str, Any]]:
    outline = {"kind": "rectangle", "length": "20 m", "width": "12 m"}
    job = {
        "system": "harbour-high-build",
        "start": DAY.isoformat(),
        "crew": [{"labour_class": "finisher", "count": 3}],
        "conditions": {"relative_humidity_percent": 40},
    }
    site = {"areas": [{"id": f"bay-{number}", "outline": outline} for number in range(3)]}
    return job, computed("labour", {"units": "si", "site": site, "job": job})


def handed_back(change: Change) -> dict[str, Any]:
    job, labour = deepcopy(document())
    change(labour["labour"])
    return computed("schedule", {"units": "si", "job": job, "labour": labour})


def drop(labour: dict[str, Any]) -> None:
    del labour["sections"][-1]
    for one in labour["activities"]:
        one["section"] = None


def test_sections_are_taken_as_they_were_answered() -> None:
    _, labour = document()
    assert len(labour["labour"]["sections"]) == 3
    assert handed_back(lambda _labour: None)["labour"]["sections"] == labour["labour"]["sections"]


@pytest.mark.parametrize(
    ("change", "pointer", "code"),
    [
        (drop, "/sections", "parts-mismatch"),
        (
            lambda one: one["sections"][0].update(number=2),
            "/sections/0/number",
            "out-of-order",
        ),
        (
            lambda one: one["sections"][1].update(areas=["attic"]),
            "/sections/1/areas",
            "unknown-area",
        ),
        (
            lambda one: one["sections"][1].update(shares=[1.0, 1.0]),
            "/sections/1/shares",
            "parts-mismatch",
        ),
        (
            lambda one: one["sections"][2]["floor"].update(value=99.0),
            "/sections/2/floor",
            "parts-mismatch",
        ),
    ],
)
def test_what_does_not_hang_together_is_refused(change: Change, pointer: str, code: str) -> None:
    with pytest.raises(InvalidInput) as raised:
        handed_back(change)
    found = {(fault.pointer, fault.code) for fault in raised.value.faults}
    assert (f"/labour/labour{pointer}", code) in found


def crowd(labour: dict[str, Any]) -> None:
    """Two at each of two tasks side by side, of a crew of three."""
    for task in labour["tasks"]:
        if task["beside"]:
            task["workers"] = 2


def test_nobody_is_in_two_places() -> None:
    with pytest.raises(InvalidInput) as raised:
        handed_back(crowd)
    beside = [fault for fault in raised.value.faults if fault.code == "out-of-range"]
    assert {fault.pointer.rpartition("/")[2] for fault in beside} == {"workers"}


def test_an_activity_of_a_section_that_is_not_there_is_refused() -> None:
    def change(labour: dict[str, Any]) -> None:
        next(one for one in labour["activities"] if one["section"])["section"] = 9

    with pytest.raises(InvalidInput) as raised:
        handed_back(change)
    assert "unknown-section" in {fault.code for fault in raised.value.faults}
