"""The fastest ways of the bare drivers to upsert prices that are in memory already."""

import sqlite3
import time
from collections.abc import Awaitable, Callable
from datetime import date
from pathlib import Path

import asyncpg
from many_prices import PriceRow
from sqlalchemy import URL

_COLUMNS = "organisation_id, pack_id, currency, tier, effective_from"
_TABLE = (
    "organisation_id VARCHAR(64), pack_id VARCHAR(64), currency VARCHAR(3), tier VARCHAR(64), "
    f"effective_from DATE, amount VARCHAR(48), PRIMARY KEY ({_COLUMNS})"
)
_UPSERT = f"ON CONFLICT ({_COLUMNS}) DO UPDATE SET amount = excluded.amount"
_ARRAYS = "$1::text[], $2::text[], $3::text[], $4::text[], $5::date[], $6::text[]"
Dated = tuple[str, str, str, str, date, str]


def sqlite_seconds(folder: str, before: list[PriceRow], rows: list[PriceRow]) -> float:
    """`executemany`, the faster of a table with row ids and one without."""
    return min(_sqlite(folder, before, rows, end) for end in ("", " WITHOUT ROWID"))


def _sqlite(folder: str, before: list[PriceRow], rows: list[PriceRow], end: str) -> float:
    path = Path(folder) / "raw.sqlite3"
    path.unlink(missing_ok=True)
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = NORMAL")
    connection.execute(f"CREATE TABLE price ({_TABLE}){end}")
    statement = f"INSERT INTO price VALUES (?, ?, ?, ?, ?, ?) {_UPSERT}"  # noqa: S608 - of this module's own text
    taken = 0.0
    for one in (before, rows):
        start = time.perf_counter()
        connection.execute("BEGIN IMMEDIATE")
        connection.executemany(statement, one)
        connection.execute("COMMIT")
        taken = time.perf_counter() - start
    connection.close()
    return taken


async def postgresql_seconds(url: URL, before: list[PriceRow], rows: list[PriceRow]) -> float:
    """The faster of COPY into a temporary table with an upsert from it, and of UNNEST."""
    dated, held = _dated(rows), _dated(before)
    connection = await asyncpg.connect(
        user=url.username, database=url.database, host=str(url.query["host"])
    )
    taken = [await _timed(connection, held, dated, way) for way in (_by_copy, _by_unnest)]
    await connection.close()
    return min(taken)


Way = Callable[[asyncpg.Connection, list[Dated]], Awaitable[None]]


async def _timed(
    connection: asyncpg.Connection, before: list[Dated], rows: list[Dated], way: Way
) -> float:
    await connection.execute("DROP TABLE IF EXISTS raw_price")
    await connection.execute(f"CREATE TABLE raw_price ({_TABLE})")
    await connection.copy_records_to_table("raw_price", records=before)
    start = time.perf_counter()
    async with connection.transaction():
        await way(connection, rows)
    return time.perf_counter() - start


async def _by_copy(connection: asyncpg.Connection, rows: list[Dated]) -> None:
    await connection.execute("CREATE TEMPORARY TABLE staged (LIKE raw_price) ON COMMIT DROP")
    await connection.copy_records_to_table("staged", records=rows)
    await connection.execute(f"INSERT INTO raw_price SELECT * FROM staged {_UPSERT}")  # noqa: S608 - of this module's own text


async def _by_unnest(connection: asyncpg.Connection, rows: list[Dated]) -> None:
    statement = f"INSERT INTO raw_price SELECT * FROM UNNEST({_ARRAYS}) {_UPSERT}"  # noqa: S608 - of this module's own text
    await connection.execute(statement, *map(list, zip(*rows, strict=True)))


def _dated(rows: list[PriceRow]) -> list[Dated]:
    return [(*one[:4], date.fromisoformat(one[4]), one[5]) for one in rows]
