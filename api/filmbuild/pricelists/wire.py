"""Price lists and updates as callers see them."""

from datetime import date
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from filmbuild.catalogue.contract import PriceCurrency, RevisionNumber
from filmbuild.edge.paging import PageQuery
from filmbuild.errors import Fault
from filmbuild.money import Currency, Exact, NonNegativeExact, Percent, PositiveExact, UnitPrice
from filmbuild.pipeline.results.base import Moment
from filmbuild.pipeline.site import Identifier, Input, Label
from filmbuild.pipeline.specification import PriceBreak, ProductRole
from filmbuild.pricelists.checking import PriceCounts

Tier = Annotated[
    Identifier,
    Meta(description="The customers' tier whose list is meant; else the usual list."),
]
Limit = Annotated[
    Percent,
    Meta(description="Rows that change a price by more than so many per cent are refused."),
]
EffectiveFrom = Annotated[
    date, Meta(description="From when the prices hold, where a row does not say it; else today.")
]
CheckOnly = Annotated[
    bool, Meta(description="Whether only to compare: nothing is written, and faults are answered.")
]


class _Query(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Parameters."""


class UpdateQuery(_Query, frozen=True, kw_only=True):
    check_only: CheckOnly = False
    currency: Annotated[Currency, Meta(description="That of rows that do not name one.")] | None = (
        None
    )
    tier: Tier | None = None
    effective_from: EffectiveFrom | None = None
    limit_percent: Limit | None = None
    note: Annotated[Label, Meta(description="What the update is, for its history.")] | None = None


class Selector(Input, frozen=True, kw_only=True):
    """Which packs: those that every list which is not empty names, by one of its entries."""

    suppliers: Annotated[tuple[Label, ...], Meta(max_length=100)] = ()
    products: Annotated[tuple[Identifier, ...], Meta(max_length=1_000)] = ()
    roles: Annotated[tuple[ProductRole, ...], Meta(max_length=20)] = ()
    packs: Annotated[tuple[Identifier, ...], Meta(max_length=10_000)] = ()


class PriceFormula(Input, frozen=True, kw_only=True):
    """New prices from those that hold on `effective_from`: exactly one of `percent` and `amount`.

    A price p becomes p x (1 + percent / 100), or p + amount, rounded to a multiple of `round_to`;
    left out, that is the currency's minor unit. Price breaks go the same way. An empty `selector`
    selects every pack. `tier` left out is the usual list; packs without a price in the list stay
    without.
    """

    selector: Selector
    currency: Currency
    tier: Identifier | None = None
    percent: Exact | None = None
    amount: Exact | None = None
    round_to: PositiveExact | None = None
    rounding: Literal["half_up", "up", "down"] = "half_up"
    effective_from: date | None = None
    check_only: bool = False
    limit_percent: Percent | None = None
    note: Label | None = None


class PriceChange(msgspec.Struct, frozen=True, kw_only=True):
    """A price in one list from a day on. `was` is the list's price that held on that day before.

    `percent` is the change in per cent of `was`, rounded to hundredths. A price whose outcome is
    "withdrawn" is taken out of the list again, so that what was there before it holds on.
    """

    outcome: str
    pack: str
    currency: str
    tier: str
    effective_from: str
    was: NonNegativeExact | None
    was_since: date | None
    was_breaks: tuple[PriceBreak, ...]
    now: NonNegativeExact | None
    now_breaks: tuple[PriceBreak, ...]
    percent: Exact | None


class PriceDifference(PriceChange, frozen=True, kw_only=True):
    """What a row of a check comes to: a change, or a `fault`. Rows that change nothing are counted.

    `line` is the row's line in the file, or its number in an array, both from 1.
    """

    line: int
    fault: Fault | None


class PriceUpdate(msgspec.Struct, frozen=True, kw_only=True):
    """One update; `id` and `revision` are null where it was only checked.

    `revision` is also null where nothing differed, so that none was made. `undoes` is the update
    that this one undid, `undone_by` the one that undid it.
    """

    id: str | None
    kind: str
    created_at: Moment
    author: str
    note: str
    based_on: int
    revision: int | None
    undoes: str | None
    undone_by: str | None
    counts: PriceCounts


class CheckedUpdate(PriceUpdate, frozen=True, kw_only=True):
    """Of a check alone, `differences` are all there are, in the order of the rows."""

    differences: tuple[PriceDifference, ...]


class PriceUpdatePage(msgspec.Struct, frozen=True, kw_only=True):
    """Newest first."""

    items: tuple[PriceUpdate, ...]
    next: str | None


class PriceChangePage(msgspec.Struct, frozen=True, kw_only=True):
    """In order of pack, currency, tier and day."""

    items: tuple[PriceChange, ...]
    next: str | None


class PackPricesQuery(_Query, frozen=True, kw_only=True):
    currency: PriceCurrency = Currency("USD")
    tier: Tier | None = None
    on: (
        Annotated[date, Meta(description="The day; else that on which the revision was made.")]
        | None
    ) = None
    revision: RevisionNumber | None = None


class ListedPrice(msgspec.Struct, frozen=True, kw_only=True):
    """A price of a list, and whether it holds on the day: "holds", or why not."""

    tier: str
    effective_from: date
    amount: NonNegativeExact
    breaks: tuple[PriceBreak, ...]
    revision: int
    verdict: str


class PackPrices(msgspec.Struct, frozen=True, kw_only=True):
    """The price of a pack on a day, and all that it was chosen from; null where there is none."""

    pack: str
    catalogue_revision: int
    currency: Currency
    tier: str
    on: date
    price: UnitPrice | None
    breaks: tuple[PriceBreak, ...]
    price_since: date | None
    price_tier: str | None
    explanation: str
    listed: tuple[ListedPrice, ...]


class PriceListsQuery(PageQuery, frozen=True, kw_only=True):
    currency: PriceCurrency | None = None
    revision: RevisionNumber | None = None


class PriceListRecord(msgspec.Struct, frozen=True, kw_only=True):
    """The prices of one currency for one tier; the usual list's tier is empty."""

    currency: str
    tier: str
    packs: int
    prices: int
    first_effective: date
    last_effective: date


class PriceListPage(msgspec.Struct, frozen=True, kw_only=True):
    """In order of currency and tier."""

    catalogue_revision: int
    items: tuple[PriceListRecord, ...]
    next: str | None
