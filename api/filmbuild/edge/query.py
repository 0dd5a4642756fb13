"""Reads a query string into a struct whose fields are the parameters of the operation."""

from functools import cache
from types import NoneType, UnionType
from typing import Any, NamedTuple, TypeVar, Union, get_args, get_origin
from urllib.parse import parse_qsl

import msgspec

from filmbuild.errors import Faults, Refusal
from filmbuild.money import dec_hook

Q = TypeVar("Q", bound=msgspec.Struct)
MOST_PARAMETERS = 50


class _Parameter(NamedTuple):
    attribute: str
    kind: Any
    required: bool


def read_query(kind: type[Q], text: str) -> Q:
    """Unknown, repeated and wrong parameters are all reported at once. Raises InvalidInput."""
    faults = Faults()
    known = _parameters(kind)
    values: dict[str, Any] = {}
    for name, value in _pairs(text, faults):
        if name not in known:
            faults.add("unknown-parameter", _accepted(known), name)
        elif known[name].attribute in values:
            faults.add("repeated-parameter", f"give {name} once", name)
        else:
            values[known[name].attribute] = _read(known[name].kind, name, value, faults)
    for name, one in known.items():
        if one.required and one.attribute not in values:
            faults.add("missing-parameter", f"{name} is needed", name)
    faults.raise_if_any("The query is not valid.")
    return kind(**values)


@cache
def _parameters(kind: type[msgspec.Struct]) -> dict[str, _Parameter]:
    return {
        one.encode_name: _Parameter(one.name, _without_none(one.type), one.required)
        for one in msgspec.structs.fields(kind)
    }


def _without_none(kind: Any) -> Any:  # noqa: ANN401 - any field type
    """A parameter is left out rather than null, and "null" is text like any other."""
    members = [one for one in get_args(kind) if one is not NoneType]
    return members[0] if get_origin(kind) in (Union, UnionType) and len(members) == 1 else kind


def _pairs(text: str, faults: Faults) -> list[tuple[str, str]]:
    if not text:
        return []
    try:
        return parse_qsl(text, keep_blank_values=True, max_num_fields=MOST_PARAMETERS)
    except ValueError:
        faults.add("too-many-parameters", f"give at most {MOST_PARAMETERS} parameters")
        return []


def _read(kind: Any, name: str, value: str, faults: Faults) -> Any:  # noqa: ANN401 - any field type
    try:
        return msgspec.convert(value, kind, strict=False, dec_hook=dec_hook)
    except Refusal as refusal:
        faults.add(refusal.code, f"query parameter {name}: {refusal.detail}", name)
    except msgspec.ValidationError as error:
        faults.add("invalid-parameter", f"query parameter {name}: {error}", name)
    return None


def _accepted(known: dict[str, Any]) -> str:
    return f"accepted: {', '.join(known)}" if known else "this operation takes no parameters"
