"""How much work waits, for those who watch the service."""

from collections.abc import Awaitable, Callable
from datetime import datetime

from sqlalchemy import func, select

from filmbuild.db import EVERYONE, Database
from filmbuild.jobs.tables import job

Figure = Callable[[], Awaitable[float | None]]


def due_jobs(database: Database) -> Figure:
    """How many jobs are due, of all organisations."""
    query = select(func.count()).select_from(job).where(job.c.state == "due")

    async def read() -> float | None:
        async with database.reader(EVERYONE) as connection:
            return float(await connection.scalar(query) or 0)

    return read


def oldest_due_seconds(database: Database, clock: Callable[[], datetime]) -> Figure:
    """How long the job that has waited longest has been due; nothing where none is."""
    query = select(func.min(job.c.created_at)).where(job.c.state == "due")

    async def read() -> float | None:
        async with database.reader(EVERYONE) as connection:
            oldest: datetime | None = await connection.scalar(query)
        return None if oldest is None else max(0.0, (clock() - oldest).total_seconds())

    return read
