"""Jobs: asked for with what they are about, done portion by portion, and never forgotten."""

import asyncio
import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime

import msgspec
import pytest
from sqlalchemy import URL, select
from sqlalchemy.ext.asyncio import AsyncConnection
from waiting import happens

from filmbuild import jobs
from filmbuild.db import EVERYONE, Database
from filmbuild.errors import Unavailable
from filmbuild.jobs import Work, durable, store, tables
from filmbuild.jobs import worker as worker_module
from filmbuild.jobs.thread import WorkerThread
from filmbuild.jobs.worker import Worker

ORGANISATION = "harbour"
NOON = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)


class Counting:
    """Counts to `last`, a number a portion, and notes what it was told."""

    def __init__(self, last: int, raises: Exception | None = None) -> None:
        self.last = last
        self.raises = raises
        self.counted: list[int] = []
        self.failures: list[str] = []
        self.reached = asyncio.Event()
        self.hold: asyncio.Event | None = None

    @property
    def work(self) -> Work:
        return Work(portion=self.portion, failed=self.failed)

    async def portion(self, organisation: str, subject: str) -> bool:
        assert (organisation, subject) == (ORGANISATION, "count")
        if self.raises is not None:
            raised, self.raises = self.raises, None
            raise raised
        self.counted.append(len(self.counted) + 1)
        self.reached.set()
        if self.hold is not None:
            await self.hold.wait()
        return len(self.counted) < self.last

    async def failed(
        self, _connection: AsyncConnection, organisation: str, subject: str, detail: str
    ) -> None:
        assert (organisation, subject) == (ORGANISATION, "count")
        self.failures.append(detail)


async def ask(database: Database, kind: str = "count") -> str:
    async with database.writer(EVERYONE) as connection:
        return await jobs.ask(connection, ORGANISATION, kind, "count", NOON)


class Row(msgspec.Struct, frozen=True):
    state: str
    attempt: int
    detail: str | None


async def row(database: Database, job: str) -> Row:
    columns = tables.job.c
    query = select(columns.state, columns.attempt, columns.detail).where(columns.id == job)
    async with database.reader(EVERYONE) as connection:
        return Row(*(await connection.execute(query)).one())


@asynccontextmanager
async def working(url: URL, **works: Counting) -> AsyncIterator[Worker]:
    worker = Worker(Database(url), {kind: one.work for kind, one in works.items()})
    task = asyncio.create_task(worker.run())
    try:
        yield worker
    finally:
        worker.stop()
        await task


async def ended(database: Database, job: str) -> Row:
    async def over() -> bool:
        return (await row(database, job)).state != "due"

    await happens(over)
    return await row(database, job)


async def test_each_job_comes_to_its_own_end(database: Database, database_url: URL) -> None:
    counting, failing = Counting(3), Counting(1, ZeroDivisionError("by zero"))
    waiting = Counting(2, Unavailable("The database does not answer."))
    done, failed, waited, unknown = [
        await ask(database, kind) for kind in ("count", "fail", "wait", "bake")
    ]
    async with working(database_url, count=counting, fail=failing, wait=waiting):
        assert await ended(database, done) == Row("done", 1, None)
        assert await ended(database, failed) == Row("failed", 1, "ZeroDivisionError")
        assert await ended(database, waited) == Row("done", 1, None)
        never = await ended(database, unknown)
    assert counting.counted == [1, 2, 3]
    assert (failing.counted, failing.failures) == ([], ["ZeroDivisionError"])
    assert waiting.counted == [1, 2]
    assert (never.state, never.detail) == (
        "failed",
        "This version has no work of the kind bake.",
    )


async def test_a_job_of_a_transaction_that_failed_is_none(database: Database) -> None:
    async def fail() -> None:
        async with database.writer(EVERYONE) as connection:
            await jobs.ask(connection, ORGANISATION, "count", "count", NOON)
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        await fail()
    async with database.reader(EVERYONE) as connection:
        assert await store.due(connection, 10) == ()


async def test_what_was_begun_too_often_is_given_up(
    database: Database, database_url: URL, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As when doing it kills the process each time: here every attempt is over at once."""
    monkeypatch.setattr(durable, "under_way", lambda _job: False)
    monkeypatch.setattr(worker_module, "MOST_ATTEMPTS", 3)
    monkeypatch.setattr(worker_module, "POLL_SECONDS", 0.01)
    counting = Counting(1)
    job = await ask(database)
    async with working(database_url, count=counting):
        found = await ended(database, job)
    assert (found.state, found.attempt) == ("failed", 3)
    assert counting.failures == [found.detail]


async def test_stopping_finishes_the_portion_and_the_next_worker_goes_on(
    database: Database, database_url: URL
) -> None:
    counting = Counting(5)
    counting.hold = asyncio.Event()
    job = await ask(database)
    async with working(database_url, count=counting) as worker:
        await counting.reached.wait()
        worker.stop()
        counting.hold.set()
    assert counting.counted == [1]
    assert (await row(database, job)).state == "due"
    async with working(database_url, count=counting):
        assert await ended(database, job) == Row("done", 1, None)
    assert counting.counted == [1, 2, 3, 4, 5]


async def test_one_worker_at_a_time_and_another_takes_its_place(
    database: Database, database_url: URL
) -> None:
    first, second = Counting(1), Counting(1)
    async with working(database_url, count=second) as standing_in:
        one = await ask(database)
        await ended(database, one)
        assert second.counted == [1]
        async with working(database_url, count=first):
            second.last = 2
            two = await ask(database)
            await ended(database, two)
            assert first.counted == []
            standing_in.stop()
            three = await ask(database)
            await ended(database, three)
    assert (first.counted, second.counted) == ([1], [1, 2])


async def test_a_thread_works_beside_the_loop_that_serves(
    database: Database, database_url: URL
) -> None:
    seen: list[str] = []

    async def portion(_organisation: str, _subject: str) -> bool:
        seen.append(threading.current_thread().name)
        return False

    async def failed(_connection: AsyncConnection, *_names: str) -> None:
        raise AssertionError

    thread = WorkerThread(lambda: Worker(Database(database_url), {"count": Work(portion, failed)}))
    job = await ask(database)
    thread.start()
    try:
        await ended(database, job)
    finally:
        await asyncio.to_thread(thread.stop)
    assert seen == ["worker"]
