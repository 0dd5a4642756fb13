"""What the price stage finds."""

from datetime import date
from decimal import Decimal
from typing import Literal

from filmbuild.money import Money, UnitPrice
from filmbuild.pipeline.results.base import Result
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Area, Length

WorkKind = Literal["floor", "verticals", "joints", "repairs", "preparation", "subcontract"]


class CostLine(Result, frozen=True, kw_only=True):
    group: str
    item: str
    description: str
    quantity: Decimal
    unit: str
    unit_cost: UnitPrice
    amount: Money
    trace: Trace


class Adjustment(Result, frozen=True, kw_only=True):
    """What is added to the price that the terms give, or taken off it (then below zero)."""

    kind: Literal["discount", "minimum", "rounding"]
    reason: str | None
    percent: Decimal | None
    amount: Money
    trace: Trace


class WorkShare(Result, frozen=True, kw_only=True):
    """What work of one kind costs, and its share of `by_terms`; `item` tells subcontracts apart."""

    work: WorkKind
    item: str | None
    cost: Money
    by_terms: Money
    trace: Trace


class TaxLine(Result, frozen=True, kw_only=True):
    """One tax on the sale. `code` is its category in UNTDID 5305, and `category` in words."""

    rule: str
    name: str
    category: str
    base: Money
    rate_percent: Decimal
    amount: Money
    trace: Trace
    code: str = "S"
    scheme: str = "sales_tax"
    of_materials: bool = False
    exemption_reason: str | None = None


class OptionPrice(Result, frozen=True, kw_only=True):
    """What an option adds to the job without any: its whole price less that of the job.

    `surface` is the floor and verticals of its areas. `materials_net` is what of its net price is
    for materials, for taxes on these alone. With this option and no other the work ends on
    `last_day`. `notes` are those that the job without it does not have.
    """

    id: str
    label: str
    description: str
    areas: tuple[str, ...]
    surface: Area
    cost: Money
    net: Money
    materials_net: Money
    total: Money
    last_day: date
    notes: tuple[Note, ...]
    trace: Trace


class Price(Result, frozen=True, kw_only=True):
    """From cost to offer: `by_terms = cost x (1 + markup) = cost / (1 - margin)`.

    `net = by_terms + adjustments`; markup and margin are those that the net price achieves. The
    prices per area and per running length share the net price out between floor and linear work by
    what they cost, subcontracts apart; `running` is the length of the linear work. Fields with a
    default may be missing from records kept from earlier versions.
    """

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
    by_terms: Money | None = None
    adjustments: tuple[Adjustment, ...] = ()
    shares: tuple[WorkShare, ...] = ()
    materials_net: Money | None = None
    running: Length = Length(0.0)
    per_running_foot: Money | None = None
    per_running_metre: Money | None = None
