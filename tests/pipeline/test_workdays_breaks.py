"""Breaks inside a shift, the days on which work falls, and names of time zones."""

from datetime import datetime, time
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.pipeline.workdays import (
    WorkingCalendar,
    WorkingRules,
    rule_faults,
    to_moment,
    working_calendar,
    zone_named,
)

HOUR = 3_600.0
PLAIN = WorkingCalendar(WorkingRules())


def at(text: str) -> float:
    return to_moment(datetime.fromisoformat(text).replace(tzinfo=ZoneInfo("UTC")))


moments = st.integers(int(at("2026-01-01")), int(at("2027-01-01"))).map(float)
durations = st.integers(1, 60 * 8 * 3_600).map(float)
calendars = st.builds(
    WorkingRules,
    timezone=st.sampled_from(["UTC", "America/New_York", "Australia/Lord_Howe"]),
    shift_start=st.just(time(7)),
    shift_end=st.sampled_from([time(15), time(17, 15)]),
    breaks=st.sampled_from([(), ((time(12), time(12, 45)),)]),
    weekdays=st.frozensets(st.integers(0, 6), min_size=1),
).map(working_calendar)


@pytest.mark.parametrize(
    "name", ["posixrules", "localtime", "Factory", "posix/Europe/Lisbon", "right/UTC", "", ".."]
)
def test_files_that_name_no_place_are_no_time_zones(name: str) -> None:
    assert zone_named(name) is None
    assert [field for field, _ in rule_faults(WorkingRules(timezone=name))] == ["timezone"]


@pytest.mark.parametrize("name", ["UTC", "Europe/Lisbon", "America/New_York", "Asia/Kathmandu"])
def test_places_are_time_zones(name: str) -> None:
    zone = zone_named(name)
    assert zone is not None
    assert zone.key == name


NOON = (time(12), time(12, 45))
COFFEE = (time(9, 30), time(9, 45))
PAUSED = WorkingCalendar(WorkingRules(breaks=(COFFEE, NOON)))


@pytest.mark.parametrize(
    "breaks",
    [
        ((time(8), time(9)),),
        ((time(15), time(16)),),
        ((time(12), time(12)),),
        ((time(12), time(11)),),
        ((time(10), time(12)), (time(11), time(13))),
        ((time(13), time(14)), (time(10), time(11))),
    ],
)
def test_breaks_lie_inside_the_shift_in_order(breaks: tuple[tuple[time, time], ...]) -> None:
    assert [field for field, _ in rule_faults(WorkingRules(breaks=breaks))] == ["breaks"]
    assert rule_faults(PAUSED.rules) == []


def test_work_stops_for_breaks() -> None:
    """From 9:00, half an hour before coffee, and so on: 7 h of work fill the day."""
    start = at("2026-06-15T09:00")
    assert PAUSED.add_working_time(start, 0.5 * HOUR) == at("2026-06-15T09:30")
    assert PAUSED.add_working_time(start, 1.0 * HOUR) == at("2026-06-15T10:15")
    assert PAUSED.add_working_time(start, 3.0 * HOUR) == at("2026-06-15T13:00")
    assert PAUSED.subtract_working_time(at("2026-06-15T13:00"), 3.0 * HOUR) == start
    assert PAUSED.add_working_time(at("2026-06-15T08:00"), 7.0 * HOUR) == at("2026-06-15T16:00")
    assert PAUSED.next_working_moment(at("2026-06-15T12:10")) == at("2026-06-15T12:45")


def test_unbroken_work_begins_outside_breaks_and_goes_on_through_them() -> None:
    assert PAUSED.next_start_fitting(at("2026-06-15T09:35"), 3 * HOUR) == at("2026-06-15T09:45")
    assert PAUSED.next_start_fitting(at("2026-06-15T11:00"), 5 * HOUR) == at("2026-06-15T11:00")
    assert PAUSED.next_start_fitting(at("2026-06-15T11:00"), 6 * HOUR) == at("2026-06-16T08:00")
    assert PAUSED.latest_start_fitting(at("2026-06-15T15:00"), 2.5 * HOUR) == at("2026-06-15T12:00")
    assert PAUSED.latest_start_fitting(at("2026-06-15T15:00"), 2.0 * HOUR) == at("2026-06-15T13:00")
    assert not PAUSED.fits_in_shift(at("2026-06-15T12:15"), HOUR)
    assert PAUSED.fits_in_shift(at("2026-06-15T11:45"), 4 * HOUR)


@given(calendars, moments, durations)
def test_days_worked_share_out_the_working_time(
    calendar: WorkingCalendar, start: float, duration: float
) -> None:
    finish = calendar.add_working_time(start, duration)
    days = calendar.days_worked(start, finish)
    assert sum(time for _, time in days) == pytest.approx(duration, abs=0.01)
    assert [day for day, _ in days] == sorted({day for day, _ in days})
    assert all(calendar.is_working_day(day) for day, _ in days)


@given(moments, durations, st.integers(1, 2))
def test_breaks_only_make_work_later_and_never_longer_in_working_time(
    start: float, duration: float, count: int
) -> None:
    breaks = (COFFEE, NOON)[:count]
    paused = working_calendar(WorkingRules(breaks=breaks))
    finish = paused.add_working_time(start, duration)
    assert finish >= PLAIN.add_working_time(start, duration) - 0.01
    assert paused.working_time_between(start, finish) == pytest.approx(duration, abs=0.01)
