import os
import shutil
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from itertools import count
from pathlib import Path

import private_cluster
import pytest
from hypothesis import settings
from private_cluster import Cluster
from sqlalchemy import URL

from filmbuild.db import Database, migrate

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


NewDatabase = Callable[[bool], AbstractContextManager[URL]]


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
    template = folder / "template.sqlite3"

    @contextmanager
    def new(migrated: bool) -> Iterator[URL]:
        path = folder / f"{next(numbers)}.sqlite3"
        if migrated:
            if not template.exists():
                migrate.upgrade(_sqlite_url(template))
            shutil.copyfile(template, path)
        yield _sqlite_url(path)

    return new


@pytest.fixture(scope="session")
def new_postgresql(postgresql_cluster: Cluster) -> NewDatabase:
    numbers = count()
    template = "migrated"
    made: list[URL] = []

    @contextmanager
    def new(migrated: bool) -> Iterator[URL]:
        if migrated and not made:
            made.append(postgresql_cluster.create(template))
            migrate.upgrade(made[0])
        name = f"test_{next(numbers)}"
        yield postgresql_cluster.create(name, template if migrated else "template0")
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
async def database(database_url: URL) -> AsyncIterator[Database]:
    database = Database(database_url)
    yield database
    await database.dispose()


def _sqlite_url(path: Path) -> URL:
    return URL.create("sqlite+aiosqlite", database=str(path))
