"""The calls as methods of the clients: prices.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from typing import Literal

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.uploads import Progress, Upload
from filmbuild_sdk.values import Choice


class PricesMethods(Sender):
    """The calls about prices."""

    def explain_pack_price(
        self,
        pack_id: str,
        *,
        currency: str | None = None,
        tier: str | None = None,
        on: dt.date | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackPrices:
        """The price of a pack on a day, and why it is that one.

        Of the list of the customer's `tier` holds the price with the latest `effective_from` up to
        the day; where that list has none, the usual list is looked in by the same rule. `listed`
        are all prices of both lists, the latest first, each with what is made of it. Prices that
        were corrected are in the revisions before.
        """
        return self.send(
            calls.explain_pack_price(
                pack_id, currency=currency, tier=tier, on=on, revision=revision
            ),
            timeout=timeout,
        )

    def apply_price_formula(
        self,
        request: models.PriceFormula,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.CheckedUpdate:
        """Change many prices at once, by a formula.

        From the prices that hold on `effective_from` in one list, by a percentage or an amount,
        rounded.

        All prices are written or none, as one revision of the catalogue, with who made it and when;
        where nothing differs none is made. Earlier revisions give the prices that they always gave.

        With `check_only` nothing is written: the answer has status 200, every fault is in its
        `differences`, and every price that would change stands there with what it was.
        """
        return self.send(
            calls.apply_price_formula(request, idempotency_key=idempotency_key), timeout=timeout
        )

    def apply_price_formula_table(
        self,
        request: models.PriceFormula,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The differences of a check as a table.

        Of a check: a line for each price that would change and for each fault, with its line in the
        file (RFC 4180). Of an update that is carried out: its changes.
        """
        return self.send(
            calls.apply_price_formula_table(request, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def list_price_lists(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        currency: str | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.PriceListPage, models.PriceListRecord]:
        """The price lists: one for each currency and customers' tier.

        How many packs and prices each has, and the first and last day on which a price of it begins
        to hold. The usual list's tier is empty.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_price_lists(
                limit=limit, cursor=cursor, currency=currency, revision=revision
            ),
        )

    def list_price_updates(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> Pages[models.PriceUpdatePage, models.PriceUpdate]:
        """All price updates, newest first.

        Each with who made it, when, the revision it made and what it counted.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_price_updates(limit=limit, cursor=cursor),
        )

    def update_prices(
        self,
        content: Upload,
        *,
        media_type: Choice[
            Literal["application/json", "application/x-ndjson", "text/csv"]
        ] = "application/json",
        check_only: bool | None = None,
        currency: str | None = None,
        tier: str | None = None,
        effective_from: dt.date | None = None,
        limit_percent: Decimal | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        progress: Progress | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.CheckedUpdate:
        """Change many prices at once, from a file.

        Up to 200000 rows as CSV whose first line names the columns, as one JSON object a line, or
        as a JSON array of objects. A row has `pack` and `amount`, and may have `currency`, `tier`,
        `effective_from` and `breaks`, which otherwise are those of the query; an empty cell is left
        out. Breaks are written "4:955.00 10:915.00" in CSV, and in JSON as a list of objects with
        `from_packs` and `amount`; a price whose row has none has none, whatever the price before it
        had. Every faulty row is reported at once, by its line.

        All prices are written or none, as one revision of the catalogue, with who made it and when;
        where nothing differs none is made. Earlier revisions give the prices that they always gave.

        With `check_only` nothing is written: the answer has status 200, every fault is in its
        `differences`, and every price that would change stands there with what it was.
        """
        return self.send(
            calls.update_prices(
                content,
                media_type=media_type,
                check_only=check_only,
                currency=currency,
                tier=tier,
                effective_from=effective_from,
                limit_percent=limit_percent,
                note=note,
                idempotency_key=idempotency_key,
            ),
            progress=progress,
            timeout=timeout,
        )

    def update_prices_table(
        self,
        content: Upload,
        *,
        media_type: Choice[
            Literal["application/json", "application/x-ndjson", "text/csv"]
        ] = "application/json",
        check_only: bool | None = None,
        currency: str | None = None,
        tier: str | None = None,
        effective_from: dt.date | None = None,
        limit_percent: Decimal | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        progress: Progress | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The differences of a check as a table.

        Of a check: a line for each price that would change and for each fault, with its line in the
        file (RFC 4180). Of an update that is carried out: its changes.
        """
        return self.send(
            calls.update_prices_table(
                content,
                media_type=media_type,
                check_only=check_only,
                currency=currency,
                tier=tier,
                effective_from=effective_from,
                limit_percent=limit_percent,
                note=note,
                idempotency_key=idempotency_key,
            ),
            progress=progress,
            timeout=timeout,
        )

    def get_price_update(
        self, update_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.PriceUpdate:
        """One price update.

        Its `changes` are at a path of their own.
        """
        return self.send(calls.get_price_update(update_id), timeout=timeout)

    def list_price_changes(
        self,
        update_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.PriceChangePage, models.PriceChange]:
        """What a price update changed.

        Each price with what it was, in order of pack, currency, tier and day.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_price_changes(update_id, limit=limit, cursor=cursor),
        )

    def list_price_changes_table(
        self,
        update_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """All changes as one table.

        A line for each price (RFC 4180), not paged.
        """
        return self.send(
            calls.list_price_changes_table(update_id, limit=limit, cursor=cursor), timeout=timeout
        )

    def undo_price_update(
        self, update_id: str, *, idempotency_key: str | None = None, timeout: Timeout = UNCHANGED
    ) -> models.CheckedUpdate:
        """Take a whole update back.

        Makes a revision in which every price of the update is again what it was before, and one
        that was new is withdrawn. Prices that later updates changed again stand in the way: then
        nothing is undone, and `errors` name them. An update that has been undone is answered with
        the update that undid it, with status 200; an undoing can be undone too.
        """
        return self.send(
            calls.undo_price_update(update_id, idempotency_key=idempotency_key), timeout=timeout
        )


class AsyncPricesMethods(AsyncSender):
    """The calls about prices."""

    async def explain_pack_price(
        self,
        pack_id: str,
        *,
        currency: str | None = None,
        tier: str | None = None,
        on: dt.date | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.PackPrices:
        """The price of a pack on a day, and why it is that one.

        Of the list of the customer's `tier` holds the price with the latest `effective_from` up to
        the day; where that list has none, the usual list is looked in by the same rule. `listed`
        are all prices of both lists, the latest first, each with what is made of it. Prices that
        were corrected are in the revisions before.
        """
        return await self.send(
            calls.explain_pack_price(
                pack_id, currency=currency, tier=tier, on=on, revision=revision
            ),
            timeout=timeout,
        )

    async def apply_price_formula(
        self,
        request: models.PriceFormula,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.CheckedUpdate:
        """Change many prices at once, by a formula.

        From the prices that hold on `effective_from` in one list, by a percentage or an amount,
        rounded.

        All prices are written or none, as one revision of the catalogue, with who made it and when;
        where nothing differs none is made. Earlier revisions give the prices that they always gave.

        With `check_only` nothing is written: the answer has status 200, every fault is in its
        `differences`, and every price that would change stands there with what it was.
        """
        return await self.send(
            calls.apply_price_formula(request, idempotency_key=idempotency_key), timeout=timeout
        )

    async def apply_price_formula_table(
        self,
        request: models.PriceFormula,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The differences of a check as a table.

        Of a check: a line for each price that would change and for each fault, with its line in the
        file (RFC 4180). Of an update that is carried out: its changes.
        """
        return await self.send(
            calls.apply_price_formula_table(request, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def list_price_lists(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        currency: str | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.PriceListPage, models.PriceListRecord]:
        """The price lists: one for each currency and customers' tier.

        How many packs and prices each has, and the first and last day on which a price of it begins
        to hold. The usual list's tier is empty.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_price_lists(
                limit=limit, cursor=cursor, currency=currency, revision=revision
            ),
        )

    def list_price_updates(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncPages[models.PriceUpdatePage, models.PriceUpdate]:
        """All price updates, newest first.

        Each with who made it, when, the revision it made and what it counted.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_price_updates(limit=limit, cursor=cursor),
        )

    async def update_prices(
        self,
        content: Upload,
        *,
        media_type: Choice[
            Literal["application/json", "application/x-ndjson", "text/csv"]
        ] = "application/json",
        check_only: bool | None = None,
        currency: str | None = None,
        tier: str | None = None,
        effective_from: dt.date | None = None,
        limit_percent: Decimal | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        progress: Progress | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.CheckedUpdate:
        """Change many prices at once, from a file.

        Up to 200000 rows as CSV whose first line names the columns, as one JSON object a line, or
        as a JSON array of objects. A row has `pack` and `amount`, and may have `currency`, `tier`,
        `effective_from` and `breaks`, which otherwise are those of the query; an empty cell is left
        out. Breaks are written "4:955.00 10:915.00" in CSV, and in JSON as a list of objects with
        `from_packs` and `amount`; a price whose row has none has none, whatever the price before it
        had. Every faulty row is reported at once, by its line.

        All prices are written or none, as one revision of the catalogue, with who made it and when;
        where nothing differs none is made. Earlier revisions give the prices that they always gave.

        With `check_only` nothing is written: the answer has status 200, every fault is in its
        `differences`, and every price that would change stands there with what it was.
        """
        return await self.send(
            calls.update_prices(
                content,
                media_type=media_type,
                check_only=check_only,
                currency=currency,
                tier=tier,
                effective_from=effective_from,
                limit_percent=limit_percent,
                note=note,
                idempotency_key=idempotency_key,
            ),
            progress=progress,
            timeout=timeout,
        )

    async def update_prices_table(
        self,
        content: Upload,
        *,
        media_type: Choice[
            Literal["application/json", "application/x-ndjson", "text/csv"]
        ] = "application/json",
        check_only: bool | None = None,
        currency: str | None = None,
        tier: str | None = None,
        effective_from: dt.date | None = None,
        limit_percent: Decimal | None = None,
        note: str | None = None,
        idempotency_key: str | None = None,
        progress: Progress | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The differences of a check as a table.

        Of a check: a line for each price that would change and for each fault, with its line in the
        file (RFC 4180). Of an update that is carried out: its changes.
        """
        return await self.send(
            calls.update_prices_table(
                content,
                media_type=media_type,
                check_only=check_only,
                currency=currency,
                tier=tier,
                effective_from=effective_from,
                limit_percent=limit_percent,
                note=note,
                idempotency_key=idempotency_key,
            ),
            progress=progress,
            timeout=timeout,
        )

    async def get_price_update(
        self, update_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.PriceUpdate:
        """One price update.

        Its `changes` are at a path of their own.
        """
        return await self.send(calls.get_price_update(update_id), timeout=timeout)

    def list_price_changes(
        self,
        update_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.PriceChangePage, models.PriceChange]:
        """What a price update changed.

        Each price with what it was, in order of pack, currency, tier and day.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_price_changes(update_id, limit=limit, cursor=cursor),
        )

    async def list_price_changes_table(
        self,
        update_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """All changes as one table.

        A line for each price (RFC 4180), not paged.
        """
        return await self.send(
            calls.list_price_changes_table(update_id, limit=limit, cursor=cursor), timeout=timeout
        )

    async def undo_price_update(
        self, update_id: str, *, idempotency_key: str | None = None, timeout: Timeout = UNCHANGED
    ) -> models.CheckedUpdate:
        """Take a whole update back.

        Makes a revision in which every price of the update is again what it was before, and one
        that was new is withdrawn. Prices that later updates changed again stand in the way: then
        nothing is undone, and `errors` name them. An update that has been undone is answered with
        the update that undid it, with status 200; an undoing can be undone too.
        """
        return await self.send(
            calls.undo_price_update(update_id, idempotency_key=idempotency_key), timeout=timeout
        )
