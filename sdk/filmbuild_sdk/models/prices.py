"""What the service is sent and what it answers: prices.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from typing import Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.models.common import Fault
from filmbuild_sdk.models.inputs import PriceBreak
from filmbuild_sdk.values import Answer, Choice, Input, Moment, Money


class PriceCounts(Answer, frozen=True, kw_only=True):
    """Rows by what becomes of them; each row counts once, a faulty one by its first fault."""

    changed: int = 0
    duplicated: int = 0
    invalid: int = 0
    new: int = 0
    out_of_bounds: int = 0
    rows: int = 0
    unchanged: int = 0
    unknown: int = 0
    withdrawn: int = 0


class PriceDifference(Answer, frozen=True, kw_only=True):
    """What a row of a check comes to: a change, or a `fault`. Rows that change nothing are counted.

    `line` is the row's line in the file, or its number in an array, both from 1.
    """

    outcome: str
    pack: str
    currency: str
    tier: str
    effective_from: str
    was: Decimal | None
    was_since: dt.date | None
    was_breaks: tuple[PriceBreak, ...]
    now: Decimal | None
    now_breaks: tuple[PriceBreak, ...]
    percent: Decimal | None
    line: int
    fault: Fault | None


class CheckedUpdate(Answer, frozen=True, kw_only=True):
    """Of a check alone, `differences` are all there are, in the order of the rows."""

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
    differences: tuple[PriceDifference, ...]


class ListedPrice(Answer, frozen=True, kw_only=True):
    """A price of a list, and whether it holds on the day: "holds", or why not."""

    tier: str
    effective_from: dt.date
    amount: Decimal
    breaks: tuple[PriceBreak, ...]
    revision: int
    verdict: str


class PackPrices(Answer, frozen=True, kw_only=True):
    """The price of a pack on a day, and all that it was chosen from; null where there is none."""

    pack: str
    catalogue_revision: int
    currency: str
    tier: str
    on: dt.date
    price: Money | None
    breaks: tuple[PriceBreak, ...]
    price_since: dt.date | None
    price_tier: str | None
    explanation: str
    listed: tuple[ListedPrice, ...]


class PriceChange(Answer, frozen=True, kw_only=True):
    """A price in one list from a day on. `was` is the list's price that held on that day before.

    `percent` is the change in per cent of `was`, rounded to hundredths. A price whose outcome is
    "withdrawn" is taken out of the list again, so that what was there before it holds on.
    """

    outcome: str
    pack: str
    currency: str
    tier: str
    effective_from: str
    was: Decimal | None
    was_since: dt.date | None
    was_breaks: tuple[PriceBreak, ...]
    now: Decimal | None
    now_breaks: tuple[PriceBreak, ...]
    percent: Decimal | None


class PriceChangePage(Answer, frozen=True, kw_only=True):
    """In order of pack, currency, tier and day."""

    items: tuple[PriceChange, ...]
    next: str | None


class Selector(Input, frozen=True, kw_only=True):
    """Which packs: those that every list which is not empty names, by one of its entries."""

    packs: Sequence[str] = ()
    products: Sequence[str] = ()
    roles: Sequence[
        Choice[
            Literal[
                "body_coat",
                "broadcast_aggregate",
                "cove_mortar",
                "crack_filler",
                "joint_filler",
                "patch_mortar",
                "primer",
                "solvent",
                "topcoat",
            ]
        ]
    ] = ()
    suppliers: Sequence[str] = ()


class PriceFormula(Input, frozen=True, kw_only=True):
    """New prices from those that hold on `effective_from`: exactly one of `percent` and `amount`.

    A price p becomes p x (1 + percent / 100), or p + amount, rounded to a multiple of `round_to`;
    left out, that is the currency's minor unit. Price breaks go the same way. An empty `selector`
    selects every pack. `tier` left out is the usual list; packs without a price in the list stay
    without.
    """

    selector: Selector
    currency: str
    amount: Decimal | None = None
    check_only: bool | UnsetType = UNSET  # left out: false
    effective_from: dt.date | None = None
    limit_percent: Decimal | None = None
    note: str | None = None
    percent: Decimal | None = None
    round_to: Decimal | None = None
    rounding: Choice[Literal["down", "half_up", "up"]] | UnsetType = UNSET  # left out: "half_up"
    tier: str | None = None


class PriceListRecord(Answer, frozen=True, kw_only=True):
    """The prices of one currency for one tier; the usual list's tier is empty."""

    currency: str
    tier: str
    packs: int
    prices: int
    first_effective: dt.date
    last_effective: dt.date


class PriceListPage(Answer, frozen=True, kw_only=True):
    """In order of currency and tier."""

    catalogue_revision: int
    items: tuple[PriceListRecord, ...]
    next: str | None


class PriceUpdate(Answer, frozen=True, kw_only=True):
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


class PriceUpdatePage(Answer, frozen=True, kw_only=True):
    """Newest first."""

    items: tuple[PriceUpdate, ...]
    next: str | None
