"""One revision of the catalogue in memory, made of its rows or of the revision before it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache, lru_cache
from typing import Any, Generic, TypeVar

import msgspec

from filmbuild.catalogue.priced import PriceBook, PricedPacks, by_pack
from filmbuild.catalogue.pricing import PriceList, price_lists
from filmbuild.catalogue.store import KINDS, Kind, PriceRow, Revision
from filmbuild.edge.decoding import dec_hook
from filmbuild.money import Currency
from filmbuild.pipeline.specification import (
    Catalogue,
    ConsumableRule,
    Pack,
    Product,
    RateBook,
    Record,
    Supplier,
    System,
    TaxRule,
)

R = TypeVar("R", bound=Record)
REMEMBERED_TEXTS = 32_768


class StoredRecordError(RuntimeError):
    """A record in the database is not of the form that this version reads."""


@dataclass(frozen=True, slots=True)
class Records(Generic[R]):
    """All records of one kind; `ids` is in ascending order, and `by_id` follows it."""

    by_id: dict[str, R]
    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """What lies between two revisions: by kind, the texts of records begun and the ids ended."""

    begun: Mapping[str, Mapping[str, str]]
    ended: Mapping[str, Iterable[str]]
    prices: tuple[PriceRow, ...]


@dataclass(frozen=True, slots=True)
class CatalogueSnapshot:
    """One revision. Nothing of it may be changed: requests share it, and so do later revisions.

    `weight` is how many records and prices it holds, shared ones too.
    """

    organisation: str
    made: Revision
    products: Records[Product]
    packs: Records[Pack]
    systems: Records[System]
    rate_books: Records[RateBook]
    consumables: Records[ConsumableRule]
    taxes: Records[TaxRule]
    suppliers: Records[Supplier]
    packs_of: Mapping[str, tuple[Pack, ...]]
    prices: PriceBook
    weight: int
    _terms: Mapping[str, dict[str, Supplier]]
    _rules: tuple[tuple[ConsumableRule, ...], tuple[TaxRule, ...]]
    _whole: list[dict[str, PriceList]]

    @property
    def revision(self) -> int:
        return self.made.revision

    @property
    def price_lists(self) -> Mapping[str, PriceList]:
        """By currency, of all packs: made when first asked for, which no calculation does."""
        if not self._whole:
            self._whole.append(price_lists(self.packs.by_id, self.prices.rows()))
        return self._whole[0]

    def records(self, kind: str) -> Records[Any]:
        """By the kind's name, which is that of the member."""
        found: Records[Any] = getattr(self, kind)
        return found

    def priced_packs(self, currency: str, day: date, tier: str = "") -> PricedPacks:
        """Product to its packs that can be bought on the day; none in a currency without prices."""
        return PricedPacks(self.prices, currency, day, tier)

    def priced(self, currency: Currency, day: date, tier: str = "") -> Catalogue:
        """What the pipeline computes with. Its records are shared, so this costs little."""
        consumables, taxes = self._rules
        return Catalogue(
            revision=self.made.revision,
            currency=currency,
            priced_on=day,
            products=self.products.by_id,
            packs=self.priced_packs(currency, day, tier),
            systems=self.systems.by_id,
            rate_books=self.rate_books.by_id,
            consumables=consumables,
            taxes=taxes,
            suppliers=self._terms.get(currency, {}),
            tier=tier,
        )


def build(
    organisation: str,
    made: Revision,
    texts: Mapping[str, Mapping[str, str]],
    prices: tuple[PriceRow, ...],
) -> CatalogueSnapshot:
    """Of all that holds at a revision; prices come oldest revision first."""
    records = {kind.name: _decoded(kind, texts[kind.name]) for kind in KINDS}
    packs_of: dict[str, list[Pack]] = {}
    packs: Records[Pack] = records["packs"]
    for pack in packs.by_id.values():
        packs_of.setdefault(pack.product, []).append(pack)
    of_products = {product: tuple(found) for product, found in packs_of.items()}
    book = PriceBook(of_products, by_pack(prices))
    return _assembled(organisation, made, records, book)


def build_after(
    before: CatalogueSnapshot, made: Revision, difference: Difference
) -> CatalogueSnapshot:
    """The same as `build`, of an earlier revision and what has changed since.

    Records that did not change are shared with `before`, as is what was worked out of prices.
    """
    records = {
        kind.name: _after(
            kind,
            before.records(kind.name),
            difference.begun[kind.name],
            difference.ended[kind.name],
        )
        for kind in KINDS
    }
    packs: Records[Pack] = records["packs"]
    book = before.prices
    if packs is not before.packs or difference.prices:
        changed = {*difference.begun["packs"], *difference.ended["packs"]}
        holders = {
            one.by_id[name].product
            for name in changed
            for one in (before.packs, packs)
            if name in one.by_id
        }
        packs_of = _packs_after(before.packs_of, before.packs, packs, changed)
        book = book.after(packs_of, difference.prices, holders)
    return _assembled(before.organisation, made, records, book)


def _assembled(
    organisation: str,
    made: Revision,
    records: dict[str, Records[Any]],
    prices: PriceBook,
) -> CatalogueSnapshot:
    terms: dict[str, dict[str, Supplier]] = {}
    for supplier in records["suppliers"].by_id.values():
        terms.setdefault(supplier.currency, {})[supplier.name] = supplier
    return CatalogueSnapshot(
        organisation=organisation,
        made=made,
        **records,
        packs_of=prices.packs_of,
        prices=prices,
        weight=sum(len(one.ids) for one in records.values())
        + sum(len(rows) for rows in prices.rows_of.values()),
        _terms=terms,
        _rules=(
            tuple(records["consumables"].by_id.values()),
            tuple(records["taxes"].by_id.values()),
        ),
        _whole=[],
    )


def _decoded(kind: Kind, texts: Mapping[str, str]) -> Records[Any]:
    by_id = {name: decoded(kind, name, text) for name, text in texts.items()}
    return Records(by_id, tuple(by_id))


def _after(
    kind: Kind, before: Records[Any], begun: Mapping[str, str], ended: Iterable[str]
) -> Records[Any]:
    gone = [name for name in ended if name not in begun]
    if not begun and not gone:
        return before
    by_id = dict(before.by_id)
    for name in gone:
        by_id.pop(name, None)
    for name, text in begun.items():
        by_id[name] = decoded(kind, name, text)
    if len(by_id) == len(before.ids) and not gone:
        return Records(by_id, before.ids)
    ids = tuple(sorted(by_id))
    return Records({name: by_id[name] for name in ids}, ids)


def _packs_after(
    packs_of: Mapping[str, tuple[Pack, ...]],
    before: Records[Pack],
    after: Records[Pack],
    touched: Iterable[str],
) -> Mapping[str, tuple[Pack, ...]]:
    if before is after:
        return packs_of
    changed: dict[str, dict[str, Pack]] = {}

    def of(product: str) -> dict[str, Pack]:
        if product not in changed:
            changed[product] = {one.id: one for one in packs_of.get(product, ())}
        return changed[product]

    for name in touched:
        if name in before.by_id:
            of(before.by_id[name].product).pop(name, None)
        if name in after.by_id:
            of(after.by_id[name].product)[name] = after.by_id[name]
    result = dict(packs_of)
    for product, packs in changed.items():
        result[product] = tuple(packs[name] for name in sorted(packs))
        if not packs:
            del result[product]
    return result


def decoded(kind: Kind, name: str, text: str) -> Record:
    """A stored text as a record. Raises StoredRecordError."""
    try:
        return _decoder(kind.record).decode(text)
    except msgspec.DecodeError as error:
        raise StoredRecordError(f"{kind.name} {name}: {error}") from error


@cache
def _decoder(record: type[Record]) -> msgspec.json.Decoder[Record]:
    return msgspec.json.Decoder(record, dec_hook=_shared)


def _shared(kind: type, value: object) -> object:
    """Catalogues say the same few quantities over and over: equal ones are read and held once."""
    return _of_text(kind, value) if type(value) is str else dec_hook(kind, value)


@lru_cache(maxsize=REMEMBERED_TEXTS)
def _of_text(kind: type, text: str) -> object:
    return dec_hook(kind, text)
