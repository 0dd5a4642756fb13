"""Which price of a pack holds on a day."""

from bisect import bisect_right
from collections.abc import Iterable, Mapping
from datetime import date
from functools import lru_cache

from filmbuild.catalogue.store import PriceRow
from filmbuild.money import Exact
from filmbuild.pipeline.specification import Pack, PriceBreak, PricedPack

PricedPacks = dict[str, tuple[PricedPack, ...]]
Offer = tuple[Exact, tuple[PriceBreak, ...]]
REMEMBERED_EPOCHS = 16


class PriceList:
    """The prices of one currency at one revision.

    On a day holds the price with the latest `effective_from` up to that day; among prices of one
    date, that of the latest revision. Prices change on few dates, so what holds is worked out once
    per date and remembered for the days after it.
    """

    def __init__(self, packs: Mapping[str, Pack], prices: Mapping[str, dict[date, Offer]]) -> None:
        self._packs = packs
        self._prices = prices
        self._dates = sorted({day for dated in prices.values() for day in dated})
        self._since = lru_cache(maxsize=REMEMBERED_EPOCHS)(self._priced_since)

    def on(self, day: date) -> PricedPacks:
        """Product to its packs that have a price on the day, in order of pack id."""
        place = bisect_right(self._dates, day)
        return self._since(self._dates[place - 1]) if place else {}

    def _priced_since(self, day: date) -> PricedPacks:
        found: dict[str, list[PricedPack]] = {}
        for name, dated in self._prices.items():
            since = max((one for one in dated if one <= day), default=None)
            if since is not None:
                pack = self._packs[name]
                price, breaks = dated[since]
                priced = PricedPack(pack=pack, price=price, effective_from=since, breaks=breaks)
                found.setdefault(pack.product, []).append(priced)
        return {product: tuple(packs) for product, packs in found.items()}


def price_lists(packs: Mapping[str, Pack], rows: Iterable[PriceRow]) -> dict[str, PriceList]:
    """By currency. `rows` come oldest revision first, so that a correction replaces."""
    known: dict[str, dict[str, dict[date, Offer]]] = {}
    for row in rows:
        if row.pack in packs:
            dated = known.setdefault(row.currency, {}).setdefault(row.pack, {})
            dated[row.effective_from] = row.amount, row.breaks
    return {
        currency: PriceList(packs, {name: prices[name] for name in sorted(prices)})
        for currency, prices in known.items()
    }
