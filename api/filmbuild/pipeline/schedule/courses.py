"""Cure through changing weather: a stage is over when the progress made in every step adds to 1."""

from bisect import bisect_left
from collections.abc import Sequence
from functools import lru_cache

import msgspec

from filmbuild.pipeline.cure import Arrhenius, CureRate, Halving, NotStated, OutsideRule, TimePoint
from filmbuild.pipeline.labour.curing import LONGEST_CURE
from filmbuild.pipeline.materials.life import ACTIVATION_ENERGY
from filmbuild.pipeline.results import Activity
from filmbuild.pipeline.schedule.forecast import Weather
from filmbuild.pipeline.specification import OutsideTable, Product
from filmbuild.pipeline.specification import TimePoint as StatedTime
from filmbuild.pipeline.workdays import to_millisecond


class CureClock:
    """When one stage of a cure ends, and when it must have begun to end in time.

    Progress is the integral of dt / time(T), the form of equivalent age (ASTM C1074) with the
    product's own times; sums over the steps are kept, so that each step is read once.
    """

    def __init__(
        self, points: Sequence[TimePoint], outside: OutsideRule | NotStated, weather: Weather
    ) -> None:
        self.rate = _rate_of(tuple(points), outside)
        self._weather = weather
        self._rates = [self.rate.at(weather.steps[0].conditions.surface)]
        self._sums = [0.0]

    def done(self, begin: float) -> float:
        """The end of the stage, or ten years on if it is never reached."""
        target = self._reached(begin) + 1.0
        weather, sums = self._weather, self._sums
        limit = begin + LONGEST_CURE
        while sums[-1] < target and weather.starts[len(sums) - 1] < limit:
            if len(sums) == len(weather.steps) and weather.steps[-1].end > limit:
                break
            self._extend()
        place = max(bisect_left(sums, target) - 1, 0)
        rate = self._rates[place]
        if rate <= 0:
            return limit
        return min(weather.starts[place] + (target - sums[place]) / rate, limit)

    def begun_by(self, end: float) -> float:
        """The latest beginning with which the stage is over by a moment."""
        target = self._reached(end) - 1.0
        place = max(bisect_left(self._sums, target) - 1, 0)
        rate = self._rates[place]
        if rate <= 0:
            return end - LONGEST_CURE
        return self._weather.starts[place] + (target - self._sums[place]) / rate

    def _reached(self, moment: float) -> float:
        place = self._weather.index(moment)
        while len(self._sums) <= place:
            self._extend()
        return self._sums[place] + (moment - self._weather.starts[place]) * self._rates[place]

    def _extend(self) -> None:
        weather, sums = self._weather, self._sums
        place = len(sums)
        if place == len(weather.steps):
            weather.grow()
        starts = weather.starts
        sums.append(sums[-1] + (starts[place] - starts[place - 1]) * self._rates[-1])
        self._rates.append(self.rate.at(weather.steps[place].conditions.surface))


@lru_cache(maxsize=512)
def _rate_of(points: tuple[TimePoint, ...], outside: OutsideRule | NotStated) -> CureRate:
    return CureRate(points, outside)


class ProductCure(msgspec.Struct, frozen=True):
    """The clocks of one product; a stage that it does not state is the next later one."""

    minimum: CureClock
    maximum: CureClock | None
    foot: CureClock
    vehicle: CureClock
    full: CureClock


def product_cure(product: Product, weather: Weather) -> ProductCure:
    """Of a product that states a full cure."""
    outside = _outside(product.outside_table)
    minima = [TimePoint(one.temperature, one.minimum) for one in product.recoat]
    maxima = [
        TimePoint(one.temperature, one.maximum) for one in product.recoat if one.maximum is not None
    ]
    full = CureClock(_points(product.full_cure), outside, weather)
    vehicle, foot, minimum = full, full, full
    if product.vehicle_traffic:
        vehicle = foot = minimum = CureClock(_points(product.vehicle_traffic), outside, weather)
    if product.foot_traffic:
        foot = minimum = CureClock(_points(product.foot_traffic), outside, weather)
    if minima:
        minimum = CureClock(minima, outside, weather)
    closing = NotStated(goes_on=True) if isinstance(outside, NotStated) else outside
    maximum = CureClock(maxima, closing, weather) if maxima else None
    return ProductCure(minimum, maximum, foot, vehicle, full)


def _outside(table: OutsideTable) -> OutsideRule | NotStated:
    if table.rule == "refuse":
        return NotStated()
    if table.rule == "halving":
        return Halving()
    return Arrhenius(table.activation_energy_joule_per_mole or ACTIVATION_ENERGY)


def _points(times: Sequence[StatedTime]) -> list[TimePoint]:
    return [TimePoint(one.temperature, one.duration) for one in times]


class CureCourse:
    """The lag between a coat and what waits for it [s of elapsed time]: see `network.Course`."""

    def __init__(self, cure: ProductCure, drying: float, *, window: bool) -> None:
        self._minimum = cure.minimum
        self._maximum = cure.maximum if window else None
        self._drying = drying

    def ready(self, finish: float) -> float:
        return max(finish + self._drying, to_millisecond(self._minimum.done(finish)))

    def closes(self, finish: float) -> float | None:
        return None if self._maximum is None else to_millisecond(self._maximum.done(finish))

    def finish_by(self, start: float) -> float:
        return min(start - self._drying, self._minimum.begun_by(start))

    def finish_from(self, start: float) -> float:
        return start if self._maximum is None else self._maximum.begun_by(start)


def window_of(before: Activity, after: Activity) -> bool:
    """Whether the second is a coat directly on the first."""
    return all(one.layer is not None and one.cure is not None for one in (before, after))
