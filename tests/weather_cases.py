"""Invented weather and narrow windows, and random jobs in them. All figures are demo data."""

import math
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from random import Random
from typing import Literal

from labour_cases import BODY, HOUR, LIMITS, TOP, Case, floors_only
from materials_cases import layer
from msgspec.structs import replace

from filmbuild.pipeline.job import (
    ClosedPeriod,
    Conditions,
    ForecastStep,
    Holidays,
    ShiftBreak,
    Weekday,
    WorkCalendar,
)
from filmbuild.pipeline.specification import RecoatPoint
from filmbuild.quantities import PositiveDuration, Temperature

WEEK: tuple[Weekday, ...] = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
DEGREES = (10.0, 20.0, 30.0)


def step(at: datetime, air: float, humidity: float, surface: float | None = None) -> ForecastStep:
    return ForecastStep(
        at=at,
        air_temperature=Temperature(round(air, 1)),
        surface_temperature=None if surface is None else Temperature(round(surface, 1)),
        relative_humidity_percent=round(min(max(humidity, 5.0), 100.0), 1),
    )


def hourly(
    start: datetime, days: int, mean: float, swing: float = 5.0, humidity: float = 60.0
) -> tuple[ForecastStep, ...]:
    """Warmest at 15 h, coldest at 3 h; the floor follows with half the swing, damp at night."""
    found = []
    for hour in range(24 * days):
        wave = math.sin((hour % 24 - 9) / 24 * 2 * math.pi)
        air = mean + swing * wave
        damp = humidity - 15 * wave
        found.append(step(start + timedelta(hours=hour), air, damp, mean + swing * wave / 2))
    return tuple(found)


def at_three_temperatures(minimum: float, maximum: float | None) -> tuple[RecoatPoint, ...]:
    """Hours at 20 degC; double at 10 and half at 30."""
    return tuple(
        RecoatPoint(
            temperature=Temperature(degree),
            minimum=PositiveDuration(minimum * 2 ** ((20 - degree) / 10) * HOUR),
            maximum=None
            if maximum is None
            else PositiveDuration(maximum * 2 ** ((20 - degree) / 10) * HOUR),
        )
        for degree in DEGREES
    )


def in_weather(
    forecast: tuple[ForecastStep, ...],
    *,
    windows: tuple[tuple[float, float | None], ...] = ((8.0, 72.0), (8.0, None)),
    size: float = 100.0,
    calendar: WorkCalendar | None = None,
    start: date = date(2026, 1, 12),
    stated: Conditions | None = None,
    missed: Literal["abrade", "hold_back"] = "abrade",
) -> Case:
    products = tuple(
        replace(one, recoat=at_three_temperatures(*window))
        for one, window in zip((BODY, TOP), windows, strict=True)
    )
    return floors_only(
        size,
        products=products,
        layers=(layer(BODY, "first"), layer(BODY, "second"), layer(TOP, "third")),
        calendar=WorkCalendar() if calendar is None else calendar,
        start=start,
        forecast=forecast,
        stated=stated,
        conditions=Conditions() if stated is None else stated,
        missed_recoat=missed,
    )


def random_jobs(seed: int, count: int) -> Iterator[Case]:
    """Jobs over any season, of which not every one can be done."""
    chance = Random(seed)  # noqa: S311 - draws test cases
    for _ in range(count):
        yield random_job(chance)


def random_job(chance: Random) -> Case:
    start = date(2026, 1, 1) + timedelta(days=chance.randrange(700))
    begin = datetime(start.year, start.month, start.day, tzinfo=UTC)
    forecast = hourly(
        begin - timedelta(hours=chance.randrange(-30, 30)),
        chance.choice((2, 7, 14, 30)),
        mean=chance.uniform(4, 26),
        swing=chance.uniform(0, 9),
        humidity=chance.uniform(30, 75),
    )
    shift = chance.choice((("08:00", "16:00"), ("06:30", "17:00"), ("20:00", "05:00")))
    pause = {"08:00": ("12:00", "12:45"), "06:30": ("11:00", "11:30"), "20:00": ("23:45", "00:30")}
    away = start + timedelta(days=chance.randrange(12))
    calendar = WorkCalendar(
        time_zone=chance.choice(("UTC", "America/New_York", "Europe/Lisbon", "Asia/Kathmandu")),
        shift_start=shift[0],
        shift_end=shift[1],
        breaks=chance.choice(((), (ShiftBreak(start=pause[shift[0]][0], end=pause[shift[0]][1]),))),
        working_days=tuple(chance.sample(WEEK, chance.randrange(2, 8))),
        holidays=chance.choice((None, Holidays(country="US"), Holidays(country="PT"))),
        closed_periods=chance.choice(
            ((), (ClosedPeriod(first=away, last=away + timedelta(days=chance.randrange(5))),))
        ),
    )
    windows = [
        (least := chance.uniform(2, 20), chance.choice((None, least + chance.uniform(4, 90))))
        for _ in range(2)
    ]
    return in_weather(
        forecast,
        windows=tuple(windows),
        size=chance.uniform(10, 300),
        calendar=calendar,
        start=start,
        stated=chance.choice((None, Conditions(relative_humidity_percent=40.0))),
        missed=chance.choice(("abrade", "hold_back")),
    )


__all__ = ["LIMITS", "hourly", "in_weather", "random_job", "random_jobs", "step"]
