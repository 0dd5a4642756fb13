"""Quantities, money and the words of the models."""

import datetime as dt
from decimal import Decimal
from typing import TYPE_CHECKING, Annotated, TypeVar

from msgspec import Meta, Struct

Moment = Annotated[dt.datetime, Meta(tz=True)]

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
