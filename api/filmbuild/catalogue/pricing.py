"""Which price of a pack holds on a day: the one rule, for one pack and for all of them.

Of the customer's tier holds the price with the latest `effective_from` up to the day; among prices
of one date, that of the latest revision, unless it withdraws them all. Where the tier's list has
none, the same is looked for in the usual list.
"""

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from datetime import date
from functools import lru_cache
from typing import NamedTuple

from filmbuild.catalogue.store import PriceRow
from filmbuild.money import Exact
from filmbuild.pipeline.specification import Pack, PriceBreak, PricedPack

USUAL = ""
"""The tier of the list that holds for customers of every tier."""
PricedPacks = dict[str, tuple[PricedPack, ...]]
REMEMBERED_EPOCHS = 16


class Offer(NamedTuple):
    """What a list asks for a pack from a date on, and the revision that says so."""

    amount: Exact
    breaks: tuple[PriceBreak, ...]
    revision: int


Dated = dict[date, Offer]
Tiers = Mapping[str, Mapping[str, Dated]]


def in_force(dated: Dated, day: date) -> date | None:
    """Since when the price has held that holds on the day."""
    if len(dated) == 1:
        (since,) = dated
        return since if since <= day else None
    return max((one for one in dated if one <= day), default=None)


class PriceList:
    """The prices of one currency at one revision, by tier and pack.

    Prices change on few dates, so what holds is worked out once per date and remembered for the
    days after it.
    """

    def __init__(self, packs: Mapping[str, Pack], tiers: Tiers) -> None:
        self._packs = packs
        self.tiers = tiers
        self._dates = sorted(
            {day for lists in tiers.values() for dated in lists.values() for day in dated}
        )
        self._since = lru_cache(maxsize=REMEMBERED_EPOCHS)(self._priced_since)

    def on(self, day: date, tier: str = USUAL) -> PricedPacks:
        """Product to its packs that have a price on the day, in order of pack id."""
        place = bisect_right(self._dates, day)
        known = tier if tier in self.tiers else USUAL
        return self._since(self._dates[place - 1], known) if place else {}

    def one(self, pack: str, day: date, tier: str = USUAL) -> tuple[str, date, Offer] | None:
        """The tier, the date and the offer of the price that holds."""
        for name in dict.fromkeys((tier, USUAL)):
            dated = self.tiers.get(name, {}).get(pack, {})
            since = in_force(dated, day)
            if since is not None:
                return name, since, dated[since]
        return None

    def _priced_since(self, day: date, tier: str) -> PricedPacks:
        listed = dict.fromkeys((*self.tiers.get(tier, ()), *self.tiers.get(USUAL, ())))
        found: dict[str, list[PricedPack]] = {}
        for name in listed if tier == USUAL else sorted(listed):
            held = self.one(name, day, tier)
            if held is not None:
                pack = self._packs[name]
                its_tier, since, offer = held
                priced = PricedPack(
                    pack=pack,
                    price=offer.amount,
                    effective_from=since,
                    breaks=offer.breaks,
                    tier=its_tier,
                )
                found.setdefault(pack.product, []).append(priced)
        return {product: tuple(packs) for product, packs in found.items()}


def price_lists(packs: Mapping[str, Pack], rows: Iterable[PriceRow]) -> dict[str, PriceList]:
    """By currency. `rows` come oldest revision first, so that a correction replaces."""
    known: dict[str, dict[str, dict[str, Dated]]] = {}
    for row in rows:
        if row.pack in packs:
            tiers = known.setdefault(row.currency, {})
            dated = tiers.setdefault(row.tier, {}).setdefault(row.pack, {})
            if row.amount is None:
                dated.pop(row.effective_from, None)
            else:
                dated[row.effective_from] = Offer(row.amount, row.breaks, row.revision)
    return {currency: PriceList(packs, _tidied(tiers)) for currency, tiers in known.items()}


def _tidied(tiers: Mapping[str, dict[str, Dated]]) -> Tiers:
    """In order of pack id, without packs all of whose prices are withdrawn."""
    return {
        tier: {name: lists[name] for name in sorted(lists) if lists[name]}
        for tier, lists in sorted(tiers.items())
    }
