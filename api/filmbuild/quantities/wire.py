"""Quantities as answers write them, and their JSON Schema."""

import math
from collections.abc import Callable
from functools import cache, lru_cache
from typing import Any, Literal

import msgspec

from filmbuild.quantities import units
from filmbuild.quantities.kinds import (
    Coordinate,
    Duration,
    Length,
    Measure,
    Quantity,
    Temperature,
)
from filmbuild.quantities.parsing import LONGEST_TEXT, Q, QuantityError, parse
from filmbuild.quantities.positive import all_kinds

UnitSystem = Literal["us", "si"]
Converter = Callable[[Any], object]


class UnitValue(msgspec.Struct, frozen=True):
    """A quantity in an answer."""

    value: float
    unit: str


def dec_hook(kind: type[Q], value: object) -> Q | Quantity:
    """For msgspec decoders; raises `QuantityError`.

    Where the base of all kinds is asked for, the unit says which kind it is, as answers write it.
    """
    if kind is Quantity:
        return _parse_by_unit(value)
    if issubclass(kind, Quantity):
        return parse(kind, value)
    raise NotImplementedError


def _parse_by_unit(value: object) -> Quantity:
    table = _kinds_by_unit()
    unit = value.get("unit") if isinstance(value, dict) else None
    kind = table.get(unit) if isinstance(unit, str) else None
    if kind is None:
        raise QuantityError(
            "unknown-unit",
            f'{{"value", "unit"}} as answers write it is accepted, in {", ".join(sorted(table))}',
        )
    return parse(kind, value)


@cache
def _kinds_by_unit() -> dict[str, type[Quantity]]:
    """The first kind that writes a unit is the one it is read back as."""
    table: dict[str, type[Quantity]] = {}
    for kind in all_kinds():
        if not kind.measure.positive and not issubclass(kind, Duration):
            table.setdefault(kind.measure.us, kind)
            table.setdefault(kind.measure.si, kind)
    return table


def unit_of(kind: type[Quantity], system: UnitSystem) -> units.Unit:
    measure = kind.measure
    return units.unit(measure.dimension, measure.us if system == "us" else measure.si)


def _clean(value: float) -> float:
    """Rounded to at least nine significant digits, so that 7.3152/0.3048 is written 24.0.

    Multiplying and dividing is three times as fast as rounding by digits. Raises `ValueError` for
    what is not finite, which JSON cannot say.
    """
    size = abs(value)
    if 1.0 <= size < 1e6:  # noqa: PLR2004 - up to here value * 1e9 is exact to the unit
        return round(value * 1e9) / 1e9
    if 1e-3 <= size < 1.0:  # noqa: PLR2004 - three digits more keep nine significant
        return round(value * 1e12) / 1e12
    if size < 1e-12:  # noqa: PLR2004 - far below the smallest size of any kind: what is left of zero
        return 0.0
    if not math.isfinite(value):
        raise ValueError(f"a computed quantity is {value}")
    return float(f"{value:.12g}")


def _clean_degrees(value: float) -> float:
    """To a billionth of a degree: scales with an offset have no small values to keep."""
    return _clean(round(value * 1e9) / 1e9)


def to_unit(quantity: Quantity, system: UnitSystem) -> tuple[float, str]:
    """The value and the unit's label; durations are in seconds."""
    if isinstance(quantity, Duration):
        return _clean(float(quantity)), "s"
    unit = unit_of(type(quantity), system)
    clean = _clean_degrees if isinstance(quantity, Temperature) else _clean
    return clean(unit.from_si(quantity)), unit.label


@lru_cache(maxsize=65_536)
def iso_duration(seconds: float) -> str:
    """ISO 8601 in days of 24 hours, hours, minutes and seconds, to the millisecond.

    Remembered: set-ups, minimums, stated times and whole shifts stand in every answer.
    """
    milliseconds = round(seconds * 1000)
    sign, milliseconds = ("-" if milliseconds < 0 else ""), abs(milliseconds)
    days, rest = divmod(milliseconds, 86_400_000)
    hours, rest = divmod(rest, 3_600_000)
    minutes, rest = divmod(rest, 60_000)
    text = f"{hours}H" * (hours > 0) + f"{minutes}M" * (minutes > 0)
    if rest:
        text += f"{rest / 1000:.3f}".rstrip("0").rstrip(".") + "S"
    if not days:
        return f"{sign}PT{text or '0S'}"
    return f"{sign}P{days}D" + (f"T{text}" if text else "")


REMEMBERED = 1_024
"""Values of a kind: two thirds of the quantities of an answer stand in it more than once."""


def _converter(kind: type[Quantity], system: UnitSystem) -> Converter:
    if issubclass(kind, Duration):
        return iso_duration
    unit = unit_of(kind, system)
    label, over, under, origin = unit
    if issubclass(kind, Temperature):
        return lambda degrees: UnitValue(_clean_degrees(degrees * under / over + origin), label)
    nothing = UnitValue(0.0, label)
    least = kind.measure.smallest * under / over

    def convert(quantity: float) -> UnitValue:
        value = quantity * under / over
        if not value:
            return nothing
        if 1.0 <= value < 1e6:  # noqa: PLR2004 - as `_clean` does, without the cost of a call
            return UnitValue(round(value * 1e9) / 1e9, label)
        if -least < value < least:
            return nothing  # what is left of zero: it would not be read back
        return UnitValue(_clean(value), label)

    return lru_cache(maxsize=REMEMBERED)(convert)


@cache
def converters(system: UnitSystem) -> dict[type, Converter]:
    """What turns each kind into something msgspec can encode."""
    return {kind: _converter(kind, system) for kind in all_kinds()}


@cache
def enc_hook(system: UnitSystem) -> Converter:
    table = converters(system)

    def hook(value: object) -> object:
        converter = table.get(type(value))
        if converter is None:
            raise NotImplementedError
        return converter(value)

    return hook


@cache
def encoder(system: UnitSystem) -> msgspec.json.Encoder:
    return msgspec.json.Encoder(enc_hook=enc_hook(system))


def _feet_and_inches(meters: float) -> str:
    """To the nearest eighth of an inch, as a tape is read."""
    eighths = round(abs(meters) / 0.0254 * 8)
    feet, rest = divmod(eighths, 96)
    inches, eighth = divmod(rest, 8)
    parts = [f"{feet} ft"] if feet else []
    fraction = {0: "", 2: "1/4", 4: "1/2", 6: "3/4"}.get(eighth, f"{eighth}/8")
    if inches or fraction or not feet:
        shown = " ".join(
            ([str(inches)] if inches or not fraction else []) + [fraction] * bool(fraction)
        )
        parts.append(f"{shown} in")
    return ("-" if meters < 0 and eighths else "") + " ".join(parts)


def _plain(value: float) -> str:
    size = abs(value)
    decimals = 1 if size >= 100 else 2 if size >= 1 else 4  # noqa: PLR2004 - about four digits
    text = f"{value:.{decimals}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _elapsed(seconds: float) -> str:
    days, rest = divmod(round(seconds), 86_400)
    hours, rest = divmod(rest, 3_600)
    minutes, left = divmod(rest, 60)
    amounts = ((days, "d"), (hours, "h"), (minutes, "min"), (left, "s"))
    return " ".join(f"{amount} {label}" for amount, label in amounts if amount) or "0 min"


def format_text(quantity: Quantity, system: UnitSystem) -> str:
    """For people to read: rounded, so not for computing."""
    if isinstance(quantity, Duration):
        return _elapsed(quantity)
    if system == "us" and isinstance(quantity, Length | Coordinate):
        return _feet_and_inches(quantity)
    value, label = to_unit(quantity, system)
    return f"{_plain(value)} {label.removeprefix('delta_')}"


def _number_schema(measure: Measure) -> dict[str, Any]:
    if measure.dimension.startswith("temperature") or measure.minimum < 0:
        return {"type": "number"}
    return {"type": "number", "exclusiveMinimum" if measure.positive else "minimum": 0}


def _describe(kind: type[Quantity]) -> str:
    measure = kind.measure
    sign = " More than zero." if measure.positive else ""
    listed = ", ".join(units.ACCEPTED[measure.dimension])
    return f"A {measure.name}, with its unit: {listed}.{sign}"


def schema_hook(kind: type) -> dict[str, Any]:
    """JSON Schema of a kind, for `msgspec.json.schema_components`."""
    if not issubclass(kind, Quantity):
        raise NotImplementedError
    if kind is Quantity:
        return {
            "description": "A quantity of any kind, with its unit.",
            "type": "object",
            "properties": {
                "value": {"type": "number"},
                "unit": {"enum": sorted(_kinds_by_unit())},
            },
            "required": ["value", "unit"],
        }
    measure = kind.measure
    examples = list(measure.examples)
    if issubclass(kind, Duration):
        return {
            "type": "string",
            # JSON Schema's own "duration" is that of RFC 3339, which has no fractions of a second
            "format": "iso8601-duration",
            "pattern": r"^P(?!$)([0-9.]+W)?([0-9.]+D)?(T(?!$)([0-9.]+H)?([0-9.]+M)?([0-9.]+S)?)?$",
            "description": "Elapsed time by ISO 8601, without years and months."
            + (" More than zero." if measure.positive else ""),
            "examples": examples,
        }
    text = {
        "type": "string",
        "minLength": 2,
        "maxLength": LONGEST_TEXT,
        "pattern": "^[0-9.]" if measure.minimum == 0 else "^[-+]?[0-9.]",
        "examples": examples,
    }
    pair = {
        "type": "object",
        "properties": {
            "value": _number_schema(measure),
            "unit": {"enum": list(units.ACCEPTED[measure.dimension])},
        },
        "required": ["value", "unit"],
        "additionalProperties": False,
    }
    return {"description": _describe(kind), "anyOf": [pair, text]}
