"""The whole application on a database of its own, with the demo catalogue loaded."""

import asyncio
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

from litestar import Litestar
from litestar.testing import TestClient
from sqlalchemy import URL

from filmbuild.app import create_app
from filmbuild.catalogue import loader, wire
from filmbuild.catalogue.organisation import ORGANISATION
from filmbuild.db import Database
from filmbuild.settings import Settings

NewDatabase = Callable[[bool], AbstractContextManager[URL]]
Client = TestClient[Litestar]


@contextmanager
def serving(new_database: NewDatabase) -> Iterator[Client]:
    with new_database(True) as url:
        load_demo(url)
        with client_of(url) as client:
            yield client


def client_of(url: URL) -> Client:
    return TestClient(create_app(settings_for(url)))


def settings_for(url: URL) -> Settings:
    folder = Path(url.database or "").parent
    return Settings(data_folder=folder, database_url=url, host="127.0.0.1", port=0)


def load_demo(url: URL) -> None:
    load_catalogue(url, wire.demo())


def load_catalogue(url: URL, content: bytes) -> None:
    asyncio.run(_load(url, content))


async def _load(url: URL, content: bytes) -> None:
    database = Database(url)
    await loader.load(database, ORGANISATION, wire.read(content), "test")
    await database.dispose()
