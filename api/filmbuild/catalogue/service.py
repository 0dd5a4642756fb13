"""What callers can read of the catalogue."""

from bisect import bisect_right
from collections.abc import Callable, Iterable, Mapping
from datetime import date
from itertools import islice
from typing import Any, Generic, TypeVar

import msgspec

from filmbuild.catalogue import store, versions
from filmbuild.catalogue.contents import CatalogueSnapshot, Records, decoded
from filmbuild.catalogue.store import Kind, Revision
from filmbuild.db import Database
from filmbuild.errors import NotFound
from filmbuild.pipeline.specification import PricedPack, Record

T = TypeVar("T")
WORDS = {
    "products": "product",
    "packs": "pack",
    "systems": "coating system",
    "rate_books": "rate book",
    "consumables": "consumable rule",
    "taxes": "tax rule",
    "suppliers": "supplier",
}
RETIRED_AT_ONCE = 500
Wanted = Callable[[Any], bool]


class Page(msgspec.Struct, Generic[T], frozen=True):
    """`records` in ascending order of id; `more` says that others follow the last of them."""

    revision: int
    records: tuple[T, ...]
    more: bool


def find(
    snapshot: CatalogueSnapshot,
    kind: str,
    filters: Mapping[str, object] | None = None,
    *,
    q: str | None = None,
    after: str | None = None,
    limit: int = 20,
) -> Page[Any]:
    """Those whose members are as in `filters`, where it has a value for them."""
    filters = filters or {}
    wanted = chosen(filters, q)
    product = filters.get("product") if kind == "packs" else None
    if product is not None:
        candidates: Iterable[Any] = (
            one
            for one in snapshot.packs_of.get(str(product), ())
            if after is None or one.id > after
        )
    else:
        candidates = _following(snapshot.records(kind), after)
    found = tuple(islice(filter(wanted, candidates), limit + 1))
    return Page(snapshot.revision, found[:limit], len(found) > limit)


def chosen(filters: Mapping[str, object], q: str | None) -> Wanted:
    """Whether a record has these members, and every word of `q` in its id or name."""
    members = [(name, value) for name, value in filters.items() if value is not None]
    words = q.casefold().split() if q else []

    def wanted(record: Any) -> bool:  # noqa: ANN401 - a record of any kind
        if any(getattr(record, name) != value for name, value in members):
            return False
        text = f"{record.id} {record.name}".casefold() if words else ""
        return all(word in text for word in words)

    return wanted


def one(snapshot: CatalogueSnapshot, kind: str, name: str) -> Any:  # noqa: ANN401 - a record of any kind
    """Raises `NotFound`."""
    found = snapshot.records(kind).by_id.get(name)
    if found is None:
        raise NotFound(f'The catalogue has no {WORDS[kind]} "{name}".')
    return found


async def retired(
    database: Database,
    snapshot: CatalogueSnapshot,
    kind: Kind,
    filters: Mapping[str, object],
    *,
    q: str | None = None,
    after: str | None = None,
    limit: int = 20,
) -> Page[Any]:
    """Records that held before the snapshot's revision and do no more, as they were last."""
    wanted = chosen(filters, q)
    found: list[Record] = []
    async with database.reader(snapshot.organisation) as connection:
        while len(found) <= limit:
            texts = await versions.retired(
                connection, snapshot.organisation, kind, snapshot.revision, after, RETIRED_AT_ONCE
            )
            records = (decoded(kind, name, text) for name, text in texts.items())
            found += filter(wanted, records)
            if len(texts) < RETIRED_AT_ONCE:
                break
            after = next(reversed(texts))
    return Page(snapshot.revision, tuple(found[:limit]), len(found) > limit)


def priced_packs(
    snapshot: CatalogueSnapshot, product: str, currency: str, day: date
) -> tuple[PricedPack, ...]:
    """The packs of a product that have a price on the day, in order of id. Raises `NotFound`."""
    one(snapshot, "products", product)
    return snapshot.priced_packs(currency, day).get(product, ())


async def revisions(
    database: Database, organisation: str, *, before: int | None = None, limit: int = 20
) -> tuple[tuple[Revision, ...], bool]:
    """Newest first, those before `before`; and whether more follow."""
    async with database.reader(organisation) as connection:
        found = await store.revisions(connection, organisation, before, limit + 1)
    return found[:limit], len(found) > limit


def _following(records: Records[Any], after: str | None) -> Iterable[Any]:
    start = 0 if after is None else bisect_right(records.ids, after)
    return (records.by_id[records.ids[place]] for place in range(start, len(records.ids)))
