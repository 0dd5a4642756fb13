"""What holds of every plan, whatever the job."""

from datetime import date

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from labour_cases import BODY, HOUR, TOP, Case, floors_only, recoat
from materials_cases import layer
from msgspec.structs import replace
from schedule_verifier import faults_of

from filmbuild.errors import Infeasible
from filmbuild.pipeline.job import Holidays, ShiftBreak, Weekday, WorkCalendar
from filmbuild.pipeline.results import Labour, Schedule

ZONES = ("UTC", "America/New_York", "Europe/Lisbon", "Australia/Lord_Howe", "Asia/Kathmandu")
WEEK: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
NOON = (ShiftBreak(start="12:00", end="12:45"),)
TWO = (ShiftBreak(start="09:30", end="09:45"), ShiftBreak(start="13:00", end="14:00"))
CALENDARS = st.builds(
    WorkCalendar,
    time_zone=st.sampled_from(ZONES),
    shift_start=st.sampled_from(("06:00", "07:30", "08:00")),
    shift_end=st.sampled_from(("15:30", "16:00", "19:00")),
    breaks=st.sampled_from(((), NOON, TWO)),
    working_days=st.sets(st.sampled_from(WEEK), min_size=1).map(tuple),
    holidays=st.sampled_from((None, Holidays(country="US"), Holidays(country="PT"))),
    closed_dates=st.sets(st.dates(date(2026, 6, 1), date(2026, 7, 31)), max_size=6).map(tuple),
)


@st.composite
def cases(draw: st.DrawFn, maximum: bool = True) -> Case:
    windows = [
        recoat(
            least := draw(st.floats(1.0, 40.0)),
            draw(st.none() | st.floats(least, 120.0)) if maximum else None,
        )
        for _ in range(2)
    ]
    products = (replace(BODY, recoat=windows[0]), replace(TOP, recoat=windows[1]))
    abraded = draw(st.booleans())
    coats = (
        layer(BODY, "first"),
        layer(BODY, "second", before=("abrade",) if abraded else ()),
        layer(TOP, "third"),
    )
    return floors_only(
        draw(st.floats(5.0, 370.0)),
        minimum_paid_day=draw(st.sampled_from((0.0, 4.0))),
        layers=coats,
        products=products,
        calendar=draw(CALENDARS),
        start=draw(st.dates(date(2026, 1, 1), date(2027, 12, 31))),
    )


def planned(case: Case) -> tuple[Labour, Schedule]:
    labour = case.labour()
    return labour, case.schedule(labour)


@settings(max_examples=60, deadline=None)
@given(cases())
def test_a_plan_keeps_shifts_and_windows(case: Case) -> None:
    labour, schedule = planned(case)
    assert faults_of(case, labour, schedule) == []


@settings(max_examples=40, deadline=None)
@given(cases(maximum=False), st.integers(3, 8))
def test_more_people_never_end_later(case: Case, people: int) -> None:
    _, few = planned(case)
    _, many = planned(case.people(people))
    assert many.full_cure_at <= few.full_cure_at
    assert max(one.finish for one in many.activities) <= max(one.finish for one in few.activities)


@settings(max_examples=40, deadline=None)
@given(cases(maximum=False), st.floats(1.0, 1.5))
def test_more_floor_never_ends_earlier(case: Case, growth: float) -> None:
    size = float(case.areas[0].floor)
    assume(size * growth < 370.0)
    larger = case.but(areas=floors_only(size * growth).areas)
    _, before = planned(case)
    _, after = planned(larger)
    assert after.last_day >= before.last_day
    assert after.vehicle_traffic_from >= before.vehicle_traffic_from


@settings(max_examples=40, deadline=None)
@given(cases(maximum=False), st.integers(0, 10))
def test_a_closed_day_never_ends_earlier(case: Case, which: int) -> None:
    _, before = planned(case)
    days = [one.start.date() for one in before.activities]
    closed = (*case.calendar.closed_dates, days[which % len(days)])
    shut = case.but(calendar=replace(case.calendar, closed_dates=closed))
    _, after = planned(shut)
    assert closed[-1] not in [one.start.date() for one in after.activities]
    assert after.full_cure_at >= before.full_cure_at


@settings(max_examples=40, deadline=None)
@given(cases())
def test_delaying_an_activity_to_its_latest_start_keeps_the_end(case: Case) -> None:
    """The last coat at its latest start still ends within the plan."""
    _, schedule = planned(case)
    coat = next(one for one in schedule.activities if one.activity == "coat:third")
    length = coat.finish - coat.start
    assert coat.latest_start + length <= max(one.finish for one in schedule.activities)


@settings(max_examples=20, deadline=None)
@given(cases())
def test_without_a_way_to_abrade_a_missed_window_is_refused(case: Case) -> None:
    without = case.but(productions=[one for one in case.productions if one.task != "abrade"])
    assume(not any(one.before for one in case.system.layers))
    _, schedule = planned(case)
    if any(one.activity.startswith("abrade:") for one in schedule.activities):
        with pytest.raises(Infeasible, match="would begin"):
            planned(without)
    else:
        assert planned(without)[1] == schedule


@settings(max_examples=40, deadline=None)
@given(cases())
def test_paid_is_never_less_than_worked_and_worked_is_all_there_is(case: Case) -> None:
    labour, schedule = planned(case)
    people = sum(count for _, count in case.crew)
    worked = sum(one.worked for one in schedule.days)
    added = sum(one.duration for one in schedule.tasks)
    assert worked == pytest.approx(sum(one.duration for one in labour.activities) + added, abs=0.1)
    for one in schedule.days:
        assert one.paid >= one.worked
        assert one.paid >= case.minimum_paid_day * HOUR
        assert 0 <= one.overtime <= one.worked
    assert schedule.paid >= schedule.productive - 0.1
    assert schedule.paid >= people * worked - 0.1
    assert schedule.shifts == len(schedule.days) >= len({one.date for one in schedule.days})


@settings(max_examples=40, deadline=None)
@given(cases(maximum=False), st.sampled_from(("16:30", "19:00", "21:00")))
def test_a_longer_shift_never_ends_later(case: Case, end: str) -> None:
    """It may be paid on more days: work that begins earlier can wait for a cure in between."""
    assume(end >= case.calendar.shift_end)
    _, short = planned(case)
    _, long = planned(case.but(calendar=replace(case.calendar, shift_end=end)))
    assert long.full_cure_at <= short.full_cure_at
    assert long.last_day <= short.last_day


@settings(max_examples=30, deadline=None)
@given(cases())
def test_abrading_for_a_missed_window_costs_more(case: Case) -> None:
    labour, schedule = planned(case)
    never = tuple(
        replace(one, recoat=tuple(replace(point, maximum=None) for point in one.recoat))
        for one in case.products
    )
    _, without = planned(case.but(products=never))
    forced = {one.code for one in schedule.tasks}
    assert ("abrade" in forced) == bool(schedule.tasks)
    if schedule.tasks:
        assert forced == {"abrade", "vacuum"}  # the rate book has no solvent wipe
        assert schedule.productive > labour.productive
        assert schedule.productive > without.productive
        hours = [sum(one.worked for one in plan.days) for plan in (schedule, without)]
        assert hours[0] > hours[1]
    else:
        assert schedule.productive == without.productive
