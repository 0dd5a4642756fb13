"""Tells a database that cannot do its work just now from a statement that is wrong."""

import socket
from typing import Final

from sqlalchemy.exc import DBAPIError
from sqlalchemy.exc import TimeoutError as PoolTimeout

UNREACHABLE: Final = (ConnectionError, FileNotFoundError, TimeoutError, socket.gaierror)
"""What connecting raises by itself: refused, no socket there, no answer, no such host."""

# PostgreSQL, appendix A: connection exceptions, transaction rolled back, insufficient resources,
# operator intervention, system errors
PASSING_CLASSES: Final = ("08", "40", "53", "57", "58")
CLOSED: Final = ("connection is closed", "connection was closed")
SQLITE_FULL: Final = "database or disk is full"
SQLITE_PASSING: Final = (
    SQLITE_FULL,
    "database is locked",
    "disk I/O error",
    "unable to open database file",
)


def outage(error: BaseException) -> str | None:
    """What to tell a caller who may try again later, or None where the database is not to blame."""
    if isinstance(error, PoolTimeout):
        return "All connections to the database are in use."
    if isinstance(getattr(error, "orig", error), UNREACHABLE):
        return "The database does not answer."
    if not isinstance(error, DBAPIError):
        return None
    said = str(error.orig)
    if SQLITE_FULL in said or _state(error).startswith("53100"):
        return "The database has no room left; nothing was stored."
    passing = error.connection_invalidated or _state(error).startswith(PASSING_CLASSES)
    if passing or any(one in said for one in (*SQLITE_PASSING, *CLOSED)):
        return "The database does not answer."
    return None


def _state(error: DBAPIError) -> str:
    """PostgreSQL's five letters for what went wrong; SQLite has none."""
    state = getattr(error.orig, "sqlstate", None)
    return state if isinstance(state, str) else ""
