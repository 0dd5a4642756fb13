"""The calls as methods of the clients: rate books.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from typing import Any, Literal

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.values import Choice


class RateBooksMethods(Sender):
    """The calls about rate books."""

    def list_rate_books(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        currency: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RateBookPage, models.RateBook]:
        """The catalogue's rate books, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rate_books(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                currency=currency,
            ),
        )

    def create_rate_book(
        self,
        request: models.RateBookInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Add a rate book to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A rate book of this id that
        was retired is there again. Makes a revision.
        """
        return self.send(
            calls.create_rate_book(
                request, units=units, note=note, idempotency_key=idempotency_key
            ),
            timeout=timeout,
        )

    def retire_rate_book(
        self,
        rate_book_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a rate book.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return self.send(
            calls.retire_rate_book(rate_book_id, if_match=if_match, note=note), timeout=timeout
        )

    def get_rate_book(
        self,
        rate_book_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """One rate book.

        The rate book as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_rate_book(rate_book_id, units=units, revision=revision), timeout=timeout
        )

    def patch_rate_book(
        self,
        rate_book_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Change some members of a rate book.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return self.send(
            calls.patch_rate_book(rate_book_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def put_rate_book(
        self,
        rate_book_id: str,
        request: models.RateBookInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Replace a rate book, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return self.send(
            calls.put_rate_book(rate_book_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_rate_book_history(
        self,
        rate_book_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a rate book, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_rate_book_history(rate_book_id, limit=limit, cursor=cursor),
        )


class AsyncRateBooksMethods(AsyncSender):
    """The calls about rate books."""

    def list_rate_books(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        currency: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RateBookPage, models.RateBook]:
        """The catalogue's rate books, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_rate_books(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                currency=currency,
            ),
        )

    async def create_rate_book(
        self,
        request: models.RateBookInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Add a rate book to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A rate book of this id that
        was retired is there again. Makes a revision.
        """
        return await self.send(
            calls.create_rate_book(
                request, units=units, note=note, idempotency_key=idempotency_key
            ),
            timeout=timeout,
        )

    async def retire_rate_book(
        self,
        rate_book_id: str,
        *,
        if_match: str,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> None:
        """Retire a rate book.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return await self.send(
            calls.retire_rate_book(rate_book_id, if_match=if_match, note=note), timeout=timeout
        )

    async def get_rate_book(
        self,
        rate_book_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """One rate book.

        The rate book as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_rate_book(rate_book_id, units=units, revision=revision), timeout=timeout
        )

    async def patch_rate_book(
        self,
        rate_book_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Change some members of a rate book.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return await self.send(
            calls.patch_rate_book(rate_book_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    async def put_rate_book(
        self,
        rate_book_id: str,
        request: models.RateBookInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RateBook:
        """Replace a rate book, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return await self.send(
            calls.put_rate_book(rate_book_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_rate_book_history(
        self,
        rate_book_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a rate book, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_rate_book_history(rate_book_id, limit=limit, cursor=cursor),
        )
