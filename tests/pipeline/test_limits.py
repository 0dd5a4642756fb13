"""What answers cover less than a full estimate would: each limit is told where it matters."""

import re
from collections.abc import Callable
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest
from handing_on import DAY, catalogue, chain, computed
from msgspec.structs import replace

from filmbuild.errors import FilmbuildError
from filmbuild.pipeline import packs
from filmbuild.pipeline.specification import Catalogue, WorkingLifeSample
from filmbuild.quantities import PositiveDuration, PositiveVolume

SECTION = "## What this first pass does less than a full estimate would"
DEVELOPERS = Path(__file__).parents[2] / "DEVELOPERS.md"
Change = Callable[[dict[str, Any]], None]


def listed(kind: str) -> set[str]:
    """Codes of the limits that are told by a note, or by a fault."""
    text = DEVELOPERS.read_text().partition(SECTION)[2].partition("\n## ")[0]
    return set(re.findall(rf"^\|.*\| {kind} `([a-z-]+)` \|$", text, re.MULTILINE))


def plain() -> dict[str, Any]:
    """One square room, measured and laid in one day, on which most limits have no bearing."""
    outline = {"kind": "rectangle", "length": "3 m", "width": "3 m"}
    site = {
        "areas": [{"id": "room", "outline": outline}],
        "substrate": {"texture_depth": "100 um"},
    }
    job = {
        "system": "harbour-thin-film",
        "start": DAY.isoformat(),
        "crew": [{"labour_class": "finisher", "count": 4}],
        "conditions": {"relative_humidity_percent": 40},
        "calendar": {"shift_end": "14:00"},
        "terms": {"margin_percent": "30", "tax_place": "Port Alder"},
    }
    return {"units": "si", "site": site, "job": job}


def notes(body: dict[str, Any], on: Catalogue | None = None) -> list[str]:
    return [note["code"] for note in computed("estimate", body, on)["notes"]]


def areas(body: dict[str, Any]) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = body["site"]["areas"]
    return found


def second_room(body: dict[str, Any]) -> None:
    areas(body).append({**deepcopy(areas(body)[0]), "id": "second"})


def with_a_way_out(body: dict[str, Any]) -> None:
    second_room(body)
    for area in areas(body):
        area["edges"] = [{"side": 0, "kind": "open", "length": "1 m", "exit": True}]


def with_a_drain_at_the_wall(body: dict[str, Any]) -> None:
    areas(body)[0]["drains"] = [{"at": {"x": "1.5 m", "y": "0.2 m"}, "width": "200 mm"}]


def with_a_profile(body: dict[str, Any]) -> None:
    body["site"]["substrate"] = {"profile": 3}


def other_concrete(body: dict[str, Any]) -> None:
    second_room(body)
    areas(body)[1]["substrate"] = {"hardness": "hard", "texture_depth": "80 um"}


def with_walls(body: dict[str, Any]) -> None:
    areas(body)[0]["base_walls"] = [{"height": "100 mm"}]


def at_weekends(body: dict[str, Any]) -> None:
    body["job"]["calendar"]["working_days"] = ["fri", "sat"]


def with_months(body: dict[str, Any]) -> None:
    body["job"]["months"] = [
        {"month": 6, "air_temperature": "20 degC", "relative_humidity_percent": 40}
    ]


def with_work_bought_in(body: dict[str, Any]) -> None:
    crane = {"id": "crane", "description": "Crane", "unit_cost": "300"}
    body["job"]["subcontracts"] = [crane]


def nothing(_body: dict[str, Any]) -> None:
    """The limit bears on every job."""


def set_substrate(field: str, value: Any) -> Change:
    return lambda body: body["site"]["substrate"].update({field: value})


def with_joints(body: dict[str, Any]) -> None:
    areas(body)[0]["outline"] = {"kind": "rectangle", "length": "60 m", "width": "20 m"}
    joint = {"length": "20 m", "width": "5 mm", "depth": "30 mm", "treatment": "honour"}
    areas(body)[0]["joints"] = [joint] * 8


def of_system(name: str) -> Change:
    return lambda body: body["job"].update({"system": name})


JOBS: dict[str, Change] = {
    "order-by-areas-crossed": with_a_way_out,
    "detail-in-band": with_a_drain_at_the_wall,
    "texture-assumed": with_a_profile,
    "texture-not-measured": set_substrate("texture_depth", None),
    "one-system": other_concrete,
    "no-returns": nothing,
    "texture-of-verticals-not-filled": with_walls,
    "broadcast-texture-not-filled": of_system("harbour-broadcast"),
    "one-task-at-a-time": nothing,
    "section-joints-to-be-found": with_joints,
    "mix-cut-by-section": with_joints,
    "overtime-by-day": at_weekends,
    "labour-undated": nothing,
    "conditions-constant": nothing,
    "forecast-moves-dates-only": with_months,
    "cure-by-temperature-alone": nothing,
    "subcontracts-without-dates": with_work_bought_in,
}


def with_product(**changes: Any) -> Catalogue:
    """Every product of the demo changed."""
    products = {name: replace(one, **changes) for name, one in catalogue().products.items()}
    return replace(catalogue(), products=products)


def thinned() -> Catalogue:
    system = catalogue().systems["harbour-thin-film"]
    layers = (*system.layers[:-1], replace(system.layers[-1], thinner_fraction=0.05))
    systems = {**catalogue().systems, system.id: replace(system, layers=layers)}
    return replace(catalogue(), systems=systems)


def slowed() -> Catalogue:
    """Where mixes are as large as the working life lets them, and soft concrete slows the work."""
    free = with_product(container=None, largest_mix=None)
    books = {
        name: replace(
            one,
            productions=tuple(
                replace(each, factors={"soft_concrete": 1.3}) for each in one.productions
            ),
        )
        for name, one in free.rate_books.items()
    }
    return replace(free, rate_books=books)


def travelling(days: int | None) -> Catalogue:
    books = {
        name: replace(one, travel=replace(one.travel, visit_ends_after_idle_days=days))
        for name, one in catalogue().rate_books.items()
    }
    return replace(catalogue(), rate_books=books)


CATALOGUES: dict[str, tuple[Catalogue, Catalogue]] = {
    # with the limit, and without it
    "absorption-not-stated": (with_product(absorption=None), catalogue()),
    "working-life-sample-not-stated": (
        with_product(largest_mix=None, working_life_sample=None),
        with_product(
            largest_mix=None,
            working_life_sample=WorkingLifeSample(volume=PositiveVolume(0.01)),
        ),
    ),
    "shelf-life-not-used": (
        with_product(shelf_life=PositiveDuration(3e7)),
        with_product(shelf_life=None),
    ),
    "thinner-not-bought": (thinned(), catalogue()),
    "freight-not-stated": (replace(catalogue(), suppliers={}), catalogue()),
    "single-visit": (travelling(None), travelling(3)),
}
FAULTS: dict[str, Change] = {
    "coat-longer-than-shift": lambda body: areas(body)[0].update(
        outline={"kind": "rectangle", "length": "90 m", "width": "60 m"}
    ),
}
ELSEWHERE = {"mixes-too-large-for-conditions", "purchase-not-proven"}
"""Told below, each in a way of its own."""
ALWAYS = {name for name, change in JOBS.items() if change is nothing}


def test_every_limit_of_the_list_is_told_and_no_other() -> None:
    assert listed("note") == {*JOBS, *CATALOGUES, *ELSEWHERE}
    assert listed("fault") == set(FAULTS)


@pytest.mark.parametrize("code", JOBS)
def test_a_limit_is_told_of_the_job_that_it_bears_on(code: str) -> None:
    body = plain()
    if code not in ALWAYS:
        assert code not in notes(body)
    JOBS[code](body)
    assert code in notes(body)


@pytest.mark.parametrize("code", CATALOGUES)
def test_a_limit_is_told_where_the_catalogue_brings_it_about(code: str) -> None:
    bearing, free = CATALOGUES[code]
    assert code in notes(plain(), bearing)
    assert code not in notes(plain(), free)


def test_mixes_that_a_site_slows_are_told() -> None:
    body = plain()
    areas(body)[0]["outline"] = {"kind": "rectangle", "length": "12 m", "width": "9 m"}
    assert "mixes-too-large-for-conditions" not in notes(body, slowed())
    body["site"]["substrate"]["hardness"] = "soft"
    assert "mixes-too-large-for-conditions" in notes(body, slowed())


def test_a_purchase_that_may_not_be_the_least_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    body = plain()
    areas(body)[0]["outline"] = {"kind": "rectangle", "length": "8.2 m", "width": "7.1 m"}
    assert "purchase-not-proven" not in notes(body)
    monkeypatch.setattr(packs, "MOST_LABELS", 0)
    areas(body)[0]["outline"] = {"kind": "rectangle", "length": "8.3 m", "width": "7.1 m"}
    assert "purchase-not-proven" in notes(body)


@pytest.mark.parametrize("code", FAULTS)
def test_a_limit_that_stops_the_job_is_told_as_a_fault(code: str) -> None:
    body = plain()
    FAULTS[code](body)
    with pytest.raises(FilmbuildError) as raised:
        computed("schedule", body)
    assert code in {fault.code for fault in raised.value.faults}


def test_limits_of_earlier_stages_are_told_by_later_ones() -> None:
    body = plain()
    with_a_way_out(body)
    (note,) = [one for one in chain(body)["notes"] if one["code"] == "order-by-areas-crossed"]
    assert "areas crossed" in note["detail"]
