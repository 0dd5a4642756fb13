import os
import shutil
from collections.abc import AsyncIterator, Iterator
from contextlib import contextmanager
from functools import cache
from itertools import count
from pathlib import Path

import new_databases
import private_cluster
import pytest
from hypothesis import settings
from new_databases import NewDatabase, load_demo
from private_cluster import Cluster
from sqlalchemy import URL

from filmbuild.db import Database

# Hypothesis fails an example that takes longer than a fifth of a second: on a busy machine any may.
settings.register_profile("unhurried", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("unhurried")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--outage-seconds",
        type=float,
        default=2.0,
        help="how long the database is gone where a test takes it away",
    )


@pytest.fixture(scope="session")
def postgresql_cluster() -> Iterator[Cluster]:
    binaries = private_cluster.programs()
    if binaries is None:
        reason = "PostgreSQL's server is not installed (Debian: apt-get install postgresql)"
        if os.environ.get("CI"):
            pytest.fail(reason)
        pytest.skip(reason)
    with private_cluster.cluster(binaries) as cluster:
        yield cluster


@pytest.fixture(scope="session")
def new_sqlite(tmp_path_factory: pytest.TempPathFactory) -> NewDatabase:
    folder = tmp_path_factory.mktemp("sqlite")
    numbers = count()

    @cache
    def template(loaded: bool) -> Path:
        path = folder / f"template-{loaded}.sqlite3"
        if loaded:
            shutil.copyfile(template(False), path)
            load_demo(_sqlite_url(path))
        else:
            new_databases.make(_sqlite_url(path))
        return path

    @contextmanager
    def new(migrated: bool, *, loaded: bool = False) -> Iterator[URL]:
        path = folder / f"{next(numbers)}.sqlite3"
        if migrated:
            shutil.copyfile(template(loaded), path)
        yield _sqlite_url(path)

    return new


@pytest.fixture(scope="session")
def new_postgresql(postgresql_cluster: Cluster) -> NewDatabase:
    numbers = count()

    @cache
    def template(loaded: bool) -> str:
        if loaded:
            load_demo(postgresql_cluster.create("loaded", template(False)))
            return "loaded"
        new_databases.make(postgresql_cluster.create("migrated"))
        return "migrated"

    @contextmanager
    def new(migrated: bool, *, loaded: bool = False) -> Iterator[URL]:
        name = f"test_{next(numbers)}"
        yield postgresql_cluster.create(name, template(loaded) if migrated else "template0")
        postgresql_cluster.drop(name)

    return new


@pytest.fixture(params=["sqlite", "postgresql"])
def new_database(request: pytest.FixtureRequest) -> NewDatabase:
    new: NewDatabase = request.getfixturevalue(f"new_{request.param}")
    return new


@pytest.fixture
def empty_database_url(new_database: NewDatabase) -> Iterator[URL]:
    """A database without tables."""
    with new_database(False) as url:
        yield url


@pytest.fixture
def database_url(new_database: NewDatabase) -> Iterator[URL]:
    """A database with every table and no rows."""
    with new_database(True) as url:
        yield url


@pytest.fixture
def loaded_database_url(new_database: NewDatabase) -> Iterator[URL]:
    """A database with the demo catalogue and no other rows."""
    with new_database(True, loaded=True) as url:
        yield url


@pytest.fixture
async def database(database_url: URL) -> AsyncIterator[Database]:
    database = Database(database_url)
    yield database
    await database.dispose()


def _sqlite_url(path: Path) -> URL:
    return URL.create("sqlite+aiosqlite", database=str(path))
