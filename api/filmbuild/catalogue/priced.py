"""The packs that can be bought on a day, found product by product when they are asked for.

A job needs a handful of products: working out the prices of all of them, after each change of one,
would keep its first request waiting.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date

from filmbuild.catalogue.pricing import PriceList, price_lists
from filmbuild.catalogue.store import PriceRow
from filmbuild.pipeline.specification import Pack, PricedPack

PacksOf = Mapping[str, tuple[Pack, ...]]
RowsOf = Mapping[str, tuple[PriceRow, ...]]
FEW_ROWS = 24
"""Of a pack with more prices than these, those of each list are set apart before one is sought."""


class PriceBook:
    """The prices of one revision: `rows_of` a pack, of which a later one corrects none before it.

    Packs that are not in the catalogue have theirs too: they may come back.
    """

    def __init__(
        self,
        packs_of: PacksOf,
        rows_of: RowsOf,
        lists_of: Mapping[str, Mapping[str, PriceList]] | None = None,
    ) -> None:
        self.packs_of = packs_of
        self.rows_of = rows_of
        self._lists_of = dict(lists_of or {})

    def after(self, packs_of: PacksOf, rows: Iterable[PriceRow], touched: set[str]) -> "PriceBook":
        """With further rows, oldest first; `touched` are the products whose packs have changed.

        What was worked out for other products is kept.
        """
        rows_of = self.rows_of
        added = by_pack(rows)
        if added:
            rows_of = dict(rows_of)
            for pack, more in added.items():
                rows_of[pack] = _effective((*rows_of.get(pack, ()), *more))
        changed = touched | {
            product
            for product in self._lists_of
            if any(pack.id in added for pack in packs_of.get(product, ()))
        }
        kept = {name: one for name, one in list(self._lists_of.items()) if name not in changed}
        return PriceBook(packs_of, rows_of, kept)

    def lists(self, product: str) -> Mapping[str, PriceList]:
        """By currency."""
        found = self._lists_of.get(product)
        if found is None:
            packs = {pack.id: pack for pack in self.packs_of.get(product, ())}
            rows = (row for name in packs for row in self.rows_of.get(name, ()))
            found = self._lists_of[product] = price_lists(packs, rows)
        return found

    def rows(self) -> Iterator[PriceRow]:
        return (row for rows in self.rows_of.values() for row in rows)


class HeldPrices:
    """What holds in one list, asked of many packs in turn.

    The lists of the whole catalogue need not be made for it, which takes longer than to check and
    write a price for each of its packs.
    """

    def __init__(self, book: PriceBook) -> None:
        self._rows_of = book.rows_of
        self._set_apart: dict[str, dict[tuple[str, str], list[PriceRow]]] = {}

    def on(self, pack: str, currency: str, tier: str, day: date) -> PriceRow | None:
        """The latest price that is not withdrawn and begins by the day, in this very list."""
        rows: Sequence[PriceRow] = self._rows_of.get(pack, ())
        if len(rows) > FEW_ROWS:
            rows = self._by_list(pack, rows).get((currency, tier), ())
        found = None
        for row in rows:
            since = row.effective_from
            if row.tier != tier or row.currency != currency or since > day or row.amount is None:
                continue
            if found is None or since > found.effective_from:
                found = row
        return found

    def _by_list(
        self, pack: str, rows: Iterable[PriceRow]
    ) -> dict[tuple[str, str], list[PriceRow]]:
        known = self._set_apart.get(pack)
        if known is None:
            known = self._set_apart[pack] = {}
            for row in rows:
                known.setdefault((row.currency, row.tier), []).append(row)
        return known


class PricedPacks(Mapping[str, tuple[PricedPack, ...]]):
    """Product to its packs that have a price on the day, in order of pack id."""

    __slots__ = ("_book", "_currency", "_day", "_tier")

    def __init__(self, book: PriceBook, currency: str, day: date, tier: str) -> None:
        self._book = book
        self._currency = currency
        self._day = day
        self._tier = tier

    def __getitem__(self, product: str) -> tuple[PricedPack, ...]:
        prices = self._book.lists(product).get(self._currency)
        return (
            prices.on(self._day, self._tier)[product] if prices is not None else _nothing(product)
        )

    def __iter__(self) -> Iterator[str]:
        return (product for product in self._book.packs_of if product in self)

    def __len__(self) -> int:
        return sum(1 for _ in self)


def _nothing(product: str) -> tuple[PricedPack, ...]:
    raise KeyError(product)


def by_pack(rows: Iterable[PriceRow]) -> dict[str, tuple[PriceRow, ...]]:
    """Rows come oldest revision first; those that a later one corrects are left out."""
    found: dict[str, list[PriceRow]] = {}
    for row in rows:
        found.setdefault(row.pack, []).append(row)
    return {name: _effective(tuple(one)) for name, one in found.items()}


def _effective(rows: tuple[PriceRow, ...]) -> tuple[PriceRow, ...]:
    return rows if len(rows) == 1 else tuple({row.key: row for row in rows}.values())
