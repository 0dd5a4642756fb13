"""Which failures of a database pass by themselves, so that a caller may come again."""

import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError, IntegrityError, OperationalError, ProgrammingError
from sqlalchemy.exc import TimeoutError as PoolTimeout

from filmbuild.db import EVERYONE, Database
from filmbuild.db.outage import outage
from filmbuild.errors import Unavailable


def postgresql(state: str, name: str) -> DBAPIError:
    """As SQLAlchemy hands it on: with the state that PostgreSQL gave it.

    PostgreSQL 15 documentation, appendix A, has the states and their names.
    """
    original = Exception(name)
    original.sqlstate = state  # type: ignore[attr-defined] # as the driver's adapter does
    return DBAPIError("SELECT 1", {}, original)


def sqlite(said: str) -> OperationalError:
    return OperationalError("SELECT 1", {}, sqlite3.OperationalError(said))


@pytest.mark.parametrize(
    "error",
    [
        ConnectionRefusedError(),
        TimeoutError(),
        FileNotFoundError(),
        OperationalError("SELECT 1", {}, ConnectionRefusedError()),
        PoolTimeout(),
        postgresql("57P01", "admin_shutdown"),
        postgresql("57P03", "cannot_connect_now"),
        postgresql("08006", "connection_failure"),
        postgresql("53300", "too_many_connections"),
        postgresql("40P01", "deadlock_detected"),
        postgresql("40001", "serialization_failure"),
        postgresql("53100", "disk_full"),
        sqlite("database is locked"),
        sqlite("disk I/O error"),
        sqlite("database or disk is full"),
        sqlite("unable to open database file"),
    ],
    ids=lambda one: str(getattr(one, "orig", type(one).__name__)),
)
def test_what_passes(error: Exception) -> None:
    assert outage(error)


@pytest.mark.parametrize(
    "error", [postgresql("53100", "disk_full"), sqlite("database or disk is full")]
)
def test_a_full_disk_is_told_as_such(error: Exception) -> None:
    assert "no room" in str(outage(error))


@pytest.mark.parametrize(
    "error",
    [
        PermissionError(),
        ValueError(),
        postgresql("42P01", "undefined_table"),
        postgresql("23505", "unique_violation"),
        postgresql("42501", "insufficient_privilege"),
        sqlite("no such table: estimate"),
        sqlite("attempt to write a readonly database"),
        IntegrityError("INSERT", {}, sqlite3.IntegrityError("UNIQUE constraint failed")),
        ProgrammingError("SELEC", {}, sqlite3.ProgrammingError("syntax error")),
    ],
)
def test_what_does_not(error: Exception) -> None:
    assert outage(error) is None


async def test_a_lock_that_is_never_let_go_is_unavailable(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("filmbuild.db.engine.BUSY_MILLISECONDS", 50)
    path = tmp_path / "file.sqlite3"
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("PRAGMA journal_mode = WAL")
    other.execute("CREATE TABLE kept (value INTEGER)")
    other.execute("BEGIN IMMEDIATE")
    database = Database(f"sqlite+aiosqlite:///{path}")
    with pytest.raises(Unavailable):
        async with database.writer(EVERYONE):
            raise AssertionError
    other.execute("COMMIT")
    async with database.writer(EVERYONE) as connection:
        await connection.execute(text("INSERT INTO kept VALUES (1)"))
    await database.dispose()
    assert other.execute("SELECT count(*) FROM kept").fetchone() == (1,)
    other.close()
