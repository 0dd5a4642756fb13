"""Worked days and what they cost, worked by hand. The hall of `labour_cases`, on shifts from 8 to 16.

Its three days (see the worked job of the schedule), with abrasion where it is listed:
    Mon 15 June   8:00 to 15:30                    7.5 h
    Tue 16 June   8:00 to 12:00                    4.0 h
    Wed 17 June   8:00 to 14:30                    6.5 h
"""

from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

import pytest
from labour_cases import (
    BODY,
    EQUIPMENT,
    HOUR,
    PRODUCTIONS,
    TOP,
    Case,
    area_rate,
    floors_only,
    recoat,
    replaced,
)
from materials_cases import USD, layer, production
from msgspec.structs import replace

from filmbuild.money import NonNegativeExact
from filmbuild.pipeline.job import ShiftBreak, WorkCalendar
from filmbuild.pipeline.results import Schedule
from filmbuild.pipeline.rules.labour import RULES as LABOUR_RULES
from filmbuild.pipeline.rules.schedule import RULES
from filmbuild.pipeline.specification import ConsumableRule, Driver
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import Duration, PositiveArea

FRIDAY = date(2026, 6, 19)


def hours(schedule: Schedule, field: str) -> list[float]:
    return [getattr(one, field) / HOUR for one in schedule.days]


def test_each_day_counts_what_is_worked_on_it() -> None:
    schedule = Case().schedule()
    assert [one.date.day for one in schedule.days] == [15, 16, 17]
    assert hours(schedule, "worked") == pytest.approx([7.5, 4.0, 6.5])
    assert hours(schedule, "paid") == pytest.approx([7.5, 4.0, 6.5])
    assert schedule.days[1].activities == ("grind_repairs", "mask", "coat:body")
    assert (schedule.shifts, schedule.visits) == (3, 1)


def test_the_days_are_paid_and_not_full_shifts() -> None:
    """2 x (18 + 0.5) = 37 h; paid for 6 h a day at least 2 x (7.5 + 6 + 6.5 + 0.5) = 41 h."""
    assert Case().schedule().paid / HOUR == pytest.approx(37.0)
    schedule = Case(minimum_paid_day=6.0).schedule()
    assert hours(schedule, "paid") == pytest.approx([7.5, 6.0, 6.5])
    assert schedule.paid / HOUR == pytest.approx(41.0)
    (line,) = schedule.labour
    assert line.amount.amount == Decimal("1025.00")
    assert schedule.productive / HOUR == pytest.approx(26.0)


def test_overtime_is_of_the_days_on_which_it_falls() -> None:
    """With a standard day of 6 h: 1.5 h on Monday and 0.5 h on Wednesday; none in a mean of 6."""
    schedule = Case(standard_day=6.0).schedule()
    assert hours(schedule, "overtime") == pytest.approx([1.5, 0.0, 0.5])
    regular, overtime = schedule.labour
    assert overtime.paid / HOUR == pytest.approx(4.0)
    assert regular.paid / HOUR == pytest.approx(33.0)


def test_machines_are_charged_by_the_days_on_which_they_are_used() -> None:
    """The hand grinder grinds edges on Monday and repairs on Tuesday: 2 days for two gangs."""
    found = {one.equipment: (one.days, one.amount.amount) for one in Case().schedule().equipment}
    assert found == {
        "grinder": (1, Decimal(100)),
        "extractor": (3, Decimal(150)),
        "hand-grinder": (4, Decimal(120)),
    }


def test_travel_by_the_day_is_paid_for_each_day() -> None:
    assert Case(travel_per="day").schedule().paid / HOUR == pytest.approx(2 * (18 + 3 * 0.5))


@pytest.mark.parametrize(("idle_days", "visits"), [(None, 1), (3, 2), (4, 2), (5, 1)])
def test_a_visit_ends_when_the_crew_stays_away_long_enough(
    idle_days: int | None, visits: int
) -> None:
    """The body coat on Monday cures for 4 days and 12 h: Tuesday to Friday pass, and a weekend.

    Set up and body coat end on Monday at 11:00; the top coat is due on Friday at 23:00 and begins,
    with Saturday worked, on Saturday: four days in a row pass without work.
    """
    body = replace(BODY, recoat=recoat(108.0))
    week = WorkCalendar(working_days=("mon", "tue", "wed", "thu", "fri", "sat"))
    case = floors_only(100.0, products=(body, TOP), calendar=week, idle_days=idle_days)
    schedule = case.schedule()
    assert [one.date.day for one in schedule.days] == [15, 20]
    assert schedule.visits == visits
    assert [one.visit for one in schedule.days] == [1, visits]
    assert schedule.travel.amount == 80 * visits
    assert schedule.paid / HOUR == pytest.approx(2 * (6 + 0.5 * visits))


def rule(name: str, driver: Driver, **given: Any) -> ConsumableRule:
    fields: dict[str, Any] = {"kind": "consumable", "stage": "coat", "currency": USD}
    fields |= {"unit_price": NonNegativeExact("5"), "driver": driver}
    return ConsumableRule(id=name, name=name, **(fields | given))


def counts(case: Case) -> dict[str, int]:
    return {one.id: one.count for one in case.schedule().consumables}


def missed(**given: object) -> Case:
    """Coated on Friday until 11:00, open for 48 h: on Monday at 8:00 it is 69 h."""
    body = replace(BODY, recoat=recoat(12.0, 48.0))
    return floors_only(100.0, products=(body, TOP), start=FRIDAY).but(**given)


def test_abrading_for_a_missed_window_is_among_hours_machines_and_consumables() -> None:
    """100 m2 at 50, 100 and 25 m2/h: 2, 1 and 2 h by two gangs of one, so 2 + 0.5 + 2 h of crew."""
    productions = replaced(
        PRODUCTIONS,
        production("abrade", area_rate=area_rate(50), equipment=("hand-grinder",)),
        production("solvent_wipe", gangs_maximum=2, area_rate=area_rate(25)),
    )
    rules = (
        rule("discs", "floor_area", per_area=PositiveArea(30.0), tasks=("abrade",)),
        rule("wipes", "floor_area", per_area=PositiveArea(100.0), tasks=("solvent_wipe",)),
        rule("pad-holder", "worker", per_count=1.0, tasks=("abrade",)),
        rule("gloves", "worker", per_count=1.0),
        rule("suits", "shift", per_count=1.0),
    )
    case = missed(productions=productions, consumables=rules)
    labour, schedule = case.labour(), case.schedule()
    assert [one.code for one in schedule.tasks] == ["abrade", "vacuum", "solvent_wipe"]
    assert [one.duration / HOUR for one in schedule.tasks] == pytest.approx([2.0, 0.5, 2.0])
    assert [one.activity for one in schedule.activities][2:6] == [
        "abrade:coat:top",
        "vacuum:coat:top",
        "solvent_wipe:coat:top",
        "coat:top",
    ]
    assert schedule.productive - labour.productive == pytest.approx((2 + 1 + 4) * HOUR)
    assert [(one.equipment, one.days) for one in schedule.equipment] == [("hand-grinder", 1)]
    assert labour.equipment == ()
    assert counts(case) == {"discs": 4, "wipes": 1, "pad-holder": 2, "suits": schedule.shifts}


def test_what_is_counted_once_is_not_bought_again_for_a_second_abrasion() -> None:
    """The system abrades before the third coat; the second misses its window on top of that."""
    body = replace(BODY, recoat=recoat(12.0, 48.0))
    layers = (layer(body, "first"), layer(body, "second"), layer(TOP, "third", before=("abrade",)))
    rules = (
        rule("discs", "floor_area", per_area=PositiveArea(30.0), tasks=("abrade",)),
        rule("pad-holder", "worker", per_count=1.0, tasks=("abrade",)),
    )
    case = floors_only(100.0, products=(body, TOP), layers=layers, start=FRIDAY, consumables=rules)
    assert [one.code for one in case.schedule().tasks] == ["abrade", "vacuum"]
    assert counts(case) == {"discs": 4}


def test_a_solvent_that_dries_is_waited_for_before_the_coat() -> None:
    wiped = production("solvent_wipe", area_rate=area_rate(100), dry_for=Duration(HOUR))
    case = missed(productions=replaced(PRODUCTIONS, wiped))
    dates = {one.activity: one for one in case.schedule().activities}
    wait = dates["coat:top"].start - dates["solvent_wipe:coat:top"].finish
    assert wait.total_seconds() == HOUR


def test_a_later_visit_takes_what_each_visit_takes() -> None:
    body = replace(BODY, recoat=recoat(108.0))
    rules = (rule("bins", "visit", per_count=1.0),)
    case = floors_only(100.0, products=(body, TOP), consumables=rules)
    assert counts(case) == {}
    assert counts(case.but(idle_days=3)) == {"bins": 1}


def test_work_stops_for_a_break_and_a_coat_goes_on() -> None:
    """Set up to 9:00, the coat of 100 m2 from 9:00 to 11:00, a break from 8:30 to 9:15 or at 10."""
    early = WorkCalendar(breaks=(ShiftBreak(start="08:30", end="09:15"),))
    notes: list[Note] = []
    dates = {
        one.activity: (one.start, one.finish)
        for one in floors_only(100.0, calendar=early).schedule(notes=notes).activities
    }
    assert dates["set_up"][1] == datetime(2026, 6, 15, 9, 45, tzinfo=UTC)
    assert dates["coat:body"][1] == datetime(2026, 6, 15, 11, 45, tzinfo=UTC)
    through = [one.detail for one in notes if one.code == "worked-through-break"]
    assert [detail.split()[0] for detail in through] == ["top"]  # from Tuesday 8:00 to 10:00
    notes.clear()
    late = WorkCalendar(breaks=(ShiftBreak(start="10:00", end="10:30"),))
    schedule = floors_only(100.0, calendar=late).schedule(notes=notes)
    dates = {one.activity: (one.start, one.finish) for one in schedule.activities}
    assert dates["coat:body"] == (
        datetime(2026, 6, 15, 9, tzinfo=UTC),
        datetime(2026, 6, 15, 11, tzinfo=UTC),
    )
    (note,) = (one for one in notes if one.code == "worked-through-break")
    assert "30 min" in note.detail
    assert schedule.days[0].worked / HOUR == pytest.approx(3.0)


def test_a_coat_does_not_begin_in_a_break() -> None:
    calendar = WorkCalendar(breaks=(ShiftBreak(start="09:00", end="10:00"),))
    schedule = floors_only(100.0, calendar=calendar).schedule()
    coat = next(one for one in schedule.activities if one.activity == "coat:body")
    assert coat.start == datetime(2026, 6, 15, 10, tzinfo=UTC)


def test_every_figure_of_the_dates_names_a_published_rule() -> None:
    schedule = missed(equipment=EQUIPMENT).schedule()
    traces = [*schedule.traces.values()]
    for some in (schedule.tasks, schedule.days, schedule.labour, schedule.equipment):
        traces += [one.trace for one in some]
    traces += [one.trace for one in schedule.activities]
    traces += [one.trace for one in schedule.coats]
    known = {one.id for one in (*RULES, *LABOUR_RULES)}
    assert {one.rule for one in traces} <= known
    costs = {"shifts", "visits", "productive", "paid", "travel"}
    dates = {"foot_traffic_from", "vehicle_traffic_from", "full_cure_at"}
    assert set(schedule.traces) == costs | dates | {"abrade:coat:top", "vacuum:coat:top"}


def test_dates_follow_from_the_inputs_of_their_traces() -> None:
    schedule = Case().schedule()
    for one in schedule.activities:
        given = one.trace.inputs
        lag = given.get("recoat_minimum", given.get("drying", 0.0))
        if given["cause"] != "project_start":
            waited = given["ready"] - given["predecessor_finish"]
            assert waited.total_seconds() == pytest.approx(lag)
        assert (one.start > given["ready"]) == ("moved_by" in given)
        assert one.latest_start <= given["latest_finish"]
    for day in schedule.days:
        given = day.trace.inputs
        assert day.paid == max(given["worked"], given["minimum_paid_day"])
        assert day.overtime == max(given["worked"] - given["standard_day"], 0.0)
    for coat in schedule.coats:
        given = coat.trace.inputs
        for field in ("foot_traffic", "vehicle_traffic", "full_cure"):
            waited = getattr(coat, field) - given["end_of_placing"]
            assert waited.total_seconds() == pytest.approx(given[field])
    assert schedule.foot_traffic_from == max(
        schedule.traces["foot_traffic_from"].inputs["coats"].values()
    )


def test_a_plan_without_any_work_has_no_days_and_costs_its_travel() -> None:
    case = floors_only(100.0)
    labour = case.labour()
    idle = tuple(replace(one, duration=Duration(0.0)) for one in labour.activities)
    schedule = case.schedule(replace(labour, activities=idle))
    assert (schedule.days, schedule.shifts) == ((), 0)
    assert schedule.paid / HOUR == pytest.approx(2 * 0.5)
