"""A number asked for at every request, on a connection of its own and past the pool's machinery.

Taking a connection from the pool, beginning a transaction and compiling a statement cost more than
a whole estimate; the question itself takes some ten microseconds.
"""

import asyncio
import sqlite3
from contextlib import suppress
from typing import Any, Protocol, cast

from sqlalchemy import URL
from sqlalchemy.exc import OperationalError, SQLAlchemyError
from sqlalchemy.ext.asyncio import AsyncConnection, AsyncEngine

from filmbuild.db.outage import outage
from filmbuild.errors import Unavailable

BUSY_SECONDS = 5.0
_ATTEMPTS = 2


class Pulse:
    """The largest number of each owner, as it is when it is asked for or later, never before.

    `column` is a number of `table`, whose key begins with organisation_id and then `column`.
    """

    def __init__(self, engine: AsyncEngine, table: str, column: str) -> None:
        self._asker: _File | _Server
        if engine.dialect.name == "sqlite":
            self._asker = _File(engine.url, table, column)
        else:
            self._asker = _Server(engine, table, column)

    async def largest(self, organisation: str) -> int | None:
        """None where there is none yet. Raises Unavailable where the database does not answer."""
        try:
            return await self._asker.ask(organisation)
        except SQLAlchemyError as error:
            reason = outage(error)
            if reason is None:
                raise
            raise Unavailable(reason) from error

    async def close(self) -> None:
        await self._asker.close()


class _File:
    """SQLite, asked in the thread of the event loop: a reader of a WAL file waits for no writer."""

    def __init__(self, url: URL, table: str, column: str) -> None:
        self._path = url.database or ""
        self._statement = (
            f"SELECT {column} FROM {table} WHERE organisation_id = ? "  # noqa: S608 - names of our own tables
            f"ORDER BY {column} DESC LIMIT 1"
        )
        self._connection: sqlite3.Connection | None = None

    async def ask(self, organisation: str) -> int | None:
        try:
            row = self._connected().execute(self._statement, (organisation,)).fetchone()
        except sqlite3.Error as error:
            await self.close()
            raise OperationalError(self._statement, None, error) from error
        return row[0] if row else None

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

    def __init__(self, engine: AsyncEngine, table: str, column: str) -> None:
        self._engine = engine
        self._statement = (
            f"SELECT asked, (SELECT {column} FROM {table} WHERE organisation_id = asked "  # noqa: S608 - names of our own tables
            f"ORDER BY {column} DESC LIMIT 1) FROM unnest($1::text[]) AS t(asked)"
        )
        self._held: AsyncConnection | None = None
        self._raw: _Raw | None = None
        self._waiting: dict[str, asyncio.Future[int | None]] = {}
        self._asking: asyncio.Task[None] | None = None

    async def ask(self, organisation: str) -> int | None:
        answer = self._waiting.get(organisation)
        if answer is None:
            answer = self._waiting[organisation] = asyncio.get_running_loop().create_future()
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
                for organisation, answer in asked.items():
                    answer.set_result(found[organisation])

    async def _fetch(self, organisations: list[str]) -> dict[str, int | None]:
        """Once more on a new connection where the one that was held is found to be dead."""
        for attempt in range(1, _ATTEMPTS + 1):
            try:
                raw = await self._connected()
                return dict(await raw.fetch(self._statement, organisations))
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
            self._raw = cast("_Raw", pooled.driver_connection)
        return self._raw

    async def _let_go(self) -> None:
        held, self._held, self._raw = self._held, None, None
        if held is not None:
            with suppress(OSError, SQLAlchemyError):
                await held.invalidate()
                await held.close()

    async def close(self) -> None:
        held, self._held, self._raw = self._held, None, None
        if held is not None:
            await held.close()
