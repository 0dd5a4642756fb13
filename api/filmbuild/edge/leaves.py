"""Checks of single JSON values against a type: numbers, text, choices, dates."""

import math
import re
from collections.abc import Callable, Sequence
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any
from uuid import UUID

import msgspec
from msgspec import inspect as types

from filmbuild.edge.json_text import Repeating
from filmbuild.errors import Faults

_CONVERTED: dict[type[types.Type], tuple[type, str]] = {
    types.DateType: (date, 'a date such as "2026-05-01"'),
    types.DateTimeType: (datetime, 'a time with its offset such as "2026-05-01T08:00:00-05:00"'),
    types.TimeType: (time, 'a time of day such as "08:00:00"'),
    types.TimeDeltaType: (timedelta, 'an ISO 8601 duration such as "PT4H"'),
    types.UUIDType: (UUID, "a UUID"),
    types.DecimalType: (Decimal, "a decimal"),
}
_WORDS: dict[type[types.Type], str] = {
    types.NoneType: "null",
    types.BoolType: "true or false",
    types.IntType: "a whole number",
    types.FloatType: "a number",
    types.StrType: "text",
    types.StructType: "an object",
    types.DictType: "an object",
    types.ListType: "an array",
    types.VarTupleType: "an array",
    types.TupleType: "an array",
    types.SetType: "an array",
    types.FrozenSetType: "an array",
    **{kind: words for kind, (_, words) in _CONVERTED.items()},
}
_SHAPES: dict[type, str] = {
    type(None): "null",
    bool: "true or false",
    int: "a number",
    float: "a number",
    str: "text",
    list: "an array",
}


def listed(values: Sequence[object]) -> str:
    return ", ".join(msgspec.json.encode(value).decode() for value in values)


def expected(node: types.Type) -> str:
    """What would be accepted, in words."""
    if isinstance(node, types.Metadata):
        return expected(node.type)
    if isinstance(node, types.UnionType):
        return " or ".join(dict.fromkeys(expected(member) for member in node.types))
    if isinstance(node, types.LiteralType | types.EnumType):
        return f"one of {listed(_choices(node))}"
    if isinstance(node, types.CustomType):
        return f"a {re.sub('(?<!^)(?=[A-Z])', ' ', node.cls.__name__).lower()}"
    return _WORDS.get(type(node), "another type")


def wrong_type(node: types.Type, value: object, faults: Faults) -> object:
    shape = _SHAPES.get(type(value), "an object")
    faults.add("wrong-type", f"{shape} is not accepted here; accepted: {expected(node)}")
    return value


def _choices(node: types.LiteralType | types.EnumType) -> list[Any]:
    if isinstance(node, types.LiteralType):
        return list(node.values)
    return [member.value for member in node.cls]


def _choice(node: types.LiteralType | types.EnumType, value: object, faults: Faults) -> object:
    value = _whole(value)
    if not any(type(value) is type(choice) and value == choice for choice in _choices(node)):
        faults.add("not-one-of", f"accepted: {expected(node)}")
    return value


def _whole(value: object) -> object:
    return int(value) if isinstance(value, float) and value.is_integer() else value


def _number(node: types.IntType | types.FloatType, value: object, faults: Faults) -> object:
    if isinstance(node, types.IntType):
        value = _whole(value)
    if isinstance(value, bool) or not isinstance(value, int | float):
        return wrong_type(node, value, faults)
    if not _finite(value):
        faults.add("not-finite", "the number is too large to be read")
    elif isinstance(node, types.IntType) and isinstance(value, float):
        return wrong_type(node, value, faults)
    else:
        _check_bounds(node, value, faults)
    return value


def _finite(value: float) -> bool:
    try:
        return math.isfinite(value)
    except OverflowError:
        return False


def _check_bounds(node: types.IntType | types.FloatType, value: float, faults: Faults) -> None:
    if node.ge is not None and value < node.ge:
        faults.add("too-small", f"accepted: {node.ge:g} or more")
    if node.gt is not None and value <= node.gt:
        faults.add("too-small", f"accepted: more than {node.gt:g}")
    if node.le is not None and value > node.le:
        faults.add("too-large", f"accepted: {node.le:g} or less")
    if node.lt is not None and value >= node.lt:
        faults.add("too-large", f"accepted: less than {node.lt:g}")
    if node.multiple_of is not None and value % node.multiple_of:
        faults.add("not-a-multiple", f"accepted: multiples of {node.multiple_of:g}")


def _text(node: types.StrType, value: object, faults: Faults) -> object:
    if not isinstance(value, str):
        return wrong_type(node, value, faults)
    if node.min_length is not None and len(value) < node.min_length:
        faults.add("too-short", f"accepted: {node.min_length} characters or more")
    if node.max_length is not None and len(value) > node.max_length:
        faults.add("too-long", f"accepted: {node.max_length} characters or fewer")
    if node.pattern is not None and re.search(node.pattern, value) is None:
        faults.add("wrong-pattern", f"accepted: text that matches {node.pattern}")
    return value


def _boolean(node: types.BoolType, value: object, faults: Faults) -> object:
    return value if isinstance(value, bool) else wrong_type(node, value, faults)


def _null(node: types.NoneType, value: object, faults: Faults) -> object:
    return value if value is None else wrong_type(node, value, faults)


def _converted(node: types.Type, value: object, faults: Faults) -> object:
    """Text for which the conversion itself is the check."""
    kind, words = _CONVERTED[type(node)]
    if not isinstance(value, str):
        return wrong_type(node, value, faults)
    try:
        result: Any = msgspec.convert(value, kind, strict=True)
    except msgspec.ValidationError:
        faults.add("invalid-value", f"accepted: {words}")
        return value
    zoned = getattr(node, "tz", None)
    if zoned is not None and (result.tzinfo is not None) != zoned:
        faults.add("invalid-value", f"accepted: {words}")
    return value


def _anything(node: types.Type, value: object, faults: Faults) -> object:
    if isinstance(value, dict):
        note_repeated(value, faults)
        return {name: _anything(node, item, faults.at(name)) for name, item in value.items()}
    if isinstance(value, list):
        return [_anything(node, item, faults.at(place)) for place, item in enumerate(value)]
    if isinstance(value, float) and not math.isfinite(value):
        faults.add("not-finite", "the number is too large to be read")
    return value


def note_repeated(value: dict[str, Any], faults: Faults) -> None:
    if isinstance(value, Repeating):
        for name in value.names:
            faults.add("duplicate-field", "this name stands here more than once", name)


_CHECKS: dict[type[types.Type], Callable[[Any, object, Faults], object]] = {
    types.IntType: _number,
    types.FloatType: _number,
    types.StrType: _text,
    types.BoolType: _boolean,
    types.NoneType: _null,
    types.LiteralType: _choice,
    types.EnumType: _choice,
    **dict.fromkeys(_CONVERTED, _converted),
}


def check_leaf(node: types.Type, value: object, faults: Faults) -> object:
    """The value, with a whole float made an integer where one is asked for."""
    return _CHECKS.get(type(node), _anything)(node, value, faults)
