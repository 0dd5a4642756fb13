"""Whether the database is there for the service to do its work."""

from collections.abc import Awaitable, Callable
from functools import cache

from sqlalchemy import text
from sqlalchemy.exc import SQLAlchemyError

from filmbuild.db import EVERYONE, Database, migrate
from filmbuild.errors import Unavailable

_REVISION = text("SELECT version_num FROM alembic_version")
_newest = cache(migrate.head)


def readiness_check(database: Database) -> Callable[[], Awaitable[None]]:
    """The check raises Unavailable, saying what is missing."""

    async def check() -> None:
        if await _migrated_to(database) != _newest():
            raise Unavailable("The database is not at the newest migration: run filmbuild migrate.")

    return check


async def _migrated_to(database: Database) -> str | None:
    try:
        async with database.reader(EVERYONE) as connection:
            found: str | None = await connection.scalar(_REVISION)
    except (SQLAlchemyError, OSError) as error:
        raise Unavailable("The database cannot be read, or was never made.") from error
    return found
