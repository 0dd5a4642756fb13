"""What the price stage finds."""

from decimal import Decimal

from filmbuild.money import Money, UnitPrice
from filmbuild.pipeline.results.base import Result
from filmbuild.pipeline.trace import Trace


class CostLine(Result, frozen=True, kw_only=True):
    group: str
    item: str
    description: str
    quantity: Decimal
    unit: str
    unit_cost: UnitPrice
    amount: Money
    trace: Trace


class TaxLine(Result, frozen=True, kw_only=True):
    rule: str
    name: str
    category: str
    base: Money
    rate_percent: Decimal
    amount: Money
    trace: Trace


class Price(Result, frozen=True, kw_only=True):
    """From cost to offer: `price = cost with overhead x (1 + markup) = ... / (1 - margin)`."""

    currency: str
    lines: tuple[CostLine, ...]
    direct_cost: Money
    contingency: Money
    overhead: Money
    cost: Money
    markup_percent: Decimal
    margin_percent: Decimal
    net: Money
    taxes: tuple[TaxLine, ...]
    total: Money
    per_square_foot: Money
    per_square_metre: Money
    traces: dict[str, Trace]
