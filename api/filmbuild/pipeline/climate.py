"""Dew point, and whether the air and the floor are fit for applying a coat.

Dew point is taken over water, by the Magnus form with the constants of Alduchov and Eskridge,
J. Appl. Meteorol. 35 (1996) 601, which hold from -40 to 50 degC.
"""

import math
from bisect import bisect_right
from collections.abc import Sequence
from typing import Literal

import msgspec

MAGNUS_SLOPE = 17.625
MAGNUS_OFFSET = 243.04
MARGIN_3_CELSIUS = 3.0
MARGIN_5_FAHRENHEIT = 5 / 1.8

Measure = Literal["air_temperature", "surface_temperature", "relative_humidity"]


class Conditions(msgspec.Struct, frozen=True):
    """Air and surface temperature [degC] and relative humidity [%] at one place and moment."""

    air: float
    surface: float
    relative_humidity: float


class ApplicationLimits(msgspec.Struct, frozen=True, kw_only=True):
    """What a product allows while it is applied: temperatures [degC], relative humidity [%].

    `dew_point_margin` [K] is how far the surface must stay above the dew point: 3 K by ISO 8502-4,
    or 5 degF = 2.78 K in United States practice; the two are not the same rule.
    """

    air_minimum: float | None = None
    air_maximum: float | None = None
    surface_minimum: float | None = None
    surface_maximum: float | None = None
    humidity_maximum: float | None = None
    dew_point_margin: float = MARGIN_3_CELSIUS


class Opening(msgspec.Struct, frozen=True):
    """One change that would meet a limit, other conditions staying as they are: degC or %."""

    measure: Measure
    bound: Literal["at_least", "at_most"]
    value: float


class Breach(msgspec.Struct, frozen=True):
    """A limit that is not met. `actual` and `limit` are in degC, % or, for the margin, K.

    Any one of `opens` alone would meet this limit.
    """

    condition: Literal[
        "air_too_cold",
        "air_too_warm",
        "surface_too_cold",
        "surface_too_warm",
        "humidity_too_high",
        "surface_too_near_dew_point",
    ]
    actual: float
    limit: float
    opens: tuple[Opening, ...]


def dew_point(air: float, relative_humidity: float) -> float:
    """Dew point [degC] of air [degC] at a relative humidity [%]; minus infinity for dry air.

    Magnus: g = ln(RH/100) + a T/(b + T), Td = b g/(a - g).
    """
    fraction = relative_humidity / 100
    if fraction <= 0:
        return -math.inf
    exponent = math.log(fraction) + MAGNUS_SLOPE * air / (MAGNUS_OFFSET + air)
    return MAGNUS_OFFSET * exponent / (MAGNUS_SLOPE - exponent)


def humidity_at_dew_point(air: float, dew: float) -> float:
    """Relative humidity [%] at which air [degC] has this dew point [degC]."""
    difference = dew / (MAGNUS_OFFSET + dew) - air / (MAGNUS_OFFSET + air)
    return 100 * math.exp(MAGNUS_SLOPE * difference)


def dew_point_margin(conditions: Conditions) -> float:
    """How far the surface is above the dew point [K]."""
    return conditions.surface - dew_point(conditions.air, conditions.relative_humidity)


def gate(conditions: Conditions, limits: ApplicationLimits) -> tuple[Breach, ...]:
    """Every limit the conditions do not meet; none when the coat may be applied."""
    breaches = [
        *_temperature_breaches(conditions, limits),
        *_humidity_breaches(conditions, limits),
        *_dew_point_breaches(conditions, limits),
    ]
    return tuple(breaches)


def is_open(conditions: Conditions, limits: ApplicationLimits) -> bool:
    """Whether `gate` finds nothing, told without working out what would help."""
    air, surface = conditions.air, conditions.surface
    return (
        (limits.air_minimum is None or air >= limits.air_minimum)
        and (limits.air_maximum is None or air <= limits.air_maximum)
        and (limits.surface_minimum is None or surface >= limits.surface_minimum)
        and (limits.surface_maximum is None or surface <= limits.surface_maximum)
        and (
            limits.humidity_maximum is None
            or conditions.relative_humidity <= limits.humidity_maximum
        )
        and dew_point_margin(conditions) >= limits.dew_point_margin
    )


def _temperature_breaches(conditions: Conditions, limits: ApplicationLimits) -> list[Breach]:
    found = []
    air, surface = conditions.air, conditions.surface
    if limits.air_minimum is not None and air < limits.air_minimum:
        opening = Opening("air_temperature", "at_least", limits.air_minimum)
        found.append(Breach("air_too_cold", air, limits.air_minimum, (opening,)))
    if limits.air_maximum is not None and air > limits.air_maximum:
        opening = Opening("air_temperature", "at_most", limits.air_maximum)
        found.append(Breach("air_too_warm", air, limits.air_maximum, (opening,)))
    if limits.surface_minimum is not None and surface < limits.surface_minimum:
        opening = Opening("surface_temperature", "at_least", limits.surface_minimum)
        found.append(Breach("surface_too_cold", surface, limits.surface_minimum, (opening,)))
    if limits.surface_maximum is not None and surface > limits.surface_maximum:
        opening = Opening("surface_temperature", "at_most", limits.surface_maximum)
        found.append(Breach("surface_too_warm", surface, limits.surface_maximum, (opening,)))
    return found


def _humidity_breaches(conditions: Conditions, limits: ApplicationLimits) -> list[Breach]:
    limit, actual = limits.humidity_maximum, conditions.relative_humidity
    if limit is None or actual <= limit:
        return []
    return [
        Breach(
            "humidity_too_high", actual, limit, (Opening("relative_humidity", "at_most", limit),)
        )
    ]


def _dew_point_breaches(conditions: Conditions, limits: ApplicationLimits) -> list[Breach]:
    margin = dew_point_margin(conditions)
    if margin >= limits.dew_point_margin:
        return []
    warmer = dew_point(conditions.air, conditions.relative_humidity) + limits.dew_point_margin
    drier = humidity_at_dew_point(conditions.air, conditions.surface - limits.dew_point_margin)
    openings = (
        Opening("surface_temperature", "at_least", warmer),
        Opening("relative_humidity", "at_most", drier),
    )
    return [Breach("surface_too_near_dew_point", margin, limits.dew_point_margin, openings)]


def open_windows(
    moments: Sequence[float], forecast: Sequence[Conditions], limits: ApplicationLimits
) -> tuple[tuple[float, float], ...]:
    """The stretches [s, s] of a forecast in which every limit is met.

    `moments` rise and number one more than the steps: step n runs from moment n to moment n + 1.
    """
    windows: list[tuple[float, float]] = []
    for begin, end, conditions in zip(moments, moments[1:], forecast, strict=False):
        if gate(conditions, limits):
            continue
        if windows and windows[-1][1] == begin:
            windows[-1] = (windows[-1][0], end)
        else:
            windows.append((begin, end))
    return tuple(windows)


def earliest_open(
    windows: Sequence[tuple[float, float]], start: float, duration: float
) -> float | None:
    """Earliest moment from `start` on at which a window stays open for `duration` [s]."""
    first = max(0, bisect_right(windows, start, key=lambda window: window[0]) - 1)
    for begin, end in windows[first:]:
        moment = max(start, begin)
        if moment + duration <= end:
            return moment
    return None
