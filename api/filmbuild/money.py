"""Exact decimals, currencies and rounding to what can be paid."""

import re
from collections.abc import Callable, Sequence
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from functools import cache
from typing import Any, ClassVar, TypeVar

import msgspec
from iso4217 import Currency as Iso4217

from filmbuild.errors import Refusal

E = TypeVar("E", bound="Exact")
_DECIMAL = re.compile(r"-?[0-9]{1,12}(?:\.[0-9]{1,6})?")
# wide enough that no product of two accepted decimals loses a digit before it is rounded
_WIDE = Context(prec=60)
_DIGITS = r"[0-9]{1,12}(\.[0-9]{1,6})?"


class MoneyError(Refusal):
    """Why a value is not an exact decimal, a currency or an amount that can be paid."""


class Exact(Decimal):
    """A decimal that travels as text, of at most 12 digits before and 6 after the point.

    Calling it checks nothing; `parse_exact` is what checks. Arithmetic gives plain decimals.
    """

    __slots__ = ()
    minimum: ClassVar[Decimal | None] = None
    maximum: ClassVar[Decimal | None] = None
    positive: ClassVar[bool] = False
    pattern: ClassVar[str] = f"^-?{_DIGITS}$"


class NonNegativeExact(Exact):
    """Zero or more."""

    __slots__ = ()
    minimum = Decimal(0)
    pattern = f"^(-0(\\.0+)?|{_DIGITS})$"


class PositiveExact(Exact):
    """More than zero."""

    __slots__ = ()
    minimum = Decimal(0)
    positive = True
    pattern = f"^(?=.*[1-9]){_DIGITS}$"


class Percent(Exact):
    """Per hundred, from 0 to 1000."""

    __slots__ = ()
    minimum = Decimal(0)
    maximum = Decimal(1000)
    pattern = r"^0{0,8}([0-9]{1,3}(\.[0-9]{1,6})?|1000(\.0{1,6})?)$"


class Currency(str):
    """An ISO 4217 alphabetic code of a currency that has minor units."""

    __slots__ = ()


def parse_exact(kind: type[E], value: object) -> E:
    if not isinstance(value, str) or _DECIMAL.fullmatch(value) is None:
        raise MoneyError(
            "not-a-decimal-string",
            'accepted: text such as "12.50" with at most 12 digits before and 6 after a point; '
            "not a JSON number, which would lose digits",
        )
    exact = kind(value)
    if not exact:
        exact = kind(exact.copy_abs())
    if kind.positive and exact <= 0:
        raise MoneyError("not-positive", "must be more than zero")
    if kind.minimum is not None and exact < kind.minimum:
        raise MoneyError("negative", f"must be {kind.minimum} or more")
    if kind.maximum is not None and exact > kind.maximum:
        raise MoneyError("too-large", f"must be {kind.maximum} or less")
    return exact


@cache
def _minor_units() -> dict[str, int]:
    """ISO 4217 list one; codes without minor units (gold, test codes) cannot be paid in."""
    return {entry.code: entry.exponent for entry in Iso4217 if entry.exponent is not None}


def parse_currency(value: object) -> Currency:
    if not isinstance(value, str) or value not in _minor_units():
        raise MoneyError(
            "unknown-currency", 'accepted: an ISO 4217 currency code in capitals such as "USD"'
        )
    return Currency(value)


def minor_units(currency: str) -> int:
    """How many decimals an amount has; raises `MoneyError`."""
    try:
        return _minor_units()[currency]
    except KeyError:
        raise MoneyError("unknown-currency", f'"{currency}" is not an ISO 4217 currency') from None


@cache
def _step(currency: str) -> Decimal:
    return Decimal(1).scaleb(-minor_units(currency))


def round_money(amount: Decimal, currency: str) -> Exact:
    """To the minor unit, halves away from zero, so that a credit mirrors its charge."""
    rounded = amount.quantize(_step(currency), rounding=ROUND_HALF_UP, context=_WIDE)
    return Exact(rounded or rounded.copy_abs())


class Money(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """An amount that can be paid: never finer than the minor unit, and always written to it."""

    amount: Exact
    currency: Currency

    def __post_init__(self) -> None:
        rounded = round_money(self.amount, self.currency)
        if rounded != self.amount:
            digits = minor_units(self.currency)
            raise MoneyError(
                "too-precise",
                f"{self.currency} amounts have {digits} decimals; {self.amount:f} has more",
            )
        msgspec.structs.force_setattr(self, "amount", rounded)


class UnitPrice(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A price for one of something, which may be finer than the minor unit."""

    amount: NonNegativeExact
    currency: Currency


def rounded(amount: Decimal, currency: Currency) -> Money:
    return Money(round_money(amount, currency), currency)


def tax_of(base: Decimal, rate_percent: Decimal, currency: str) -> Exact:
    """EN 16931 rule BR-CO-17: taxable amount times rate over 100, rounded once."""
    product = _WIDE.divide(_WIDE.multiply(base, rate_percent), Decimal(100))
    return round_money(product, currency)


def allocate(total: Decimal, weights: Sequence[Decimal], currency: str) -> tuple[Exact, ...]:
    """Shares of `total` in minor units that add up to it, by the largest-remainder method.

    `total` must be rounded already. Equal remainders favour the earlier share. A negative total
    gives the mirror image of the positive one.
    """
    step = _step(currency)
    units = int(_WIDE.divide(total.copy_abs(), step))
    if units * step != total.copy_abs():
        raise MoneyError("too-precise", f"{total:f} is not in minor units of {currency}")
    parts = [Fraction(weight) for weight in weights]
    whole = sum(parts)
    if whole <= 0 or min(parts) < 0:
        raise MoneyError("no-weights", "weights must be zero or more and not all zero")
    quotas = [units * part / whole for part in parts]
    shares = [int(quota) for quota in quotas]
    by_remainder = sorted(range(len(parts)), key=lambda place: shares[place] - quotas[place])
    for place in by_remainder[: units - sum(shares)]:
        shares[place] += 1
    sign = -1 if total < 0 else 1
    return tuple(round_money(sign * share * step, currency) for share in shares)


def exact_text(value: Decimal) -> str:
    text = str(value)
    return f"{value:f}" if "E" in text else text  # formatting takes twice as long


_EXACT_KINDS = (Exact, NonNegativeExact, PositiveExact, Percent)
converters: dict[type, Callable[[Any], object]] = {
    **dict.fromkeys(_EXACT_KINDS, exact_text),
    Currency: str.__str__,
}


def dec_hook(kind: type, value: object) -> object:
    """For msgspec decoders; raises `MoneyError`."""
    if issubclass(kind, Exact):
        return parse_exact(kind, value)
    if issubclass(kind, Currency):
        return parse_currency(value)
    raise NotImplementedError


def schema_hook(kind: type) -> dict[str, Any]:
    if issubclass(kind, Exact):
        return {
            "type": "string",
            "format": "decimal",
            "pattern": kind.pattern,
            "description": kind.__doc__ if kind is not Exact else "An exact decimal, as text.",
            "examples": ["12.50"],
        }
    if issubclass(kind, Currency):
        return {
            "type": "string",
            "enum": sorted(_minor_units()),
            "description": "An ISO 4217 currency code.",
            "examples": ["USD"],
        }
    raise NotImplementedError
