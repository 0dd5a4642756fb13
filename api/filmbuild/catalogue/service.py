"""What callers can read of the catalogue."""

from bisect import bisect_right
from collections.abc import Callable
from datetime import date
from itertools import islice
from typing import Generic, TypeVar

import msgspec

from filmbuild.catalogue import store
from filmbuild.catalogue.snapshot import CatalogueSnapshot, Records
from filmbuild.catalogue.store import Revision
from filmbuild.db import Database
from filmbuild.errors import NotFound
from filmbuild.pipeline.specification import (
    ConsumableRule,
    Pack,
    PricedPack,
    Product,
    ProductRole,
    RateBook,
    Record,
    Supplier,
    System,
    TaxRule,
)

R = TypeVar("R", bound=Record)
T = TypeVar("T")


class Page(msgspec.Struct, Generic[T], frozen=True):
    """`records` in ascending order of id; `more` says that others follow the last of them."""

    revision: int
    records: tuple[T, ...]
    more: bool


def products(
    snapshot: CatalogueSnapshot,
    *,
    role: ProductRole | None = None,
    after: str | None = None,
    limit: int = 20,
) -> Page[Product]:
    return _page(
        snapshot, snapshot.products, after, limit, lambda one: role is None or one.role == role
    )


def packs(
    snapshot: CatalogueSnapshot,
    *,
    product: str | None = None,
    after: str | None = None,
    limit: int = 20,
) -> Page[Pack]:
    if product is None:
        return _page(snapshot, snapshot.packs, after, limit)
    found = [one for one in snapshot.packs_of.get(product, ()) if after is None or one.id > after]
    return Page(snapshot.revision, tuple(found[:limit]), len(found) > limit)


def systems(
    snapshot: CatalogueSnapshot, *, after: str | None = None, limit: int = 20
) -> Page[System]:
    return _page(snapshot, snapshot.systems, after, limit)


def rate_books(
    snapshot: CatalogueSnapshot,
    *,
    currency: str | None = None,
    after: str | None = None,
    limit: int = 20,
) -> Page[RateBook]:
    return _page(
        snapshot, snapshot.rate_books, after, limit, lambda one: currency in (None, one.currency)
    )


def consumables(
    snapshot: CatalogueSnapshot,
    *,
    kind: str | None = None,
    currency: str | None = None,
    after: str | None = None,
    limit: int = 20,
) -> Page[ConsumableRule]:
    return _page(
        snapshot,
        snapshot.consumables,
        after,
        limit,
        lambda one: kind in (None, one.kind) and currency in (None, one.currency),
    )


def taxes(
    snapshot: CatalogueSnapshot,
    *,
    place: str | None = None,
    after: str | None = None,
    limit: int = 20,
) -> Page[TaxRule]:
    return _page(snapshot, snapshot.taxes, after, limit, lambda one: place in (None, one.place))


def suppliers(
    snapshot: CatalogueSnapshot, *, after: str | None = None, limit: int = 20
) -> Page[Supplier]:
    return _page(snapshot, snapshot.suppliers, after, limit)


def product(snapshot: CatalogueSnapshot, name: str) -> Product:
    """Raises `NotFound`, as do the others of this kind."""
    return _one(snapshot.products, name, "product")


def pack(snapshot: CatalogueSnapshot, name: str) -> Pack:
    return _one(snapshot.packs, name, "pack")


def system(snapshot: CatalogueSnapshot, name: str) -> System:
    return _one(snapshot.systems, name, "coating system")


def rate_book(snapshot: CatalogueSnapshot, name: str) -> RateBook:
    return _one(snapshot.rate_books, name, "rate book")


def consumable(snapshot: CatalogueSnapshot, name: str) -> ConsumableRule:
    return _one(snapshot.consumables, name, "consumable rule")


def tax(snapshot: CatalogueSnapshot, name: str) -> TaxRule:
    return _one(snapshot.taxes, name, "tax rule")


def supplier(snapshot: CatalogueSnapshot, name: str) -> Supplier:
    return _one(snapshot.suppliers, name, "supplier")


def priced_packs(
    snapshot: CatalogueSnapshot, product: str, currency: str, day: date
) -> tuple[PricedPack, ...]:
    """The packs of a product that have a price on the day, in order of id. Raises `NotFound`."""
    _one(snapshot.products, product, "product")
    return snapshot.priced_packs(currency, day).get(product, ())


async def revisions(
    database: Database, organisation: str, *, before: int | None = None, limit: int = 20
) -> tuple[tuple[Revision, ...], bool]:
    """Newest first, those before `before`; and whether more follow."""
    async with database.reader() as connection:
        found = await store.revisions(connection, organisation, before, limit + 1)
    return found[:limit], len(found) > limit


def _page(
    snapshot: CatalogueSnapshot,
    records: Records[R],
    after: str | None,
    limit: int,
    wanted: Callable[[R], bool] = lambda _: True,
) -> Page[R]:
    start = 0 if after is None else bisect_right(records.ids, after)
    places = range(start, len(records.ids))
    following = (records.by_id[records.ids[place]] for place in places)
    found = tuple(islice(filter(wanted, following), limit + 1))
    return Page(snapshot.revision, found[:limit], len(found) > limit)


def _one(records: Records[R], name: str, what: str) -> R:
    found = records.by_id.get(name)
    if found is None:
        raise NotFound(f'The catalogue has no {what} "{name}".')
    return found
