"""Buckets that the processes of one machine share, in a SQLite file of their own.

Its writes are not waited for: what it holds is worth seconds, and a damaged file is made anew. Calls
block the loop for some 20 microseconds, which is less than handing them to a thread would take.
"""

import sqlite3
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from filmbuild.limits.buckets import Charge, Level, StoreFailed, settle

_TABLE = """
create table if not exists bucket (
    name text primary key, full_at real not null
) without rowid
"""
_FIND = "select full_at from bucket where name = ?"
_PUT = "insert or replace into bucket (name, full_at) values (?, ?)"
_CLEAR = """
delete from bucket where name in (select name from bucket where full_at < ? limit 500)
"""
_TAKES_BETWEEN_CLEARINGS = 250
_LONGEST_WAIT_SECONDS = 0.1


class FileStore:
    """By the machine's monotonic clock, which all its processes share and nobody sets back.

    Waits no longer than `longest` [s] for another process to finish.
    """

    def __init__(
        self,
        path: Path,
        longest: float = _LONGEST_WAIT_SECONDS,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._path = path
        self._longest = longest
        self._clock = clock
        self._connection: sqlite3.Connection | None = None
        self._takes = 0

    async def take(self, charges: Sequence[Charge]) -> tuple[Level, ...]:
        try:
            return self._take(charges)
        except sqlite3.OperationalError as error:
            self._forget()
            raise StoreFailed(f"{self._path}: {error}") from error
        except sqlite3.DatabaseError as error:
            self._forget()
            self._remove()
            raise StoreFailed(f"{self._path} is made anew: {error}") from error
        except OSError as error:
            raise StoreFailed(str(error)) from error

    async def close(self) -> None:
        self._forget()

    def _take(self, charges: Sequence[Charge]) -> tuple[Level, ...]:
        execute = (self._connection or self._open()).execute
        names = [f"{one.owner} {one.name}" for one in charges]
        execute("begin immediate")
        now = self._clock()
        found = [execute(_FIND, (name,)).fetchone() for name in names]
        levels, kept = settle([row[0] if row else 0.0 for row in found], now, charges)
        for name, full_at in zip(names, kept, strict=True):
            if full_at is not None:
                execute(_PUT, (name, full_at))
        self._takes += 1
        if self._takes % _TAKES_BETWEEN_CLEARINGS == 0:
            execute(_CLEAR, (now,))
        execute("commit")
        return levels

    def _open(self) -> sqlite3.Connection:
        self._path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        connection = sqlite3.connect(
            self._path,
            timeout=self._longest,
            isolation_level=None,
            check_same_thread=False,
        )
        self._connection = connection
        connection.execute("pragma journal_mode = wal")
        connection.execute("pragma synchronous = off")
        connection.execute(_TABLE)
        return connection

    def _forget(self) -> None:
        if self._connection is not None:
            self._connection.close()
            self._connection = None

    def _remove(self) -> None:
        for ending in ("", "-wal", "-shm"):
            self._path.with_name(self._path.name + ending).unlink(missing_ok=True)
