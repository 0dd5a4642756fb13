"""The catalogue in memory: one immutable snapshot per organisation and revision."""

import asyncio
import time
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Generic, TypeVar

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.catalogue import store
from filmbuild.catalogue.pricing import PricedPacks, PriceList, price_lists
from filmbuild.catalogue.store import KINDS, Kind, PriceRow, Revision
from filmbuild.db import Database
from filmbuild.edge.decoding import dec_hook
from filmbuild.errors import NotFound, Unavailable
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


class StoredRecordError(RuntimeError):
    """A record in the database is not of the form that this version reads."""


@dataclass(frozen=True, slots=True)
class Records(Generic[R]):
    """All records of one kind; `ids` is in ascending order, and `by_id` follows it."""

    by_id: dict[str, R]
    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CatalogueSnapshot:
    """One revision. Nothing of it may be changed: requests share it."""

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
    price_lists: Mapping[str, PriceList]
    _terms: Mapping[str, dict[str, Supplier]]
    _rules: tuple[tuple[ConsumableRule, ...], tuple[TaxRule, ...]]

    @property
    def revision(self) -> int:
        return self.made.revision

    def priced_packs(self, currency: str, day: date) -> PricedPacks:
        """Product to its packs that can be bought on the day; none in a currency without prices."""
        prices = self.price_lists.get(currency)
        return prices.on(day) if prices is not None else {}

    def priced(self, currency: Currency, day: date) -> Catalogue:
        """What the pipeline computes with. Its records are shared, so this costs little."""
        consumables, taxes = self._rules
        return Catalogue(
            revision=self.made.revision,
            currency=currency,
            priced_on=day,
            products=self.products.by_id,
            packs=self.priced_packs(currency, day),
            systems=self.systems.by_id,
            rate_books=self.rate_books.by_id,
            consumables=consumables,
            taxes=taxes,
            suppliers=self._terms.get(currency, {}),
        )


class CatalogueSnapshots:
    """Snapshots of the latest revision and of those asked for by number, the last few kept.

    Another process may have made a new revision: that is looked up at most once in `check_every`
    seconds for each organisation.
    """

    def __init__(
        self,
        database: Database,
        *,
        capacity: int = 8,
        check_every: float = 1.0,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._database = database
        self._capacity = capacity
        self._check_every = check_every
        self._clock = clock
        self._kept: OrderedDict[tuple[str, int], CatalogueSnapshot] = OrderedDict()
        self._latest: dict[str, tuple[float, int]] = {}
        self._loading = asyncio.Lock()

    async def current(self, organisation: str) -> CatalogueSnapshot:
        """Raises `Unavailable` before any catalogue has been loaded."""
        now = self._clock()
        checked, revision = self._latest.get(organisation, (-self._check_every, 0))
        if revision == 0 or now - checked >= self._check_every:
            if revision:
                # until the answer is in, other requests go on with the revision that is known
                self._latest[organisation] = (now, revision)
            revision = await self._newest(organisation)
            self._latest[organisation] = (now, revision)
        return await self.at(organisation, revision)

    async def at(self, organisation: str, revision: int) -> CatalogueSnapshot:
        """Raises `NotFound`."""
        found = self._find(organisation, revision)
        if found is None:
            async with self._loading:
                found = self._find(organisation, revision)
                if found is None:
                    found = await self._load(organisation, revision)
                    self._kept[organisation, revision] = found
                    while len(self._kept) > self._capacity:
                        self._kept.popitem(last=False)
        return found

    async def priced(
        self, organisation: str, currency: Currency, day: date, revision: int | None = None
    ) -> Catalogue:
        if revision is None:
            return (await self.current(organisation)).priced(currency, day)
        return (await self.at(organisation, revision)).priced(currency, day)

    def _find(self, organisation: str, revision: int) -> CatalogueSnapshot | None:
        found = self._kept.get((organisation, revision))
        if found is not None:
            self._kept.move_to_end((organisation, revision))
        return found

    async def _newest(self, organisation: str) -> int:
        async with self._database.reader() as connection:
            newest = await store.latest_revision(connection, organisation)
        if newest is None:
            raise Unavailable("No catalogue has been loaded yet.")
        return newest

    async def _load(self, organisation: str, revision: int) -> CatalogueSnapshot:
        async with self._database.reader() as connection:
            made = await store.find_revision(connection, organisation, revision)
            if made is None:
                raise NotFound(f"The catalogue has no revision {revision}.")
            texts = await _texts(connection, organisation, revision)
            prices = await store.prices(connection, organisation, revision)
        return await asyncio.to_thread(_build, organisation, made, texts, prices)


async def _texts(
    connection: AsyncConnection, organisation: str, revision: int
) -> dict[str, dict[str, str]]:
    return {
        kind.name: await store.specifications(connection, organisation, kind, revision)
        for kind in KINDS
    }


def _build(
    organisation: str,
    made: Revision,
    texts: dict[str, dict[str, str]],
    prices: tuple[PriceRow, ...],
) -> CatalogueSnapshot:
    records: dict[str, Records[Any]] = {
        kind.name: _decoded(kind, texts[kind.name]) for kind in KINDS
    }
    packs: Records[Pack] = records["packs"]
    packs_of: dict[str, list[Pack]] = {}
    for pack in packs.by_id.values():
        packs_of.setdefault(pack.product, []).append(pack)
    terms: dict[str, dict[str, Supplier]] = {}
    for supplier in records["suppliers"].by_id.values():
        terms.setdefault(supplier.currency, {})[supplier.name] = supplier
    return CatalogueSnapshot(
        organisation=organisation,
        made=made,
        **records,
        packs_of={product: tuple(found) for product, found in packs_of.items()},
        price_lists=price_lists(packs.by_id, prices),
        _terms=terms,
        _rules=(
            tuple(records["consumables"].by_id.values()),
            tuple(records["taxes"].by_id.values()),
        ),
    )


def _decoded(kind: Kind, texts: dict[str, str]) -> Records[Any]:
    decoder = msgspec.json.Decoder(kind.record, dec_hook=dec_hook)
    by_id: dict[str, Record] = {}
    for name, text in texts.items():
        try:
            by_id[name] = decoder.decode(text)
        except msgspec.DecodeError as error:
            raise StoredRecordError(f"{kind.name} {name}: {error}") from error
    return Records(by_id, tuple(by_id))
