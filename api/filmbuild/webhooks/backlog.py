"""How many messages wait, for those who watch the service."""

from collections.abc import Callable
from datetime import datetime

from filmbuild.db import EVERYONE, Database
from filmbuild.webhooks import due
from filmbuild.webhooks.due import Lag


class Backlog:
    """Of all organisations; a message whose next try is later is not due."""

    def __init__(self, database: Database, clock: Callable[[], datetime]) -> None:
        self._database = database
        self._clock = clock

    async def messages_due(self) -> float | None:
        return float((await self._lag()).due)

    async def oldest_due_seconds(self) -> float | None:
        """How long the message that is most overdue has been due; nothing where none is."""
        oldest = (await self._lag()).oldest_due_at
        return None if oldest is None else max(0.0, (self._clock() - oldest).total_seconds())

    async def _lag(self) -> Lag:
        async with self._database.reader(EVERYONE) as connection:
            return await due.lag(connection, self._clock())
