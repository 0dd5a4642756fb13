"""A schedule from the site and one from the labour document that was written are the same."""

import json
from datetime import date
from typing import Any, TypeVar

import msgspec
import pytest
from demo import priced_demo

from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.errors import InvalidInput
from filmbuild.pipeline.estimate import (
    estimate_document,
    labour_document,
    materials_document,
    schedule_document,
)
from filmbuild.pipeline.requests import (
    EstimateRequest,
    LabourRequest,
    MaterialsRequest,
    ScheduleRequest,
)
from filmbuild.pipeline.specification import Catalogue
from filmbuild.quantities import UnitSystem

FRIDAY = date(2026, 6, 19)
DEMO = priced_demo("USD", FRIDAY)


def asked(
    start: str = "2026-06-17", units: UnitSystem = "us", length: str = "23 ft 7.3 in"
) -> dict[str, Any]:
    room = {
        "id": "hall",
        "outline": {"kind": "rectangle", "length": length, "width": "31 ft 1.7 in"},
        "cracks": [{"length": "11 ft 3 in", "width": "1/4 in", "depth": "1/2 in"}],
        "base_walls": [{"height": "4.3 in"}],
    }
    job = {
        "system": "harbour-high-build",
        "rate_book": "main-usd",
        "start": start,
        "conditions": {
            "air_temperature": "68.7 degF",
            "surface_temperature": "66.3 degF",
            "relative_humidity_percent": 50,
        },
        "crew": [{"labour_class": "finisher", "count": 3}],
        "calendar": {"time_zone": "America/Chicago"},
    }
    return {"units": units, "site": {"areas": [room]}, "job": job}


T = TypeVar("T")


def read(kind: type[T], body: dict[str, Any]) -> T:
    return decode(kind, json.dumps(body).encode())


def in_stages(body: dict[str, Any], catalogue: Catalogue) -> dict[str, Any]:
    """Every stage handed on as the JSON that was written."""
    units: UnitSystem = body["units"]
    job = {"units": units, "job": body["job"]}
    written = encode(materials_document(read(MaterialsRequest, body), catalogue), units)
    labour = labour_document(
        read(LabourRequest, job | {"materials": json.loads(written)}), catalogue
    )
    written = encode(labour, units)
    schedule = schedule_document(
        read(ScheduleRequest, job | {"labour": json.loads(written)}), catalogue
    )
    written_schedule: dict[str, Any] = json.loads(encode(schedule, units))
    return written_schedule


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("start", ["2026-06-15", "2026-06-16", "2026-06-17", "2026-06-19"])
@pytest.mark.parametrize("length", ["23 ft 7.3 in", "61 ft 2.9 in"])
def test_a_schedule_in_stages_is_that_of_the_whole(
    units: UnitSystem, start: str, length: str
) -> None:
    body = asked(start, units, length)
    whole = estimate_document(read(EstimateRequest, body), DEMO)
    expected = json.loads(encode(whole, units))
    assert json.dumps(in_stages(body, DEMO)["schedule"]) == json.dumps(expected["schedule"])


def test_the_price_rises_when_a_window_is_missed_and_the_floor_is_abraded() -> None:
    """The primer is open for two days; without its maximum the same days would do."""
    primer = DEMO.products["harbour-20"]
    open_for_ever = msgspec.structs.replace(
        primer,
        recoat=tuple(msgspec.structs.replace(one, maximum=None) for one in primer.recoat),
    )
    never = msgspec.structs.replace(DEMO, products={**DEMO.products, "harbour-20": open_for_ever})
    request = read(EstimateRequest, asked("2026-06-18"))
    forced, plain = estimate_document(request, DEMO), estimate_document(request, never)
    assert [one.code for one in forced.schedule.tasks] == ["abrade", "vacuum", "solvent_wipe"]
    assert plain.schedule.tasks == ()
    assert forced.price.total.amount > plain.price.total.amount
    bought = {one.id for one in forced.schedule.consumables}
    assert {"abrasive-disc", "wipes", "wiping-solvent"} <= bought
    priced = [one.item for one in forced.price.lines]
    assert priced.count("abrasive-disc") == 2  # for the topcoat, and for the missed window
    hours = sum(one.quantity for one in forced.price.lines if one.group == "labour")
    assert float(hours) == pytest.approx(forced.schedule.paid / 3600, abs=1e-5)


def test_short_days_are_paid_for_four_hours_and_cost_more_than_full_shifts() -> None:
    document = estimate_document(read(EstimateRequest, asked(length="6 ft")), DEMO)
    assert all(one.paid >= 4 * 3600 for one in document.schedule.days)
    assert document.schedule.paid > document.labour.paid
    codes = [one.code for one in document.notes]
    assert "labour-undated" in codes
    assert "single-visit" not in codes


@pytest.mark.parametrize("after", [["nowhere"], ["demobilise"]])
def test_a_broken_network_is_pointed_at_in_the_labour_document(after: list[str]) -> None:
    body = asked()
    labour = labour_document(read(LabourRequest, body), DEMO)
    document = json.loads(encode(labour, "us"))
    activities = document["labour"]["activities"]
    last = next(n for n, one in enumerate(activities) if one["id"] == "demobilise")
    activities[last]["after"] = after
    request = read(ScheduleRequest, {"units": "us", "job": body["job"], "labour": document})
    with pytest.raises(InvalidInput) as raised:
        schedule_document(request, DEMO)
    assert [(one.code, one.pointer) for one in raised.value.faults] == [
        ("activity-network", f"/labour/labour/activities/{last}/after")
    ]


def test_a_solvent_that_only_the_dates_call_for_is_cautioned_of() -> None:
    """The thin film system wipes nowhere; its finish misses the window of the primer."""
    body = asked("2026-06-18")
    body["job"]["system"] = "harbour-thin-film"
    document = estimate_document(read(EstimateRequest, body), DEMO)
    assert "solvent_wipe" in {one.code for one in document.schedule.tasks}
    cautions = [one for one in document.cautions if one.code == "flammable-liquid"]
    assert any("harbour-90" in one.applies_to for one in cautions)


@pytest.mark.parametrize("start", ["0001-01-01", "1999-12-31", "2100-01-01"])
def test_a_start_that_no_calendar_reaches_is_refused_before_anything_is_priced(start: str) -> None:
    request = read(EstimateRequest, asked(start))
    without_prices = msgspec.structs.replace(DEMO, packs={})
    with pytest.raises(InvalidInput) as raised:
        estimate_document(request, without_prices)
    assert [(one.code, one.pointer) for one in raised.value.faults] == [
        ("date-out-of-range", "/job/start")
    ]


def test_labour_alone_needs_no_start_but_a_sound_one() -> None:
    body = asked()
    del body["job"]["start"]
    assert labour_document(read(LabourRequest, body), DEMO).labour.shifts > 0
    with pytest.raises(InvalidInput):
        labour_document(read(LabourRequest, asked("0001-01-01")), DEMO)
