"""Reads a finished plan against what was asked, by other means than those that made it."""

import math
from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from typing import Any
from zoneinfo import ZoneInfo

import holidays
import numpy as np
import psychrolib
from labour_cases import Case

from filmbuild.pipeline.results import Activity, Labour, Schedule, Scheduled
from filmbuild.pipeline.specification import Layer, Product

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
SLACK = 0.02  # s
CLOSE = 1e-5
psychrolib.SetUnitSystem(psychrolib.SI)
FROST_POINTS_AGREE = 2.0  # K, as ASHRAE's are over ice
DEW_POINTS_AGREE = 0.05  # K, of Magnus over water and the formulas of ASHRAE


def faults_of(case: Case, labour: Labour, schedule: Schedule) -> list[str]:
    """What is wrong with a plan; nothing if it keeps every rule."""
    return [
        *_weather_faults(case, schedule),
        *_shift_faults(case, labour, schedule),
        *_crew_faults(schedule),
        *_window_faults(case, schedule),
        *_day_faults(case, schedule),
    ]


def worked(case: Case, start: datetime, finish: datetime) -> float:
    """[s] of working time between two instants, a day of shifts at a time."""
    return sum(
        overlap(start, finish, begin, end)
        for day in _days(start, finish)
        for begin, end in _shift(case, day)
    )


def overlap(start: datetime, finish: datetime, begin: datetime, end: datetime) -> float:
    """[s] Of elapsed time: datetimes of one zone would be compared by their clocks."""
    first, last = (
        max(start.timestamp(), begin.timestamp()),
        min(finish.timestamp(), end.timestamp()),
    )
    return max(last - first, 0.0)


def _days(start: datetime, finish: datetime) -> list[date]:
    """With the day before, whose shift may go on past midnight."""
    return [
        start.date() + timedelta(days=number)
        for number in range(-1, (finish.date() - start.date()).days + 1)
    ]


def _shift(case: Case, day: date) -> list[tuple[datetime, datetime]]:
    calendar = case.calendar
    public = calendar.holidays
    closed = day in calendar.closed_dates or WEEKDAYS[day.weekday()] not in calendar.working_days
    closed |= any(one.first <= day <= one.last for one in calendar.closed_periods)
    if public is not None:
        closed |= day in holidays.country_holidays(public.country, public.subdivision)
    if closed:
        return []
    zone = ZoneInfo(calendar.time_zone)
    clock = [calendar.shift_start]
    for pause in calendar.breaks:
        clock += [pause.start, pause.end]
    times = [
        datetime.combine(
            day + timedelta(days=text < calendar.shift_start), time.fromisoformat(text), zone
        ).astimezone(ZoneInfo("UTC"))
        for text in (*clock, calendar.shift_end)
    ]
    return list(zip(times[::2], times[1::2], strict=True))


def _shift_faults(case: Case, labour: Labour, schedule: Schedule) -> list[str]:
    planned = {one.id: one for one in labour.activities}
    found = []
    for one in schedule.activities:
        if case.start is None or one.start.date() < case.start:
            found.append(f"{one.activity} begins before the job")
        if one.latest_start.timestamp() < one.start.timestamp() - SLACK:
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
    slack = timedelta(seconds=SLACK)
    return any(
        shifts[0][0] - slack <= one.start.astimezone(UTC)
        and one.finish.astimezone(UTC) <= shifts[-1][1] + slack
        for day in _days(one.start, one.finish)
        if (shifts := _shift(case, day))
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
                time = overlap(one.start, one.finish, begin, end)
                crew_time[day] = crew_time.get(day, 0.0) + time
    expected = {day: time for day, time in crew_time.items() if time > SLACK}
    found = {one.date: float(one.worked) for one in schedule.days if one.worked > SLACK}
    if expected.keys() != found.keys():
        return ["other days are paid than are worked"]
    return [f"{day} is paid wrongly" for day in found if abs(found[day] - expected[day]) > SLACK]


def _crew_faults(schedule: Schedule) -> list[str]:
    order = sorted(
        schedule.activities, key=lambda one: (one.start.timestamp(), one.finish.timestamp())
    )
    return [
        f"{after.activity} overlaps {before.activity}"
        for before, after in pairwise(order)
        if after.start.timestamp() < before.finish.timestamp() - SLACK
    ]


def _hours(case: Case, start: datetime, waited: float) -> list[tuple[float, Any]]:
    """Lengths [s] of the case's weather from a moment on, with the forecast step of each.

    The forecast is walked by its own times; where it is silent stands None, the case's conditions.
    """
    begin = start.timestamp()
    end = begin + waited
    times = [one.at.timestamp() for one in case.forecast]
    lasts = [*times[1:], 2 * times[-1] - times[-2]] if len(times) > 1 else [t + 3600 for t in times]
    found = [
        (min(last, end) - max(time, begin), one)
        for time, last, one in zip(times, lasts, case.forecast, strict=True)
        if min(last, end) > max(time, begin)
    ]
    beyond = waited - sum(length for length, _ in found)
    return [*found, (beyond, None)] if beyond > SLACK else found


def _surface(case: Case, step: Any) -> float:
    if step is None:
        return float(case.conditions.surface_temperature)
    surface = step.surface_temperature
    return float(step.air_temperature if surface is None else surface)


def _cured(case: Case, start: datetime, waited: float, times: list[Any], layer: Any) -> float:
    """The share of a stage reached: the sum of time / time(T), straight in log time between."""
    product = next(one for one in case.products if one.id == layer.product)
    degrees = [float(one.temperature) for one in product.recoat][: len(times)]
    total = 0.0
    for length, step in _hours(case, start, waited):
        surface = _surface(case, step)
        if min(degrees) <= surface <= max(degrees):
            needed = math.exp(float(np.interp(surface, degrees, np.log(times))))
        else:
            near = degrees[0] if surface < degrees[0] else degrees[-1]
            needed = times[degrees.index(near)] * 2 ** ((near - surface) / 10)
        total += length / needed
    return total


def _weather_faults(case: Case, schedule: Schedule) -> list[str]:
    """A coat meets its product's limits from its start until it takes another."""
    if not case.forecast:
        return []
    ready = {one.layer: one.recoat_from for one in schedule.coats}
    found = []
    for layer in case.system.layers:
        one = next(one for one in schedule.activities if one.activity == f"coat:{layer.id}")
        limits = next(each.application for each in case.products if each.id == layer.product)
        waited = ready[layer.id].timestamp() - one.start.timestamp()
        for _, step in _hours(case, one.start, waited):
            if step is None:
                if case.stated is None:
                    found.append(f"{layer.id} is placed in weather that nobody knows")
                continue
            surface = _surface(case, step)
            air, humidity = float(step.air_temperature), step.relative_humidity_percent / 100
            dew = psychrolib.GetTDewPointFromRelHum(air, humidity)
            agree = DEW_POINTS_AGREE if dew >= 0 else FROST_POINTS_AGREE
            near = surface - dew < limits.dew_point_margin - agree
            if (
                near
                or not limits.air_minimum <= air <= limits.air_maximum
                or not limits.surface_minimum <= surface <= limits.surface_maximum
                or humidity * 100 > limits.relative_humidity_maximum_percent
            ):
                found.append(f"{layer.id} is placed in weather that its limits shut out")
                break
    return found


def _coats_over_coats(case: Case, names: list[str]) -> Iterator[tuple[Layer, Layer, str]]:
    """With what the names of their section end with: nothing where there is one."""
    for below, above in pairwise(case.system.layers):
        for name in names:
            coat, slash, number = name.partition("/")
            if coat == f"coat:{below.id}":
                yield below, above, slash + number


def _window_faults(case: Case, schedule: Schedule) -> list[str]:
    """Recoat windows from the products' own tables, which state the case's temperature."""
    products: dict[str, Product] = {one.id: one for one in case.products}
    names = [one.activity for one in schedule.activities]
    dates = {one.activity: one for one in schedule.activities}
    found = []
    for below, above, section in _coats_over_coats(case, names):
        lower, upper = dates[f"coat:{below.id}{section}"], dates[f"coat:{above.id}{section}"]
        points = products[below.product].recoat
        waited = (
            upper.start.astimezone(ZoneInfo("UTC")) - lower.finish.astimezone(ZoneInfo("UTC"))
        ).total_seconds()
        between = names[names.index(lower.activity) : names.index(upper.activity)]
        abraded = any(
            name == f"abrade:{upper.activity}"
            or (name.startswith("abrade:") and not name.startswith("abrade:coat:"))
            for name in between
        )
        if _cured(case, lower.finish, waited, [one.minimum for one in points], below) < 1 - CLOSE:
            found.append(f"{above.id} goes on too early")
        maxima = [one.maximum for one in points if one.maximum is not None]
        if maxima and not abraded and _cured(case, lower.finish, waited, maxima, below) > 1 + CLOSE:
            found.append(f"{above.id} goes on too late")
    return found
