"""Reads off a statement which of its parameters tie its tables to one organisation.

Each table of a SELECT, and of each SELECT inside, must be tied by a condition that holds for every
row: `organisation_id` equal to a parameter, or to that of a table that is itself tied. Conditions
inside an OR tie nothing, and those that an outer join is on tie only the side that may be missing.
"""

import re
from collections.abc import Iterable, Iterator, Sequence

from sqlalchemy import (
    BindParameter,
    Column,
    ColumnElement,
    Delete,
    FromClause,
    Insert,
    Join,
    Select,
    Table,
    TableClause,
    TextClause,
    Update,
)
from sqlalchemy.dialects.postgresql.dml import OnConflictDoUpdate
from sqlalchemy.dialects.sqlite.dml import OnConflictDoUpdate as OnConflictDoUpdateOfFile
from sqlalchemy.sql import operators
from sqlalchemy.sql.elements import BinaryExpression, BooleanClauseList, ColumnClause, Grouping
from sqlalchemy.sql.selectable import AliasedReturnsRows, FromGrouping, ReturnsRows
from sqlalchemy.sql.visitors import ExternallyTraversible

COLUMN = "organisation_id"
Tables = frozenset[FromClause]
Condition = tuple[object, Tables | None]
"""What it says, and which tables it may tie; None where it holds for all rows."""
_NOBODY: Tables = frozenset()
_PLAIN = re.compile(r"\*|\w+")


class GuardError(Exception):
    """A statement that could read or write another organisation's rows: a fault of ours."""


def pins(statement: ExternallyTraversible) -> Iterator[BindParameter[str]]:
    """The parameters that must be the organisation. Raises GuardError where a table is not tied."""
    yield from _inside(statement, _NOBODY, _NOBODY)


def names_organisation(statement: ExternallyTraversible) -> bool:
    """Whether it inserts rows that must say whose they are."""
    return isinstance(statement, Insert) and statement.select is None and _owned(statement.table)


def _inside(
    element: ExternallyTraversible, around: Tables, next_to: Tables
) -> Iterator[BindParameter[str]]:
    """`around` are the tables of all the statements around it, `next_to` those of the innermost."""
    if isinstance(element, Select):
        yield from _of_select(element, around, next_to)
        return
    _check_words(element)
    if isinstance(element, Update | Delete):
        leaves = _leaves_of_change(element)
        yield from _tied(leaves, _conjuncts(element._where_criteria))  # noqa: SLF001 - nothing public tells the conditions
        around = next_to = frozenset(leaves)
    elif isinstance(element, Insert):
        yield from _of_insert(element)
    elif isinstance(element, OnConflictDoUpdate | OnConflictDoUpdateOfFile):
        _check_conflict(element)
    for child in element.get_children():
        yield from _inside(child, around, next_to)


def _check_conflict(element: OnConflictDoUpdate | OnConflictDoUpdateOfFile) -> None:
    """The row that is in the way, and is changed instead, must be the organisation's too."""
    target = [getattr(one, "name", one) for one in element.inferred_target_elements or ()]
    changed = [getattr(one, "name", one) for one in element.update_values_to_set]
    if COLUMN not in target or COLUMN in changed:
        raise GuardError("A statement may change a row in its way without saying whose it is.")


def _check_words(element: ExternallyTraversible) -> None:
    """Words of our own could name any table."""
    if isinstance(element, TextClause):
        raise GuardError(f"Whose rows does this text read or write: {element.text!r}")
    if (
        isinstance(element, ColumnClause)
        and element.is_literal
        and not _PLAIN.fullmatch(element.name)
    ):
        raise GuardError(f"Whose rows does this text read or write: {element.name!r}")


def _of_select(
    select: Select[tuple[object, ...]], around: Tables, next_to: Tables
) -> Iterator[BindParameter[str]]:
    froms = select.get_final_froms()
    outer = _correlated(select, froms, around, next_to)
    leaves: list[FromClause] = []
    criteria: list[Condition] = [*_conjuncts(select._where_criteria)]  # noqa: SLF001 - nothing public tells the conditions one by one
    for one in froms:
        if one not in outer:
            _unfold(one, leaves, criteria)
    yield from _tied(leaves, criteria, outer)
    within = frozenset(leaves) | outer
    for child in select.get_children():
        if isinstance(child, FromClause):
            yield from _inside(child, _NOBODY, _NOBODY)
        else:
            yield from _inside(child, around | within, within)


def _correlated(
    select: Select[tuple[object, ...]],
    froms: Sequence[FromClause],
    around: Tables,
    next_to: Tables,
) -> Tables:
    """Those that it has from around it, by the library's rules; it reads the others once more."""
    named, but = select._correlate, select._correlate_except  # noqa: SLF001 - nothing public tells them
    found: set[FromClause] = {one for one in named or () if one in froms} & around
    if but is not None:
        found |= around.intersection(froms).difference(but)
    left = [one for one in froms if one not in found]
    if select._auto_correlate and len(left) > 1:  # noqa: SLF001 - as above
        found |= next_to.intersection(left)
    return frozenset(found)


def _unfold(source: FromClause, leaves: list[FromClause], criteria: list[Condition]) -> None:
    if isinstance(source, FromGrouping):
        _unfold(source.element, leaves, criteria)
    elif isinstance(source, Join):
        _unfold(source.left, leaves, criteria)
        first_right = len(leaves)
        _unfold(source.right, leaves, criteria)
        tying = None
        if source.full:
            tying = _NOBODY
        elif source.isouter:
            tying = frozenset(leaves[first_right:])
        criteria.extend(_conjuncts([source.onclause], tying))
    else:
        leaves.append(source)


def _leaves_of_change(statement: Update | Delete) -> list[FromClause]:
    """With the tables that its conditions and new values read beside the one that it changes."""
    if not isinstance(_plain(statement.table), TableClause):
        raise GuardError(f"A statement changes several tables: {statement.table}")
    values = dict(getattr(statement, "_values", None) or {})
    if any(getattr(one, "name", one) == COLUMN for one in values):
        raise GuardError(f"A statement gives rows of {statement.table} to somebody else.")
    others = getattr(statement, "_extra_froms", ())
    leaves: dict[FromClause, None] = dict.fromkeys((statement.table, *others))
    for one in (*statement._where_criteria, *values.values()):  # noqa: SLF001 - nothing public tells the conditions
        leaves.update(dict.fromkeys(getattr(one, "_from_objects", ())))
    return list(leaves)


def _plain(source: FromClause) -> object:
    """What it is another name for."""
    plain: ReturnsRows = source
    while isinstance(plain, AliasedReturnsRows):
        plain = plain.element
    return plain


def _owned(source: FromClause) -> bool:
    """What is computed or selected inside is looked at by itself."""
    table = _plain(source)
    if isinstance(table, TableClause) and not isinstance(table, Table):
        raise GuardError(f"Whose rows are those of {table}, of which no more is known?")
    return isinstance(table, Table) and COLUMN in table.c


def _conjuncts(criteria: Iterable[object], tying: Tables | None = None) -> Iterator[Condition]:
    for one in criteria:
        if isinstance(one, Grouping):
            yield from _conjuncts([one.element], tying)
        elif isinstance(one, BooleanClauseList) and one.operator is operators.and_:
            yield from _conjuncts(one.clauses, tying)
        else:
            yield one, tying


def _tied(
    leaves: Sequence[FromClause], criteria: Iterable[Condition], outer: Tables = _NOBODY
) -> Iterator[BindParameter[str]]:
    """The tables of `outer` are tied by the statements that they are of."""
    mine = [one for one in leaves if _owned(one)]
    tied: set[FromClause] = set(outer)
    links: list[tuple[FromClause, FromClause]] = []
    for one, tying in criteria:
        if not isinstance(one, BinaryExpression) or one.operator is not operators.eq:
            continue
        for side, other in ((one.left, one.right), (one.right, one.left)):
            source = _source(side)
            if source is None or not (tying is None or source in tying):
                continue
            if isinstance(other, BindParameter):
                tied.add(source)
                yield other
            elif (second := _source(other)) is not None:
                links.append((source, second))
    # what is selected inside is tied there
    tied.update(one for one in leaves if one not in mine)
    grown = True
    while grown:
        before = len(tied)
        tied.update(first for first, second in links if second in tied)
        grown = len(tied) > before
    for one in mine:
        if one not in tied:
            raise GuardError(f"A statement does not say whose rows of {one} it is about.")


def _source(side: object) -> FromClause | None:
    """The table whose organisation a side of an equation is, or what selects it from one."""
    if not isinstance(side, ColumnElement) or getattr(side, "name", None) != COLUMN:
        return None
    # of what is selected inside, any column could have been given the name
    if not all(isinstance(one, Column) and one.name == COLUMN for one in side.base_columns):
        return None
    table = getattr(side, "table", None)
    return table if isinstance(table, FromClause) else None


def _of_insert(insert: Insert) -> Iterator[BindParameter[str]]:
    if not _owned(insert.table) or insert.select is None:
        return
    names = insert._select_names or []  # noqa: SLF001 - nothing public tells the columns
    if COLUMN not in names:
        raise GuardError(f"Rows of {insert.table} are inserted without saying whose they are.")
    given = list(insert.select.selected_columns)[names.index(COLUMN)]
    if isinstance(given, BindParameter):
        yield given
    elif _source(given) is None:
        raise GuardError(f"Rows of {insert.table} are inserted for whoever a row says.")
