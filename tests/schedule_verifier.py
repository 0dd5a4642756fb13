"""Reads a finished plan against what was asked, by other means than those that made it."""

from datetime import date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import holidays
from labour_cases import Case

from filmbuild.pipeline.results import Labour, Schedule
from filmbuild.pipeline.specification import Product

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
SLACK = 0.02  # s


def faults_of(case: Case, labour: Labour, schedule: Schedule) -> list[str]:
    """What is wrong with a plan; nothing if it keeps every rule."""
    return [
        *_shift_faults(case, labour, schedule),
        *_crew_faults(schedule),
        *_window_faults(case, schedule),
    ]


def worked(case: Case, start: datetime, finish: datetime) -> float:
    """[s] of working time between two instants, a day of shifts at a time."""
    return sum(
        max((min(finish, end) - max(start, begin)).total_seconds(), 0.0)
        for day in _days(start, finish)
        for begin, end in _shift(case, day)
    )


def _days(start: datetime, finish: datetime) -> list[date]:
    return [
        start.date() + timedelta(days=number)
        for number in range((finish.date() - start.date()).days + 1)
    ]


def _shift(case: Case, day: date) -> list[tuple[datetime, datetime]]:
    calendar = case.calendar
    public = calendar.holidays
    closed = day in calendar.closed_dates or WEEKDAYS[day.weekday()] not in calendar.working_days
    if public is not None:
        closed |= day in holidays.country_holidays(public.country, public.subdivision)
    if closed:
        return []
    zone = ZoneInfo(calendar.time_zone)
    begin, end = (
        datetime.combine(day, time.fromisoformat(text), zone).astimezone(ZoneInfo("UTC"))
        for text in (calendar.shift_start, calendar.shift_end)
    )
    return [(begin, end)]


def _shift_faults(case: Case, labour: Labour, schedule: Schedule) -> list[str]:
    planned = {one.id: one for one in labour.activities}
    found = []
    for one in schedule.activities:
        activity = planned.get(one.activity)
        begins = one.start
        if case.start is None or begins.date() < case.start:
            found.append(f"{one.activity} begins before the job")
        if activity is None:
            continue
        if abs(worked(case, begins, one.finish) - activity.duration) > SLACK:
            found.append(f"{one.activity} is not as long as its work")
        elapsed = one.finish.astimezone(ZoneInfo("UTC")) - begins.astimezone(ZoneInfo("UTC"))
        if activity.one_shift and abs(elapsed.total_seconds() - activity.duration) > SLACK:
            found.append(f"{one.activity} is broken off")
        if one.latest_start < one.start - timedelta(seconds=SLACK):
            found.append(f"{one.activity} is later than it may be")
    if {one.activity for one in schedule.activities} < set(planned):
        found.append("an activity is missing")
    return found


def _crew_faults(schedule: Schedule) -> list[str]:
    order = sorted(schedule.activities, key=lambda one: (one.start, one.finish))
    return [
        f"{after.activity} overlaps {before.activity}"
        for before, after in pairwise(order)
        if after.start < before.finish - timedelta(seconds=SLACK)
    ]


def _window_faults(case: Case, schedule: Schedule) -> list[str]:
    """Recoat windows from the products' own tables, which state the case's temperature."""
    products: dict[str, Product] = {one.id: one for one in case.products}
    names = [one.activity for one in schedule.activities]
    dates = {one.activity: one for one in schedule.activities}
    found = []
    for below, above in pairwise(case.system.layers):
        lower, upper = dates[f"coat:{below.id}"], dates[f"coat:{above.id}"]
        (point,) = products[below.product].recoat
        waited = (
            upper.start.astimezone(ZoneInfo("UTC")) - lower.finish.astimezone(ZoneInfo("UTC"))
        ).total_seconds()
        between = names[names.index(lower.activity) : names.index(upper.activity)]
        abraded = any(name.startswith("abrade:") for name in between)
        if waited < point.minimum - SLACK:
            found.append(f"{above.id} goes on too early")
        if point.maximum is not None and waited > point.maximum + SLACK and not abraded:
            found.append(f"{above.id} goes on too late")
    return found
