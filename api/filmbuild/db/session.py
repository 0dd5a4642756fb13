"""Blocks of work against the database, each one transaction."""

from collections.abc import AsyncIterator
from contextlib import AbstractAsyncContextManager, asynccontextmanager

from sqlalchemy import URL, make_url
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.ext.asyncio import AsyncConnection, AsyncEngine

from filmbuild.db.engine import Access, open_engine
from filmbuild.db.outage import outage
from filmbuild.db.pulse import Pulse
from filmbuild.errors import Unavailable


class Database:
    """Its blocks raise Unavailable where the database cannot do its work just now."""

    def __init__(self, url: str | URL) -> None:
        self.url = make_url(url)
        self._reading = open_engine(url, Access.READ)
        self._writing = open_engine(url, Access.WRITE)
        self._pulses: list[Pulse] = []

    def reader(self) -> AbstractAsyncContextManager[AsyncConnection]:
        """One unchanging view of the database, in which writing fails."""
        return _block(self._reading)

    def writer(self) -> AbstractAsyncContextManager[AsyncConnection]:
        """A transaction: committed at the end of the block, rolled back if it raises.

        SQLite has one writer at a time. On PostgreSQL writers overlap, so select with
        `with_for_update()` what an update depends on (SQLite needs and takes no such words).
        Never open one inside another: the inner would wait for the outer.
        """
        return _block(self._writing)

    def pulse(self, table: str, column: str) -> Pulse:
        """The largest `column` of an owner's rows in `table`, for what asks at every request."""
        made = Pulse(self._reading, table, column)
        self._pulses.append(made)
        return made

    async def dispose(self) -> None:
        for pulse in self._pulses:
            await pulse.close()
        await self._reading.dispose()
        await self._writing.dispose()


@asynccontextmanager
async def _block(engine: AsyncEngine) -> AsyncIterator[AsyncConnection]:
    try:
        async with engine.begin() as connection:
            yield connection
    except (SQLAlchemyError, OSError) as error:
        reason = outage(error)
        if reason is None:
            raise
        raise Unavailable(reason) from error
