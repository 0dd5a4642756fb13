"""Blocks of work against the database, each one transaction."""

from collections.abc import AsyncIterator, Sequence
from contextlib import AbstractAsyncContextManager, asynccontextmanager

from sqlalchemy import URL, QueuePool, make_url
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.ext.asyncio import AsyncConnection, AsyncEngine

from filmbuild.db import guard
from filmbuild.db.engine import Access, open_engine
from filmbuild.db.outage import outage
from filmbuild.db.pulse import Lookup, Pulse
from filmbuild.errors import Unavailable
from filmbuild.spans import span

_SAY_WHOSE = guard.concerns_no_rows("SELECT set_config('filmbuild.organisation', $1, true)")
"""For PostgreSQL's row security; it holds until the end of the transaction."""


class Database:
    """Its blocks are each for one organisation, or for EVERYONE, which is for the service itself.

    They raise Unavailable where the database cannot do its work just now.
    """

    def __init__(self, url: str | URL) -> None:
        self.url = make_url(url)
        self._reading = open_engine(url, Access.READ)
        self._writing = open_engine(url, Access.WRITE)
        guard.watch(self._reading.sync_engine)
        guard.watch(self._writing.sync_engine)
        self._pulses: list[Pulse | Lookup] = []

    def reader(self, organisation: str) -> AbstractAsyncContextManager[AsyncConnection]:
        """One unchanging view of the database, in which writing fails."""
        return _block(self._reading, organisation, "database.read")

    def writer(self, organisation: str) -> AbstractAsyncContextManager[AsyncConnection]:
        """A transaction: committed at the end of the block, rolled back if it raises.

        SQLite has one writer at a time. On PostgreSQL writers overlap, so select with
        `with_for_update()` what an update depends on (SQLite needs and takes no such words).
        Never open one inside another: the inner would wait for the outer.
        """
        return _block(self._writing, organisation, "database.write")

    def pulse(self, table: str, column: str) -> Pulse:
        """The largest `column` of an owner's rows in `table`, for what asks at every request."""
        made = Pulse(self._reading, table, column)
        self._pulses.append(made)
        return made

    def lookup(self, table: str, key: str, columns: Sequence[str]) -> Lookup:
        """Rows of all organisations by a key that tells whose they are."""
        made = Lookup(self._reading, table, key, columns)
        self._pulses.append(made)
        return made

    async def connections_in_use(self) -> float:
        """Of the pools for blocks: how many are taken out of them just now."""
        pools = (self._reading.pool, self._writing.pool)
        return float(sum(one.checkedout() for one in pools if isinstance(one, QueuePool)))

    async def dispose(self) -> None:
        for pulse in self._pulses:
            await pulse.close()
        await self._reading.dispose()
        await self._writing.dispose()


@asynccontextmanager
async def _block(
    engine: AsyncEngine, organisation: str, name: str
) -> AsyncIterator[AsyncConnection]:
    try:
        # from here on, so that waiting for a connection counts
        with span(name):
            async with engine.begin() as connection:
                connection.info[guard.INFO] = organisation
                if engine.dialect.name == "postgresql":
                    await connection.exec_driver_sql(_SAY_WHOSE, (organisation,))
                yield connection
    except (SQLAlchemyError, OSError) as error:
        reason = outage(error)
        if reason is None:
            raise
        raise Unavailable(reason) from error
