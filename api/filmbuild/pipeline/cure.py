"""How temperature changes working life, recoat and cure times.

A product states times at a few temperatures. Between them the logarithm of time runs straight in
temperature; outside them the rule named by the product takes over from the nearest stated time.
"""

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

import msgspec

GAS_CONSTANT = 8.314462618  # J/(mol K), exact to these digits since the 2019 SI
ICE_POINT = 273.15
EC2_ICE_POINT = 273.0  # EN 1992-1-1 prints the rounded value


MOST_KNOWN_RATES = 4_096


class TimePoint(msgspec.Struct, frozen=True):
    """The time [s] a product states for one temperature [degC]."""

    temperature: float
    duration: float


class Arrhenius(msgspec.Struct, frozen=True):
    """Rate follows exp(-Ea/(R T)) with an activation energy [J/mol] and T in kelvin."""

    activation_energy: float


class Halving(msgspec.Struct, frozen=True):
    """Time halves for each `step` [K] warmer: common practice, no source."""

    step: float = 10.0


OutsideRule = Arrhenius | Halving


class CureTime(msgspec.Struct, frozen=True):
    """A time [s], and where it comes from: stated, between two stated, or by the outside rule.

    `stated` holds the points it was worked out from.
    """

    duration: float
    rule: Literal["table", "interpolated", "arrhenius", "halving"]
    stated: tuple[TimePoint, ...]


class TemperatureStep(msgspec.Struct, frozen=True):
    """A stretch of time [s] at one temperature [degC]."""

    duration: float
    temperature: float


class CureProgress(msgspec.Struct, frozen=True):
    """`fraction` of the cure reached by the end of a series, and when it was complete [s]."""

    fraction: float
    elapsed: float | None


def table_faults(points: Sequence[TimePoint]) -> list[str]:
    """What is wrong with a product's stated times; empty when they can be used."""
    if not points:
        return ["state a time for at least one temperature"]
    faults = [
        f"{point.temperature:g} degC is not above absolute zero"
        for point in points
        if not (math.isfinite(point.temperature) and point.temperature > -ICE_POINT)
    ]
    faults += [
        f"the time at {point.temperature:g} degC must be more than nothing"
        for point in points
        if not (math.isfinite(point.duration) and point.duration > 0)
    ]
    for cooler, warmer in pairwise(sorted(points, key=_temperature)):
        if cooler.temperature == warmer.temperature:
            faults.append(f"{cooler.temperature:g} degC is stated more than once")
        elif warmer.duration > cooler.duration:
            faults.append(
                f"the time at {warmer.temperature:g} degC is longer than at "
                f"{cooler.temperature:g} degC; times fall as temperature rises"
            )
    return faults


def time_at(points: Sequence[TimePoint], temperature: float, outside: OutsideRule) -> CureTime:
    """The product's time at a temperature [degC]; `points` are free of `table_faults`."""
    ordered = sorted(points, key=_temperature)
    for point in ordered:
        if point.temperature == temperature:
            return CureTime(point.duration, "table", (point,))
    for cooler, warmer in pairwise(ordered):
        if cooler.temperature < temperature < warmer.temperature:
            return _interpolated(cooler, warmer, temperature)
    nearest = ordered[0] if temperature < ordered[0].temperature else ordered[-1]
    return _outside(nearest, temperature, outside)


class NotStated(msgspec.Struct, frozen=True):
    """A product that says nothing beyond its table, read on the safe side.

    Warmer than stated it cures no faster than at the warmest point; colder it makes no progress,
    or with `goes_on` as much as at the coldest point: a window that closes is not held open.
    """

    goes_on: bool = False


class CureRate:
    """Progress per second, 1 / `time_at`, of one table: read quickly at many temperatures."""

    def __init__(self, points: Sequence[TimePoint], outside: OutsideRule | NotStated) -> None:
        ordered = sorted(points, key=_temperature)
        self._temperatures = [point.temperature for point in ordered]
        self._logarithms = [-math.log(point.duration) for point in ordered]
        self._slopes = [
            math.log(cooler.duration / warmer.duration) / (warmer.temperature - cooler.temperature)
            for cooler, warmer in pairwise(ordered)
        ]
        self._outside = outside
        self._known: dict[float, float] = {}

    def at(self, temperature: float) -> float:
        """Weather comes to a tenth of a degree, so that few temperatures are worked out."""
        rate = self._known.get(temperature)
        if rate is None:
            if len(self._known) >= MOST_KNOWN_RATES:
                self._known.clear()
            rate = self._known[temperature] = self._worked_out(temperature)
        return rate

    def _worked_out(self, temperature: float) -> float:
        stated = self._temperatures
        place = bisect_right(stated, temperature) - 1
        if 0 <= place < len(self._slopes):
            beyond = temperature - stated[place]
            return math.exp(self._logarithms[place] + self._slopes[place] * beyond)
        place = max(place, 0)
        rate = math.exp(self._logarithms[place])
        if temperature == stated[place]:
            return rate
        if isinstance(self._outside, NotStated):
            return rate if temperature > stated[place] or self._outside.goes_on else 0.0
        if isinstance(self._outside, Halving):
            return rate * halving_factor(temperature, stated[place], self._outside.step)
        energy = self._outside.activation_energy
        return rate * arrhenius_factor(temperature, stated[place], energy)

    def covers(self, temperature: float) -> bool:
        """Whether the table itself reaches a temperature."""
        return self._temperatures[0] <= temperature <= self._temperatures[-1]


def _temperature(point: TimePoint) -> float:
    return point.temperature


def _interpolated(cooler: TimePoint, warmer: TimePoint, temperature: float) -> CureTime:
    share = (temperature - cooler.temperature) / (warmer.temperature - cooler.temperature)
    duration = cooler.duration * (warmer.duration / cooler.duration) ** share
    return CureTime(duration, "interpolated", (cooler, warmer))


def _outside(nearest: TimePoint, temperature: float, outside: OutsideRule) -> CureTime:
    if isinstance(outside, Halving):
        factor = halving_factor(temperature, nearest.temperature, outside.step)
        rule: Literal["halving", "arrhenius"] = "halving"
    else:
        factor = arrhenius_factor(temperature, nearest.temperature, outside.activation_energy)
        rule = "arrhenius"
    duration = nearest.duration / factor if factor > 0 else math.inf
    return CureTime(duration, rule, (nearest,))


def arrhenius_factor(temperature: float, reference: float, activation_energy: float) -> float:
    """Rate at a temperature relative to a reference [degC]: exp(-Ea/R (1/T - 1/Ts)), kelvin.

    ASTM C1074 states it for concrete; the form is the general Arrhenius equation.
    """
    if temperature <= -ICE_POINT:
        return 0.0
    difference = 1 / (temperature + ICE_POINT) - 1 / (reference + ICE_POINT)
    return math.exp(min(-activation_energy / GAS_CONSTANT * difference, 700.0))


def halving_factor(temperature: float, reference: float, step: float = 10.0) -> float:
    """Rate at a temperature relative to a reference [degC], doubling for each `step` [K]."""
    return float(2.0 ** max(min((temperature - reference) / step, 1000.0), -1000.0))


def equivalent_age(
    steps: Sequence[TemperatureStep], activation_energy: float, reference: float = 20.0
) -> float:
    """Time [s] at the reference [degC] with the same progress: sum of rate factor x time."""
    return math.fsum(
        step.duration * arrhenius_factor(step.temperature, reference, activation_energy)
        for step in steps
    )


def temperature_adjusted_age(steps: Sequence[TemperatureStep]) -> float:
    """Concrete age [s] adjusted for temperature: EN 1992-1-1:2004 Annex B, equation B.10.

    tT = sum of exp(-(4000/(273 + T) - 13.65)) dt.
    """
    return math.fsum(
        step.duration * math.exp(13.65 - 4000 / (EC2_ICE_POINT + step.temperature))
        for step in steps
    )


def nurse_saul_maturity(steps: Sequence[TemperatureStep], datum: float = 0.0) -> float:
    """Maturity [K s] above a datum temperature [degC] (ASTM C1074); colder steps add nothing."""
    return math.fsum(step.duration * max(step.temperature - datum, 0.0) for step in steps)


def cure_progress(
    points: Sequence[TimePoint], outside: OutsideRule, steps: Sequence[TemperatureStep]
) -> CureProgress:
    """Follow a cure through a temperature series: the integral of dt/time(T) reaches 1 when done."""
    fraction, elapsed = 0.0, 0.0
    done: float | None = None
    for step in steps:
        needed = time_at(points, step.temperature, outside).duration
        gained = step.duration / needed
        if done is None and fraction + gained >= 1:
            done = elapsed + (1 - fraction) * needed
        fraction += gained
        elapsed += step.duration
    return CureProgress(min(fraction, 1.0), done)
