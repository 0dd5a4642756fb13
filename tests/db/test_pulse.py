import asyncio
from datetime import UTC, datetime

import pytest
from sqlalchemy import URL, insert, text
from sqlalchemy.exc import OperationalError

from filmbuild.catalogue.tables import catalogue_revision
from filmbuild.db import EVERYONE, Database
from filmbuild.errors import Unavailable

TABLE, COLUMN = catalogue_revision.name, "revision"


async def add(database: Database, organisation: str, revision: int) -> None:
    row = {
        "organisation_id": organisation,
        "revision": revision,
        "created_at": datetime.now(UTC),
        "author": "a test",
        "note": "",
        "summary": "{}",
    }
    async with database.writer(EVERYONE) as connection:
        await connection.execute(insert(catalogue_revision), row)


async def test_each_owner_has_a_largest_number_of_its_own(database: Database) -> None:
    pulse = database.pulse(TABLE, COLUMN)
    assert await pulse.largest("one") is None
    for organisation, revision in (("one", 1), ("two", 7), ("one", 3), ("one", 2)):
        await add(database, organisation, revision)
    found = await asyncio.gather(*(pulse.largest(name) for name in ("one", "two", "none") * 10))
    assert found == [3, 7, None] * 10


async def test_what_was_written_before_the_question_is_in_the_answer(
    database: Database, database_url: URL
) -> None:
    """Also while many others ask, and by whichever connection it was written."""
    other = Database(database_url)
    pulse = database.pulse(TABLE, COLUMN)
    try:
        for revision in range(1, 21):
            before = [asyncio.create_task(pulse.largest("one")) for _ in range(3)]
            await asyncio.sleep(0)
            await add(other if revision % 2 else database, "one", revision)
            assert await pulse.largest("one") == revision
            assert {await one for one in before} <= {None, revision - 1, revision}
    finally:
        await other.dispose()


async def test_a_write_that_is_not_committed_is_not_seen_and_not_waited_for(
    database: Database,
) -> None:
    pulse = database.pulse(TABLE, COLUMN)
    await add(database, "one", 1)
    async with database.writer(EVERYONE) as connection:
        await connection.execute(text("UPDATE catalogue_revision SET revision = 2"))
        assert await pulse.largest("one") == 1
    assert await pulse.largest("one") == 2


async def test_a_connection_that_was_cut_is_made_anew(
    database: Database, database_url: URL
) -> None:
    pulse = database.pulse(TABLE, COLUMN)
    await add(database, "one", 1)
    assert await pulse.largest("one") == 1
    if database_url.get_backend_name() == "postgresql":
        async with database.writer(EVERYONE) as connection:
            cut = "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE pid <> pg_backend_pid() AND datname = current_database()"
            await connection.execute(text(cut))
    else:
        await pulse.close()
    assert await pulse.largest("one") == 1


async def test_a_database_that_was_never_made_is_told(empty_database_url: URL) -> None:
    database = Database(empty_database_url)
    try:
        with pytest.raises((OperationalError, Unavailable)):
            await database.pulse(TABLE, COLUMN).largest("one")
    finally:
        await database.dispose()


async def test_a_question_that_nobody_waits_for_any_more_harms_no_other(
    database: Database,
) -> None:
    pulse = database.pulse(TABLE, COLUMN)
    await add(database, "one", 1)
    gone = asyncio.create_task(pulse.largest("one"))
    await asyncio.sleep(0)
    gone.cancel()
    assert await pulse.largest("one") == 1
