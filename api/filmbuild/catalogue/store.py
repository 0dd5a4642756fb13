"""Queries on the catalogue's tables. All run in the caller's transaction."""

from collections.abc import Callable, Iterable, Sequence
from datetime import date, datetime
from typing import Any

import msgspec
from sqlalchemy import Table, bindparam, func, insert, or_, select, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.accounts import audit
from filmbuild.catalogue import tables
from filmbuild.edge.decoding import dec_hook
from filmbuild.errors import Conflict
from filmbuild.money import Exact
from filmbuild.pipeline.specification import (
    ConsumableRule,
    Pack,
    PackPrice,
    PriceBreak,
    Product,
    RateBook,
    Record,
    Supplier,
    System,
    TaxRule,
)


class Kind(msgspec.Struct, frozen=True):
    """One kind of versioned record: its list in the document, its table, and what is searchable."""

    name: str
    table: Table
    record: type[Record]
    searchable: Callable[[Any], dict[str, str]] = lambda _: {}


KINDS = (
    Kind(
        "products",
        tables.product,
        Product,
        lambda one: {"role": one.role, "supplier": one.supplier},
    ),
    Kind("packs", tables.pack, Pack, lambda one: {"product_id": one.product}),
    Kind("systems", tables.coating_system, System),
    Kind("rate_books", tables.rate_book, RateBook, lambda one: {"currency": str(one.currency)}),
    Kind(
        "consumables",
        tables.consumable_rule,
        ConsumableRule,
        lambda one: {"kind": one.kind, "currency": str(one.currency)},
    ),
    Kind("suppliers", tables.supplier, Supplier, lambda one: {"currency": str(one.currency)}),
    Kind("taxes", tables.tax_rule, TaxRule, lambda one: {"place": one.place}),
)


class Revision(msgspec.Struct, frozen=True, kw_only=True):
    """One change of the catalogue; `summary` is JSON of what it changed."""

    revision: int
    created_at: datetime
    author: str
    note: str
    summary: str


class PriceRow(msgspec.Struct, frozen=True):
    """A price, and the revision that brought it; without an amount, one that is withdrawn."""

    pack: str
    currency: str
    effective_from: date
    revision: int
    amount: Exact | None
    breaks: tuple[PriceBreak, ...] = ()
    tier: str = ""

    @property
    def key(self) -> tuple[str, str, str, date]:
        """What a later row corrects an earlier one by."""
        return self.pack, self.currency, self.tier, self.effective_from


_BREAKS = msgspec.json.Decoder(tuple[PriceBreak, ...], dec_hook=dec_hook)
_REVISION = tables.catalogue_revision
_PRICE = tables.pack_price
_REVISION_COLUMNS = tuple(_REVISION.c[name] for name in Revision.__struct_fields__)


async def latest_revision(connection: AsyncConnection, organisation: str) -> int | None:
    newest = select(func.max(_REVISION.c.revision)).where(
        _REVISION.c.organisation_id == organisation
    )
    found: int | None = await connection.scalar(newest)
    return found


async def find_revision(
    connection: AsyncConnection, organisation: str, revision: int
) -> Revision | None:
    query = select(*_REVISION_COLUMNS).where(
        _REVISION.c.organisation_id == organisation, _REVISION.c.revision == revision
    )
    row = (await connection.execute(query)).mappings().first()
    return Revision(**row) if row is not None else None


async def revisions(
    connection: AsyncConnection, organisation: str, before: int | None, limit: int
) -> tuple[Revision, ...]:
    """Newest first, those before `before`."""
    query = select(*_REVISION_COLUMNS).where(_REVISION.c.organisation_id == organisation)
    if before is not None:
        query = query.where(_REVISION.c.revision < before)
    query = query.order_by(_REVISION.c.revision.desc()).limit(limit)
    return tuple(Revision(**row) for row in (await connection.execute(query)).mappings())


async def insert_revision(
    connection: AsyncConnection, organisation: str, revision: Revision
) -> None:
    """Raises `Conflict` where another writer has just made this revision."""
    values = {"organisation_id": organisation, **msgspec.structs.asdict(revision)}
    try:
        await connection.execute(insert(_REVISION), values)
    except IntegrityError as error:
        detail = f"Revision {revision.revision} was made by someone else just now; load again."
        raise Conflict(detail) from error
    await audit.write(
        connection,
        organisation,
        at=revision.created_at,
        actor=revision.author,
        action="catalogue.changed",
        subject=str(revision.revision),
        detail={"note": revision.note, "counts": msgspec.Raw(revision.summary.encode())},
    )


async def specifications(
    connection: AsyncConnection, organisation: str, kind: Kind, revision: int
) -> dict[str, str]:
    """The records that hold at a revision: id to canonical text, in order of id."""
    columns = kind.table.c
    query = select(columns.id, columns.specification).where(
        columns.organisation_id == organisation,
        columns.revision_from <= revision,
        or_(columns.revision_to.is_(None), columns.revision_to > revision),
    )
    return dict(sorted((row.id, row.specification) for row in await connection.execute(query)))


async def begun_since(
    connection: AsyncConnection, organisation: str, kind: Kind, since: int, revision: int
) -> dict[str, str]:
    """Of the records that hold at a revision, those that did not yet at an earlier one."""
    columns = kind.table.c
    query = select(columns.id, columns.specification).where(
        columns.organisation_id == organisation,
        columns.revision_from > since,
        columns.revision_from <= revision,
        or_(columns.revision_to.is_(None), columns.revision_to > revision),
    )
    return {row.id: row.specification for row in await connection.execute(query)}


async def ended_since(
    connection: AsyncConnection, organisation: str, kind: Kind, since: int, revision: int
) -> set[str]:
    """The ids of records that held at an earlier revision, and at a later one as they were no more."""
    columns = kind.table.c
    query = select(columns.id).where(
        columns.organisation_id == organisation,
        columns.revision_from <= since,
        columns.revision_to > since,
        columns.revision_to <= revision,
    )
    return set((await connection.execute(query)).scalars())


async def end_records(
    connection: AsyncConnection, organisation: str, kind: Kind, ids: Sequence[str], revision: int
) -> None:
    """From this revision on these records hold no more."""
    columns = kind.table.c
    statement = (
        update(kind.table)
        .where(
            columns.organisation_id == organisation,
            columns.id == bindparam("ended"),
            columns.revision_to.is_(None),
        )
        .values(revision_to=revision)
    )
    if ids:
        await connection.execute(statement, [{"ended": one} for one in ids])


async def insert_records(
    connection: AsyncConnection,
    organisation: str,
    kind: Kind,
    records: Iterable[tuple[Any, str]],
    revision: int,
) -> None:
    """Records with their canonical texts, current from this revision on."""
    rows = [
        {
            "organisation_id": organisation,
            "id": record.id,
            "revision_from": revision,
            "name": record.name,
            "specification": text,
            **kind.searchable(record),
        }
        for record, text in records
    ]
    if rows:
        await connection.execute(insert(kind.table), rows)


async def prices(
    connection: AsyncConnection, organisation: str, revision: int, *, since: int = 0
) -> tuple[PriceRow, ...]:
    """All prices known at a revision, superseded ones too, oldest revision first.

    Only those of revisions after `since`.
    """
    query = (
        select(
            _PRICE.c.pack_id,
            _PRICE.c.currency,
            _PRICE.c.effective_from,
            _PRICE.c.revision,
            _PRICE.c.amount,
            _PRICE.c.breaks,
            _PRICE.c.tier,
        )
        .where(
            _PRICE.c.organisation_id == organisation,
            _PRICE.c.revision <= revision,
            _PRICE.c.revision > since,
        )
        .order_by(_PRICE.c.revision)
    )
    rows = await connection.execute(query)
    return tuple(
        PriceRow(*row[:-2], _BREAKS.decode(row.breaks) if row.breaks else (), row.tier)
        for row in rows
    )


async def insert_prices(
    connection: AsyncConnection, organisation: str, added: Iterable[PackPrice], revision: int
) -> None:
    rows = [
        {
            "organisation_id": organisation,
            "pack_id": price.pack,
            "currency": str(price.currency),
            "tier": price.tier,
            "effective_from": price.effective_from,
            "revision": revision,
            "amount": price.amount,
            "breaks": breaks_text(price.breaks),
        }
        for price in added
    ]
    if rows:
        await connection.execute(insert(_PRICE), rows)


def breaks_text(breaks: Sequence[PriceBreak]) -> str | None:
    if not breaks:
        return None
    plain = [{"from_packs": one.from_packs, "amount": f"{one.amount:f}"} for one in breaks]
    return msgspec.json.encode(plain).decode()
