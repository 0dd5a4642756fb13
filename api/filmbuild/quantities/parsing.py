"""Quantities as callers write them: {"value", "unit"}, text such as "24 ft 6 in", ISO 8601."""

import math
import re
from functools import lru_cache
from typing import TypeVar

from filmbuild.errors import Refusal
from filmbuild.quantities import units
from filmbuild.quantities.kinds import Duration, Measure, Quantity

Q = TypeVar("Q", bound=Quantity)
LONGEST_TEXT = 64
_NUMBER = re.compile(
    r"(?:(?P<whole>[0-9]{1,9})[ -])?(?P<over>[0-9]{1,6})/(?P<under>[0-9]{1,6})(?![0-9])"
    r"|(?P<decimal>(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?)"
)
_UNIT = re.compile(
    r" *(?P<unit>['\"\u2032\u2033]"
    r"|(?:sq|square|cu|cubic|fl|fluid)\.? [A-Za-z]+(?:/[^ ,'\"]+)?"
    r"|lbs?/1000 (?:sq )?[a-z2²^]+/24 [a-z]+|[^ 0-9.,+'\"/-][^ ,'\"]*)"
)
_DURATION = re.compile(
    r"P(?!$)(?:(?P<w>[0-9]{1,9}(?:\.[0-9]{1,9})?)W)?(?:(?P<d>[0-9]{1,9}(?:\.[0-9]{1,9})?)D)?"
    r"(?:T(?!$)(?:(?P<h>[0-9]{1,9}(?:\.[0-9]{1,9})?)H)?(?:(?P<m>[0-9]{1,9}(?:\.[0-9]{1,9})?)M)?"
    r"(?:(?P<s>[0-9]{1,12}(?:\.[0-9]{1,9})?)S)?)?"
)
_SECONDS = {"w": 604_800.0, "d": 86_400.0, "h": 3_600.0, "m": 60.0, "s": 1.0}


class QuantityError(Refusal):
    """Why a value is not a quantity of the kind asked for."""


def parse(kind: type[Q], value: object) -> Q:
    measure = kind.measure
    if type(value) is dict:
        si = _from_object(measure, value)
    elif type(value) is str:
        si = _from_text(measure.dimension, value) if value else _refuse(measure, value)
    else:
        si = _refuse(measure, value)
    if measure.smallest <= si <= measure.maximum:
        return kind(si + 0.0)  # zero for minus zero
    return kind(_check_range(measure, si))


def _check_range(measure: Measure, si: float) -> float:
    if si == 0.0 and measure.minimum <= 0.0 and not measure.positive:
        return 0.0
    if si <= 0.0 and measure.positive:
        raise QuantityError("not-positive", f"a {measure.name} must be more than zero here")
    if si < measure.minimum:
        if measure.minimum == 0.0:
            raise QuantityError("negative", f"a {measure.name} must be zero or more here")
        raise QuantityError("too-small", f"at least {_shown(measure, measure.minimum)} is accepted")
    if si > measure.maximum:
        raise QuantityError("too-large", f"at most {_shown(measure, measure.maximum)} is accepted")
    if measure.minimum == 0.0 and si < measure.smallest:
        raise QuantityError(
            "too-small", f"at least {_shown(measure, measure.smallest)} is accepted"
        )
    return si


def _shown(measure: Measure, si: float) -> str:
    if measure.dimension == "duration":
        return f"{si:g} seconds"
    unit = units.unit(measure.dimension, measure.si)
    return f"{unit.from_si(si):.10g} {unit.label}"


def accepted(measure: Measure) -> str:
    """What a caller may write, for the detail of a refusal."""
    examples = " or ".join(f'"{example}"' for example in measure.examples)
    if measure.dimension == "duration":
        return f"an ISO 8601 duration in weeks, days, hours, minutes and seconds such as {examples}"
    return f'text such as {examples}, or {{"value": 1, "unit": "{measure.si}"}}'


def _refuse(measure: Measure, value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise QuantityError(
            "not-a-quantity", f"not a {measure.name}; accepted: {accepted(measure)}"
        )
    raise QuantityError(
        "missing-unit", f"a number alone has no unit; accepted: {accepted(measure)}"
    )


def _from_object(measure: Measure, value: dict[object, object]) -> float:
    number, spelling = value.get("value"), value.get("unit")
    if len(value) != 2 or "value" not in value or "unit" not in value:  # noqa: PLR2004 - the two keys
        raise QuantityError(
            "not-a-quantity", 'exactly the two members "value" and "unit" are accepted'
        )
    if measure.dimension == "duration":
        return _refuse(measure, value)
    if type(number) is not float and type(number) is not int:
        raise QuantityError("not-a-number", '"value" must be a JSON number')
    if type(spelling) is not str:
        raise QuantityError("unknown-unit", f'"unit" must be text; {_units(measure.dimension)}')
    unit = _find(measure.dimension, spelling)
    try:
        si = unit.to_si(number)
    except OverflowError:
        si = math.inf
    if si - si == 0.0 or number - number == 0:
        return si
    raise QuantityError("not-finite", f"a {measure.name} must be a finite number")


def _units(dimension: str) -> str:
    return f"accepted units: {', '.join(units.ACCEPTED[dimension])}"


@lru_cache(maxsize=1024)
def _find(dimension: str, spelling: str) -> units.Unit:
    unit = units.find(dimension, spelling) if len(spelling) <= LONGEST_TEXT else None
    if unit is not None:
        return unit
    shown = spelling if len(spelling) <= LONGEST_TEXT else f"{spelling[:20]}..."
    other = units.dimension_of(spelling) if len(spelling) <= LONGEST_TEXT else None
    if other is None:
        raise QuantityError("unknown-unit", f'unit "{shown}" is not known; {_units(dimension)}')
    raise QuantityError(
        "wrong-dimension", f'"{shown}" is a unit of {other}, not {dimension}; {_units(dimension)}'
    )


@lru_cache(maxsize=4096)
def _from_text(dimension: str, text: str) -> float:
    if len(text) > LONGEST_TEXT:
        raise QuantityError("too-long", f"at most {LONGEST_TEXT} characters are read as a quantity")
    if dimension == "duration":
        return _duration(text)
    negative = text[0] == "-"
    total = 0.0
    previous: units.Unit | None = None
    position = 1 if text[0] in "-+" else 0
    end = len(text.rstrip())
    while position < end or previous is None:
        number, whole, position = _number(dimension, text, position)
        unit, position = _unit(dimension, text, position)
        if previous is not None and unit.to_si(1.0) >= previous.to_si(1.0):
            raise QuantityError(
                "not-a-quantity", "parts must go from the larger unit to the smaller"
            )
        if previous is not None and unit.to_si(number) >= previous.to_si(1.0):
            raise _too_many(previous, unit)
        if position < end and (dimension not in units.COMPOUND or not whole):
            raise QuantityError(
                "not-a-quantity",
                f'"{text[position:end].strip()}" after the unit is not understood; '
                "only whole numbers of a larger unit can be followed by a smaller one",
            )
        total += unit.to_si(-number if negative else number)
        previous = unit
    return total


def _too_many(larger: units.Unit, smaller: units.Unit) -> QuantityError:
    count = larger.to_si(1.0) / smaller.to_si(1.0)
    return QuantityError(
        "part-too-large",
        f"after {larger.label} fewer than {count:.6g} {smaller.label} are accepted; "
        f"count each {count:.6g} {smaller.label} as one {larger.label} more",
    )


def _number(dimension: str, text: str, position: int) -> tuple[float, bool, int]:
    """The number, whether it is whole, and where its unit begins."""
    found = _NUMBER.match(text, position)
    if found is None:
        raise QuantityError(
            "not-a-quantity", f"a number and its unit are accepted; {_units(dimension)}"
        )
    if text.startswith(",", found.end()):
        raise QuantityError(
            "decimal-comma",
            'a comma may mean thousands or decimals; write "1200" or "12.5", with a point',
        )
    if found["under"] is None:
        number = float(found["decimal"])
        return number, number.is_integer(), found.end()
    under = int(found["under"])
    if under == 0:
        raise QuantityError("not-a-quantity", "a fraction cannot have zero below the line")
    return (int(found["whole"] or 0) + int(found["over"]) / under), False, found.end()


def _unit(dimension: str, text: str, position: int) -> tuple[units.Unit, int]:
    """The unit, and where the next part begins."""
    found = _UNIT.match(text, position)
    if found is None:
        if text[position:].strip():
            raise QuantityError(
                "unknown-unit", f'"{text[position:].strip()}" is not a unit; {_units(dimension)}'
            )
        raise QuantityError("missing-unit", f"the number has no unit; {_units(dimension)}")
    unit = _find(dimension, found["unit"])
    end = found.end()
    # drawings write 24'-6"
    if found["unit"] in "'\u2032" and text.startswith("-", end):
        return unit, end + 1
    while text.startswith(" ", end):
        end += 1
    return unit, end


def _duration(text: str) -> float:
    found = _DURATION.fullmatch(text)
    if found is None:
        reason = "not a duration"
        if re.match(r"P[^T]*[YM]", text):
            reason = "years and months differ in length and are not read"
        elif text.startswith("-"):
            reason = "a duration cannot be negative"
        raise QuantityError("not-a-duration", f"{reason}; accepted: {accepted(Duration.measure)}")
    return sum(float(part) * _SECONDS[name] for name, part in found.groupdict().items() if part)
