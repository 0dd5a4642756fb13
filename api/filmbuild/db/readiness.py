"""Whether the database is there for the service to do its work, and whether it guards its rows."""

from collections.abc import Awaitable, Callable
from functools import cache

import msgspec
from sqlalchemy import text
from sqlalchemy.exc import SQLAlchemyError
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.db import EVERYONE, Database, migrate
from filmbuild.errors import Unavailable

_REVISION = text("SELECT version_num FROM alembic_version")
_BYPASSES = text(
    "SELECT rolsuper OR rolbypassrls FROM pg_catalog.pg_roles WHERE rolname = current_user"
)
_newest = cache(migrate.head)


class DatabaseState(msgspec.Struct, frozen=True, kw_only=True):
    """`secured` is False where the service's role is not subject to PostgreSQL's row security.

    SQLite has none, and so nothing that could be lacking.
    """

    kind: str
    migration: str | None
    newest: str | None
    secured: bool


def readiness_check(database: Database) -> Callable[[], Awaitable[DatabaseState]]:
    """The check raises Unavailable where the database cannot be read."""

    async def check() -> DatabaseState:
        try:
            async with database.reader(EVERYONE) as connection:
                return await _state(connection, database.url.get_backend_name())
        except (SQLAlchemyError, OSError) as error:
            raise Unavailable("The database cannot be read, or was never made.") from error

    return check


async def _state(connection: AsyncConnection, kind: str) -> DatabaseState:
    bypasses = kind == "postgresql" and bool(await connection.scalar(_BYPASSES))
    return DatabaseState(
        kind=kind,
        migration=await connection.scalar(_REVISION),
        newest=_newest(),
        secured=not bypasses,
    )
