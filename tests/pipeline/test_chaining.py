"""Stages run one after the other: what they pass on, what may change between them, what may not."""

import json
import re
from copy import deepcopy
from datetime import date, datetime
from pathlib import Path
from typing import Any

import pytest
from handing_on import catalogue, chain, computed, handed_on, refused
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

import filmbuild
from filmbuild.errors import InvalidInput
from filmbuild.pipeline.specification import Catalogue
from filmbuild.quantities import Duration, parse

STUDIO = json.loads(Path(filmbuild.__file__).with_name("quickstart_request.json").read_bytes())
SYSTEMS = ("harbour-thin-film", "harbour-high-build", "harbour-decorative", "harbour-broadcast")
RELATIVE = 2e-8
"""Figures are written to nine digits at least, and sums and products are made of those."""


def studio(system: str = "harbour-decorative", units: str = "us") -> dict[str, Any]:
    body = deepcopy(STUDIO)
    body["units"], body["job"]["system"] = units, system
    return {"units": units, "site": body["site"], "job": body["job"]}


def assert_alike(found: Any, expected: Any, where: str = "") -> None:
    """Equal but for the last digits of what was on the wire, and what these move.

    That is a millisecond where times are rounded to it, and a cent where money is.
    """
    if isinstance(expected, dict):
        assert found.keys() == expected.keys(), where
        for name, one in expected.items():
            assert_alike(found[name], one, f"{where}/{name}")
    elif isinstance(expected, list):
        assert len(found) == len(expected), where
        for index, one in enumerate(expected):
            assert_alike(found[index], one, f"{where}/{index}")
    elif isinstance(expected, float) or isinstance(found, float):
        assert found == pytest.approx(expected, rel=RELATIVE, abs=1e-6), where
    elif found != expected:
        assert isinstance(expected, str), where
        assert isinstance(found, str), where
        kind, amount = measured(expected)
        other, others = measured(found)
        assert other == kind, where
        assert others == pytest.approx(amount, abs=_FINEST.get(kind, 0.0)), where


_FINEST = {"duration": 0.02, "moment": 0.02, "money": 0.011}
"""[s] and units of money: times of a schedule add up over its activities."""


def measured(text: str) -> tuple[str, float]:
    """What kind of figure a text is, and how much."""
    if re.fullmatch(r"P(?=.)[0-9.DTHMS]*", text):
        return "duration", parse(Duration, text)
    if re.fullmatch(r"[0-9]{4}-.*T.*", text):
        return "moment", datetime.fromisoformat(text).timestamp()
    if re.fullmatch(r"[0-9.]+", text):
        return "money", float(text)
    return text, 0.0


def without_traces(value: Any) -> Any:
    """Figures alone: traces also hold what figures were made from, to the last digit."""
    if isinstance(value, dict):
        kept = {name: one for name, one in value.items() if name not in ("trace", "traces")}
        return {name: without_traces(one) for name, one in kept.items()}
    return [without_traces(one) for one in value] if isinstance(value, list) else value


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("system", SYSTEMS)
def test_stages_one_by_one_find_what_the_whole_run_finds(system: str, units: str) -> None:
    body = studio(system, units)
    chained, whole = chain(body), computed("schedule", body)
    assert_alike(chained, whole)
    assert [one["code"] for one in chained["notes"]] == [one["code"] for one in whole["notes"]]
    estimate = computed("estimate", body)
    for stage in ("takeoff", "materials", "labour", "schedule", "basis", "cautions"):
        assert_alike(chained[stage], estimate[stage], stage)


DIFFERENT: dict[str, tuple[Any, str]] = {
    # field: another value, and the pointer at which it is refused
    "system": ("harbour-thin-film", "/job/system"),
    "conditions": (
        {**STUDIO["job"]["conditions"], "surface_temperature": "52 degF"},
        "/job/conditions/surface_temperature",
    ),
    "crew": ([{"labour_class": "finisher", "count": 9}], "/job/crew"),
    "calendar": ({**STUDIO["job"]["calendar"], "shift_end": "18:30"}, "/job/calendar"),
}


@pytest.mark.parametrize("before", ["materials", "labour"])
@pytest.mark.parametrize(("field", "value", "pointer"), [(k, *v) for k, v in DIFFERENT.items()])
def test_a_job_that_figures_do_not_hold_for_is_refused(
    before: str, field: str, value: Any, pointer: str
) -> None:
    body = studio()
    answer = chain(body, before)
    body["job"][field] = value
    assert refused(before, answer, body) == [(pointer, "basis-mismatch")]


def test_a_refusal_says_what_the_document_was_computed_for() -> None:
    body = studio()
    answer = chain(body, "materials")
    people = sum(one["count"] for one in body["job"]["crew"])
    del body["job"]["conditions"]
    body["job"]["crew"] = [{"labour_class": "finisher", "count": 9}]
    with pytest.raises(InvalidInput) as raised:
        computed("labour", handed_on("materials", answer, body))
    told = {fault.pointer: fault.detail for fault in raised.value.faults}
    assert f"people: {people}; this job has 9" in told["/job/crew"]
    assert "this job has 68 degF" in told["/job/conditions"]
    assert all("compute the document again from the site" in one for one in told.values())


def test_prices_and_currency_hold_for_all_stages() -> None:
    body = studio()
    answer = chain(body, "materials")
    tomorrow = replace(catalogue(), priced_on=date(2026, 6, 16))
    assert refused("materials", answer, body, tomorrow) == [("/job/priced_on", "basis-mismatch")]
    body["job"]["currency"], body["job"]["rate_book"] = "EUR", "main-eur"
    pointers = [pointer for pointer, _ in refused("materials", answer, body)]
    assert pointers == ["/job/rate_book", "/job/currency"]


def test_other_people_of_the_same_number_are_another_crew_for_labour_alone() -> None:
    body = studio()
    people = sum(one["count"] for one in body["job"]["crew"])
    materials, labour = chain(body, "materials"), chain(body, "labour")
    body["job"]["crew"] = [{"labour_class": "technician", "count": people}]
    assert refused("materials", materials, body) == []
    assert refused("labour", labour, body) == [("/job/crew", "basis-mismatch")]


FREE: dict[str, Any] = {
    "air": {
        "conditions": {
            **STUDIO["job"]["conditions"],
            "air_temperature": "75 degF",
            "relative_humidity_percent": 41,
        }
    },
    "calendar": {
        "calendar": {
            **STUDIO["job"]["calendar"],
            "time_zone": "Europe/Lisbon",
            "working_days": ["mon", "tue", "sat"],
            "closed_dates": ["2026-06-16"],
        }
    },
    "start": {"start": "2026-07-06", "priced_on": "2026-06-15"},
    "terms": {"terms": {"markup_percent": "20"}},
}


@pytest.mark.parametrize("before", ["materials", "labour"])
@pytest.mark.parametrize("changes", FREE.values(), ids=FREE)
def test_what_moves_no_figure_may_change_between_stages(
    before: str, changes: dict[str, Any]
) -> None:
    """And it does move none: the stage of the changed job finds what was handed in."""
    body = studio()
    answer = chain(body, before)
    other = {**body, "job": {**body["job"], **changes}}
    assert refused(before, answer, other) == []
    anew = computed(before, other)
    for stage in ("materials", "labour"):
        assert_alike(answer.get(stage), anew.get(stage), stage)


def test_a_crew_that_was_assumed_is_named_in_the_basis() -> None:
    body = studio()
    body["job"]["crew"] = []
    body["site"]["areas"] = body["site"]["areas"][1:2]
    body["site"]["areas"][0]["edges"] = []
    answer = chain(body, "materials")
    (member,) = answer["basis"]["crew"]
    assert member["count"] == 2
    body["job"]["crew"] = [member]
    assert refused("materials", answer, body) == []


def test_notes_of_earlier_stages_are_carried_on_once_and_in_order() -> None:
    body = studio("harbour-broadcast")
    del body["job"]["conditions"]
    notes = chain(body, "takeoff")["notes"]
    for stage in ("materials", "labour", "schedule"):
        longer = chain(body, stage)["notes"]
        assert longer[: len(notes)] == notes
        assert len({(one["code"], one["detail"]) for one in longer}) == len(longer)
        notes = longer
    codes = [one["code"] for one in notes]
    assert codes.count("conditions-assumed") == 1


def newer(**changes: Any) -> Catalogue:
    return replace(catalogue(), revision=catalogue().revision + 1, **changes)


def test_a_newer_catalogue_is_noted() -> None:
    body = studio()
    answer = chain(body, "materials")
    notes = computed("labour", handed_on("materials", answer, body), newer())["notes"]
    (note,) = [one for one in notes if one["code"] == "catalogue-revision-differs"]
    assert "revision 1;" in note["detail"]


def test_a_newer_catalogue_without_what_the_document_names_is_refused() -> None:
    body = studio("harbour-broadcast")
    answer = chain(body, "materials")
    coats = answer["materials"]["coats"]
    product = coats[-1]["product"]
    products = {name: one for name, one in catalogue().products.items() if name != product}
    found = refused("materials", answer, body, newer(products=products))
    place = f"/materials/materials/coats/{len(coats) - 1}"
    assert (f"{place}/product", "unknown-product") in found
    system = catalogue().systems["harbour-broadcast"]
    shorter = replace(system, layers=system.layers[:-1])
    systems = {**catalogue().systems, system.id: shorter}
    found = refused("materials", answer, body, newer(systems=systems))
    assert found == [(f"{place}/layer", "unknown-layer")]


def test_a_document_of_another_version_of_the_service_is_noted() -> None:
    body = studio()
    answer = chain(body, "materials")
    answer["engine_version"] = "0.0.9"
    notes = computed("labour", handed_on("materials", answer, body))["notes"]
    assert "engine-version-differs" in [one["code"] for one in notes]


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_schedule_of_labour_handed_in_is_that_of_the_whole_run(system: str) -> None:
    """To the millisecond and the cent: durations are no finer than they are written."""
    body = studio(system)
    handed = computed("schedule", handed_on("labour", computed("labour", body), body))
    whole = computed("schedule", body)
    assert without_traces(handed["schedule"]) == without_traces(whole["schedule"])
    assert handed["labour"] == whole["labour"]
    assert handed["notes"] == whole["notes"]


def test_mixes_that_just_fill_their_working_life_are_taken_back() -> None:
    """Their times are handed in to the millisecond, which is more than rounding of the sums."""
    body = studio("harbour-thin-film")
    sides = (("2 m", "6 m"), ("2 m", "10 m"), ("6 m", "9 m"))
    body["site"] = {
        "areas": [
            {
                "id": f"room-{number}",
                "outline": {"kind": "rectangle", "length": length, "width": width},
            }
            for number, (length, width) in enumerate(sides)
        ]
    }
    body["job"]["crew"] = [{"labour_class": "finisher", "count": 6}]
    body["job"]["conditions"] = {
        "surface_temperature": "17 degC",
        "relative_humidity_percent": 40,
    }
    answer = chain(body, "materials")
    assert refused("materials", answer, body) == []


lengths = st.floats(0.4, 18.0).map(lambda one: f"{one:.5f} m")
small = st.floats(1.0, 60.0).map(lambda one: f"{one:.3f} mm")
some = st.integers(0, 2)


@st.composite
def areas(draw: st.DrawFn, name: str) -> dict[str, Any]:
    area: dict[str, Any] = {
        "id": name,
        "outline": {"kind": "rectangle", "length": draw(lengths), "width": draw(lengths)},
        "base_walls": [{"height": draw(small)} for _ in range(draw(some))],
        "curbs": [
            {"length": draw(lengths), "height": draw(small), "width": draw(small)}
            for _ in range(draw(some))
        ],
        "cracks": [
            {"length": draw(lengths), "width": draw(small), "depth": draw(small)}
            for _ in range(draw(some))
        ],
        "joints": [
            {"length": draw(lengths), "width": draw(small), "depth": draw(small)}
            for _ in range(draw(some))
        ],
        "spalls": [{"area": "0.3 m2", "depth": draw(small)} for _ in range(draw(some))],
    }
    if draw(st.booleans()):
        area["substrate"] = {
            "texture_depth": draw(small.map(lambda one: one.replace("mm", "um"))),
            "porosity": draw(st.sampled_from(("low", "medium", "high"))),
            "hardness": draw(st.sampled_from(("soft", "medium", "hard"))),
        }
    return area


@st.composite
def requests(draw: st.DrawFn) -> dict[str, Any]:
    site = {"areas": [draw(areas(f"room-{number}")) for number in range(draw(st.integers(1, 4)))]}
    job = {
        "system": draw(st.sampled_from(SYSTEMS)),
        "start": "2026-06-15",
        "crew": [{"labour_class": "finisher", "count": draw(st.integers(6, 14))}],
        "conditions": {
            "air_temperature": "20 C",
            "surface_temperature": f"{draw(st.floats(16.0, 25.0)):.4f} C",
            "relative_humidity_percent": 40,
        },
    }
    return {"units": draw(st.sampled_from(("us", "si"))), "site": site, "job": job}


@given(body=requests())
@settings(max_examples=60, deadline=None)
def test_an_answer_that_is_handed_back_as_it_was_is_always_taken(body: dict[str, Any]) -> None:
    try:
        whole = computed("schedule", body)
    except Exception as error:  # a site that cannot be done is none to chain
        if not hasattr(error, "faults"):
            raise
        return
    assert_alike(without_traces(chain(body)), without_traces(whole))
