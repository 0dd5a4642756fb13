"""What the databases of tests begin with."""

import asyncio
from concurrent.futures import ThreadPoolExecutor
from contextlib import AbstractContextManager
from typing import Protocol

import calling
from calling import ORGANISATION
from sqlalchemy import URL

from filmbuild.catalogue import loader, wire
from filmbuild.db import Database, migrate


class NewDatabase(Protocol):
    """One with every table if it is `migrated`, and if it is `loaded` with the demo catalogue too."""

    def __call__(self, migrated: bool, *, loaded: bool = False) -> AbstractContextManager[URL]: ...


def make(url: URL) -> None:
    """Every table, and the organisation whose key tests call with."""
    migrate.upgrade(url)
    calling.add_organisation(url)


def load_demo(url: URL) -> None:
    load_catalogue(url, wire.demo())


def load_catalogue(url: URL, content: bytes, organisation: str = ORGANISATION) -> None:
    """In a thread of its own: who asks for a database may be in a running loop."""
    with ThreadPoolExecutor(1) as thread:
        thread.submit(asyncio.run, _load(url, content, organisation)).result()


async def _load(url: URL, content: bytes, organisation: str) -> None:
    database = Database(url)
    await loader.load(database, organisation, wire.read(content), "test")
    await database.dispose()
