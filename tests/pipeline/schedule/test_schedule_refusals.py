"""What cannot be scheduled, and what is said of it."""

from datetime import date
from typing import Any

import pytest
from labour_cases import BODY, LIMITS, TOP, Case, floors_only
from msgspec.structs import replace

from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.errors import FilmbuildError, Infeasible, InvalidInput
from filmbuild.pipeline.job import Conditions, Holidays, WorkCalendar
from filmbuild.pipeline.results import Activity, Labour
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import Duration, Temperature, TemperatureDifference


def refused(
    case: Case, kind: type[FilmbuildError], labour: Labour | None = None
) -> list[tuple[str, str, str]]:
    with pytest.raises(kind) as raised:
        case.schedule(floors_only(100.0).labour() if labour is None else labour)
    return [(one.code, one.pointer, one.detail) for one in raised.value.faults]


def test_all_that_is_wrong_with_the_calendar_is_said_at_once() -> None:
    calendar = WorkCalendar(
        time_zone="Mars/Olympus",
        shift_start="16:00",
        shift_end="16:00",
        holidays=Holidays(country="XX"),
    )
    found = refused(Case(calendar=calendar, start=None), InvalidInput)
    assert [(code, pointer) for code, pointer, _ in found] == [
        ("missing-field", "/job/start"),
        ("shift-end-not-after-start", "/job/calendar/shift_end"),
        ("unknown-time-zone", "/job/calendar/time_zone"),
        ("unknown-country", "/job/calendar/holidays/country"),
    ]


def test_an_unknown_subdivision_is_told_the_known_ones() -> None:
    calendar = WorkCalendar(holidays=Holidays(country="US", subdivision="ZZ"))
    ((code, pointer, detail),) = refused(Case(calendar=calendar), InvalidInput)
    assert (code, pointer) == ("unknown-subdivision", "/job/calendar/holidays/subdivision")
    assert "AL" in detail


@pytest.mark.parametrize("start", [date(1, 1, 1), date(1999, 12, 31), date(9999, 12, 31)])
def test_a_start_is_in_this_century(start: date) -> None:
    ((code, pointer, _),) = refused(Case(start=start), InvalidInput)
    assert (code, pointer) == ("date-out-of-range", "/job/start")


def test_a_calendar_without_working_time_is_refused() -> None:
    calendar = WorkCalendar(working_days=("mon",), shift_end="08:01")
    long = replace(floors_only(100.0).labour().activities[0], duration=Duration(1e9))
    labour = floors_only(100.0).labour()
    stretched = replace(labour, activities=(long, *labour.activities[1:]))
    found = refused(floors_only(100.0), Infeasible, stretched)
    assert [code for code, _, _ in found] == ["no-working-time"]
    found = refused(floors_only(100.0, calendar=calendar), Infeasible)
    assert {code for code, _, _ in found} == {"longer-than-shift"}


def test_closed_conditions_name_product_figure_limit_and_what_would_open() -> None:
    """Limits of 8 to 35 degC and 85 %; 3 K above the dew point (ISO 8502-4)."""
    cold = Conditions(
        air_temperature=Temperature(20.0),
        surface_temperature=Temperature(5.0),
        relative_humidity_percent=90.0,
    )
    found = refused(floors_only(100.0, conditions=cold), Infeasible)
    assert {pointer for _, pointer, _ in found} == {
        "/job/conditions/surface_temperature",
        "/job/conditions/relative_humidity_percent",
    }
    details = [detail for _, _, detail in found]
    assert len(found) == 6  # three limits for each of two products
    assert (
        "quay-body: the surface is too cold, 5.0 degC where the limit is 8.0; "
        "it may be placed with surface at least 8.0 degC"
    ) in details
    assert any(
        "dew point" in detail and "relative humidity at most" in detail for detail in details
    )


def test_what_a_refusal_says_would_open_the_gate_does() -> None:
    cold = Conditions(surface_temperature=Temperature(7.9), relative_humidity_percent=30.0)
    assert refused(floors_only(100.0, conditions=cold), Infeasible)
    warm = replace(cold, surface_temperature=Temperature(8.0))
    assert floors_only(100.0, conditions=warm).schedule().coats


def test_five_degrees_fahrenheit_is_a_smaller_margin_than_three_kelvin() -> None:
    """2.78 K (United States practice) and 3 K (ISO 8502-4); the dew point is 9.26 degC."""
    near = Conditions(surface_temperature=Temperature(9.26 + 2.9))
    narrow = replace(LIMITS, dew_point_margin=TemperatureDifference(5 / 1.8))
    case = floors_only(100.0, conditions=near)
    assert len(refused(case, Infeasible)) == 2
    narrowed = tuple(replace(one, application=narrow) for one in (BODY, TOP))
    assert case.but(products=narrowed).schedule().coats


def test_a_product_without_limits_is_held_to_the_dew_point_and_noted() -> None:
    silent = replace(BODY, application=None)
    notes: list[Note] = []
    floors_only(100.0, products=(silent, TOP)).schedule(notes=notes)
    assert [one.code for one in notes] == ["application-limits-not-stated"]
    wet = Conditions(relative_humidity_percent=95.0)
    found = refused(floors_only(100.0, products=(silent, TOP), conditions=wet), Infeasible)
    assert any("quay-body: the surface is too near the dew point" in text for _, _, text in found)


@pytest.mark.parametrize(
    ("air", "surface"), [(-243.04, 20.0), (20.0, -240.04), (20.0, 5_000.0), (-273.15, -273.15)]
)
def test_conditions_beyond_any_building_site_are_refused(air: float, surface: float) -> None:
    weather = Conditions(air_temperature=Temperature(air), surface_temperature=Temperature(surface))
    found = refused(floors_only(100.0, conditions=weather), InvalidInput)
    assert {code for code, _, _ in found} == {"conditions-out-of-range"}


def test_perfectly_dry_air_is_no_obstacle() -> None:
    dry = Conditions(relative_humidity_percent=0.0)
    schedule = floors_only(100.0, conditions=dry).schedule()
    assert b"surface_above_dew_point" in encode(schedule, "us")


def test_activities_that_were_sent_back_give_the_same_plan() -> None:
    case = Case()
    labour = case.labour()
    sent = encode(labour.activities, "si")
    again = replace(labour, activities=decode(tuple[Activity, ...], sent))
    assert case.schedule(again).activities == case.schedule(labour).activities


def broken(**changes: Any) -> Labour:
    """The labour of a plain floor with changes to its last activity."""
    labour = floors_only(100.0).labour()
    *first, last = labour.activities
    return replace(labour, activities=(*first, replace(last, **changes)))


@pytest.mark.parametrize(
    ("labour", "words"),
    [
        (broken(after=("nothing",)), "nothing"),
        (broken(after=("demobilise",)), "each waits"),
        (broken(id="set_up"), "more than once"),
    ],
)
def test_activities_that_do_not_hang_together_are_refused(labour: Labour, words: str) -> None:
    found = refused(floors_only(100.0), InvalidInput, labour)
    assert {code for code, _, _ in found} == {"activity-network"}
    assert any(words in detail for _, _, detail in found)


def test_a_window_that_closes_before_it_opens_is_refused() -> None:
    labour = floors_only(100.0).labour()
    odd = tuple(_shut(one) for one in labour.activities)
    found = refused(floors_only(100.0), InvalidInput, replace(labour, activities=odd))
    assert {code for code, _, _ in found} == {"activity-network"}


def _shut(activity: Activity) -> Activity:
    if activity.cure is None:
        return activity
    return replace(activity, cure=replace(activity.cure, recoat_before=Duration(1.0)))


def test_a_coat_of_a_layer_that_the_system_lacks_is_refused() -> None:
    labour = floors_only(100.0).labour()
    odd = tuple(
        replace(one, layer="other") if one.cure is not None else one for one in labour.activities
    )
    found = refused(floors_only(100.0), InvalidInput, replace(labour, activities=odd))
    assert {code for code, _, _ in found} == {"unknown-layer"}


def test_no_coats_and_too_many_activities_are_refused() -> None:
    labour = floors_only(100.0).labour()
    none = replace(labour, activities=labour.activities[:1])
    assert [code for code, _, _ in refused(Case(), InvalidInput, none)] == ["no-coats"]
    copies = [replace(labour.activities[0], id=f"more-{number}") for number in range(600)]
    many = replace(labour, activities=(*labour.activities, *copies))
    found = refused(floors_only(100.0), InvalidInput, many)
    assert [code for code, _, _ in found] == ["too-many-activities"]
