"""Numbers of papers: consecutive, whatever happens at once, and whatever fails."""

import asyncio

import pytest
from sqlalchemy import URL

from filmbuild.db import EVERYONE, Database
from filmbuild.quotations.numbers import take_number


async def take(database: Database, organisation: str = "a", first: int = 1) -> int:
    async with database.writer(EVERYONE) as connection:
        return await take_number(connection, organisation, "quotation", first)


async def test_series_count_each_on_their_own(database: Database) -> None:
    assert [await take(database) for _ in range(3)] == [1, 2, 3]
    assert await take(database, "b", first=1205) == 1205
    assert await take(database, "b", first=1) == 1206
    async with database.writer(EVERYONE) as connection:
        assert await take_number(connection, "a", "another", 1) == 1
    assert await take(database) == 4


async def test_a_number_of_what_failed_is_taken_by_the_next(database: Database) -> None:
    assert await take(database) == 1

    async def take_and_fail() -> None:
        async with database.writer(EVERYONE) as connection:
            assert await take_number(connection, "a", "quotation") == 2
            raise RuntimeError("it fails")

    with pytest.raises(RuntimeError, match="it fails"):
        await take_and_fail()
    assert await take(database) == 2


async def test_twenty_at_once_are_consecutive_from_the_first(database_url: URL) -> None:
    # two sets of connections, so that on SQLite too writers meet in the file
    offices = (Database(database_url), Database(database_url))
    taken = await asyncio.gather(*(take(offices[turn % 2]) for turn in range(20)))
    for one in offices:
        await one.dispose()
    assert sorted(taken) == list(range(1, 21))
