"""What is asked for at every request, on a connection of its own and past the pool's machinery.

Taking a connection from the pool, beginning a transaction and compiling a statement cost more than
a whole estimate; the question itself takes some ten microseconds. These questions are asked across
organisations, past the guard of blocks: each names the key of the one row that it may see.
"""

import asyncio
import sqlite3
from collections.abc import Sequence
from contextlib import suppress
from typing import Any, Protocol, cast

from sqlalchemy import URL
from sqlalchemy.exc import OperationalError, SQLAlchemyError
from sqlalchemy.ext.asyncio import AsyncConnection, AsyncEngine

from filmbuild.db.guard import EVERYONE
from filmbuild.db.outage import outage
from filmbuild.errors import Unavailable

BUSY_SECONDS = 5.0
_ATTEMPTS = 2


Row = tuple[Any, ...]


class Pulse:
    """The largest number of each owner, as it is when it is asked for or later, never before.

    `column` is a number of `table`, whose key begins with organisation_id and then `column`.
    """

    def __init__(self, engine: AsyncEngine, table: str, column: str) -> None:
        chosen = f"SELECT {column} FROM {table} WHERE organisation_id ="  # noqa: S608 - names of our own tables
        ordered = f"ORDER BY {column} DESC LIMIT 1"
        self._asker = _asker(
            engine,
            f"{chosen} ? {ordered}",
            f"SELECT asked, ({chosen} asked {ordered}) FROM unnest($1::text[]) AS t(asked)",  # noqa: S608 - names of our own tables
        )

    async def largest(self, organisation: str) -> int | None:
        """None where there is none yet. Raises Unavailable where the database does not answer."""
        row = await _asked(self._asker, organisation)
        return row[0] if row else None

    async def close(self) -> None:
        await self._asker.close()


class Lookup:
    """The `columns` of the row of `table` whose `key` is what is asked for, as the driver has them."""

    def __init__(self, engine: AsyncEngine, table: str, key: str, columns: Sequence[str]) -> None:
        listed = ", ".join(columns)
        self._asker = _asker(
            engine,
            f"SELECT {listed} FROM {table} WHERE {key} = ? LIMIT 1",  # noqa: S608 - names of our own tables
            f"SELECT {key}, {listed} FROM {table} WHERE {key} = ANY($1::text[])",  # noqa: S608 - names of our own tables
        )

    async def find(self, key: str) -> Row | None:
        """Raises Unavailable where the database does not answer."""
        return await _asked(self._asker, key)

    async def close(self) -> None:
        await self._asker.close()


def _asker(engine: AsyncEngine, alone: str, together: str) -> "_File | _Server":
    if engine.dialect.name == "sqlite":
        return _File(engine.url, alone)
    return _Server(engine, together)


async def _asked(asker: "_File | _Server", key: str) -> Row | None:
    try:
        return await asker.ask(key)
    except SQLAlchemyError as error:
        reason = outage(error)
        if reason is None:
            raise
        raise Unavailable(reason) from error


class _File:
    """SQLite, asked in the thread of the event loop: a reader of a WAL file waits for no writer."""

    def __init__(self, url: URL, statement: str) -> None:
        self._path = url.database or ""
        self._statement = statement
        self._connection: sqlite3.Connection | None = None

    async def ask(self, key: str) -> Row | None:
        try:
            row: Row | None = self._connected().execute(self._statement, (key,)).fetchone()
        except sqlite3.Error as error:
            await self.close()
            raise OperationalError(self._statement, None, error) from error
        return row

    def _connected(self) -> sqlite3.Connection:
        if self._connection is None:
            # not made where it is missing: an empty file would pass for a database
            address = f"{_uri(self._path)}?mode=rw"
            self._connection = sqlite3.connect(
                address, uri=True, timeout=BUSY_SECONDS, check_same_thread=False
            )
            self._connection.isolation_level = None
            self._connection.execute("PRAGMA query_only = ON")
        return self._connection

    async def close(self) -> None:
        connection, self._connection = self._connection, None
        if connection is not None:
            connection.close()


def _uri(path: str) -> str:
    quoted = path.replace("%", "%25").replace("?", "%3f").replace("#", "%23")
    return f"file:{quoted}"


class _Raw(Protocol):
    """What is asked of the driver's own connection."""

    async def fetch(self, query: str, *arguments: object) -> list[Any]: ...


class _Server:
    """PostgreSQL, asked once for all that come while the question before is still out.

    Whoever comes then is answered by the next question: the one under way may have been read before
    a change that the caller knows of.
    """

    def __init__(self, engine: AsyncEngine, statement: str) -> None:
        self._engine = engine
        self._statement = statement
        self._held: AsyncConnection | None = None
        self._raw: _Raw | None = None
        self._waiting: dict[str, asyncio.Future[Row | None]] = {}
        self._asking: asyncio.Task[None] | None = None

    async def ask(self, key: str) -> Row | None:
        answer = self._waiting.get(key)
        if answer is None:
            answer = self._waiting[key] = asyncio.get_running_loop().create_future()
        if self._asking is None or self._asking.done():
            self._asking = asyncio.create_task(self._work())
        return await asyncio.shield(answer)

    async def _work(self) -> None:
        while self._waiting:
            asked, self._waiting = self._waiting, {}
            try:
                found = await self._fetch(list(asked))
            except Exception as error:  # noqa: BLE001 - told to those who asked
                for answer in asked.values():
                    answer.set_exception(error)
                    answer.exception()  # whoever asked may have gone: nobody need read it
            else:
                for key, answer in asked.items():
                    answer.set_result(found.get(key))

    async def _fetch(self, keys: list[str]) -> dict[str, Row]:
        """Once more on a new connection where the one that was held is found to be dead."""
        for attempt in range(1, _ATTEMPTS + 1):
            try:
                raw = await self._connected()
                rows = await raw.fetch(self._statement, keys)
                return {row[0]: tuple(row)[1:] for row in rows}
            except Exception as error:
                # of whatever kind: the driver is not there to be named where SQLite is used
                await self._let_go()
                if attempt == _ATTEMPTS:
                    raise OperationalError(self._statement, None, error) from error
        raise AssertionError

    async def _connected(self) -> _Raw:
        if self._raw is None:
            self._held = await self._engine.connect()
            pooled = await self._held.get_raw_connection()
            raw = cast("_Raw", pooled.driver_connection)
            # asked for many organisations at once; the connection never goes back to the pool
            await raw.fetch("SELECT set_config('filmbuild.organisation', $1, false)", EVERYONE)
            self._raw = raw
        return self._raw

    async def _let_go(self) -> None:
        held, self._held, self._raw = self._held, None, None
        if held is not None:
            with suppress(OSError, SQLAlchemyError):
                await held.invalidate()
                await held.close()

    async def close(self) -> None:
        await self._let_go()
