"""Reads off a statement which of its parameters tie its tables to one organisation.

Each table of a SELECT, and of each SELECT inside, must be tied by a condition that holds for every
row: `organisation_id` equal to a parameter, or to that of a table that is itself tied. Conditions
inside an OR tie nothing.
"""

from collections.abc import Iterable, Iterator, Sequence

from sqlalchemy import (
    Alias,
    BindParameter,
    Delete,
    FromClause,
    Insert,
    Join,
    Select,
    Table,
    TextClause,
    Update,
)
from sqlalchemy.sql import operators
from sqlalchemy.sql.elements import BinaryExpression, BooleanClauseList, Grouping
from sqlalchemy.sql.visitors import ExternallyTraversible

COLUMN = "organisation_id"
Tables = frozenset[FromClause]


class GuardError(Exception):
    """A statement that could read or write another organisation's rows: a fault of ours."""


def pins(statement: ExternallyTraversible) -> Iterator[BindParameter[str]]:
    """The parameters that must be the organisation. Raises GuardError where a table is not tied."""
    yield from _inside(statement, frozenset())


def names_organisation(statement: ExternallyTraversible) -> bool:
    """Whether it inserts rows that must say whose they are."""
    return isinstance(statement, Insert) and statement.select is None and _owned(statement.table)


def _inside(element: ExternallyTraversible, around: Tables) -> Iterator[BindParameter[str]]:
    """`around` are the tables of the SELECTs around it, which one inside may refer to."""
    if isinstance(element, Select):
        yield from _of_select(element, around)
        return
    if isinstance(element, TextClause):
        raise GuardError(f"Whose rows does this text read or write: {element.text!r}")
    if isinstance(element, Update | Delete):
        criteria = _conjuncts(element._where_criteria)  # noqa: SLF001 - nothing public tells the conditions
        yield from _tied([element.table], criteria)
        around = frozenset((element.table,))
    elif isinstance(element, Insert):
        yield from _of_insert(element)
    for child in element.get_children():
        yield from _inside(child, around)


def _of_select(select: Select[tuple[object, ...]], around: Tables) -> Iterator[BindParameter[str]]:
    leaves: list[FromClause] = []
    criteria: list[object] = [*_conjuncts(select._where_criteria)]  # noqa: SLF001 - nothing public tells the conditions one by one
    for one in select.get_final_froms():
        _unfold(one, leaves, criteria)
    yield from _tied([one for one in leaves if one not in around], criteria)
    within = around.union(leaves)
    for child in select.get_children():
        yield from _inside(child, frozenset() if isinstance(child, FromClause) else within)


def _unfold(source: FromClause, leaves: list[FromClause], criteria: list[object]) -> None:
    if isinstance(source, Join):
        _unfold(source.left, leaves, criteria)
        _unfold(source.right, leaves, criteria)
        criteria.extend(_conjuncts([source.onclause]))
    else:
        leaves.append(source)


def _owned(source: FromClause) -> bool:
    """What is computed or selected inside is looked at by itself."""
    table = source.element if isinstance(source, Alias) else source
    return isinstance(table, Table) and COLUMN in table.c


def _conjuncts(criteria: Iterable[object]) -> Iterator[object]:
    for one in criteria:
        if isinstance(one, Grouping):
            yield from _conjuncts([one.element])
        elif isinstance(one, BooleanClauseList) and one.operator is operators.and_:
            yield from _conjuncts(one.clauses)
        else:
            yield one


def _tied(leaves: Sequence[FromClause], criteria: Iterable[object]) -> Iterator[BindParameter[str]]:
    mine = [one for one in leaves if _owned(one)]
    tied: set[FromClause] = set()
    links: list[tuple[FromClause, FromClause]] = []
    for one in criteria:
        if not isinstance(one, BinaryExpression) or one.operator is not operators.eq:
            continue
        for side, other in ((one.left, one.right), (one.right, one.left)):
            source = _source(side)
            if source is None:
                continue
            if isinstance(other, BindParameter):
                tied.add(source)
                yield other
            elif (second := _source(other)) is not None:
                links.append((source, second))
    # a table that is not of this SELECT belongs to one around it, which is looked at by itself
    tied.update(second for _, second in links if second not in mine)
    grown = True
    while grown:
        before = len(tied)
        tied.update(first for first, second in links if second in tied)
        grown = len(tied) > before
    for one in mine:
        if one not in tied:
            raise GuardError(f"A statement does not say whose rows of {one} it is about.")


def _source(side: object) -> FromClause | None:
    """The table whose organisation a side of an equation is."""
    if getattr(side, "name", None) != COLUMN:
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
