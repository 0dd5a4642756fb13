"""Records as rows of a table: a column for each leaf, named by its JSON Pointer.

The text of a cell means what the type at its column says: numbers and true or false are written as
in JSON, all else as it is. An empty cell is a member that is left out. Text that would be taken for
something else is written as a JSON string, and text that a spreadsheet would compute gets an
apostrophe in front, so that a table that was written is read back exactly.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import cache, lru_cache
from typing import Any, Literal

import msgspec
from msgspec import inspect as types

from filmbuild.errors import pointer
from filmbuild.pipeline.csv_text import FORMULA_STARTS
from filmbuild.pipeline.specification import Record
from filmbuild.quantities import Quantity

Json = Any
Meaning = Literal["text", "number", "boolean", "container"]
_OF_QUANTITY: Mapping[tuple[str, ...], Meaning] = {
    (): "text",
    ("value",): "number",
    ("unit",): "text",
}
MOST_MEANINGS = 10_000
"""Of columns that are remembered: their names are the caller's, so there is no end to them."""
_INDEX = re.compile(r"0|[1-9][0-9]{0,4}")
_POINTER = re.compile(r"(/([^/~]|~[01])*)+")
_SCALARS: Mapping[type, Meaning] = {
    types.StrType: "text",
    types.DateType: "text",
    types.IntType: "number",
    types.FloatType: "number",
    types.BoolType: "boolean",
}


class CellError(ValueError):
    """Why cells of a row do not make a record: `column` is the place in it."""

    def __init__(self, column: str, code: str, detail: str) -> None:
        super().__init__(detail)
        self.column = column
        self.code = code
        self.detail = detail


def columns_of(records: Sequence[Json]) -> tuple[str, ...]:
    """Of all leaves that any of the records has: id and name first, the places of lists in order."""
    found = {tokens for record in records for tokens, _ in _leaves(record, ())}
    return tuple(pointer(tokens) for tokens in sorted(found, key=_place))


def row_of(record: Json, columns: Sequence[str]) -> list[str]:
    cells = {pointer(tokens): _written(value) for tokens, value in _leaves(record, ())}
    return [cells.get(column, "") for column in columns]


def tokens_of(column: str) -> tuple[str, ...] | None:
    """None where it is no JSON Pointer."""
    if _POINTER.fullmatch(column) is None:
        return None
    return tuple(one.replace("~1", "/").replace("~0", "~") for one in column.split("/")[1:])


@cache
def _type_info(kind: type[Record]) -> types.Type:
    return types.type_info(kind)


@lru_cache(maxsize=MOST_MEANINGS)
def meaning(kind: type[Record], column: str) -> Meaning | None:
    """What the cells of a column are; None where records of the kind have no such place."""
    tokens = tokens_of(column)
    return None if tokens is None else _meaning(_type_info(kind), tokens)


def record_of(kind: type[Record], columns: Sequence[str], cells: Sequence[str]) -> Json:
    """Raises CellError. Cells that do not fit their type stay text, for the decoder to refuse."""
    record: dict[str, Any] = {}
    for column, cell in zip(columns, cells, strict=False):
        if cell:
            _put(record, column, _read(cell, meaning(kind, column)))
    return _listed(record, ())


def _place(tokens: tuple[str | int, ...]) -> tuple[object, ...]:
    first = {"id": 0, "name": 1}.get(str(tokens[0]), 2)
    return first, tuple((isinstance(one, str), one) for one in tokens)


def _leaves(value: Json, tokens: tuple[str | int, ...]) -> Iterator[tuple[tuple[Any, ...], Json]]:
    if isinstance(value, dict) and value:
        for name, member in value.items():
            yield from _leaves(member, (*tokens, name))
    elif isinstance(value, list) and value:
        for index, item in enumerate(value):
            yield from _leaves(item, (*tokens, index))
    else:
        yield tokens, value


def _written(value: Json) -> str:
    if not isinstance(value, str):
        return msgspec.json.encode(value).decode()
    if value in {"", "null"} or value.startswith('"'):
        return msgspec.json.encode(value).decode()
    return f"'{value}" if value.lstrip("'").startswith(FORMULA_STARTS) else value


def _read(cell: str, means: Meaning | None) -> Json:
    if cell == "null":
        return None
    if means == "boolean":
        return {"true": True, "false": False}.get(cell.lower(), cell)
    if means in {"number", "container"}:
        return _json(cell)
    if cell.startswith('"'):
        return _json(cell)
    if cell.startswith("'") and cell.lstrip("'").startswith(FORMULA_STARTS):
        return cell[1:]
    return cell


def _json(cell: str) -> Json:
    try:
        return msgspec.json.decode(cell)
    except (msgspec.DecodeError, UnicodeError):
        return cell


def _meaning(node: types.Type, tokens: tuple[str, ...]) -> Meaning | None:
    while isinstance(node, types.Metadata):
        node = node.type
    if isinstance(node, types.UnionType):
        found = (_meaning(one, tokens) for one in node.types)
        return next((one for one in found if one is not None), None)
    if isinstance(node, types.CustomType):
        if issubclass(node.cls, Quantity):
            return _OF_QUANTITY.get(tokens)
        return None if tokens else "text"
    if isinstance(node, types.LiteralType):
        scalar: Meaning = "text" if isinstance(node.values[0], str) else "number"
        return None if tokens else scalar
    if type(node) in _SCALARS:
        return None if tokens else _SCALARS[type(node)]
    return _inside(node, tokens)


def _inside(node: types.Type, tokens: tuple[str, ...]) -> Meaning | None:
    if not isinstance(node, types.StructType | types.VarTupleType | types.DictType):
        return None
    if not tokens:
        return "container"
    first, rest = tokens[0], tokens[1:]
    if isinstance(node, types.VarTupleType):
        return _meaning(node.item_type, rest) if _INDEX.fullmatch(first) else None
    if isinstance(node, types.DictType):
        known = node.key_type
        named = not isinstance(known, types.LiteralType) or first in known.values
        return _meaning(node.value_type, rest) if named else None
    field = next((one for one in node.fields if one.encode_name == first), None)
    return None if field is None else _meaning(field.type, rest)


def _put(record: dict[str, Any], column: str, value: Json) -> None:
    tokens = tokens_of(column) or ("",)
    inner: Json = record
    for step in tokens[:-1]:
        inner = inner.setdefault(step, {}) if isinstance(inner, dict) else inner
    if not isinstance(inner, dict) or tokens[-1] in inner:
        detail = "another column gives this place, or what it is in, a value in the same row"
        raise CellError(column, "columns-clash", detail)
    inner[tokens[-1]] = value


def _listed(value: Json, tokens: tuple[str, ...]) -> Json:
    """Objects whose names are the places of a list become that list."""
    if not isinstance(value, dict) or not value:
        return value
    made = {name: _listed(member, (*tokens, name)) for name, member in value.items()}
    if not all(_INDEX.fullmatch(name) for name in made):
        return made
    places = sorted(made, key=int)
    for expected, name in enumerate(places):
        if int(name) != expected:
            detail = f"the list has nothing at place {expected}: fill the places in order"
            raise CellError(pointer((*tokens, name)), "list-gap", detail)
    return [made[name] for name in places]
