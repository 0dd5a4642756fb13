"""The operations that change many records at once, and those that read or write all of them."""

import asyncio
from collections.abc import AsyncIterator, Awaitable, Callable
from http import HTTPStatus
from typing import Annotated, Any, Literal

import msgspec
from msgspec import Meta

from filmbuild.catalogue import bulk, tabular
from filmbuild.catalogue.bulk import BaseRevision, CatalogueChanges, ChangesReport, Missing
from filmbuild.catalogue.contract import RevisionNumber
from filmbuild.catalogue.inputs import CatalogueImport
from filmbuild.catalogue.kinds import TAG
from filmbuild.catalogue.routes import snapshot_of
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.catalogue.wire import Authored, CatalogueFile, authored, read
from filmbuild.catalogue.wishes import many
from filmbuild.catalogue.write_routes import Note
from filmbuild.catalogue.writing import Basis, CatalogueWriter, Order, Outcome, Wish
from filmbuild.db import Database
from filmbuild.edge.operations import (
    Answer,
    AnyOperation,
    Call,
    NoQuery,
    Operation,
    Representation,
)
from filmbuild.errors import Fault, InvalidInput
from filmbuild.idempotency import IDEMPOTENCY_KEY, KeptAnswer, request_key

LARGEST_IMPORT_BYTES = 128 << 20
LARGEST_CHANGES_BYTES = 32 << 20
ARCHIVE = "application/zip"
TABLE = "text/csv"
SENT_AT_ONCE = 1 << 16
CHANGES, IMPORT, EXPORT, TABLES = (
    f"/v1/catalogue/{one}" for one in ("changes", "import", "export", "tables")
)

CheckOnly = Annotated[
    bool, Meta(description="Answer with all faults and the whole difference, and write nothing.")
]
MissingRecords = Annotated[
    Missing,
    Meta(
        description="What becomes of records that are not in what is sent: they stay, or are "
        "retired where their kind stands there at all. Prices always stay."
    ),
]
TableName = Annotated[
    Literal[
        "products",
        "packs",
        "systems",
        "rate_books",
        "consumables",
        "suppliers",
        "taxes",
        "prices",
    ],
    Meta(description="The kind of records, where a single table is sent or asked for."),
]


class ExportQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    revision: RevisionNumber | None = None


class TablesQuery(ExportQuery, frozen=True, kw_only=True):
    kind: TableName | None = None


class ImportQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    check_only: CheckOnly = False
    missing: MissingRecords = "keep"
    based_on: BaseRevision | None = None
    note: Note | None = None


class TablesImportQuery(ImportQuery, frozen=True, kw_only=True):
    kind: TableName | None = None


def bulk_operations(
    database: Database, writer: CatalogueWriter, snapshots: CatalogueSnapshots
) -> tuple[AnyOperation, ...]:
    bulk_of = _Bulk(database, writer, snapshots)
    return (
        bulk_of.changes_operation(),
        bulk_of.import_operation(),
        bulk_of.export_operation(),
        *bulk_of.tables_operations(),
    )


class _Bulk:
    def __init__(
        self, database: Database, writer: CatalogueWriter, snapshots: CatalogueSnapshots
    ) -> None:
        self._database = database
        self._writer = writer
        self._snapshots = snapshots

    async def change(self, call: Call[CatalogueChanges, NoQuery]) -> Answer:
        changes = call.body
        named = bulk.named_changes(changes, call.content)

        async def wish(basis: Basis) -> Wish:
            return Wish(edits=await many(basis, named, changes.catalogue_revision))

        return await self._apply(call, f"POST {CHANGES}", changes.note, wish, changes.check_only)

    async def import_document(self, call: Call[CatalogueImport, ImportQuery]) -> Answer:
        file = CatalogueFile(**msgspec.structs.asdict(call.body))
        document = await asyncio.to_thread(authored, file, call.content)
        return await self._import(call, IMPORT, document)

    async def import_tables(self, call: Call[bytes, TablesImportQuery]) -> Answer:
        tables = await asyncio.to_thread(_tables, call)
        try:
            document = await asyncio.to_thread(_document, tables)
            return await self._import(call, TABLES, document)
        except InvalidInput as error:
            located = tuple(tables.located(one) for one in error.faults)
            raise InvalidInput(error.detail, located) from error

    async def export(self, call: Call[None, ExportQuery]) -> Answer:
        snapshot = await snapshot_of(self._snapshots, call.caller, call.query.revision)
        texts = await bulk.export_text(self._database, snapshot)
        return Answer(
            headers=(_attached(f"catalogue-{snapshot.revision}.json"),), pieces=_cut(texts)
        )

    async def export_archive(self, call: Call[None, TablesQuery]) -> Answer:
        snapshot = await snapshot_of(self._snapshots, call.caller, call.query.revision)
        lists = await bulk.exported(self._database, snapshot)
        if call.query.kind is not None:
            lists = {call.query.kind: lists[call.query.kind]}
        content = await asyncio.to_thread(tabular.write_archive, lists)
        return Answer(content, (_attached(f"catalogue-{snapshot.revision}.zip"),))

    async def export_table(self, call: Call[None, TablesQuery]) -> Answer:
        kind = call.query.kind
        if kind is None:
            raise _kind_needed()
        snapshot = await snapshot_of(self._snapshots, call.caller, call.query.revision)
        lists = await bulk.exported(self._database, snapshot)
        content = await asyncio.to_thread(tabular.write_table, lists[kind])
        return Answer(content, (_attached(f"{kind}-{snapshot.revision}.csv"),))

    async def _import(self, call: Call[Any, Any], path: str, document: Authored) -> Answer:
        query: ImportQuery = call.query

        async def wish(basis: Basis) -> Wish:
            return await bulk.import_wish(basis, document, query.missing, query.based_on)

        operation = f"POST {path}?missing={query.missing}&based_on={query.based_on}"
        note = query.note or document.file.name
        return await self._apply(call, operation, note, wish, query.check_only)

    async def _apply(
        self,
        call: Call[Any, Any],
        operation: str,
        note: str,
        wish: Callable[[Basis], Awaitable[Wish]],
        check_only: bool,
    ) -> Answer:
        def keep(outcome: Outcome) -> KeptAnswer:
            text = bulk.report(outcome, checked_only=False).decode()
            return KeptAnswer(status=HTTPStatus.OK, resource=str(outcome.revision), answer=text)

        order = Order(
            caller=call.caller,
            note=note,
            key=request_key(call.headers, call.caller, operation, call.content),
            check_only=check_only,
            keep=keep,
        )
        outcome = await self._writer.apply(order, wish)
        if outcome.kept is not None:
            return Answer((outcome.kept.answer or "").encode())
        content = await asyncio.to_thread(bulk.report, outcome, checked_only=check_only)
        return Answer(content)

    def changes_operation(self) -> AnyOperation:
        return Operation(
            method="POST",
            path=CHANGES,
            id="changeCatalogue",
            cost=20,
            tag=TAG,
            summary="Put, patch and retire records of several kinds together",
            description="All of it or none, as one revision, checked as a whole: a product and its "
            "packs can be retired at once. Records that have changed since `catalogue_revision` "
            "are not written over. Faults of a patch stand at `/patch/{n}/patch` and the place in "
            "the record as it would become. With `check_only`, the faults or the whole difference.",
            handler=self.change,
            query=NoQuery,
            body=CatalogueChanges,
            body_limit=LARGEST_CHANGES_BYTES,
            answer=ChangesReport,
            failures=("conflict", "precondition-failed"),
            headers=(IDEMPOTENCY_KEY,),
        )

    def import_operation(self) -> AnyOperation:
        return Operation(
            method="POST",
            path=IMPORT,
            id="importCatalogue",
            cost=50,
            tag=TAG,
            summary="Bring the catalogue to what a document says",
            description="A document as the export answers it, or a part of one: records are put, "
            "prices added. One revision is made, or none where nothing differs. With "
            "`check_only=true`, the faults or the whole difference.",
            handler=self.import_document,
            query=ImportQuery,
            body=CatalogueImport,
            body_limit=LARGEST_IMPORT_BYTES,
            answer=ChangesReport,
            failures=("conflict", "precondition-failed"),
            headers=(IDEMPOTENCY_KEY,),
        )

    def export_operation(self) -> AnyOperation:
        return Operation(
            method="GET",
            path=EXPORT,
            id="exportCatalogue",
            tag=TAG,
            summary="The whole catalogue as one document",
            description="Records and prices of the newest revision, or of that of `revision`, as "
            "they were written. Imported again, it changes nothing.",
            handler=self.export,
            query=ExportQuery,
            answer=dict[str, Any],
            failures=("unavailable",),
        )

    def tables_operations(self) -> tuple[AnyOperation, ...]:
        return (
            Operation(
                method="GET",
                path=TABLES,
                id="exportCatalogueTables",
                tag=TAG,
                summary="The whole catalogue as tables",
                description="A ZIP archive of a CSV file (RFC 4180) for each kind of record, or for "
                "`kind` alone. The first row names the columns: JSON Pointers to the leaves of a "
                "record, such as /parts/0/name. Cells are as in JSON where they are numbers, true or "
                "false, and else plain text; an empty one is left out. Text that a spreadsheet would "
                "compute has an apostrophe before it, which is taken off again. Imported again, it "
                "changes nothing.",
                handler=self.export_archive,
                query=TablesQuery,
                answer=bytes,
                media_type=ARCHIVE,
                failures=("unavailable",),
                representations=(
                    Representation(
                        media_type=f"{TABLE}; charset=utf-8; header=present",
                        summary="One table of the catalogue",
                        description="That of `kind`, which has to be named.",
                        handler=self.export_table,
                    ),
                ),
            ),
            Operation(
                method="POST",
                path=TABLES,
                id="importCatalogueTables",
                cost=50,
                tag=TAG,
                summary="Bring the catalogue to what tables say",
                description="An archive as the export answers it, with some of its tables or all, or "
                "one table as text/csv with its `kind`. Columns may be left out and stand in any "
                "order. Faults have pointers of file, row and column, such as "
                "`/packs.csv/17/~1contents~10~1volume`; the row with the titles is row 1. With "
                "`check_only=true`, the faults or the whole difference.",
                handler=self.import_tables,
                query=TablesImportQuery,
                body=bytes,
                body_media_types=(TABLE, ARCHIVE),
                body_limit=tabular.LARGEST_ARCHIVE_BYTES,
                answer=ChangesReport,
                failures=("conflict", "precondition-failed"),
                headers=(IDEMPOTENCY_KEY,),
            ),
        )


def _tables(call: Call[bytes, TablesImportQuery]) -> tabular.Tables:
    kind = call.query.kind
    if call.headers.get("content-type", "").partition(";")[0].strip().lower() == TABLE:
        if kind is None:
            raise _kind_needed()
        return tabular.read_tables({kind: call.body})
    if kind is not None:
        detail = "an archive names its tables itself: leave kind out"
        raise InvalidInput(
            "The query is not valid.", (Fault("/kind", "invalid-parameter", detail),)
        )
    return tabular.read_archive(call.body)


def _document(tables: tabular.Tables) -> Authored:
    """Read as the document that the tables stand for."""
    return read(msgspec.json.encode({"name": "Imported tables", **tables.records}))


def _kind_needed() -> InvalidInput:
    detail = f"query parameter kind: say which of {', '.join(tabular.TABLES)} the table is of"
    return InvalidInput("The query is not valid.", (Fault("/kind", "missing-parameter", detail),))


def _attached(name: str) -> tuple[str, str]:
    return "content-disposition", f'attachment; filename="{name}"'


async def _cut(texts: list[bytes]) -> AsyncIterator[bytes]:
    for text in texts:
        for start in range(0, len(text), SENT_AT_ONCE):
            yield text[start : start + SENT_AT_ONCE]
