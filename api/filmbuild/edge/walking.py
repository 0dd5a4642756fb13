"""A walk through plain JSON values along a type, noting everything that does not fit."""

from collections.abc import Callable
from difflib import get_close_matches
from typing import Any

import msgspec
from msgspec import inspect as types

from filmbuild.edge.leaves import check_leaf, expected, listed, note_repeated, wrong_type
from filmbuild.errors import REPORTED_FAULTS, Faults, Refusal

Hook = Callable[[type, object], object]
COMPARED_NAME = 40
MOST_COUNTED = 10 * REPORTED_FAULTS
"""Lists are not read on after so many faults, nor beyond the most items that they may have."""


def walk(node: types.Type, value: object, faults: Faults, hook: Hook) -> object:
    """Gives back what `msgspec.convert` takes: 5.0 is made 5 where an integer is asked for."""
    while isinstance(node, types.Metadata):
        node = node.type
    into = _INTO.get(type(node))
    if into is None:
        return check_leaf(node, value, faults)
    return into(node, value, faults, hook)


def _custom(node: types.CustomType, value: object, faults: Faults, hook: Hook) -> object:
    if isinstance(value, dict):
        note_repeated(value, faults)
        value = dict(value)
    try:
        hook(node.cls, value)
    except Refusal as refusal:
        faults.add(refusal.code, refusal.detail)
    except (ValueError, TypeError) as error:
        faults.add("invalid-value", str(error))
    return value


def _check_count(node: types.CollectionType | types.DictType, count: int, faults: Faults) -> None:
    if node.min_length is not None and count < node.min_length:
        faults.add("too-few-items", f"accepted: {node.min_length} or more")
    if node.max_length is not None and count > node.max_length:
        faults.add("too-many-items", f"accepted: {node.max_length} or fewer")


def _list(node: types.CollectionType, value: object, faults: Faults, hook: Hook) -> object:
    if not isinstance(value, list):
        return wrong_type(node, value, faults)
    _check_count(node, len(value), faults)
    item_type = node.item_type
    fitted: list[object] = []
    for place, item in enumerate(value[: node.max_length]):
        if len(faults) > MOST_COUNTED:
            break
        fitted.append(walk(item_type, item, faults.at(place), hook))
    return fitted


def _tuple(node: types.TupleType, value: object, faults: Faults, hook: Hook) -> object:
    if not isinstance(value, list):
        return wrong_type(node, value, faults)
    if len(value) != len(node.item_types):
        faults.add("wrong-length", f"accepted: exactly {len(node.item_types)} items")
        return value
    pairs = zip(node.item_types, value, strict=True)
    return [
        walk(item_type, item, faults.at(place), hook)
        for place, (item_type, item) in enumerate(pairs)
    ]


def _dict(node: types.DictType, value: object, faults: Faults, hook: Hook) -> object:
    if not isinstance(value, dict):
        return wrong_type(node, value, faults)
    note_repeated(value, faults)
    _check_count(node, len(value), faults)
    for name in value:
        walk(node.key_type, name, faults.at(name), hook)
    return {
        name: walk(node.value_type, item, faults.at(name), hook) for name, item in value.items()
    }


def _struct(node: types.StructType, value: object, faults: Faults, hook: Hook) -> object:
    if not isinstance(value, dict):
        return wrong_type(node, value, faults)
    before = len(faults)
    note_repeated(value, faults)
    fields = {field.encode_name: field for field in node.fields}
    fitted: dict[str, object] = {}
    for name, item in value.items():
        if name in fields:
            fitted[name] = walk(fields[name].type, item, faults.at(name), hook)
        elif name == node.tag_field:
            fitted[name] = item
            if item != node.tag:
                faults.add("not-one-of", f"accepted: {listed([node.tag])}", name)
        elif node.forbid_unknown_fields:
            _unknown(name, node, faults)
    for name, field in fields.items():
        if field.required and name not in value:
            faults.add("missing-field", f"required: {expected(field.type)}", name)
    if len(faults) == before and hasattr(node.cls, "__post_init__"):
        _post_init(node.cls, fitted, faults, hook)
    return fitted


def _unknown(name: str, node: types.StructType, faults: Faults) -> None:
    if len(faults) >= REPORTED_FAULTS:
        faults.add("unknown-field", "", name)
        return
    names = [field.encode_name for field in node.fields]
    names += [node.tag_field] if node.tag_field else []
    near = get_close_matches(name[:COMPARED_NAME], names, n=1)
    hint = f'did you mean "{near[0]}"?' if near else f"known here: {', '.join(sorted(names))}"
    faults.add("unknown-field", f"no field of this name is known; {hint}", name)


def _post_init(kind: type, value: object, faults: Faults, hook: Hook) -> None:
    try:
        msgspec.convert(value, kind, dec_hook=hook, strict=True)
    except msgspec.ValidationError as error:
        cause = error.__cause__
        code = cause.code if isinstance(cause, Refusal) else "invalid-value"
        faults.add(code, str(cause or error))


def _union(node: types.UnionType, value: object, faults: Faults, hook: Hook) -> object:
    members = [member for member in node.types if not isinstance(member, types.NoneType)]
    if value is None and len(members) < len(node.types):
        return value
    if value is not None and len(members) == 1:
        return walk(members[0], value, faults, hook)
    tagged = {
        member.tag: member
        for member in members
        if isinstance(member, types.StructType) and member.tag_field
    }
    if isinstance(value, dict) and tagged:
        return _tagged_union(tagged, value, faults, hook)
    return _first_that_fits(node, value, faults, hook)


def _tagged_union(
    tagged: dict[str | int | None, types.StructType],
    value: dict[str, Any],
    faults: Faults,
    hook: Hook,
) -> object:
    tag_field = next(iter(tagged.values())).tag_field or ""
    choices = f"accepted: one of {listed(list(tagged))}"
    if tag_field not in value:
        faults.add("missing-field", choices, tag_field)
        return value
    tag = value[tag_field]
    if not isinstance(tag, str | int) or tag not in tagged:
        faults.add("not-one-of", choices, tag_field)
        return value
    return _struct(tagged[tag], value, faults, hook)


def _first_that_fits(node: types.UnionType, value: object, faults: Faults, hook: Hook) -> object:
    """Else the first whose type was right, with what was wrong about the value."""
    likely: types.Type | None = None
    for member in node.types:
        trial = Faults()
        fitted = walk(member, value, trial, hook)
        if not trial:
            return fitted
        if likely is None and trial.found[0].code not in ("wrong-type", "not-one-of"):
            likely = member
    if likely is None:
        return wrong_type(node, value, faults)
    return walk(likely, value, faults, hook)


_INTO: dict[type[types.Type], Callable[[Any, object, Faults, Hook], object]] = {
    types.StructType: _struct,
    types.UnionType: _union,
    types.CustomType: _custom,
    types.TupleType: _tuple,
    types.DictType: _dict,
    types.ListType: _list,
    types.VarTupleType: _list,
    types.SetType: _list,
    types.FrozenSetType: _list,
}
