import asyncio
import sys
from asyncio.subprocess import PIPE
from collections.abc import AsyncIterator
from pathlib import Path

import pytest
from sqlalchemy import (
    URL,
    Column,
    ForeignKey,
    Integer,
    MetaData,
    Table,
    func,
    insert,
    select,
    update,
)
from sqlalchemy.exc import DBAPIError, IntegrityError
from sqlalchemy.ext.asyncio import create_async_engine

from filmbuild.db import EVERYONE, Database
from filmbuild.db.engine import Access, open_engine

TIMES = 25
PROCESSES = 2
COUNTING = Path(__file__).with_name("counting.py")

schema = MetaData()
counter = Table("counter", schema, Column("value", Integer, primary_key=True, autoincrement=False))
reference = Table("reference", schema, Column("value", ForeignKey(counter.c.value)))


@pytest.fixture
async def scratch(empty_database_url: URL) -> AsyncIterator[Database]:
    database = Database(empty_database_url)
    async with database.writer(EVERYONE) as connection:
        await connection.run_sync(schema.create_all)
    yield database
    await database.dispose()


async def values(database: Database) -> list[int]:
    async with database.reader(EVERYONE) as connection:
        return list(await connection.scalars(select(counter.c.value).order_by(counter.c.value)))


async def test_two_processes_that_read_then_update_lose_nothing(
    scratch: Database, empty_database_url: URL
) -> None:
    async with scratch.writer(EVERYONE) as connection:
        await connection.execute(insert(counter).values(value=0))
    arguments = (sys.executable, COUNTING, str(empty_database_url), str(TIMES))
    running = [
        await asyncio.create_subprocess_exec(*arguments, stdin=PIPE, stdout=PIPE)
        for _ in range(PROCESSES)
    ]
    for process in running:
        assert process.stdout
        assert await process.stdout.readline() == b"ready\n"
    await asyncio.gather(*(process.communicate(b"\n") for process in running))
    assert [process.returncode for process in running] == [0] * PROCESSES
    assert await values(scratch) == [2 * TIMES * PROCESSES]


async def test_the_drivers_own_way_would_lose_one_of_two_updates(tmp_path: Path) -> None:
    """What the test above is worth: of two that read and then write, one is written over."""
    url = f"sqlite+aiosqlite:///{tmp_path}/file.sqlite3"
    engine = create_async_engine(url)
    async with engine.begin() as connection:
        await connection.run_sync(schema.create_all)
        await connection.execute(insert(counter).values(value=0))
    async with engine.connect() as one, engine.connect() as other:
        for connection in (one, other):
            assert await connection.scalar(select(counter.c.value)) == 0
        for connection in (one, other):
            await connection.execute(update(counter).values(value=0 + 1))
            await connection.commit()
    async with engine.connect() as connection:
        assert await connection.scalar(select(counter.c.value)) == 1
    await engine.dispose()


async def test_the_same_two_updates_are_both_kept_here(scratch: Database) -> None:
    async with scratch.writer(EVERYONE) as connection:
        await connection.execute(insert(counter).values(value=0))
    reading = asyncio.Barrier(2)

    async def add() -> None:
        await reading.wait()
        async with scratch.writer(EVERYONE) as connection:
            seen = await connection.scalar(select(counter.c.value).with_for_update())
            await asyncio.sleep(0)
            await connection.execute(update(counter).values(value=(seen or 0) + 1))

    await asyncio.gather(add(), add())
    assert await values(scratch) == [2]


async def test_a_block_that_ends_is_kept_and_one_that_raises_is_not(scratch: Database) -> None:
    async with scratch.writer(EVERYONE) as connection:
        await connection.execute(insert(counter).values(value=1))

    async def fail() -> None:
        async with scratch.writer(EVERYONE) as connection:
            await connection.execute(insert(counter).values(value=2))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        await fail()
    assert await values(scratch) == [1]


async def test_a_cancelled_block_is_undone_and_frees_the_writer(scratch: Database) -> None:
    reached = asyncio.Event()

    async def stall() -> None:
        async with scratch.writer(EVERYONE) as connection:
            await connection.execute(insert(counter).values(value=1))
            reached.set()
            await asyncio.Event().wait()

    task = asyncio.create_task(stall())
    await reached.wait()
    task.cancel()
    with pytest.raises(asyncio.CancelledError):
        await task
    async with asyncio.timeout(5), scratch.writer(EVERYONE) as connection:
        await connection.execute(insert(counter).values(value=2))
    assert await values(scratch) == [2]


async def test_a_reader_keeps_one_view_while_a_writer_commits(scratch: Database) -> None:
    total = select(func.count()).select_from(counter)
    async with scratch.reader(EVERYONE) as reading:
        assert await reading.scalar(total) == 0
        async with scratch.writer(EVERYONE) as writing:
            await writing.execute(insert(counter).values(value=1))
        assert await reading.scalar(total) == 0
    assert await values(scratch) == [1]


async def test_a_reader_cannot_write(scratch: Database) -> None:
    with pytest.raises(DBAPIError, match=r"readonly|read-only"):
        async with scratch.reader(EVERYONE) as connection:
            await connection.execute(insert(counter).values(value=1))
    assert await values(scratch) == []


async def test_references_to_missing_rows_are_refused(scratch: Database) -> None:
    with pytest.raises(IntegrityError):
        async with scratch.writer(EVERYONE) as connection:
            await connection.execute(insert(reference).values(value=7))


@pytest.mark.parametrize("access", [Access.READ, Access.WRITE])
async def test_sqlite_connections_are_set_for_several_processes(
    tmp_path: Path, access: Access
) -> None:
    engine = open_engine(f"sqlite+aiosqlite:///{tmp_path}/file.sqlite3", access)
    expected = {"journal_mode": "wal", "busy_timeout": 5000, "synchronous": 1, "foreign_keys": 1}
    async with engine.begin() as connection:
        for pragma, value in expected.items():
            found = await connection.exec_driver_sql(f"PRAGMA {pragma}")
            assert (pragma, found.scalar()) == (pragma, value)
    await engine.dispose()


@pytest.mark.parametrize("url", ["sqlite+aiosqlite://", "sqlite+aiosqlite:///:memory:"])
def test_sqlite_in_memory_is_refused(url: str) -> None:
    with pytest.raises(ValueError, match="needs a file"):
        Database(url)


def test_other_databases_are_refused() -> None:
    with pytest.raises(ValueError, match="no engine for mysql"):
        Database("mysql+asyncmy://host/name")
