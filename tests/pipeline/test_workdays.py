from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from filmbuild.pipeline.public_holidays import UnknownHolidaysError, holiday_dates
from filmbuild.pipeline.workdays import (
    NoWorkingTimeError,
    WorkingCalendar,
    WorkingRules,
    rule_faults,
    to_instant,
    to_moment,
    working_calendar,
)

HOUR = 3_600.0
SHIFT = 8 * HOUR
PLAIN = WorkingCalendar(WorkingRules())
NEW_YORK = "America/New_York"
LORD_HOWE = "Australia/Lord_Howe"  # changes its clocks by half an hour


def at(text: str, zone: str = "UTC") -> float:
    return to_moment(datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(zone)))


def federal(*years: int) -> WorkingCalendar:
    return WorkingCalendar(WorkingRules(holidays=holiday_dates("US", None, years)))


def working_days(calendar: WorkingCalendar, begin: str, end: str) -> float:
    return calendar.working_time_between(at(begin), at(end)) / calendar.shift_length


zones = st.sampled_from(["UTC", NEW_YORK, LORD_HOWE, "Asia/Kolkata", "America/Sao_Paulo"])
shifts = st.sampled_from(
    [(time(8), time(16)), (time(22), time(6)), (time(7, 30), time(17, 15)), (time(1), time(5))]
)


@st.composite
def calendars(draw: st.DrawFn) -> WorkingCalendar:
    start, end = draw(shifts)
    days = st.dates(date(2026, 1, 1), date(2027, 1, 31))
    return working_calendar(
        WorkingRules(
            timezone=draw(zones),
            shift_start=start,
            shift_end=end,
            weekdays=draw(st.frozensets(st.integers(0, 6), min_size=1)),
            holidays=draw(st.frozensets(days, max_size=20)),
            blackouts=draw(st.frozensets(days, max_size=5)),
        )
    )


moments = st.integers(int(at("2026-01-01")), int(at("2027-01-01"))).map(float)
durations = st.integers(1, 60 * 8 * 3_600).map(float)


@pytest.mark.parametrize(
    ("begin", "end", "expected"),
    # numpy documentation of busday_count.
    [("2011-01-01", "2011-02-01", 21), ("2011-01-01", "2012-01-01", 260)],
)
def test_working_days_of_a_month_and_a_year(begin: str, end: str, expected: int) -> None:
    assert working_days(PLAIN, begin, end) == expected


def test_saturdays_of_a_year() -> None:
    # numpy documentation of busday_count: 53 Saturdays in 2011.
    saturdays = WorkingCalendar(WorkingRules(weekdays=frozenset({5})))
    assert working_days(saturdays, "2011-01-01", "2012-01-01") == 53


def test_first_and_last_working_day_of_a_month() -> None:
    # numpy documentation of busday_offset: October 2011 and February 2012.
    assert to_instant(PLAIN.next_working_moment(at("2011-10-01"))).date() == date(2011, 10, 3)
    last = PLAIN.previous_working_moment(at("2012-03-01"))
    assert to_instant(last).date() == date(2012, 2, 29)


@pytest.mark.parametrize(
    ("weekday", "after", "count", "expected"),
    [
        # numpy documentation of busday_offset: third Wednesday, and second Sunday, of a month.
        (2, "2011-01-01", 3, date(2011, 1, 19)),
        (6, "2012-05-01", 2, date(2012, 5, 13)),
    ],
)
def test_nth_weekday_of_a_month(weekday: int, after: str, count: int, expected: date) -> None:
    calendar = WorkingCalendar(WorkingRules(weekdays=frozenset({weekday})))
    assert to_instant(calendar.add_working_time(at(after), count * SHIFT)).date() == expected


@pytest.mark.parametrize(
    ("after", "expected"),
    # numpy documentation of busday_offset: the first working day on or after the 20th, and the one
    # after the 22nd, of March 2011.
    [("2011-03-20", date(2011, 3, 21)), ("2011-03-22T16:00", date(2011, 3, 23))],
)
def test_next_working_day(after: str, expected: date) -> None:
    assert to_instant(PLAIN.next_working_moment(at(after))).date() == expected


def test_federal_holidays_of_a_year() -> None:
    # 5 U.S.C. 6103 (from memory): 4 July 2026 is a Saturday and is observed on the Friday before.
    days = holiday_dates("US", None, [2026])
    weekdays_off = {day for day in days if day.weekday() < 5}
    assert weekdays_off == {
        date(2026, month, day)
        for month, day in [
            (1, 1), (1, 19), (2, 16), (5, 25), (6, 19), (7, 3),
            (9, 7), (10, 12), (11, 11), (11, 26), (12, 25),
        ]
    }  # fmt: skip
    assert working_days(federal(2026), "2026-01-01", "2027-01-01") == 250
    assert not federal(2026).is_working_day(date(2026, 7, 3))
    assert federal(2026).is_working_day(date(2026, 7, 2))


def test_working_days_around_federal_holidays() -> None:
    # numpy.busday_offset and busday_count with the federal holidays of 5 U.S.C. 6103.
    calendar = federal(2026)
    ten_days_on = calendar.add_working_time(at("2026-06-15T16:00"), 10 * SHIFT)
    assert to_instant(ten_days_on) == datetime(2026, 6, 30, 16, tzinfo=UTC)
    assert working_days(calendar, "2026-06-15", "2026-07-13") == 18
    one_day_on = calendar.add_working_time(at("2026-07-02T16:00"), SHIFT)
    assert to_instant(one_day_on) == datetime(2026, 7, 6, 16, tzinfo=UTC)


@given(
    st.dates(date(2020, 1, 1), date(2029, 1, 1)),
    st.integers(1, 400),
    st.frozensets(st.integers(0, 6), min_size=1),
    st.frozensets(st.dates(date(2020, 1, 1), date(2031, 1, 1)), max_size=40),
)
def test_whole_days_agree_with_numpy(
    day: date, count: int, weekdays: frozenset[int], off: frozenset[date]
) -> None:
    calendar = WorkingCalendar(WorkingRules(weekdays=weekdays, holidays=off))
    mask = [weekday in weekdays for weekday in range(7)]
    begin = calendar.day_start(day)
    end = calendar.add_working_time(begin, count * SHIFT)
    closed = np.array(sorted(off), dtype="datetime64[D]")
    expected = np.busday_offset(
        np.datetime64(day), count - 1, roll="forward", weekmask=mask, holidays=closed
    )
    assert to_instant(end) == datetime.fromisoformat(f"{expected}T16:00+00:00")
    later = day + timedelta(days=count)
    counted = np.busday_count(
        np.datetime64(day), np.datetime64(later), weekmask=mask, holidays=closed
    )
    between = calendar.working_time_between(begin, calendar.day_start(later))
    assert between == counted * SHIFT


@pytest.mark.parametrize(
    ("sunday", "monday_start"),
    # United States clocks go forward on 8 March 2026 and back on 1 November 2026
    # (15 U.S.C. 260a, from memory).
    [("2026-03-08", "2026-03-09T12:00"), ("2026-11-01", "2026-11-02T13:00")],
)
def test_shifts_keep_the_local_hour_when_clocks_change(sunday: str, monday_start: str) -> None:
    calendar = WorkingCalendar(WorkingRules(timezone=NEW_YORK))
    monday = calendar.next_working_moment(at(sunday, NEW_YORK))
    assert monday == at(monday_start)
    assert calendar.local_time(monday).hour == 8
    friday = at(sunday, NEW_YORK) - 24 * HOUR - 12 * HOUR
    assert calendar.local_time(calendar.add_working_time(friday, SHIFT)).hour == 12


def test_a_night_shift_is_as_long_as_the_clocks_make_it() -> None:
    nights = WorkingCalendar(
        WorkingRules(
            timezone=NEW_YORK,
            shift_start=time(22),
            shift_end=time(6),
            weekdays=frozenset({5}),
        )
    )
    short, long = at("2026-03-07T22:00", NEW_YORK), at("2026-10-31T22:00", NEW_YORK)
    assert nights.working_time_between(short, short + 20 * HOUR) == 7 * HOUR
    assert nights.working_time_between(long, long + 20 * HOUR) == 9 * HOUR
    assert nights.next_start_fitting(short, SHIFT) == short + 7 * 24 * HOUR - HOUR
    assert nights.next_start_fitting(long, 8.5 * HOUR) is None


def test_labour_splits_over_a_night_and_a_weekend() -> None:
    end = PLAIN.add_working_time(at("2026-06-12T14:00"), 3 * HOUR)
    assert end == at("2026-06-15T09:00")
    assert PLAIN.subtract_working_time(end, 3 * HOUR) == at("2026-06-12T14:00")
    assert PLAIN.add_working_time(at("2026-06-12T14:00"), 2 * HOUR) == at("2026-06-12T16:00")


def test_nothing_to_do_takes_no_time_even_at_night() -> None:
    night = at("2026-06-13T03:00")
    assert PLAIN.add_working_time(night, 0) == night
    assert PLAIN.subtract_working_time(night, 0) == night


def test_a_coat_waits_for_a_shift_with_room_for_it() -> None:
    friday_two = at("2026-06-12T14:00")
    assert PLAIN.fits_in_shift(friday_two, 2 * HOUR)
    assert not PLAIN.fits_in_shift(friday_two, 2.5 * HOUR)
    assert not PLAIN.fits_in_shift(at("2026-06-12T07:00"), HOUR)
    assert PLAIN.next_start_fitting(friday_two, 2 * HOUR) == friday_two
    assert PLAIN.next_start_fitting(friday_two, 2.5 * HOUR) == at("2026-06-15T08:00")
    assert PLAIN.latest_start_fitting(at("2026-06-15T10:00"), 2.5 * HOUR) == at("2026-06-12T13:30")
    assert PLAIN.next_start_fitting(friday_two, 8.5 * HOUR) is None
    assert PLAIN.latest_start_fitting(friday_two, 8.5 * HOUR) is None


@given(calendars(), moments, durations)
def test_adding_then_subtracting_returns_to_the_working_start(
    calendar: WorkingCalendar, start: float, duration: float
) -> None:
    end = calendar.add_working_time(start, duration)
    assert calendar.subtract_working_time(end, duration) == calendar.next_working_moment(start)
    assert calendar.working_time_between(start, end) == duration


@given(calendars(), moments, durations, durations)
def test_more_work_never_ends_earlier_and_parts_add_up(
    calendar: WorkingCalendar, start: float, first: float, second: float
) -> None:
    middle = calendar.add_working_time(start, first)
    end = calendar.add_working_time(start, first + second)
    assert middle < end
    assert calendar.add_working_time(middle, second) == end


@given(moments, durations, st.integers(0, 7))
def test_a_longer_shift_never_ends_later(start: float, duration: float, extra: int) -> None:
    longer = working_calendar(WorkingRules(shift_end=time(16 + extra)))
    assert longer.add_working_time(start, duration) <= PLAIN.add_working_time(start, duration)


@given(calendars(), moments, durations, st.dates(date(2026, 1, 1), date(2027, 1, 31)))
def test_a_day_off_never_ends_earlier(
    calendar: WorkingCalendar, start: float, duration: float, off: date
) -> None:
    rules = calendar.rules
    fewer = WorkingCalendar(
        WorkingRules(
            timezone=rules.timezone,
            shift_start=rules.shift_start,
            shift_end=rules.shift_end,
            weekdays=rules.weekdays,
            holidays=rules.holidays | {off},
            blackouts=rules.blackouts,
        )
    )
    assert fewer.add_working_time(start, duration) >= calendar.add_working_time(start, duration)


@given(calendars(), moments, st.integers(1, 4 * 3_600).map(float))
def test_a_fitting_start_is_the_earliest_unbroken_one(
    calendar: WorkingCalendar, moment: float, duration: float
) -> None:
    start = calendar.next_start_fitting(moment, duration)
    assert start is not None
    assert start >= moment
    assert calendar.add_working_time(start, duration) == start + duration
    assert calendar.fits_in_shift(start, duration)
    assert start == moment or not calendar.fits_in_shift(max(moment, start - 60), duration)
    back = calendar.latest_start_fitting(start + duration, duration)
    assert back == start


@settings(max_examples=25)
@given(st.permutations([0.0, 40.0, 400.0, 3_000.0, -900.0, 9_000.0]))
def test_answers_do_not_depend_on_what_was_asked_before(days: list[float]) -> None:
    shared = WorkingCalendar(WorkingRules(timezone=LORD_HOWE))
    for offset in days:
        moment = at("2026-06-12T14:00") + offset * 86_400
        fresh = WorkingCalendar(shared.rules)
        assert shared.add_working_time(moment, 100 * HOUR) == fresh.add_working_time(
            moment, 100 * HOUR
        )
        assert shared.subtract_working_time(moment, 900 * HOUR) == fresh.subtract_working_time(
            moment, 900 * HOUR
        )


@pytest.mark.parametrize("half_days", range(-30, 250))
def test_a_second_question_shortly_before_or_after_is_answered_as_the_first(
    half_days: int,
) -> None:
    first = at("2026-06-12T14:00")
    second = first + half_days * 12 * HOUR
    asked = WorkingCalendar(PLAIN.rules)
    asked.next_working_moment(first)
    fresh = WorkingCalendar(PLAIN.rules)
    assert asked.add_working_time(second, HOUR) == fresh.add_working_time(second, HOUR)


def test_a_calendar_without_work_says_so() -> None:
    closed_days = frozenset(date(2026, 1, 1) + timedelta(days) for days in range(21 * 365))
    closed = WorkingCalendar(WorkingRules(blackouts=closed_days))
    for ask in (closed.next_working_moment, closed.previous_working_moment):
        with pytest.raises(NoWorkingTimeError, match="no working time within"):
            ask(at("2036-06-01"))
    for ask_for in (closed.add_working_time, closed.subtract_working_time):
        with pytest.raises(NoWorkingTimeError):
            ask_for(at("2036-06-01"), HOUR)
    with pytest.raises(NoWorkingTimeError):
        closed.next_start_fitting(at("2027-01-01"), HOUR)
    two_years = frozenset(date(2026, 1, 1) + timedelta(days) for days in range(730))
    reopened = WorkingCalendar(WorkingRules(blackouts=two_years))
    assert reopened.next_working_moment(at("2026-01-01")) == at("2028-01-03T08:00")


@pytest.mark.parametrize("duration", [1e9, 1e30, float("inf")])
def test_work_of_decades_is_refused(duration: float) -> None:
    with pytest.raises(NoWorkingTimeError):
        PLAIN.add_working_time(at("2026-01-01"), duration)
    with pytest.raises(NoWorkingTimeError):
        PLAIN.subtract_working_time(at("2026-01-01"), duration)


@pytest.mark.parametrize("moment", [-1e11, 1e12, -62_135_596_800.0, 253_402_300_799.0])
def test_the_ends_of_the_calendar_are_refused(moment: float) -> None:
    with pytest.raises(NoWorkingTimeError):
        PLAIN.next_working_moment(moment)


@pytest.mark.parametrize(
    ("rules", "field"),
    [
        (WorkingRules(timezone="Europe/Atlantis"), "timezone"),
        (WorkingRules(timezone="America"), "timezone"),
        (WorkingRules(timezone="../etc"), "timezone"),
        (WorkingRules(timezone="x" * 5_000), "timezone"),
        (WorkingRules(weekdays=frozenset()), "weekdays"),
        (WorkingRules(weekdays=frozenset({7})), "weekdays"),
        (WorkingRules(shift_start=time(8), shift_end=time(8)), "shift_end"),
        (WorkingRules(shift_start=time(8), shift_end=time(7)), "shift_end"),
    ],
)
def test_unusable_rules_name_the_field(rules: WorkingRules, field: str) -> None:
    assert [name for name, _ in rule_faults(rules)] == [field]
    assert rule_faults(WorkingRules(shift_start=time(22), shift_end=time(6))) == []


@pytest.mark.parametrize(
    ("country", "subdivision", "field"),
    [("XX", None, "country"), ("registry", None, "country"), ("US", "ZZ", "subdivision")],
)
def test_unknown_holidays_are_refused(country: str, subdivision: str | None, field: str) -> None:
    with pytest.raises(UnknownHolidaysError) as refused:
        holiday_dates(country, subdivision, [2026])
    assert refused.value.field == field
    assert refused.value.accepted


def test_a_subdivision_adds_its_own_holidays() -> None:
    country = holiday_dates("AU", None, [2026])
    assert country < holiday_dates("AU", "VIC", [2026])
