"""Air and floor over time: the forecast, then the months' design values, then the job's own."""

from bisect import bisect_right
from collections.abc import Iterator
from datetime import datetime
from zoneinfo import ZoneInfo

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.climate import Conditions
from filmbuild.pipeline.job import ForecastStep, Job, MonthConditions
from filmbuild.pipeline.schedule.weather import AIR, SURFACE
from filmbuild.pipeline.workdays import DAY

_HOUR = 3_600.0
_DECEMBER = 12
NEVER = float("inf")


class Step(msgspec.Struct, frozen=True):
    """One stretch [s, s]; what is not `known` was assumed, and nothing is placed in it."""

    start: float
    end: float
    conditions: Conditions
    known: bool


class Weather:
    """Steps from a moment on, read only as far as they are asked for."""

    def __init__(self, job: Job, conditions: Conditions, begin: float, zone: ZoneInfo) -> None:
        self._job = job
        self._conditions = conditions
        self._zone = zone
        self._months = {one.month: one for one in job.months}
        self._coming = self._steps(begin)
        first = next(self._coming)
        self.begin = begin
        self.steps = [first]
        self.starts = [first.start]

    def index(self, moment: float) -> int:
        """The place of the step that a moment lies in; the first one reaches back for ever."""
        while self.steps[-1].end <= moment:
            self.grow()
        return max(bisect_right(self.starts, moment) - 1, 0)

    def grow(self) -> None:
        """Reads one more step; the last one never ends."""
        step = next(self._coming)
        self.steps.append(step)
        self.starts.append(step.start)

    def between(self, start: float, end: float) -> list[Step]:
        """The steps that a stretch of time touches."""
        first = self.index(start)
        last = self.index(end) if end > start else first
        if last > first and self.starts[last] >= end:
            last -= 1
        return self.steps[first : last + 1]

    def _steps(self, begin: float) -> Iterator[Step]:
        forecast = self._job.forecast
        place = bisect_right(forecast, begin, key=_moment)
        moment = begin
        if forecast and not place:
            yield from self._beyond(begin, _moment(forecast[0]))
            moment = _moment(forecast[0])
        for index in range(max(place - 1, 0), len(forecast)):
            end = _end(forecast, index)
            if end > moment:
                yield Step(moment, end, _read(forecast[index]), known=True)
                moment = end
        yield from self._beyond(moment, NEVER)

    def _beyond(self, start: float, end: float) -> Iterator[Step]:
        job = self._job
        if not self._months:
            known = not job.forecast or job.conditions is not None
            yield Step(start, end, self._conditions, known)
            return
        while start < end:
            local = datetime.fromtimestamp(start, self._zone)
            until = min(_next_month(local), end)
            month = self._months.get(local.month)
            known = month is not None or job.conditions is not None
            yield Step(start, until, _read(month) if month else self._conditions, known)
            start = until


def varies(job: Job) -> bool:
    return bool(job.forecast or job.months)


def check_forecast(job: Job, faults: Faults) -> None:
    """Adds a fault for each step out of order or range; `faults` is rooted at the job."""
    last: datetime | None = None
    for index, step in enumerate(job.forecast):
        if last is not None and step.at <= last:
            detail = "steps stand in order of time, each later than the one before"
            faults.add("forecast-out-of-order", detail, "forecast", index, "at")
        last = step.at
        if not _in_range(step):
            _check_range(step, faults.at("forecast", index))
    months = [one.month for one in job.months]
    for index, month in enumerate(job.months):
        if month.month in months[:index]:
            detail = "each month is given once"
            faults.add("month-given-twice", detail, "months", index, "month")
        _check_range(month, faults.at("months", index))


def _in_range(step: ForecastStep) -> bool:
    surface = step.surface_temperature
    return AIR[0] <= step.air_temperature <= AIR[1] and (
        surface is None or SURFACE[0] <= surface <= SURFACE[1]
    )


def _check_range(step: ForecastStep | MonthConditions, faults: Faults) -> None:
    for field, (least, most) in (("air_temperature", AIR), ("surface_temperature", SURFACE)):
        value = getattr(step, field)
        if value is not None and not least <= value <= most:
            detail = f"give a temperature from {least:g} to {most:g} degC"
            faults.add("conditions-out-of-range", detail, field)


def _moment(step: ForecastStep) -> float:
    return step.at.timestamp()


def _end(forecast: tuple[ForecastStep, ...], index: int) -> float:
    """The last step is as long as the one before it, and an only one an hour."""
    if index + 1 < len(forecast):
        return _moment(forecast[index + 1])
    start = _moment(forecast[index])
    length = start - _moment(forecast[index - 1]) if index else _HOUR
    return start + min(length, DAY)


def _read(step: ForecastStep | MonthConditions) -> Conditions:
    surface = step.surface_temperature
    return Conditions(
        float(step.air_temperature),
        float(step.air_temperature if surface is None else surface),
        step.relative_humidity_percent,
    )


def _next_month(local: datetime) -> float:
    year, month = local.year, local.month + 1
    if month > _DECEMBER:
        year, month = year + 1, 1
    return datetime(year, month, 1, tzinfo=local.tzinfo).timestamp()
