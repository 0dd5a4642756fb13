"""The calls as methods of the clients: catalogue.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from typing import Any, Literal

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.uploads import Progress, Upload
from filmbuild_sdk.values import Choice


class CatalogueMethods(Sender):
    """The calls about catalogue."""

    def get_catalogue(self, *, timeout: Timeout = UNCHANGED) -> models.CurrentRevision:
        """The newest revision of the catalogue.

        Its number, when it was made, and how many records it holds.
        """
        return self.send(calls.get_catalogue(), timeout=timeout)

    def change_catalogue(
        self,
        request: models.CatalogueChanges,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Put, patch and retire records of several kinds together.

        All of it or none, as one revision, checked as a whole: a product and its packs can be
        retired at once. Records that have changed since `catalogue_revision` are not written over.
        Faults of a patch stand at `/patch/{n}/patch` and the place in the record as it would
        become. With `check_only`, the faults or the whole difference.
        """
        return self.send(
            calls.change_catalogue(request, idempotency_key=idempotency_key), timeout=timeout
        )

    def export_catalogue(
        self, *, revision: int | None = None, timeout: Timeout = UNCHANGED
    ) -> dict[str, Any]:
        """The whole catalogue as one document.

        Records and prices of the newest revision, or of that of `revision`, as they were written.
        Imported again, it changes nothing.
        """
        return self.send(calls.export_catalogue(revision=revision), timeout=timeout)

    def import_catalogue(
        self,
        request: models.CatalogueImport | Upload,
        *,
        check_only: bool | None = None,
        missing: Choice[Literal["keep", "retire"]] | None = None,
        based_on: int | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        progress: Progress | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Bring the catalogue to what a document says.

        A document as the export answers it, or a part of one: records are put, prices added. One
        revision is made, or none where nothing differs. With `check_only=true`, the faults or the
        whole difference.
        """
        return self.send(
            calls.import_catalogue(
                request,
                check_only=check_only,
                missing=missing,
                based_on=based_on,
                note=note,
                idempotency_key=idempotency_key,
            ),
            progress=progress,
            timeout=timeout,
        )

    def list_catalogue_revisions(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> Pages[models.RevisionPage, models.RevisionRecord]:
        """All revisions of the catalogue, newest first.

        Every revision stays readable: name it in `revision` of a reading, or in
        `catalogue_revision` of a calculation.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_catalogue_revisions(limit=limit, cursor=cursor),
        )

    def export_catalogue_tables_archive(
        self,
        *,
        revision: int | None = None,
        kind: Choice[
            Literal[
                "consumables",
                "packs",
                "prices",
                "products",
                "rate_books",
                "suppliers",
                "systems",
                "taxes",
            ]
        ]
        | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> bytes:
        """The whole catalogue as tables.

        A ZIP archive of a CSV file (RFC 4180) for each kind of record, or for `kind` alone. The
        first row names the columns: JSON Pointers to the leaves of a record, such as /parts/0/name.
        Cells are as in JSON where they are numbers, true or false, and else plain text; an empty
        one is left out. Text that a spreadsheet would compute has an apostrophe before it, which is
        taken off again. Imported again, it changes nothing.
        """
        return self.send(
            calls.export_catalogue_tables_archive(revision=revision, kind=kind), timeout=timeout
        )

    def export_catalogue_tables_table(
        self,
        *,
        revision: int | None = None,
        kind: Choice[
            Literal[
                "consumables",
                "packs",
                "prices",
                "products",
                "rate_books",
                "suppliers",
                "systems",
                "taxes",
            ]
        ]
        | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """One table of the catalogue.

        That of `kind`, which has to be named.
        """
        return self.send(
            calls.export_catalogue_tables_table(revision=revision, kind=kind), timeout=timeout
        )

    def import_catalogue_tables(
        self,
        content: Upload,
        *,
        media_type: Choice[Literal["application/zip", "text/csv"]] = "application/zip",
        check_only: bool | None = None,
        missing: Choice[Literal["keep", "retire"]] | None = None,
        based_on: int | None = None,
        note: str | None = None,
        kind: Choice[
            Literal[
                "consumables",
                "packs",
                "prices",
                "products",
                "rate_books",
                "suppliers",
                "systems",
                "taxes",
            ]
        ]
        | None = None,
        idempotency_key: str | None = None,
        progress: Progress | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Bring the catalogue to what tables say.

        An archive as the export answers it, with some of its tables or all, or one table as
        text/csv with its `kind`. Columns may be left out and stand in any order. Faults have
        pointers of file, row and column, such as `/packs.csv/17/~1contents~10~1volume`; the row
        with the titles is row 1. With `check_only=true`, the faults or the whole difference.
        """
        return self.send(
            calls.import_catalogue_tables(
                content,
                media_type=media_type,
                check_only=check_only,
                missing=missing,
                based_on=based_on,
                note=note,
                kind=kind,
                idempotency_key=idempotency_key,
            ),
            progress=progress,
            timeout=timeout,
        )


class AsyncCatalogueMethods(AsyncSender):
    """The calls about catalogue."""

    async def get_catalogue(self, *, timeout: Timeout = UNCHANGED) -> models.CurrentRevision:
        """The newest revision of the catalogue.

        Its number, when it was made, and how many records it holds.
        """
        return await self.send(calls.get_catalogue(), timeout=timeout)

    async def change_catalogue(
        self,
        request: models.CatalogueChanges,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Put, patch and retire records of several kinds together.

        All of it or none, as one revision, checked as a whole: a product and its packs can be
        retired at once. Records that have changed since `catalogue_revision` are not written over.
        Faults of a patch stand at `/patch/{n}/patch` and the place in the record as it would
        become. With `check_only`, the faults or the whole difference.
        """
        return await self.send(
            calls.change_catalogue(request, idempotency_key=idempotency_key), timeout=timeout
        )

    async def export_catalogue(
        self, *, revision: int | None = None, timeout: Timeout = UNCHANGED
    ) -> dict[str, Any]:
        """The whole catalogue as one document.

        Records and prices of the newest revision, or of that of `revision`, as they were written.
        Imported again, it changes nothing.
        """
        return await self.send(calls.export_catalogue(revision=revision), timeout=timeout)

    async def import_catalogue(
        self,
        request: models.CatalogueImport | Upload,
        *,
        check_only: bool | None = None,
        missing: Choice[Literal["keep", "retire"]] | None = None,
        based_on: int | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        progress: Progress | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Bring the catalogue to what a document says.

        A document as the export answers it, or a part of one: records are put, prices added. One
        revision is made, or none where nothing differs. With `check_only=true`, the faults or the
        whole difference.
        """
        return await self.send(
            calls.import_catalogue(
                request,
                check_only=check_only,
                missing=missing,
                based_on=based_on,
                note=note,
                idempotency_key=idempotency_key,
            ),
            progress=progress,
            timeout=timeout,
        )

    def list_catalogue_revisions(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncPages[models.RevisionPage, models.RevisionRecord]:
        """All revisions of the catalogue, newest first.

        Every revision stays readable: name it in `revision` of a reading, or in
        `catalogue_revision` of a calculation.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_catalogue_revisions(limit=limit, cursor=cursor),
        )

    async def export_catalogue_tables_archive(
        self,
        *,
        revision: int | None = None,
        kind: Choice[
            Literal[
                "consumables",
                "packs",
                "prices",
                "products",
                "rate_books",
                "suppliers",
                "systems",
                "taxes",
            ]
        ]
        | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> bytes:
        """The whole catalogue as tables.

        A ZIP archive of a CSV file (RFC 4180) for each kind of record, or for `kind` alone. The
        first row names the columns: JSON Pointers to the leaves of a record, such as /parts/0/name.
        Cells are as in JSON where they are numbers, true or false, and else plain text; an empty
        one is left out. Text that a spreadsheet would compute has an apostrophe before it, which is
        taken off again. Imported again, it changes nothing.
        """
        return await self.send(
            calls.export_catalogue_tables_archive(revision=revision, kind=kind), timeout=timeout
        )

    async def export_catalogue_tables_table(
        self,
        *,
        revision: int | None = None,
        kind: Choice[
            Literal[
                "consumables",
                "packs",
                "prices",
                "products",
                "rate_books",
                "suppliers",
                "systems",
                "taxes",
            ]
        ]
        | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """One table of the catalogue.

        That of `kind`, which has to be named.
        """
        return await self.send(
            calls.export_catalogue_tables_table(revision=revision, kind=kind), timeout=timeout
        )

    async def import_catalogue_tables(
        self,
        content: Upload,
        *,
        media_type: Choice[Literal["application/zip", "text/csv"]] = "application/zip",
        check_only: bool | None = None,
        missing: Choice[Literal["keep", "retire"]] | None = None,
        based_on: int | None = None,
        note: str | None = None,
        kind: Choice[
            Literal[
                "consumables",
                "packs",
                "prices",
                "products",
                "rate_books",
                "suppliers",
                "systems",
                "taxes",
            ]
        ]
        | None = None,
        idempotency_key: str | None = None,
        progress: Progress | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.ChangesReport:
        """Bring the catalogue to what tables say.

        An archive as the export answers it, with some of its tables or all, or one table as
        text/csv with its `kind`. Columns may be left out and stand in any order. Faults have
        pointers of file, row and column, such as `/packs.csv/17/~1contents~10~1volume`; the row
        with the titles is row 1. With `check_only=true`, the faults or the whole difference.
        """
        return await self.send(
            calls.import_catalogue_tables(
                content,
                media_type=media_type,
                check_only=check_only,
                missing=missing,
                based_on=based_on,
                note=note,
                kind=kind,
                idempotency_key=idempotency_key,
            ),
            progress=progress,
            timeout=timeout,
        )
