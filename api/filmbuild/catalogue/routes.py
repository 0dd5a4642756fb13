"""The operations that read the catalogue."""

from http import HTTPStatus

import msgspec

from filmbuild.catalogue import service
from filmbuild.catalogue.contents import CatalogueSnapshot
from filmbuild.catalogue.contract import (
    CurrentRevision,
    RecordQuery,
    RecordsQuery,
    RevisionPage,
    RevisionRecord,
)
from filmbuild.catalogue.history import RecordHistoryPage, history
from filmbuild.catalogue.kinds import RESOURCES, TAG, ResourceKind, tag_of
from filmbuild.catalogue.loader import Counts
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.catalogue.store import Revision
from filmbuild.db import Database
from filmbuild.edge import paging
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import Answer, AnyOperation, Call, Caller, NoQuery, Operation
from filmbuild.edge.paging import PageQuery
from filmbuild.edge.preconditions import ETAG, IF_NONE_MATCH, unchanged
from filmbuild.errors import Fault, InvalidInput, NotFound

REVISIONS = "/v1/catalogue/revisions"
_CHANGES = msgspec.json.Decoder(dict[str, Counts])


def catalogue_operations(
    database: Database, snapshots: CatalogueSnapshots
) -> tuple[AnyOperation, ...]:
    reading = (
        (_list(kind, database, snapshots), _get(kind, snapshots), _history(kind, database))
        for kind in RESOURCES
    )
    return (
        *_revision_operations(database, snapshots),
        *(one for operations in reading for one in operations),
    )


def _list(kind: ResourceKind, database: Database, snapshots: CatalogueSnapshots) -> AnyOperation:
    async def find(call: Call[None, RecordsQuery]) -> Answer:
        query = call.query
        after = paging.after(query, kind.path)
        snapshot = await snapshot_of(snapshots, call.caller, query.revision)
        filters = {name: getattr(query, name) for name in kind.filters}
        if query.retired:
            found = await service.retired(
                database, snapshot, kind.stored, filters, q=query.q, after=after, limit=query.limit
            )
        else:
            found = service.find(
                snapshot, kind.stored.name, filters, q=query.q, after=after, limit=query.limit
            )
        following = None
        if found.more:
            following = paging.cursor(query, kind.path, found.records[-1].id)
        page = kind.page(
            catalogue_revision=found.revision,
            items=tuple(kind.show(snapshot, one, query) for one in found.records),
            next=following,
        )
        return Answer(encode(page, query.units), paging.link(query, kind.path, following))

    return Operation(
        method="GET",
        path=kind.path,
        id=f"list{kind.name}s",
        tag=TAG,
        summary=f"The catalogue's {kind.words}s, a page at a time",
        description="In order of id. Pages of one walk agree where they name the same `revision`.",
        handler=find,
        query=kind.query,
        answer=kind.page,
        failures=("unavailable",),
        answer_headers={"Link": paging.LINK},
    )


def _get(kind: ResourceKind, snapshots: CatalogueSnapshots) -> AnyOperation:
    async def get(call: Call[None, RecordQuery]) -> Answer:
        snapshot = await snapshot_of(snapshots, call.caller, call.query.revision)
        record = service.one(snapshot, kind.stored.name, call.path[kind.parameter])
        content = encode(kind.show(snapshot, record, call.query), call.query.units)
        tag = (("etag", tag_of(record, content)),)
        if "if-none-match" in call.headers and unchanged(call.headers, tag[0][1]):
            return Answer(b"", tag, HTTPStatus.NOT_MODIFIED)
        return Answer(content, tag)

    return Operation(
        method="GET",
        path=kind.one_path,
        id=f"get{kind.name}",
        tag=TAG,
        summary=f"One {kind.words}",
        description=f"The {kind.words} as it is in the newest revision, or in that of `revision`.",
        handler=get,
        query=kind.one_query,
        answer=kind.record,
        failures=("missing", "unavailable"),
        other_statuses=(HTTPStatus.NOT_MODIFIED,),
        headers=(IF_NONE_MATCH,),
        path_parameters=kind.path_parameters,
        answer_headers=ETAG,
    )


def _history(kind: ResourceKind, database: Database) -> AnyOperation:
    path = f"{kind.one_path}/history"

    async def get(call: Call[None, PageQuery]) -> Answer:
        name = call.path[kind.parameter]
        own = path.format(**call.path)
        page = await history(database, call.caller.organisation, kind.stored, name, call.query, own)
        return Answer(msgspec.json.encode(page), paging.link(call.query, own, page.next))

    return Operation(
        method="GET",
        path=path,
        id=f"get{kind.name}History",
        tag=TAG,
        summary=f"What became of a {kind.words}, newest first",
        description="Who made, changed, retired or restored it, when, and each field that changed "
        "with what it was before: values as they were written, named by JSON Pointers. Of retired "
        "records too.",
        handler=get,
        query=PageQuery,
        answer=RecordHistoryPage,
        failures=("missing",),
        path_parameters=kind.path_parameters,
        answer_headers={"Link": paging.LINK},
    )


async def snapshot_of(
    snapshots: CatalogueSnapshots, caller: Caller, revision: int | None
) -> CatalogueSnapshot:
    if revision is None:
        return await snapshots.current(caller.organisation)
    try:
        return await snapshots.at(caller.organisation, revision)
    except NotFound as missing:
        fault = Fault("/revision", "unknown-revision", missing.detail)
        raise InvalidInput("The query is not valid.", (fault,)) from missing


def _revision_operations(
    database: Database, snapshots: CatalogueSnapshots
) -> tuple[AnyOperation, ...]:
    async def current(call: Call[None, NoQuery]) -> Answer:
        snapshot = await snapshots.current(call.caller.organisation)
        return Answer(msgspec.json.encode(_current(snapshot)))

    async def find(call: Call[None, PageQuery]) -> Answer:
        before = paging.after_number(call.query, REVISIONS)
        found, more = await service.revisions(
            database,
            call.caller.organisation,
            before=before,
            limit=call.query.limit,
        )
        following = paging.cursor(call.query, REVISIONS, str(found[-1].revision)) if more else None
        page = RevisionPage(items=tuple(_revision(one) for one in found), next=following)
        return Answer(msgspec.json.encode(page), paging.link(call.query, REVISIONS, following))

    return (
        Operation(
            method="GET",
            path="/v1/catalogue",
            id="getCatalogue",
            tag=TAG,
            summary="The newest revision of the catalogue",
            description="Its number, when it was made, and how many records it holds.",
            handler=current,
            query=NoQuery,
            answer=CurrentRevision,
            failures=("unavailable",),
        ),
        Operation(
            method="GET",
            path=REVISIONS,
            id="listCatalogueRevisions",
            tag=TAG,
            summary="All revisions of the catalogue, newest first",
            description="Every revision stays readable: name it in `revision` of a reading, or in "
            "`catalogue_revision` of a calculation.",
            handler=find,
            query=PageQuery,
            answer=RevisionPage,
            answer_headers={"Link": paging.LINK},
        ),
    )


def _current(snapshot: CatalogueSnapshot) -> CurrentRevision:
    return CurrentRevision(
        revision=snapshot.revision,
        created_at=snapshot.made.created_at,
        note=snapshot.made.note,
        records={
            "products": len(snapshot.products.ids),
            "packs": len(snapshot.packs.ids),
            "systems": len(snapshot.systems.ids),
            "rate_books": len(snapshot.rate_books.ids),
            "consumables": len(snapshot.consumables.ids),
            "taxes": len(snapshot.taxes.ids),
            "suppliers": len(snapshot.suppliers.ids),
        },
    )


def _revision(made: Revision) -> RevisionRecord:
    return RevisionRecord(
        revision=made.revision,
        created_at=made.created_at,
        author=made.author,
        note=made.note,
        changes=_CHANGES.decode(made.summary),
    )
