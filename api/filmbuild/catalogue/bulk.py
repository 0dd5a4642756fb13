"""Many changes at once, whole catalogues in, and whole catalogues out."""

from collections.abc import Iterable, Mapping
from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta

from filmbuild.catalogue import store
from filmbuild.catalogue.changing import Edit
from filmbuild.catalogue.contents import CatalogueSnapshot
from filmbuild.catalogue.inputs import MOST_RECORDS, RecordLists
from filmbuild.catalogue.loader import Counts
from filmbuild.catalogue.store import KINDS, PriceRow
from filmbuild.catalogue.wire import Authored, canonical
from filmbuild.catalogue.wishes import Named, many
from filmbuild.catalogue.writing import Basis, Outcome, RecordChange, Wish
from filmbuild.db import Database
from filmbuild.money import Exact, exact_text
from filmbuild.pipeline.site import Identifier, Input, Label

Json = Any
KindName = Literal[
    "products", "packs", "systems", "rate_books", "consumables", "taxes", "suppliers"
]
Missing = Literal["keep", "retire"]
BaseRevision = Annotated[
    int,
    Meta(
        ge=0,
        le=2_147_483_647,
        description="The revision that the changes are based on: refused where one of the records "
        "has changed since.",
    ),
]
_KIND = {kind.name: kind for kind in KINDS}


class RecordName(Input, frozen=True, kw_only=True):
    """One record of the catalogue."""

    kind: KindName
    id: Identifier


class RecordPatch(Input, frozen=True, kw_only=True):
    """A merge patch (RFC 7396) of one record as it was written."""

    kind: KindName
    id: Identifier
    patch: dict[str, Any]


class CatalogueChanges(Input, frozen=True, kw_only=True):
    """Changes across kinds that are made together, as one revision, or not at all.

    Each record may stand once. They are checked as they fit together in the end, in whatever order.
    """

    catalogue_revision: BaseRevision
    note: Label = "Several changes"
    check_only: bool = False
    put: RecordLists = RecordLists()
    patch: Annotated[tuple[RecordPatch, ...], Meta(max_length=MOST_RECORDS)] = ()
    retire: Annotated[tuple[RecordName, ...], Meta(max_length=MOST_RECORDS)] = ()


class ChangesReport(msgspec.Struct, frozen=True, kw_only=True):
    """What was changed from revision `based_on`, or would be where it was only checked.

    `revision` is the one that was made; null where nothing differs, or it was only checked.
    `counts` are by kind, of those where something differs.
    """

    revision: int | None
    based_on: int
    checked_only: bool
    counts: dict[str, Counts]
    changes: tuple[RecordChange, ...]


def report(outcome: Outcome, *, checked_only: bool) -> bytes:
    return msgspec.json.encode(
        ChangesReport(
            revision=outcome.revision,
            based_on=outcome.based_on,
            checked_only=checked_only,
            counts=outcome.counts,
            changes=outcome.changes,
        )
    )


def named_changes(changes: CatalogueChanges, content: bytes) -> list[Named]:
    """The records that a request names; `content` is what it was decoded from."""
    written = msgspec.json.decode(content).get("put", {})
    named = [
        Named(
            Edit(
                kind=kind,
                id=record.id,
                place=f"/put/{kind.name}/{place}",
                record=record,
                text=canonical(written[kind.name][place]),
            )
        )
        for kind in KINDS
        for place, record in enumerate(getattr(changes.put, kind.name))
    ]
    named += (
        Named(Edit(kind=_KIND[one.kind], id=one.id, place=f"/patch/{place}"), one.patch)
        for place, one in enumerate(changes.patch)
    )
    named += (
        Named(Edit(kind=_KIND[one.kind], id=one.id, place=f"/retire/{place}"))
        for place, one in enumerate(changes.retire)
    )
    return named


async def import_wish(
    basis: Basis, authored: Authored, missing: Missing, based_on: int | None
) -> Wish:
    """Of kinds that the document does not name, nothing is retired."""
    named = [
        Named(
            Edit(
                kind=kind,
                id=getattr(record, "id"),  # noqa: B009 - all versioned records have an id, which their common base does not declare
                place=f"/{kind.name}/{place}",
                record=record,
                text=text,
            )
        )
        for kind in KINDS
        for place, (record, text) in enumerate(authored.records(kind.name))
    ]
    if missing == "retire":
        named += _missing(basis.snapshot, authored, named)
    return Wish(edits=await many(basis, named, based_on), prices=authored.file.prices)


def _missing(
    snapshot: CatalogueSnapshot, authored: Authored, named: Iterable[Named]
) -> list[Named]:
    present = {one.edit.key for one in named}
    return [
        Named(Edit(kind=kind, id=name))
        for kind in KINDS
        if kind.name in authored.named
        for name in snapshot.records(kind.name).ids
        if (kind.name, name) not in present
    ]


async def exported(database: Database, snapshot: CatalogueSnapshot) -> dict[str, list[Json]]:
    """All that a revision holds, by kind, as it was written."""
    texts = await _texts(database, snapshot)
    lists: dict[str, list[Json]] = {
        name: [msgspec.json.decode(one) for one in records] for name, records in texts.items()
    }
    return lists


async def export_text(database: Database, snapshot: CatalogueSnapshot) -> list[bytes]:
    """The same as one JSON document, in pieces."""
    texts = await _texts(database, snapshot)
    name = msgspec.json.encode(f"Catalogue of revision {snapshot.revision}").decode()
    pieces = [f'{{"name":{name}'.encode()]
    for kind, records in texts.items():
        pieces.append(f',"{kind}":[{",".join(records)}]'.encode())
    return [*pieces, b"}"]


async def _texts(database: Database, snapshot: CatalogueSnapshot) -> dict[str, list[str]]:
    texts: dict[str, list[str]] = {}
    async with database.reader(snapshot.organisation) as connection:
        for kind in KINDS:
            held = await store.specifications(
                connection, snapshot.organisation, kind, snapshot.revision
            )
            texts[kind.name] = list(held.values())
    known = snapshot.packs.by_id
    rows = sorted(
        (row for row in snapshot.prices.rows() if row.pack in known), key=lambda row: row.key
    )
    # a withdrawn price has no amount, and is not there to be exported
    texts["prices"] = [
        canonical(price_record(row, row.amount)) for row in rows if row.amount is not None
    ]
    return texts


def price_record(row: PriceRow, amount: Exact) -> Mapping[str, Json]:
    """A price as a catalogue document has it."""
    record: dict[str, Json] = {
        "pack": row.pack,
        "amount": exact_text(amount),
        "currency": row.currency,
        "effective_from": row.effective_from.isoformat(),
    }
    if row.tier:
        record["tier"] = row.tier
    if row.breaks:
        record["breaks"] = [
            {"from_packs": one.from_packs, "amount": exact_text(one.amount)} for one in row.breaks
        ]
    return record
