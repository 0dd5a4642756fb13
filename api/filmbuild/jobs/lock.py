"""Lets one process at a time be the worker of a database, whichever of them is there.

The lock is the system's own, and is let go when its holder dies in whatever way.
"""

import fcntl
import os
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Protocol

from sqlalchemy import URL, text
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.db.engine import Access, open_engine
from filmbuild.errors import Conflict

WORKER_LOCK = 7_231_002
_TAKE = text("SELECT pg_try_advisory_lock(:lock)")
_STILL_THERE = text("SELECT 1")


class WorkerLock(Protocol):
    async def held(self) -> bool:
        """Takes it where it is free; whether it is ours now."""

    async def release(self) -> None: ...


def worker_lock(url: URL) -> WorkerLock:
    if url.get_backend_name() == "sqlite":
        return FileLock(_beside(url))
    return AdvisoryLock(url)


@contextmanager
def not_at_work(url: URL) -> Iterator[None]:
    """Raises Conflict where a worker is on this SQLite database, and keeps others from it."""
    lock = FileLock(_beside(url))
    if url.get_backend_name() == "sqlite" and not lock.take():
        raise Conflict("The service is running on this database: stop it first.")
    try:
        yield
    finally:
        lock.let_go()


def _beside(url: URL) -> Path:
    return Path(f"{url.database}.worker")


class FileLock:
    """Beside the database's own file."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._file: int | None = None

    async def held(self) -> bool:
        return self.take()

    async def release(self) -> None:
        self.let_go()

    def take(self) -> bool:
        if self._file is not None:
            return True
        self._path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        file = os.open(self._path, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            os.close(file)
            return False
        self._file = file
        return True

    def let_go(self) -> None:
        if self._file is not None:
            os.close(self._file)
            self._file = None


class AdvisoryLock:
    """Held by a connection that is kept open for it; lost with that connection."""

    def __init__(self, url: URL) -> None:
        self._engine = open_engine(url, Access.WRITE)
        self._connection: AsyncConnection | None = None

    async def held(self) -> bool:
        """Raises what the database driver raises where the database does not answer."""
        if self._connection is not None:
            try:
                await self._connection.execute(_STILL_THERE)
            except (SQLAlchemyError, OSError):
                await self._let_go()
            else:
                return True
        connection = await self._engine.connect()
        try:
            await connection.execution_options(isolation_level="AUTOCOMMIT")
            if await connection.scalar(_TAKE, {"lock": WORKER_LOCK}):
                self._connection = connection
                return True
        finally:
            if self._connection is not connection:
                await connection.close()
        return False

    async def release(self) -> None:
        await self._let_go()
        await self._engine.dispose()

    async def _let_go(self) -> None:
        """A lock of the session outlives a return to the pool, so the connection is ended."""
        connection, self._connection = self._connection, None
        if connection is not None:
            with suppress(SQLAlchemyError, OSError):
                await connection.invalidate()
                await connection.close()
