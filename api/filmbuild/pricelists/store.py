"""Queries on price updates and the prices they brought. All run in the caller's transaction."""

import secrets
from collections import defaultdict
from collections.abc import AsyncIterator
from datetime import date, datetime
from typing import Any, NamedTuple

import msgspec
from sqlalchemy import ColumnElement, Select, and_, insert, or_, select, tuple_
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.catalogue.tables import pack_price
from filmbuild.db.guard import begins_with_owner, concerns_no_rows
from filmbuild.money import Exact
from filmbuild.pricelists import tables
from filmbuild.pricelists.spill import Spill

_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"
_ID_LENGTH = 26
_UPDATE = tables.price_update
_COLUMNS = (
    "organisation_id",
    "revision",
    "pack_id",
    "currency",
    "tier",
    "effective_from",
    "amount",
    "breaks",
    "before_revision",
    "before_from",
)
_INSERT = begins_with_owner(
    f"INSERT INTO pack_price ({', '.join(_COLUMNS)}) VALUES ({', '.join('?' * len(_COLUMNS))})"  # noqa: S608 - of names that stand in this module
)
_ALIKE = 50
"""Rows of one list and day that a statement of SQLite's inserts together."""
_INSERT_ALIKE = begins_with_owner(
    f"INSERT INTO pack_price ({', '.join(_COLUMNS)}) VALUES "  # noqa: S608 - of names that stand in this module
    + ", ".join(
        f"(?1, ?2, ?{place}, ?3, ?4, ?5, ?{place + 1}, ?6, ?7, ?8)"
        for place in range(9, 9 + 2 * _ALIKE, 2)
    )
)
_BROUGHT = "brought_price"
_MAKE_ROOM = concerns_no_rows(
    f"CREATE TEMPORARY TABLE IF NOT EXISTS {_BROUGHT} (LIKE pack_price) ON COMMIT DROP"
)
_TAKE_OVER = begins_with_owner(
    f"INSERT INTO pack_price (organisation_id, {', '.join(_COLUMNS[1:])}) "  # noqa: S608 - of names that stand in this module
    f"SELECT CAST($1 AS varchar), {', '.join(_COLUMNS[1:])} FROM {_BROUGHT} WHERE organisation_id = CAST($1 AS varchar)"
)
_PACK, _AMOUNT = _COLUMNS.index("pack_id"), _COLUMNS.index("amount")
_DATED = msgspec.msgpack.Decoder(
    list[tuple[str, int, str, str, str, date, str | None, str | None, int | None, date | None]]
)
_PlainRow = tuple[str, int, str, str, str, str, str | None, str | None, int | None, str | None]
_PLAIN = msgspec.msgpack.Decoder(list[_PlainRow])


class StoredUpdate(msgspec.Struct, frozen=True, kw_only=True):
    """One update; `report` is the JSON text of its counts."""

    id: str
    created_at: datetime
    author: str
    note: str
    kind: str
    based_on: int
    revision: int | None
    undoes: str | None
    report: str


class Position(msgspec.Struct, frozen=True):
    """The place of an update in the order of lists."""

    created_at: datetime
    id: str


class Key(NamedTuple):
    """What one revision can price once."""

    pack: str
    currency: str
    tier: str
    effective_from: date


class BroughtPrice(msgspec.Struct, frozen=True):
    """A price of one revision, beside that of the same list which held on its day before."""

    key: Key
    amount: Exact | None
    breaks: str | None
    was_since: date | None
    was: Exact | None
    was_breaks: str | None


def new_update_id() -> str:
    """Opaque: "pru_" and 130 random bits in lower-case letters and digits."""
    return "pru_" + "".join(secrets.choice(_LETTERS) for _ in range(_ID_LENGTH))


async def add_prices(connection: AsyncConnection, organisation: str, added: Spill) -> None:
    """By the fastest way that each driver has for rows that cannot be there yet.

    PostgreSQL copies into no table that has row security, so the rows come by way of another.
    """
    if connection.dialect.name == "sqlite":
        for plain in added.batches(_PLAIN):
            together, single = _alike(plain)
            if together:
                await connection.exec_driver_sql(_INSERT_ALIKE, together)
            if single:
                await connection.exec_driver_sql(_INSERT, single)
        return
    fairy = await connection.get_raw_connection()
    driver = fairy.driver_connection
    if driver is None:
        raise RuntimeError("the connection has been closed")
    await connection.exec_driver_sql(_MAKE_ROOM)
    for dated in added.batches(_DATED):
        await driver.copy_records_to_table(_BROUGHT, records=dated, columns=_COLUMNS)
    await connection.exec_driver_sql(_TAKE_OVER, (organisation,))


def _alike(rows: list[_PlainRow]) -> tuple[list[tuple[object, ...]], list[_PlainRow]]:
    """The parameters of the statement for many rows, and the rows that are too few for it.

    Most of a row is the same in all rows of its list: it is handed to SQLite once for many.
    """
    found: defaultdict[tuple[object, ...], list[_PlainRow]] = defaultdict(list)
    for row in rows:
        owner, revision, _, currency, tier, day, _, breaks, came, since = row
        found[owner, revision, currency, tier, day, breaks, came, since].append(row)
    together: list[tuple[object, ...]] = []
    single: list[_PlainRow] = []
    for key, alike in found.items():
        whole = len(alike) - len(alike) % _ALIKE
        cells = [cell for row in alike[:whole] for cell in (row[_PACK], row[_AMOUNT])]
        step = 2 * _ALIKE
        together += [(*key, *cells[at : at + step]) for at in range(0, len(cells), step)]
        single += alike[whole:]
    return together, single


async def insert_update(
    connection: AsyncConnection, organisation: str, update: StoredUpdate
) -> None:
    row = {"organisation_id": organisation, **msgspec.structs.asdict(update)}
    await connection.execute(insert(_UPDATE), row)


async def find_update(
    connection: AsyncConnection, organisation: str, name: str
) -> StoredUpdate | None:
    query = _selected(organisation).where(_UPDATE.c.id == name)
    row = (await connection.execute(query)).mappings().first()
    return StoredUpdate(**row) if row is not None else None


async def page_of_updates(
    connection: AsyncConnection, organisation: str, after: Position | None, limit: int
) -> tuple[tuple[StoredUpdate, ...], bool]:
    """Newest first, those that follow `after`; and whether more follow."""
    query = _selected(organisation).order_by(_UPDATE.c.created_at.desc(), _UPDATE.c.id.desc())
    if after is not None:
        made = _UPDATE.c.created_at
        same = and_(made == after.created_at, _UPDATE.c.id < after.id)
        query = query.where(or_(made < after.created_at, same))
    rows = (await connection.execute(query.limit(limit + 1))).mappings()
    found = tuple(StoredUpdate(**row) for row in rows)
    return found[:limit], len(found) > limit


async def undone_by(
    connection: AsyncConnection, organisation: str, name: str
) -> StoredUpdate | None:
    """The update that undid this one, unless that has been undone itself."""
    query = _selected(organisation).where(_UPDATE.c.undoes == name)
    newest = query.order_by(_UPDATE.c.created_at.desc(), _UPDATE.c.id.desc()).limit(1)
    row = (await connection.execute(newest)).mappings().first()
    if row is None or await undone_by(connection, organisation, row["id"]) is not None:
        return None
    return StoredUpdate(**row)


async def brought(
    connection: AsyncConnection, organisation: str, revision: int, after: Key | None, limit: int
) -> list[BroughtPrice]:
    """The prices of a revision in order of their keys, those that follow `after`."""
    row, before = pack_price.alias("row"), pack_price.alias("before")
    key = (row.c.pack_id, row.c.currency, row.c.tier, row.c.effective_from)
    same: ColumnElement[bool] = and_(
        before.c.organisation_id == row.c.organisation_id,
        before.c.revision == row.c.before_revision,
        before.c.pack_id == row.c.pack_id,
        before.c.currency == row.c.currency,
        before.c.tier == row.c.tier,
        before.c.effective_from == row.c.before_from,
    )
    query = (
        select(
            *key,
            row.c.amount,
            row.c.breaks,
            row.c.before_from,
            before.c.amount.label("was"),
            before.c.breaks.label("was_breaks"),
        )
        .select_from(row.outerjoin(before, same))
        .where(row.c.organisation_id == organisation, row.c.revision == revision)
        .order_by(*key)
        .limit(limit)
    )
    if after is not None:
        query = query.where(tuple_(*key) > after)
    rows = await connection.execute(query)
    return [BroughtPrice(Key(*found[: len(key)]), *found[len(key) :]) for found in rows]


async def all_brought(
    connection: AsyncConnection, organisation: str, revision: int, size: int
) -> AsyncIterator[list[BroughtPrice]]:
    """All of them, so many at a time."""
    after = None
    while found := await brought(connection, organisation, revision, after, size):
        yield found
        after = found[-1].key


def _selected(organisation: str) -> Select[Any]:
    columns = (_UPDATE.c[name] for name in StoredUpdate.__struct_fields__)
    return select(*columns).where(_UPDATE.c.organisation_id == organisation)
