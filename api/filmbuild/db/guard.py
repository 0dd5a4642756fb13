"""Keeps every statement to one organisation's rows: the one place that does.

A block of work is opened for one organisation, and each statement in it must say so itself: every
table that has an `organisation_id` is read and written with that column equal to the block's
organisation. A statement that does not is refused before it reaches the database, so that a
forgotten condition is an error and not a leak. PostgreSQL's row security says the same once more.
"""

from collections.abc import Sequence
from typing import Any
from weakref import WeakKeyDictionary, ref

from sqlalchemy import Connection, Engine, Update, event
from sqlalchemy.engine.interfaces import DBAPICursor, ExecutionContext
from sqlalchemy.sql.compiler import SQLCompiler

from filmbuild.db.pinned import COLUMN, GuardError, names_organisation, pins

EVERYONE = "*"
"""Opens a block of the service itself, which may read and write the rows of all organisations."""
INFO = "filmbuild.organisation"
_CHECKED = "filmbuild.checked"
_without_rows: set[str] = set()
_beginning_with_owner: set[str] = set()


def concerns_no_rows(statement: str) -> str:
    """Admits a statement in the database's own words that reads and writes no table."""
    _without_rows.add(statement)
    return statement


def begins_with_owner(statement: str) -> str:
    """Admits one whose first parameter is the organisation of all the rows that it is about."""
    _beginning_with_owner.add(statement)
    return statement


def watch(engine: Engine) -> None:
    """Checks all that is executed through the engine. Executing raises GuardError."""
    known: WeakKeyDictionary[SQLCompiler, tuple[str, ...]] = WeakKeyDictionary()

    @event.listens_for(engine, "before_cursor_execute")
    def check(
        connection: Connection,
        _cursor: DBAPICursor,
        statement: str,
        parameters: Any,  # noqa: ANN401 - whatever the driver takes
        context: Any,  # noqa: ANN401 - the library declares less than it hands over
        _many: bool,
    ) -> None:
        organisation = connection.info.get(INFO)
        if organisation == EVERYONE or _was_checked(connection, context):
            return
        compiled = context.compiled
        if compiled is None:
            _check_words(statement, parameters, organisation)
            return
        names = known.get(compiled)
        if names is None:
            names = known[compiled] = _names(compiled)
        for given in context.compiled_parameters if names else ():
            if any(given.get(name) != organisation for name in names):
                raise GuardError("A statement is about another organisation than its block.")


def _was_checked(connection: Connection, context: ExecutionContext) -> bool:
    """Rows that are inserted in batches come here once a batch, with all of them each time."""
    last = connection.info.get(_CHECKED)
    if last is not None and last() is context:
        return True
    connection.info[_CHECKED] = ref(context)
    return False


def _names(compiled: SQLCompiler) -> tuple[str, ...]:
    """Of the parameters that must be the organisation."""
    statement = compiled.statement
    if statement is None:
        raise GuardError("A statement whose tables cannot be told.")
    if isinstance(statement, Update) and COLUMN in compiled.binds:
        raise GuardError("A statement gives rows to somebody else.")
    names = [compiled.bind_names[one] for one in pins(statement)]
    return (*names, COLUMN) if names_organisation(statement) else tuple(names)


def _check_words(statement: str, parameters: Sequence[Any], organisation: str | None) -> None:
    if statement in _without_rows:
        return
    if statement not in _beginning_with_owner:
        raise GuardError(f"Whose rows does this statement read or write: {statement[:80]!r}")
    rows = parameters if parameters and isinstance(parameters[0], tuple | list) else [parameters]
    if any(row[0] != organisation for row in rows):
        raise GuardError("A statement is about another organisation than its block.")
