"""When each key was last used, written now and then rather than at every request."""

import asyncio
import logging
from collections.abc import Callable
from datetime import datetime, timedelta

from filmbuild.accounts import store
from filmbuild.db import Database
from filmbuild.errors import Unavailable

EVERY = timedelta(minutes=1)
logger = logging.getLogger("filmbuild.accounts")


class Usage:
    """A key's use is written at most once a minute and process, in the background."""

    def __init__(self, database: Database, clock: Callable[[], datetime]) -> None:
        self._database = database
        self._clock = clock
        self._written: dict[tuple[str, str], datetime] = {}
        self._writing: set[asyncio.Task[None]] = set()

    def note(self, organisation: str, key: str) -> None:
        now = self._clock()
        last = self._written.get((organisation, key))
        if last is not None and timedelta(0) <= now - last < EVERY:
            return
        self._written[organisation, key] = now
        task = asyncio.create_task(self._write(organisation, key, now))
        self._writing.add(task)
        task.add_done_callback(self._writing.discard)

    async def _write(self, organisation: str, key: str, now: datetime) -> None:
        try:
            async with self._database.writer(organisation) as connection:
                await store.mark_used(connection, organisation, [key], now)
        except Unavailable as error:
            logger.warning("the use of a key was not written: %s", error)

    async def settled(self) -> None:
        """What has been noted is written by then."""
        await asyncio.gather(*self._writing)
