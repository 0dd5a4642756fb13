"""Reads a finished plan against what was asked, by other means than those that made it."""

from datetime import date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import holidays
from labour_cases import Case

from filmbuild.pipeline.results import Activity, Labour, Schedule, Scheduled
from filmbuild.pipeline.specification import Product

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
SLACK = 0.02  # s


def faults_of(case: Case, labour: Labour, schedule: Schedule) -> list[str]:
    """What is wrong with a plan; nothing if it keeps every rule."""
    return [
        *_shift_faults(case, labour, schedule),
        *_crew_faults(schedule),
        *_window_faults(case, schedule),
        *_day_faults(case, schedule),
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
    clock = [calendar.shift_start]
    for pause in calendar.breaks:
        clock += [pause.start, pause.end]
    times = [
        datetime.combine(day, time.fromisoformat(text), zone).astimezone(ZoneInfo("UTC"))
        for text in (*clock, calendar.shift_end)
    ]
    return list(zip(times[::2], times[1::2], strict=True))


def _shift_faults(case: Case, labour: Labour, schedule: Schedule) -> list[str]:
    planned = {one.id: one for one in labour.activities}
    found = []
    for one in schedule.activities:
        if case.start is None or one.start.date() < case.start:
            found.append(f"{one.activity} begins before the job")
        if one.latest_start < one.start - timedelta(seconds=SLACK):
            found.append(f"{one.activity} is later than it may be")
        if one.activity in planned:
            found += _length_faults(case, planned[one.activity], one)
    if {one.activity for one in schedule.activities} < set(planned):
        found.append("an activity is missing")
    return found


def _length_faults(case: Case, activity: Activity, one: Scheduled) -> list[str]:
    """Work stops for nights and breaks; a coat begins in working time and goes on."""
    found = []
    if not activity.one_shift:
        if abs(worked(case, one.start, one.finish) - activity.duration) > SLACK:
            found.append(f"{one.activity} is not as long as its work")
        return found
    elapsed = _elapsed(one)
    if abs(elapsed - activity.duration) > SLACK:
        found.append(f"{one.activity} is broken off")
    if not _in_one_shift(case, one):
        found.append(f"{one.activity} is not in one shift")
    if worked(case, one.start, one.start + timedelta(seconds=2 * SLACK)) < SLACK < elapsed:
        found.append(f"{one.activity} begins in a break")
    return found


def _elapsed(one: Scheduled) -> float:
    utc = ZoneInfo("UTC")
    return (one.finish.astimezone(utc) - one.start.astimezone(utc)).total_seconds()


def _in_one_shift(case: Case, one: Scheduled) -> bool:
    shifts = _shift(case, one.start.date())
    slack = timedelta(seconds=SLACK)
    return bool(shifts) and (
        shifts[0][0] - slack <= one.start and one.finish <= shifts[-1][1] + slack
    )


def _day_faults(case: Case, schedule: Schedule) -> list[str]:
    """The days that are paid, from starts and finishes alone; coats go on through breaks."""
    crew_time: dict[date, float] = {}
    for one in schedule.activities:
        for day in _days(one.start, one.finish):
            parts = _shift(case, day)
            if one.activity.startswith("coat:") and parts:
                parts = [(parts[0][0], parts[-1][1])]
            for begin, end in parts:
                time = (min(one.finish, end) - max(one.start, begin)).total_seconds()
                crew_time[day] = crew_time.get(day, 0.0) + max(time, 0.0)
    expected = {day: time for day, time in crew_time.items() if time > SLACK}
    found = {one.date: float(one.worked) for one in schedule.days if one.worked > SLACK}
    if expected.keys() != found.keys():
        return ["other days are paid than are worked"]
    return [f"{day} is paid wrongly" for day in found if abs(found[day] - expected[day]) > SLACK]


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
