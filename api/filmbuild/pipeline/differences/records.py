"""The records in which differences are told; only what differs is in them."""

from datetime import date
from decimal import Decimal
from typing import Any, Literal

from filmbuild.money import Currency, Money, UnitPrice
from filmbuild.pipeline.results.base import Result

Cause = Literal["quantity", "price", "rate", "rule", "base"]
"""Why an amount moved.

`quantity`: more or less of it, or of the whole line. `price`: what one of it is bought for. `rate`:
what an hour or a day of it costs, or a percentage of the terms. `rule`: another rule found it, or a
rule's own data changed (taxes, consumables). `base`: the same share of a sum that itself moved.
"""


class CausedAmount(Result, frozen=True, kw_only=True):
    """The part of a difference that has one cause. The parts of a difference add up to it."""

    cause: Cause
    amount: Money


class LineSide(Result, frozen=True, kw_only=True):
    """A cost line in one of the two estimates."""

    quantity: Decimal
    unit: str
    unit_cost: UnitPrice
    amount: Money


class LineDifference(Result, frozen=True, kw_only=True):
    """A cost line that differs; null where an estimate has no such line."""

    group: str
    item: str
    description: str
    was: LineSide | None
    now: LineSide | None
    amount: Money
    parts: tuple[CausedAmount, ...]


class TermSide(Result, frozen=True, kw_only=True):
    """A term in one of the two estimates: what it was taken of, and at how many per cent.

    `percent` is null where the amount follows from none.
    """

    rule: str
    base: Money
    percent: Decimal | None
    amount: Money


class TermDifference(Result, frozen=True, kw_only=True):
    """What stands between the cost lines and the total, and differs.

    `gain` is the net price less the cost, and `tax` one tax on the sale, of which `item` is the
    rule.
    """

    term: str
    item: str | None
    was: TermSide | None
    now: TermSide | None
    amount: Money
    parts: tuple[CausedAmount, ...]


class SumDifference(Result, frozen=True, kw_only=True):
    """A sum of the price that differs. It is no further difference: lines and terms make it."""

    name: str
    was: Money
    now: Money
    amount: Money


class DayDifference(Result, frozen=True, kw_only=True):
    """A date that differs; `days` is how much later it is now."""

    name: str
    was: date
    now: date
    days: int


class BasisDifference(Result, frozen=True, kw_only=True):
    """What the estimates were computed on, where it differs."""

    name: str
    was: str | None
    now: str | None


class ValueDifference(Result, frozen=True, kw_only=True):
    """A value that differs at a JSON Pointer (RFC 6901); null too where there is none."""

    pointer: str
    was: Any
    now: Any


class EstimateDifferences(Result, frozen=True, kw_only=True):
    """From one estimate to another in the same currency.

    The amounts of `lines` and `terms` add up to `total`, and so do those `by_cause`.
    """

    currency: Currency
    total: Money
    basis: tuple[BasisDifference, ...]
    lines: tuple[LineDifference, ...]
    terms: tuple[TermDifference, ...]
    sums: tuple[SumDifference, ...]
    by_cause: dict[str, Money]
    days: tuple[DayDifference, ...]
