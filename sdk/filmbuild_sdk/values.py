"""Quantities, money and the words of the models."""

import datetime as dt
import re
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Annotated, Protocol, TypeVar

from msgspec import Meta, Struct

Moment = Annotated[dt.datetime, Meta(tz=True)]

_FEET_AND_INCHES = re.compile(
    r"(?P<sign>-)?\s*"
    r"(?:(?P<feet>[0-9]+(?:\.[0-9]+)?)\s*(?:ft|'))?\s*"
    r"(?:(?:(?P<inches>[0-9]+(?:\.[0-9]+)?)(?:[\s-]+|(?=\s*(?:in|\"))))?"
    r"(?P<part>[0-9]+/[0-9]+)?\s*(?:in|\"))?"
)

if TYPE_CHECKING:
    W = TypeVar("W")
    Choice = Annotated[W, "the words known today"]
else:

    class Choice:
        """Type checkers see the words that are known today; any other text is read as well."""

        def __class_getitem__(cls, _words: object) -> type[str]:
            return str


class Quantity(Struct, frozen=True):
    """A value and its unit, as answers give it: in the unit system that the request asked for."""

    value: float
    unit: str

    def __str__(self) -> str:
        return f"{self.value:g} {self.unit}"


class Money(Struct, frozen=True):
    """An exact amount and the ISO 4217 code of its currency."""

    amount: Decimal
    currency: str

    def __str__(self) -> str:
        return f"{self.amount:f} {self.currency}"


class Input(Struct, frozen=True, kw_only=True, omit_defaults=True, repr_omit_defaults=True):
    """Base of what is sent: what is left out is not sent, and the service's default holds."""


class Answer(Struct, frozen=True, kw_only=True):
    """Base of what is answered: fields that this version does not know are passed over."""


class Measured(Protocol):
    """A quantity of the pint library, which need not be installed."""

    @property
    def magnitude(self) -> object: ...
    @property
    def units(self) -> object: ...


# units of pint, by the names that it writes out, as the service writes them
_UNITS = {
    "meter": "m",
    "centimeter": "cm",
    "millimeter": "mm",
    "micrometer": "um",
    "foot": "ft",
    "inch": "in",
    "yard": "yd",
    "thou": "mil",
    "meter ** 2": "m2",
    "foot ** 2": "ft2",
    "yard ** 2": "yd2",
    "inch ** 2": "in2",
    "meter ** 3": "m3",
    "liter": "L",
    "milliliter": "mL",
    "gallon": "gal",
    "kilogram": "kg",
    "gram": "g",
    "pound": "lb",
    "degree_Celsius": "degC",
    "degree_Fahrenheit": "degF",
    "kelvin": "K",
    "pound / gallon": "lb/gal",
    "kilogram / liter": "kg/L",
    "kilogram / meter ** 3": "kg/m3",
    "foot ** 2 / gallon": "ft2/gal",
    "meter ** 2 / liter": "m2/L",
}


def quantity(value: Measured) -> Quantity:
    """A quantity of pint as the service reads it. Raises ValueError for a unit that it does not."""
    name = format(value.units, "D")
    unit = _UNITS.get(name)
    if unit is None:
        raise ValueError(f"convert {name} first, to one of: {', '.join(_UNITS)}")
    return Quantity(float(str(value.magnitude)), unit)


def ft(text: str) -> Quantity:
    r"""Feet and inches as they are said: "24 ft 6 in", "24' 6 1/2 in", "6 in", "-3 ft".

    Raises ValueError for any other text.
    """
    found = _FEET_AND_INCHES.fullmatch(text.strip())
    if found is None or not (found["feet"] or found["inches"] or found["part"]):
        raise ValueError(f"{text!r} is not feet and inches such as 24 ft 6 1/2 in")
    whole = Fraction(found["inches"] or 0)
    if found["part"]:
        over, under = found["part"].split("/")
        if not int(under):
            raise ValueError(f"{text!r} divides by zero")
        whole += Fraction(int(over), int(under))
    total = Fraction(found["feet"] or 0) + whole / 12
    return Quantity(float(-total if found["sign"] else total), "ft")


def feet(feet: float, inches: float = 0) -> Quantity:
    """Inches count away from zero, so that -(24 ft 6 in) is `feet(-24, 6)`."""
    part = inches / 12
    return Quantity(feet - part if feet < 0 else feet + part, "ft")


def inches(inches: float) -> Quantity:
    return Quantity(inches, "in")


def mils(mils: float) -> Quantity:
    """Thousandths of an inch, for films."""
    return Quantity(mils, "mil")


def metres(metres: float) -> Quantity:
    return Quantity(metres, "m")


def millimetres(millimetres: float) -> Quantity:
    return Quantity(millimetres, "mm")


def micrometres(micrometres: float) -> Quantity:
    return Quantity(micrometres, "um")


def square_feet(square_feet: float) -> Quantity:
    return Quantity(square_feet, "ft2")


def square_metres(square_metres: float) -> Quantity:
    return Quantity(square_metres, "m2")


def fahrenheit(degrees: float) -> Quantity:
    return Quantity(degrees, "degF")


def celsius(degrees: float) -> Quantity:
    return Quantity(degrees, "degC")
