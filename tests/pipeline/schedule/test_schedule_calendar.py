"""Days, shifts, holidays and the change of clocks; recoat windows across a weekend."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import holidays
import numpy as np
import pytest
from labour_cases import BODY, HOUR, PRODUCTIONS, TOP, Case, floors_only, recoat, replaced
from materials_cases import layer, production
from msgspec.structs import replace
from schedule_verifier import faults_of

from filmbuild.pipeline.job import Holidays, WorkCalendar
from filmbuild.pipeline.results import Schedule, Scheduled
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import Duration

FRIDAY = date(2026, 6, 19)


def one_of(schedule: Schedule, activity: str) -> Scheduled:
    return next(one for one in schedule.activities if one.activity == activity)


def after_set_up_of(days: int, start: date, calendar: WorkCalendar) -> date:
    """The day of the coat that follows so many full days of setting up."""
    slow = production("set_up", driver="job", workers=2, set_up=Duration(days * 8 * HOUR))
    case = floors_only(
        50.0, productions=replaced(PRODUCTIONS, slow), calendar=calendar, start=start
    )
    return one_of(case.schedule(), "coat:body").start.date()


@pytest.mark.parametrize(
    ("start", "days", "expected"),
    [
        (date(2026, 6, 15), 10, date(2026, 6, 30)),
        (date(2026, 7, 2), 1, date(2026, 7, 6)),
    ],
)
def test_working_days_skip_federal_holidays(start: date, days: int, expected: date) -> None:
    """5 U.S.C. 6103: 19 June, and 3 July for Saturday 4 July 2026; counted by numpy's busdays."""
    public = np.array(sorted(holidays.country_holidays("US", years=2026)), dtype="datetime64[D]")
    assert np.busday_offset(np.datetime64(start), days, holidays=public) == np.datetime64(expected)
    calendar = WorkCalendar(holidays=Holidays(country="US"))
    assert after_set_up_of(days, start, calendar) == expected


def test_work_that_takes_years_sees_the_holidays_of_all_of_them() -> None:
    public = np.array(
        sorted(holidays.country_holidays("US", years=range(2026, 2032))), dtype="datetime64[D]"
    )
    start = date(2026, 6, 15)
    expected = np.busday_offset(np.datetime64(start), 1_000, holidays=public)
    calendar = WorkCalendar(holidays=Holidays(country="US"))
    assert np.datetime64(after_set_up_of(1_000, start, calendar)) == expected


def test_a_start_on_a_closed_day_moves_to_the_next_open_one() -> None:
    calendar = WorkCalendar(closed_dates=(date(2026, 6, 22), date(2026, 6, 23)))
    schedule = floors_only(50.0, calendar=calendar, start=date(2026, 6, 20)).schedule()
    assert schedule.first_day == date(2026, 6, 24)
    assert "2026-06-24 08:00" in schedule.activities[0].bound_by


def test_weekends_are_worked_only_where_they_are_allowed() -> None:
    closed = floors_only(100.0, start=FRIDAY).schedule()
    week = WorkCalendar(working_days=("mon", "tue", "wed", "thu", "fri", "sat"))
    allowed = floors_only(100.0, start=FRIDAY, calendar=week).schedule()
    assert one_of(closed, "coat:top").start == datetime(2026, 6, 22, 8, tzinfo=UTC)
    assert one_of(allowed, "coat:top").start == datetime(2026, 6, 20, 8, tzinfo=UTC)


def test_cure_runs_in_elapsed_time_through_the_change_of_clocks() -> None:
    """Clocks in New York go from 2:00 to 3:00 on 8 March 2026.

    21 h after Saturday 11:00 it is Sunday 9:00 by the clock.
    """
    zone = ZoneInfo("America/New_York")
    calendar = WorkCalendar(
        time_zone=zone.key, working_days=("sat", "sun", "mon", "tue", "wed", "thu", "fri")
    )
    body = replace(BODY, recoat=recoat(21.0))
    schedule = floors_only(
        100.0, products=(body, TOP), calendar=calendar, start=date(2026, 3, 7)
    ).schedule()
    before, after = one_of(schedule, "coat:body").finish, one_of(schedule, "coat:top").start
    assert before == datetime(2026, 3, 7, 11, tzinfo=zone)
    assert after == datetime(2026, 3, 8, 9, tzinfo=zone)
    assert (before.utcoffset(), after.utcoffset()) == (timedelta(hours=-5), timedelta(hours=-4))
    assert schedule.time_zone == zone.key


def missed() -> Case:
    """Coated on Friday until 11:00, open for 48 h: on Monday at 8:00 it is 69 h."""
    body = replace(BODY, recoat=recoat(12.0, 48.0))
    return floors_only(100.0, products=(body, TOP), start=FRIDAY)


def test_a_missed_recoat_window_is_abraded_and_said_to_cost() -> None:
    notes: list[Note] = []
    schedule = missed().schedule(notes=notes)
    abrasion = one_of(schedule, "abrade:coat:top")
    assert abrasion.start == datetime(2026, 6, 22, 8, tzinfo=UTC)
    assert abrasion.finish == datetime(2026, 6, 22, 10, tzinfo=UTC)  # 100 m2 at 50 m2/h
    assert one_of(schedule, "vacuum:coat:top").finish == datetime(2026, 6, 22, 10, 30, tzinfo=UTC)
    assert one_of(schedule, "coat:top").start == datetime(2026, 6, 22, 10, 30, tzinfo=UTC)
    why = schedule.traces["abrade:coat:top"]
    assert (why.rule, why.inputs["coat_below"]) == ("schedule.abrasion", "coat:body")
    assert why.inputs["without_abrasion"] == pytest.approx(69 * HOUR)
    (note,) = (one for one in notes if one.code == "recoat-window-missed-abraded")
    assert "69.0 h" in note.detail
    assert "2.50 h of the crew" in note.detail


def test_no_window_holds_where_the_system_abrades_anyway() -> None:
    case = missed().layers(layer(BODY, "body"), layer(TOP, "top", before=("abrade",)))
    notes: list[Note] = []
    schedule = case.schedule(notes=notes)
    names = [one.activity for one in schedule.activities]
    assert [name for name in names if name.startswith("abrade")] == ["abrade:top"]
    assert not any(one.code == "recoat-window-missed-abraded" for one in notes)


def test_float_ends_with_the_recoat_window() -> None:
    """Vacuum and second coat could be done until 16:00, but the first coat's window ends at 11:00.

    The first coat ends on Monday at 11:00 and is open for 24 h. The second begins at 8:30, after
    half an hour of vacuum, and the third waits until Wednesday.
    """
    body = replace(BODY, recoat=recoat(12.0, 24.0))
    layers = (layer(body, "first"), layer(TOP, "second", before=("vacuum",)), layer(TOP, "third"))
    schedule = floors_only(100.0, products=(body, TOP), layers=layers).schedule()
    second, vacuum = one_of(schedule, "coat:second"), one_of(schedule, "vacuum:second")
    assert second.start == datetime(2026, 6, 16, 8, 30, tzinfo=UTC)
    assert second.latest_start == datetime(2026, 6, 16, 11, tzinfo=UTC)
    assert vacuum.latest_start == datetime(2026, 6, 16, 10, 30, tzinfo=UTC)
    assert second.float_time / HOUR == pytest.approx(2.5)


@pytest.mark.parametrize("activity", ["coat:body", "coat:top", "demobilise"])
def test_the_verifier_sees_a_plan_that_is_a_day_off(activity: str) -> None:
    case = floors_only(100.0)
    labour, schedule = case.labour(), case.schedule()
    assert faults_of(case, labour, schedule) == []
    day = timedelta(days=-1)
    moved = tuple(
        replace(one, start=one.start + day, finish=one.finish + day)
        if one.activity == activity
        else one
        for one in schedule.activities
    )
    assert faults_of(case, labour, replace(schedule, activities=moved)) != []


def test_the_verifier_sees_a_window_that_is_missed() -> None:
    case = missed()
    schedule = case.schedule()
    added = {one.activity for one in schedule.tasks}
    without = [one for one in schedule.activities if one.activity not in added]
    faults = faults_of(case, case.labour(), replace(schedule, activities=tuple(without)))
    assert faults == ["top goes on too late", "2026-06-22 is paid wrongly"]
