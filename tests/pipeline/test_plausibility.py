"""What a job says that hardly is, and what cannot be."""

from datetime import date
from typing import Any

import pytest
from handing_on import DAY, catalogue, computed
from msgspec.structs import replace

from filmbuild.errors import InvalidInput
from filmbuild.money import NonNegativeExact
from filmbuild.pipeline.specification import Catalogue

IMPLAUSIBLE: dict[str, dict[str, Any]] = {
    "implausible-crew": {"crew": [{"labour_class": "finisher", "count": 31}]},
    "implausible-shift": {"calendar": {"shift_start": "06:00", "shift_end": "19:30"}},
    "implausible-humidity": {"conditions": {"relative_humidity_percent": 0}},
    "implausible-surface-temperature": {
        "conditions": {"air_temperature": "-8 C", "surface_temperature": "20 C"}
    },
    "implausible-terms": {"terms": {"overhead_percent": "101"}},
    "implausible-day-of-prices": {
        "start": date(DAY.year + 2, 1, 5).isoformat(),
        "priced_on": DAY.isoformat(),
    },
}
PLAUSIBLE: dict[str, dict[str, Any]] = {
    "implausible-crew": {"crew": [{"labour_class": "finisher", "count": 30}]},
    "implausible-shift": {"calendar": {"shift_start": "06:00", "shift_end": "19:00"}},
    "implausible-humidity": {"conditions": {"relative_humidity_percent": 5}},
    "implausible-surface-temperature": {
        "conditions": {"air_temperature": "-5 C", "surface_temperature": "20 C"}
    },
    "implausible-terms": {"terms": {"overhead_percent": "100"}},
    "implausible-day-of-prices": {
        "start": date(DAY.year + 1, 1, 5).isoformat(),
        "priced_on": DAY.isoformat(),
    },
}


def asked(**job: Any) -> dict[str, Any]:
    outline = {"kind": "rectangle", "length": "4 m", "width": "3 m"}
    crew = [{"labour_class": "finisher", "count": 4}]
    return {
        "units": "si",
        "site": {"areas": [{"id": "room", "outline": outline}]},
        "job": {"system": "harbour-thin-film", "start": DAY.isoformat(), "crew": crew, **job},
    }


def implausible(body: dict[str, Any], on: Catalogue | None = None) -> set[str]:
    notes = computed("labour", body, on)["notes"]
    return {one["code"] for one in notes if one["code"].startswith("implausible-")}


@pytest.mark.parametrize("code", IMPLAUSIBLE)
def test_what_hardly_is_gets_a_note_and_what_well_may_be_none(code: str) -> None:
    assert implausible(asked(**IMPLAUSIBLE[code])) == {code}
    assert implausible(asked(**PLAUSIBLE[code])) == set()


@pytest.mark.parametrize(
    ("wage", "codes"),
    [
        ("0", {"implausible-wage"}),
        ("3.39", {"implausible-wage"}),
        ("3.40", set()),
        ("340.00", set()),
        ("340.01", {"implausible-wage"}),
    ],
)
def test_wages_are_compared_within_the_crew(wage: str, codes: set[str]) -> None:
    """The finisher of the demo earns 34.00 an hour."""
    book = catalogue().rate_books["main-usd"]
    classes = tuple(
        replace(one, wage=NonNegativeExact(wage)) if one.id == "labourer" else one
        for one in book.classes
    )
    books = {**catalogue().rate_books, book.id: replace(book, classes=classes)}
    crew = [{"labour_class": name, "count": 2} for name in ("finisher", "labourer")]
    assert implausible(asked(crew=crew), replace(catalogue(), rate_books=books)) == codes


@pytest.mark.parametrize("stage", ["materials", "labour", "schedule"])
def test_temperatures_at_which_no_floor_is_laid_are_refused_by_every_stage(stage: str) -> None:
    conditions = {"air_temperature": "61 C", "surface_temperature": "-41 C"}
    with pytest.raises(InvalidInput) as raised:
        computed(stage, asked(conditions=conditions))
    assert [(fault.pointer, fault.code) for fault in raised.value.faults] == [
        ("/job/conditions/air_temperature", "conditions-out-of-range"),
        ("/job/conditions/surface_temperature", "conditions-out-of-range"),
    ]
