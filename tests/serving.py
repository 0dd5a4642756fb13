"""The whole application on a database of its own, with the demo catalogue loaded."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import calling
import new_databases
from litestar import Litestar
from litestar.testing import TestClient
from sqlalchemy import URL

from filmbuild.app import create_app
from filmbuild.settings import Settings

NewDatabase = new_databases.NewDatabase
load_catalogue = new_databases.load_catalogue
load_demo = new_databases.load_demo
Client = TestClient[Litestar]


@contextmanager
def serving(new_database: NewDatabase) -> Iterator[Client]:
    with new_database(True, loaded=True) as url, client_of(url) as client:
        yield client


def client_of(url: URL) -> Client:
    client = TestClient(create_app(settings_for(url)))
    client.headers.update(calling.HEADERS)
    return client


def settings_for(url: URL) -> Settings:
    folder = Path(url.database or "").parent
    return Settings(data_folder=folder, database_url=url, host="127.0.0.1", port=0)
