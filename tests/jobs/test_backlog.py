"""What is told of jobs that wait."""

from datetime import UTC, datetime, timedelta

from calling import ORGANISATION

from filmbuild.db import Database
from filmbuild.jobs import ask
from filmbuild.jobs.backlog import due_jobs, oldest_due_seconds

ASKED = datetime(2026, 3, 4, 5, 6, tzinfo=UTC)


async def test_jobs_that_wait_are_counted_and_the_oldest_is_timed(database: Database) -> None:
    oldest = oldest_due_seconds(database, lambda: ASKED + timedelta(minutes=2))
    assert await due_jobs(database)() == 0
    assert await oldest() is None
    async with database.writer(ORGANISATION) as connection:
        await ask(connection, ORGANISATION, "kind", "later", ASKED + timedelta(seconds=30))
        await ask(connection, ORGANISATION, "kind", "first", ASKED)
    assert await due_jobs(database)() == 2
    assert await oldest() == 120
