"""A build in which every query has forgotten whose rows it is about."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from sqlalchemy import Connection, Engine, event, true
from sqlalchemy.sql.dml import Delete, Update
from sqlalchemy.sql.elements import BinaryExpression, BindParameter
from sqlalchemy.sql.expression import Executable
from sqlalchemy.sql.selectable import Select
from sqlalchemy.sql.visitors import replacement_traverse

from filmbuild.db import guard

COLUMN = "organisation_id"


def _forgotten(element: Any, **_others: Any) -> Any:
    if not isinstance(element, BinaryExpression):
        return None
    sides = (element.left, element.right)
    named = any(getattr(one, "name", None) == COLUMN for one in sides)
    return true() if named and any(isinstance(one, BindParameter) for one in sides) else None


def forget(engine: Engine) -> None:
    """Takes the organisation out of the conditions of all that is executed."""

    @event.listens_for(engine, "before_execute", retval=True)
    def without(
        _connection: Connection, statement: Executable, many: Any, parameters: Any, _options: Any
    ) -> Any:
        if isinstance(statement, Select | Update | Delete):
            return replacement_traverse(statement, {}, _forgotten), many, parameters
        return statement, many, parameters


@contextmanager
def careless(monkeypatch: pytest.MonkeyPatch, *, guarded: bool) -> Iterator[None]:
    """Databases that are opened meanwhile are of that build, with its guard in or taken out."""
    watch = guard.watch

    def watched(engine: Engine) -> None:
        forget(engine)
        if guarded:
            watch(engine)

    with monkeypatch.context() as patched:
        patched.setattr(guard, "watch", watched)
        yield
