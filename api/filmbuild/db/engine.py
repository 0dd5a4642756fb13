"""Engines for SQLite and PostgreSQL, each of which opens one kind of transaction."""

from enum import Enum
from typing import Any

from sqlalchemy import URL, Connection, Engine, NullPool, create_engine, event, make_url
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.ext.asyncio import AsyncEngine, create_async_engine

from filmbuild.db.guard import concerns_no_rows

BUSY_MILLISECONDS = 5000
CONNECT_SECONDS = 5
MIGRATION_LOCK = 7_231_001
SYNCHRONOUS_DRIVERS = {
    "sqlite+aiosqlite": "sqlite+pysqlite",
    "postgresql+asyncpg": "postgresql+psycopg",
}


class Access(Enum):
    READ = "read"
    WRITE = "write"
    MIGRATE = "migrate"


def open_engine(url: str | URL, access: Access) -> AsyncEngine:
    """An engine for requests: `url` is of sqlite+aiosqlite or postgresql+asyncpg."""
    url = _checked(url)
    # what is in rows does not belong into the messages of errors
    engine = create_async_engine(url, hide_parameters=True, **_options(url, access))
    _prepare(engine.sync_engine, access)
    return engine


def open_migrating_engine(url: str | URL) -> Engine:
    """A blocking engine whose transactions exclude every other migration of the same database."""
    url = _checked(url)
    engine = create_engine(
        url.set(drivername=SYNCHRONOUS_DRIVERS[url.drivername]), poolclass=NullPool
    )
    _prepare(engine, Access.MIGRATE)
    return engine


def _checked(url: str | URL) -> URL:
    url = make_url(url)
    if url.drivername not in SYNCHRONOUS_DRIVERS:
        raise ValueError(f"no engine for {url.drivername}; known: {', '.join(SYNCHRONOUS_DRIVERS)}")
    if url.drivername.startswith("sqlite") and url.database in {None, "", ":memory:"}:
        raise ValueError("readers and writers connect apart, so SQLite needs a file")
    return url


def _options(url: URL, access: Access) -> dict[str, Any]:
    if url.drivername.startswith("sqlite"):
        # One connection writes: the writers of a process queue for it in turn instead of
        # polling for the file's lock.
        return {"pool_size": 1, "max_overflow": 0} if access is Access.WRITE else {}
    options: dict[str, Any] = {
        "pool_pre_ping": True,
        "connect_args": {"timeout": CONNECT_SECONDS},
    }
    if access is Access.READ:
        options["isolation_level"] = "REPEATABLE READ"
        options["execution_options"] = {"postgresql_readonly": True}
    return options


def _prepare(engine: Engine, access: Access) -> None:
    if engine.dialect.name == "sqlite":
        _prepare_sqlite(engine, access)
    elif access is Access.MIGRATE:

        @event.listens_for(engine, "begin")
        def lock(connection: Connection) -> None:
            connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({MIGRATION_LOCK})")
            # else row security would hide from a migration what it is to change
            connection.exec_driver_sql("SELECT set_config('filmbuild.organisation', '*', true)")


def _prepare_sqlite(engine: Engine, access: Access) -> None:
    """Take transactions out of the driver's hands.

    The driver opens one only before a statement that writes, so what was read before it is not
    protected, and a transaction that begins by reading cannot always be raised to a writing one.
    Writers therefore take the lock first.
    """
    begin = concerns_no_rows("BEGIN" if access is Access.READ else "BEGIN IMMEDIATE")
    pragmas = (
        f"busy_timeout = {BUSY_MILLISECONDS}",
        "journal_mode = WAL",
        "synchronous = NORMAL",
        # A migration remakes a table by dropping it, which must not cascade.
        f"foreign_keys = {'OFF' if access is Access.MIGRATE else 'ON'}",
        f"query_only = {'ON' if access is Access.READ else 'OFF'}",
    )

    @event.listens_for(engine, "connect")
    def connect(connection: DBAPIConnection, _record: object) -> None:
        connection.isolation_level = None
        cursor = connection.cursor()
        for pragma in pragmas:
            cursor.execute(f"PRAGMA {pragma}")
        cursor.close()

    @event.listens_for(engine, "begin")
    def begin_transaction(connection: Connection) -> None:
        connection.exec_driver_sql(begin)
