"""Copies of an SQLite database: made while it is in use, and put back in its place.

PostgreSQL has programs of its own for this: pg_dump and pg_restore.
"""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy import URL

from filmbuild.db import migrate
from filmbuild.db.engine import BUSY_MILLISECONDS
from filmbuild.errors import FilmbuildError

POSTGRESQL = (
    "PostgreSQL is backed up by its own programs: `pg_dump --format=custom --file=FILE DATABASE`, "
    "and `pg_restore --clean --if-exists --dbname=DATABASE FILE`"
)


class BackupError(FilmbuildError):
    """A copy that was not made, or cannot be used; the database is as it was."""

    code = "backup"


def backup(url: URL, target: Path) -> None:
    """The database as it is at one moment; others may go on writing. Never writes over a file."""
    if target.exists():
        raise BackupError(f"{target} exists already, and is not written over.")
    unfinished = target.with_name(f"{target.name}.unfinished")
    unfinished.unlink(missing_ok=True)
    # all customers are in it: it is for its owner, in whatever folder it is put
    os.close(os.open(unfinished, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    with _opened(_file(url)) as database:
        database.execute("VACUUM INTO ?", (str(unfinished),))
    _confirm(unfinished)
    with unfinished.open("rb") as file:
        os.fsync(file.fileno())
    unfinished.rename(target)


def restore(url: URL, source: Path) -> None:
    """Puts a copy in the place of the database, as one change of it: all of it or nothing.

    The copy may be of an earlier revision of the schema: migrate afterwards.
    """
    _confirm(source)
    target = _file(url)
    target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    with _opened(source) as copy, closing(_connect(target)) as database:
        database.execute("PRAGMA journal_mode = WAL")
        copy.backup(database)


def _file(url: URL) -> Path:
    if url.get_backend_name() != "sqlite":
        raise BackupError(POSTGRESQL)
    return Path(url.database or "")


def _confirm(path: Path) -> None:
    with _opened(path) as copy:
        problem = str(copy.execute("PRAGMA integrity_check").fetchone()[0])
        if problem != "ok":
            raise BackupError(f"{path} is damaged: {problem}")
        try:
            (revision,) = copy.execute("SELECT version_num FROM alembic_version").fetchone()
        except (sqlite3.OperationalError, TypeError) as error:
            raise BackupError(f"{path} is not a database of this service.") from error
    if revision not in migrate.revisions():
        raise BackupError(f"{path} is at revision {revision}, which this version does not know.")


@contextmanager
def _opened(path: Path) -> Iterator[sqlite3.Connection]:
    """For reading: what is not there is not made."""
    if not path.is_file():
        raise BackupError(f"There is no file {path}.")
    try:
        with closing(_connect(path)) as connection:
            yield connection
    except sqlite3.DatabaseError as error:
        raise BackupError(f"{path} cannot be copied: {error}") from error


def _connect(path: Path) -> sqlite3.Connection:
    return sqlite3.connect(path, timeout=BUSY_MILLISECONDS / 1000, isolation_level=None)
