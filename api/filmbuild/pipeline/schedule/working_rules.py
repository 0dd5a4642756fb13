"""The job's calendar as rules of working time."""

from collections.abc import Sequence
from datetime import date, time, timedelta
from functools import lru_cache
from typing import get_args

from filmbuild.errors import Faults
from filmbuild.pipeline.job import ClosedPeriod, Job, Weekday, WorkCalendar
from filmbuild.pipeline.labour import shift_length
from filmbuild.pipeline.public_holidays import UnknownHolidaysError, holiday_dates
from filmbuild.pipeline.workdays import (
    WorkingRules,
    zone_named,
)

FIRST_YEAR, LAST_YEAR = 2000, 2099
YEARS_AHEAD = 2
"""Holidays are read for the year of the start and so many more, unless the work takes longer."""
_WEEKDAYS: dict[Weekday, int] = {name: place for place, name in enumerate(get_args(Weekday))}
LONGEST_CLOSED = 3_653
_ANY_YEAR = 2025
_SHOWN = 20


def check_calendar(job: Job, faults: Faults) -> None:
    """Adds what is wrong with the job's start and calendar; `faults` is rooted at the job."""
    if job.start is None:
        faults.add("missing-field", "give the first day on which work may begin", "start")
    check_start(job, faults)
    calendar = job.calendar
    shift_length(calendar, faults)
    at = faults.at("calendar")
    for index, one in enumerate(calendar.closed_periods):
        if not 0 <= (one.last - one.first).days <= LONGEST_CLOSED:
            detail = f"a period ends on its first day or later, at most {LONGEST_CLOSED} days after"
            at.add("closed-period-unusable", detail, "closed_periods", index, "last")
    if zone_named(calendar.time_zone) is None:
        detail = "name a time zone of the IANA database, such as Europe/Lisbon"
        at.add("unknown-time-zone", detail, "time_zone")
    if calendar.holidays is not None:
        try:
            year = job.start.year if job.start is not None else _ANY_YEAR
            holiday_dates(calendar.holidays.country, calendar.holidays.subdivision, (year,))
        except UnknownHolidaysError as error:
            detail = f"public holidays are known for: {_listed(error.accepted)}"
            at.add(f"unknown-{error.field}", detail, "holidays", error.field)


def check_start(job: Job, faults: Faults) -> None:
    """Adds a fault for a start, where there is one, that no calendar reaches."""
    if job.start is not None and not FIRST_YEAR <= job.start.year <= LAST_YEAR:
        detail = f"give a day from {FIRST_YEAR}-01-01 to {LAST_YEAR}-12-31"
        faults.add("date-out-of-range", detail, "start")


def _listed(names: Sequence[str]) -> str:
    if not names:
        return "the country as a whole only; leave this out"
    return ", ".join(names[:_SHOWN]) + (", ..." if len(names) > _SHOWN else "")


def _days(period: ClosedPeriod) -> list[date]:
    count = (period.last - period.first).days + 1
    return [period.first + timedelta(number) for number in range(count)]


@lru_cache(maxsize=256)
def working_rules(calendar: WorkCalendar, first_year: int, last_year: int) -> WorkingRules:
    """Of a calendar that `check_calendar` passed, with the holidays of those years."""
    public: frozenset[date] = frozenset()
    if calendar.holidays is not None:
        public = holiday_dates(
            calendar.holidays.country,
            calendar.holidays.subdivision,
            range(first_year, last_year + 1),
        )
    return WorkingRules(
        timezone=calendar.time_zone,
        shift_start=time.fromisoformat(calendar.shift_start),
        shift_end=time.fromisoformat(calendar.shift_end),
        breaks=tuple(
            (time.fromisoformat(one.start), time.fromisoformat(one.end)) for one in calendar.breaks
        ),
        weekdays=frozenset(_WEEKDAYS[name] for name in calendar.working_days),
        holidays=public,
        blackouts=frozenset(calendar.closed_dates).union(
            *(_days(one) for one in calendar.closed_periods)
        ),
    )
