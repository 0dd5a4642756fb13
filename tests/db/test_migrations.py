import asyncio
import sqlite3
import sys
from pathlib import Path

import pytest
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from sqlalchemy import URL, inspect

from filmbuild.db import metadata, migrate
from filmbuild.db.engine import open_migrating_engine
from filmbuild.settings import read

VERSION_TABLE = "alembic_version"
Shape = dict[str, list[str]]


def revisions() -> list[str]:
    """First to last."""
    script = ScriptDirectory.from_config(migrate.config())
    return [revision.revision for revision in script.walk_revisions()][::-1]


def shape(url: URL) -> Shape:
    """What the database itself says of each table."""
    with open_migrating_engine(url).begin() as connection:
        inspector = inspect(connection)
        return {
            table: [
                *(f"column {column}" for column in inspector.get_columns(table)),
                f"key {inspector.get_pk_constraint(table)}",
                *sorted(f"reference {key}" for key in inspector.get_foreign_keys(table)),
                *sorted(f"index {index}" for index in inspector.get_indexes(table)),
                *sorted(f"unique {unique}" for unique in inspector.get_unique_constraints(table)),
                *sorted(f"check {check}" for check in inspector.get_check_constraints(table)),
            ]
            for table in sorted(inspector.get_table_names())
            if table != VERSION_TABLE
        }


def test_the_migrated_tables_are_those_that_the_code_declares(database_url: URL) -> None:
    migrate.check(database_url)
    assert set(shape(database_url)) == set(metadata.tables)
    assert metadata.tables


def test_a_table_that_the_code_does_not_declare_is_noticed(database_url: URL) -> None:
    with open_migrating_engine(database_url).begin() as connection:
        connection.exec_driver_sql("CREATE TABLE planted (value INTEGER)")
    with pytest.raises(CommandError, match="planted"):
        migrate.check(database_url)


def test_each_migration_goes_up_down_and_up_again(empty_database_url: URL) -> None:
    on_the_way: dict[str, Shape] = {}
    for revision in revisions():
        migrate.upgrade(empty_database_url, revision)
        on_the_way[revision] = shape(empty_database_url)
        assert migrate.current(empty_database_url) == revision
    assert on_the_way
    for revision in revisions()[::-1]:
        assert shape(empty_database_url) == on_the_way[revision]
        migrate.downgrade(empty_database_url, "-1")
    assert migrate.current(empty_database_url) is None
    assert shape(empty_database_url) == {}
    migrate.upgrade(empty_database_url)
    assert shape(empty_database_url) == on_the_way[revisions()[-1]]


async def test_upgrading_at_once_or_again_is_safe(empty_database_url: URL) -> None:
    program = "import sys; from filmbuild.db import migrate; migrate.upgrade(sys.argv[1])"
    arguments = (sys.executable, "-c", program, str(empty_database_url))
    running = [await asyncio.create_subprocess_exec(*arguments) for _ in range(2)]
    assert [await process.wait() for process in running] == [0, 0]
    before = shape(empty_database_url)
    migrate.upgrade(empty_database_url)
    assert migrate.current(empty_database_url) == migrate.head()
    assert shape(empty_database_url) == before


def test_the_folder_of_a_new_database_is_made(tmp_path: Path) -> None:
    settings = read({"FILMBUILD_DATA_FOLDER": str(tmp_path / "new" / "data")})
    migrate.upgrade(settings.database_url)
    assert migrate.current(settings.database_url) == migrate.head()


def test_the_folder_of_a_new_database_is_for_the_service_alone(tmp_path: Path) -> None:
    migrate.upgrade(f"sqlite+aiosqlite:///{tmp_path}/new/filmbuild.sqlite3")
    assert (tmp_path / "new").stat().st_mode & 0o077 == 0


def test_rows_that_a_migration_left_without_their_reference_stop_it(tmp_path: Path) -> None:
    path = tmp_path / "file.sqlite3"
    with sqlite3.connect(path) as connection:
        connection.execute("CREATE TABLE whole (value INTEGER PRIMARY KEY)")
        connection.execute("CREATE TABLE part (whole REFERENCES whole)")
        connection.execute("INSERT INTO part VALUES (7)")
    connection.close()
    url = f"sqlite+aiosqlite:///{path}"
    with (
        open_migrating_engine(url).begin() as migrating,
        pytest.raises(RuntimeError, match="1 rows refer to rows that do not exist, in part"),
    ):
        migrate.confirm_references(migrating)
