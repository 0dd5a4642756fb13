"""The calls as methods of the clients: packs.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

import datetime as dt
from typing import Any, Literal

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.values import Choice


class PacksMethods(Sender):
    """The calls about packs."""

    def list_packs(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        product: str | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.PackPage, models.PackRecord]:
        """The catalogue's packs, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_packs(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                product=product,
                currency=currency,
                priced_on=priced_on,
            ),
        )

    def create_pack(
        self,
        request: models.PackInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Add a pack to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A pack of this id that was
        retired is there again. Makes a revision.
        """
        return self.send(
            calls.create_pack(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def retire_pack(
        self, pack_id: str, *, if_match: str, note: str | None = None, timeout: Timeout = UNCHANGED
    ) -> None:
        """Retire a pack.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return self.send(calls.retire_pack(pack_id, if_match=if_match, note=note), timeout=timeout)

    def get_pack(
        self,
        pack_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """One pack.

        The pack as it is in the newest revision, or in that of `revision`.
        """
        return self.send(
            calls.get_pack(
                pack_id, units=units, revision=revision, currency=currency, priced_on=priced_on
            ),
            timeout=timeout,
        )

    def patch_pack(
        self,
        pack_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Change some members of a pack.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return self.send(
            calls.patch_pack(pack_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def put_pack(
        self,
        pack_id: str,
        request: models.PackInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Replace a pack, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return self.send(
            calls.put_pack(pack_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_pack_history(
        self,
        pack_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a pack, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_pack_history(pack_id, limit=limit, cursor=cursor),
        )


class AsyncPacksMethods(AsyncSender):
    """The calls about packs."""

    def list_packs(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        q: str | None = None,
        retired: bool | None = None,
        product: str | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.PackPage, models.PackRecord]:
        """The catalogue's packs, a page at a time.

        In order of id. Pages of one walk agree where they name the same `revision`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_packs(
                limit=limit,
                cursor=cursor,
                units=units,
                revision=revision,
                q=q,
                retired=retired,
                product=product,
                currency=currency,
                priced_on=priced_on,
            ),
        )

    async def create_pack(
        self,
        request: models.PackInput,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Add a pack to the catalogue.

        Checked against the whole catalogue, and kept as it is written. A pack of this id that was
        retired is there again. Makes a revision.
        """
        return await self.send(
            calls.create_pack(request, units=units, note=note, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    async def retire_pack(
        self, pack_id: str, *, if_match: str, note: str | None = None, timeout: Timeout = UNCHANGED
    ) -> None:
        """Retire a pack.

        It is no longer found or computed with, from a new revision on. Its history and all earlier
        revisions stay readable, and stored estimates keep what they were made from. Refused while
        other records need it.
        """
        return await self.send(
            calls.retire_pack(pack_id, if_match=if_match, note=note), timeout=timeout
        )

    async def get_pack(
        self,
        pack_id: str,
        *,
        units: Choice[Literal["si", "us"]] | None = None,
        revision: int | None = None,
        currency: str | None = None,
        priced_on: dt.date | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """One pack.

        The pack as it is in the newest revision, or in that of `revision`.
        """
        return await self.send(
            calls.get_pack(
                pack_id, units=units, revision=revision, currency=currency, priced_on=priced_on
            ),
            timeout=timeout,
        )

    async def patch_pack(
        self,
        pack_id: str,
        request: dict[str, Any],
        *,
        if_match: str,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Change some members of a pack.

        A merge patch (RFC 7396) of the record as it was written: members that are null are taken
        out, objects are merged, lists are replaced whole. Pointers of faults are into the record as
        it would become. Makes a revision, unless nothing differs.
        """
        return await self.send(
            calls.patch_pack(pack_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    async def put_pack(
        self,
        pack_id: str,
        request: models.PackInput,
        *,
        if_match: str | None = None,
        units: Choice[Literal["si", "us"]] | None = None,
        note: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackRecord:
        """Replace a pack, or make it under its id.

        With If-Match, the record of that ETag is replaced. With `If-None-Match: *` it is made, and
        none is written over. Checked against the whole catalogue. Makes a revision, unless nothing
        differs.
        """
        return await self.send(
            calls.put_pack(pack_id, request, if_match=if_match, units=units, note=note),
            timeout=timeout,
        )

    def get_pack_history(
        self,
        pack_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RecordHistoryPage, models.RecordEvent]:
        """What became of a pack, newest first.

        Who made, changed, retired or restored it, when, and each field that changed with what it
        was before: values as they were written, named by JSON Pointers. Of retired records too.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.get_pack_history(pack_id, limit=limit, cursor=cursor),
        )
