"""Who calls in tests: the key of an organisation that every migrated database begins with."""

import asyncio
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime

from sqlalchemy import URL

from filmbuild.accounts import keys, store
from filmbuild.accounts.store import StoredKey
from filmbuild.db import EVERYONE, Database

ORGANISATION = "default"
KEY_ID = "key_of_the_tests"
KEY = "secret-token:filmbuild_of-the-tests-and-of-nobody-else"
HEADERS = {"authorization": f"Bearer {KEY}"}
BEGUN = datetime(2026, 1, 1, tzinfo=UTC)


def add_organisation(
    url: URL,
    organisation: str = ORGANISATION,
    key: str = KEY,
    scopes: tuple[str, ...] = (keys.EVERYTHING,),
) -> None:
    """In a thread of its own: who asks for a database may be in a running loop."""
    with ThreadPoolExecutor(1) as thread:
        thread.submit(asyncio.run, _add(url, organisation, key, scopes)).result()


async def _add(url: URL, organisation: str, key: str, scopes: tuple[str, ...]) -> None:
    made = keys.key_of(key)
    stored = StoredKey(
        id=KEY_ID,
        kind="secret",
        name="Tests",
        digest=made.digest,
        hint=made.hint,
        scopes=scopes,
        origins=(),
        created_at=BEGUN,
        created_by="tests",
    )
    database = Database(url)
    async with database.writer(EVERYONE) as connection:
        await store.insert_account(connection, organisation, "Tests", BEGUN)
        await store.insert_key(connection, organisation, stored)
    await database.dispose()
