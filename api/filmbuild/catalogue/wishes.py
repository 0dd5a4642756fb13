"""What callers want to be changed, worked out on the revision that it is to be changed from."""

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

import msgspec

from filmbuild.catalogue.authored import merge_patch
from filmbuild.catalogue.changing import Edit
from filmbuild.catalogue.kinds import ResourceKind, record_part
from filmbuild.catalogue.store import Kind
from filmbuild.catalogue.wire import canonical
from filmbuild.catalogue.writing import Basis, Wish
from filmbuild.edge.decoding import decode
from filmbuild.errors import (
    Conflict,
    Fault,
    Faults,
    FilmbuildError,
    InvalidInput,
    NotFound,
    PreconditionFailed,
    PreconditionRequired,
)
from filmbuild.pipeline.specification import Record


def text_of(content: bytes) -> str:
    """The canonical text of a record that has been decoded from the same bytes."""
    return canonical(msgspec.json.decode(content))


def check_id(given: str, of_path: str) -> None:
    if given != of_path:
        fault = Fault("/id", "id-differs", f'the path says "{of_path}", and an id never changes')
        raise InvalidInput("The request is not valid.", (fault,))


async def create(basis: Basis, kind: ResourceKind, record: Any, text: str) -> Wish:  # noqa: ANN401 - a record of the kind
    """Raises `Conflict` where it is there."""
    if record.id in basis.snapshot.records(kind.stored.name).by_id:
        raise Conflict(f'There is a {kind.words} "{record.id}" already: replace or patch it.')
    return Wish(edits=(Edit(kind=kind.stored, id=record.id, record=record, text=text),))


async def put(
    basis: Basis,
    kind: ResourceKind,
    record: Any,  # noqa: ANN401 - a record of the kind
    text: str,
    headers: Mapping[str, str],
) -> Wish:
    """Raises `PreconditionRequired` or `PreconditionFailed`."""
    name: str = record.id
    current = basis.snapshot.records(kind.stored.name).by_id.get(name)
    if "if-none-match" in headers:
        if current is not None:
            raise PreconditionFailed(f'There is a {kind.words} "{name}" already.')
    else:
        check_unchanged(headers, current)
    was = (await basis.texts(kind.stored, (name,))).get(name)
    return Wish(edits=(Edit(kind=kind.stored, id=name, was=was, record=record, text=text),))


async def patch(
    basis: Basis,
    kind: ResourceKind,
    name: str,
    change: Mapping[str, Any],
    headers: Mapping[str, str],
) -> Wish:
    """Raises `NotFound` too, and `InvalidInput` with pointers into the record as it would be."""
    was = await _current(basis, kind, name, headers)
    return Wish(edits=(_patched(kind.stored, name, was, change, ""),))


async def retire(basis: Basis, kind: ResourceKind, name: str, headers: Mapping[str, str]) -> Wish:
    was = await _current(basis, kind, name, headers)
    return Wish(edits=(Edit(kind=kind.stored, id=name, was=was),))


async def _current(basis: Basis, kind: ResourceKind, name: str, headers: Mapping[str, str]) -> str:
    current = basis.snapshot.records(kind.stored.name).by_id.get(name)
    if current is None:
        raise NotFound(f'The catalogue has no {kind.words} "{name}".')
    check_unchanged(headers, current)
    return (await basis.texts(kind.stored, (name,)))[name]


def check_unchanged(headers: Mapping[str, str], current: Record | None) -> None:
    """By the part of a tag that is the record's own."""
    given = headers.get("if-match")
    if given is None:
        raise PreconditionRequired("Send If-Match with the ETag that the record was read with.")
    parts = (one.strip().strip('"').partition("-")[0] for one in given.split(","))
    if current is None or (given.strip() != "*" and record_part(current) not in parts):
        raise PreconditionFailed("The record has changed since it was read; read it again.")


def _patched(kind: Kind, name: str, was: str, change: Mapping[str, Any], place: str) -> Edit:
    merged = merge_patch(msgspec.json.decode(was), change)
    record: Any = decode(kind.record, msgspec.json.encode(merged))
    check_id(record.id, name)
    return Edit(kind=kind, id=name, place=place, was=was, record=record, text=canonical(merged))


class Named(msgspec.Struct, frozen=True):
    """A record that many changes at once name; `edit` is without what it was."""

    edit: Edit
    change: Mapping[str, Any] | None = None


async def many(basis: Basis, named: Iterable[Named], based_on: int | None) -> tuple[Edit, ...]:
    """Raises `InvalidInput` with the faults of all.

    And `PreconditionFailed` where a record has changed since the revision `based_on`.
    """
    faults = Faults()
    by_kind: dict[str, list[Named]] = {}
    for one in named:
        by_kind.setdefault(one.edit.kind.name, []).append(one)
    edits: list[Edit] = []
    for records in by_kind.values():
        _check_once(records, faults)
        kind, ids = records[0].edit.kind, {one.edit.id for one in records}
        if based_on is not None and based_on < basis.snapshot.revision:
            await _check_untouched(basis, kind, ids, based_on)
        texts = await basis.texts(kind, ids)
        edits += (edit for one in records if (edit := _known(one, texts.get(one.edit.id), faults)))
    faults.raise_if_any("The catalogue would not be valid.")
    return tuple(edits)


def _check_once(records: Iterable[Named], faults: Faults) -> None:
    seen = Counter[str]()
    for one in records:
        seen[one.edit.id] += 1
        if seen[one.edit.id] > 1:
            detail = f'"{one.edit.id}" stands here more than once; each record may stand once'
            faults.append(Fault(f"{one.edit.place}/id", "duplicate", detail))


async def _check_untouched(basis: Basis, kind: Kind, ids: set[str], based_on: int) -> None:
    touched = await basis.touched_since(kind, ids, based_on)
    if touched:
        listed = ", ".join(sorted(touched)[:10])
        raise PreconditionFailed(f"Changed since revision {based_on}: {kind.name} {listed}.")


def _known(one: Named, was: str | None, faults: Faults) -> Edit | None:
    edit = one.edit
    if edit.text is not None:
        return msgspec.structs.replace(edit, was=was)
    if was is None:
        detail = f'the catalogue has no "{edit.id}" among its {edit.kind.name}'
        faults.append(Fault(f"{edit.place}/id", "unknown-record", detail))
        return None
    if one.change is None:
        return msgspec.structs.replace(edit, was=was)
    try:
        return _patched(edit.kind, edit.id, was, one.change, f"{edit.place}/patch")
    except FilmbuildError as error:
        for fault in error.faults:
            place = f"{edit.place}/patch{fault.pointer}"
            faults.append(Fault(place, fault.code, fault.detail))
        return None
