"""Records as the JSON that people wrote: patched, and compared field by field."""

from collections.abc import Iterator
from typing import Any

import msgspec
from msgspec import UNSET, UnsetType

from filmbuild.errors import Token, pointer

Json = Any
_MISSING = object()


class FieldChange(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One field, by a JSON Pointer into the record as it was written ("" is the whole of it).

    Without `was` it is new, without `now` it is gone. Lists are compared place by place.
    """

    pointer: str
    was: Any | UnsetType = UNSET
    now: Any | UnsetType = UNSET


def merge_patch(target: Json, patch: Json) -> Json:
    """RFC 7396: members that are null are taken out, objects are merged, all else is replaced."""
    if not isinstance(patch, dict):
        return patch
    merged = dict(target) if isinstance(target, dict) else {}
    for name, value in patch.items():
        if value is None:
            merged.pop(name, None)
        else:
            merged[name] = merge_patch(merged.get(name), value)
    return merged


def field_changes(was: str | None, now: str | None) -> tuple[FieldChange, ...]:
    """From one text of a record to another; None is where there is no record."""
    before = _MISSING if was is None else msgspec.json.decode(was)
    after = _MISSING if now is None else msgspec.json.decode(now)
    return tuple(_changes(before, after, ()))


def _changes(was: Json, now: Json, place: tuple[Token, ...]) -> Iterator[FieldChange]:
    if isinstance(was, dict) and isinstance(now, dict):
        for name in sorted({*was, *now}):
            yield from _changes(was.get(name, _MISSING), now.get(name, _MISSING), (*place, name))
    elif isinstance(was, list) and isinstance(now, list):
        for index in range(max(len(was), len(now))):
            before = was[index] if index < len(was) else _MISSING
            after = now[index] if index < len(now) else _MISSING
            yield from _changes(before, after, (*place, index))
    elif type(was) is not type(now) or was != now:
        yield FieldChange(
            pointer=pointer(place),
            was=UNSET if was is _MISSING else was,
            now=UNSET if now is _MISSING else now,
        )
