"""The calls as methods of the clients: quotations.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from typing import Literal

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.values import Choice


class QuotationsMethods(Sender):
    """The calls about quotations."""

    def list_quotations(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        state: Choice[
            Literal["accepted", "declined", "draft", "expired", "issued", "superseded", "withdrawn"]
        ]
        | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.QuotationPage, models.QuotationSummary]:
        """Quotations, newest first.

        Offers and change orders, all of them or those of one state.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_quotations(limit=limit, cursor=cursor, state=state),
        )

    def create_quotation(
        self,
        request: models.QuotationRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Quotation:
        """Draft a quotation.

        From one to six stored estimates, in the words of the organisation. The draft has no number,
        and no customer sees it: read it, then issue it.
        """
        return self.send(
            calls.create_quotation(request, idempotency_key=idempotency_key), timeout=timeout
        )

    def get_quotation(self, quotation_id: str, *, timeout: Timeout = UNCHANGED) -> models.Quotation:
        """A quotation as its seller sees it.

        What the customer is shown, with the customer's link and what the work costs.
        """
        return self.send(calls.get_quotation(quotation_id), timeout=timeout)

    def get_quotation_linked_data(self, quotation_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The quotation as linked data.

        An Offer of schema.org, or an AggregateOffer over the alternates, with lines and taxes as
        the parts of a compound price; once it is accepted, of what was accepted alone.
        """
        return self.send(calls.get_quotation_linked_data(quotation_id), timeout=timeout)

    def get_quotation_print(self, quotation_id: str, *, timeout: Timeout = UNCHANGED) -> bytes:
        """The quotation for print.

        A tagged PDF with the fonts in it. The same quotation in the same state is always the same
        bytes.
        """
        return self.send(calls.get_quotation_print(quotation_id), timeout=timeout)

    def get_quotation_xml(self, quotation_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """UBL 2.1.

        A Quotation of the Universal Business Language 2.1 (OASIS), for the customer's own software:
        the accepted alternate with its options, or the first where nothing is decided; the others
        stand in notes. Units are codes of UNECE Recommendation 20, tax categories those of UNTDID
        5305. A draft has none.
        """
        return self.send(calls.get_quotation_xml(quotation_id), timeout=timeout)

    def get_quotation_table(self, quotation_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The lines as a table.

        RFC 4180: by alternate its lines, net, taxes and total, and what may be added; once it is
        accepted, of what was accepted alone. Text that a spreadsheet would take for a formula has
        an apostrophe before it.
        """
        return self.send(calls.get_quotation_table(quotation_id), timeout=timeout)

    def get_quotation_page(self, quotation_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The quotation as a page.

        In its own language, for screens of any size and for print, with its own style sheet and no
        scripts. It says what has become of the quotation.
        """
        return self.send(calls.get_quotation_page(quotation_id), timeout=timeout)

    def create_change_order(
        self,
        quotation_id: str,
        request: models.ChangeOrderRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Quotation:
        """Draft a change to accepted work.

        A quotation over the difference between what was accepted, with the change orders that were
        accepted since, and what the work is to be now. One change order is open at a time.
        """
        return self.send(
            calls.create_change_order(quotation_id, request, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def list_quotation_history(
        self,
        quotation_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.QuotationHistoryPage, models.HistoryStep]:
        """What happened to a quotation.

        Every step with who took it and when, in order. Steps are added and never changed.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_quotation_history(quotation_id, limit=limit, cursor=cursor),
        )

    def issue_quotation(
        self, quotation_id: str, *, if_match: str, timeout: Timeout = UNCHANGED
    ) -> models.Quotation:
        """Issue a draft.

        Takes the next number, without gaps, and fixes what the customer is shown for good. `link`
        of the answer is what the customer is sent: whoever has it can accept or decline.
        """
        return self.send(calls.issue_quotation(quotation_id, if_match=if_match), timeout=timeout)

    def renew_quotation_link(
        self, quotation_id: str, *, if_match: str, timeout: Timeout = UNCHANGED
    ) -> models.Quotation:
        """Give the customer a new link.

        Where the old one has come into wrong hands: from now on it leads nowhere.
        """
        return self.send(
            calls.renew_quotation_link(quotation_id, if_match=if_match), timeout=timeout
        )

    def revise_quotation(
        self,
        quotation_id: str,
        request: models.QuotationRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Quotation:
        """Draft what takes its place.

        A new draft, for an offer that is open or has expired. The old one stays as it is until the
        new one is issued, and is superseded then.
        """
        return self.send(
            calls.revise_quotation(quotation_id, request, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def withdraw_quotation(
        self,
        quotation_id: str,
        request: models.WithdrawalRequest,
        *,
        if_match: str,
        timeout: Timeout = UNCHANGED,
    ) -> models.Quotation:
        """Withdraw a draft or an open offer.

        Its number stays taken, and its link says that it was withdrawn.
        """
        return self.send(
            calls.withdraw_quotation(quotation_id, request, if_match=if_match), timeout=timeout
        )


class AsyncQuotationsMethods(AsyncSender):
    """The calls about quotations."""

    def list_quotations(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        state: Choice[
            Literal["accepted", "declined", "draft", "expired", "issued", "superseded", "withdrawn"]
        ]
        | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.QuotationPage, models.QuotationSummary]:
        """Quotations, newest first.

        Offers and change orders, all of them or those of one state.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_quotations(limit=limit, cursor=cursor, state=state),
        )

    async def create_quotation(
        self,
        request: models.QuotationRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Quotation:
        """Draft a quotation.

        From one to six stored estimates, in the words of the organisation. The draft has no number,
        and no customer sees it: read it, then issue it.
        """
        return await self.send(
            calls.create_quotation(request, idempotency_key=idempotency_key), timeout=timeout
        )

    async def get_quotation(
        self, quotation_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.Quotation:
        """A quotation as its seller sees it.

        What the customer is shown, with the customer's link and what the work costs.
        """
        return await self.send(calls.get_quotation(quotation_id), timeout=timeout)

    async def get_quotation_linked_data(
        self, quotation_id: str, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """The quotation as linked data.

        An Offer of schema.org, or an AggregateOffer over the alternates, with lines and taxes as
        the parts of a compound price; once it is accepted, of what was accepted alone.
        """
        return await self.send(calls.get_quotation_linked_data(quotation_id), timeout=timeout)

    async def get_quotation_print(
        self, quotation_id: str, *, timeout: Timeout = UNCHANGED
    ) -> bytes:
        """The quotation for print.

        A tagged PDF with the fonts in it. The same quotation in the same state is always the same
        bytes.
        """
        return await self.send(calls.get_quotation_print(quotation_id), timeout=timeout)

    async def get_quotation_xml(self, quotation_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """UBL 2.1.

        A Quotation of the Universal Business Language 2.1 (OASIS), for the customer's own software:
        the accepted alternate with its options, or the first where nothing is decided; the others
        stand in notes. Units are codes of UNECE Recommendation 20, tax categories those of UNTDID
        5305. A draft has none.
        """
        return await self.send(calls.get_quotation_xml(quotation_id), timeout=timeout)

    async def get_quotation_table(self, quotation_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The lines as a table.

        RFC 4180: by alternate its lines, net, taxes and total, and what may be added; once it is
        accepted, of what was accepted alone. Text that a spreadsheet would take for a formula has
        an apostrophe before it.
        """
        return await self.send(calls.get_quotation_table(quotation_id), timeout=timeout)

    async def get_quotation_page(self, quotation_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The quotation as a page.

        In its own language, for screens of any size and for print, with its own style sheet and no
        scripts. It says what has become of the quotation.
        """
        return await self.send(calls.get_quotation_page(quotation_id), timeout=timeout)

    async def create_change_order(
        self,
        quotation_id: str,
        request: models.ChangeOrderRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Quotation:
        """Draft a change to accepted work.

        A quotation over the difference between what was accepted, with the change orders that were
        accepted since, and what the work is to be now. One change order is open at a time.
        """
        return await self.send(
            calls.create_change_order(quotation_id, request, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def list_quotation_history(
        self,
        quotation_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.QuotationHistoryPage, models.HistoryStep]:
        """What happened to a quotation.

        Every step with who took it and when, in order. Steps are added and never changed.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_quotation_history(quotation_id, limit=limit, cursor=cursor),
        )

    async def issue_quotation(
        self, quotation_id: str, *, if_match: str, timeout: Timeout = UNCHANGED
    ) -> models.Quotation:
        """Issue a draft.

        Takes the next number, without gaps, and fixes what the customer is shown for good. `link`
        of the answer is what the customer is sent: whoever has it can accept or decline.
        """
        return await self.send(
            calls.issue_quotation(quotation_id, if_match=if_match), timeout=timeout
        )

    async def renew_quotation_link(
        self, quotation_id: str, *, if_match: str, timeout: Timeout = UNCHANGED
    ) -> models.Quotation:
        """Give the customer a new link.

        Where the old one has come into wrong hands: from now on it leads nowhere.
        """
        return await self.send(
            calls.renew_quotation_link(quotation_id, if_match=if_match), timeout=timeout
        )

    async def revise_quotation(
        self,
        quotation_id: str,
        request: models.QuotationRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Quotation:
        """Draft what takes its place.

        A new draft, for an offer that is open or has expired. The old one stays as it is until the
        new one is issued, and is superseded then.
        """
        return await self.send(
            calls.revise_quotation(quotation_id, request, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    async def withdraw_quotation(
        self,
        quotation_id: str,
        request: models.WithdrawalRequest,
        *,
        if_match: str,
        timeout: Timeout = UNCHANGED,
    ) -> models.Quotation:
        """Withdraw a draft or an open offer.

        Its number stays taken, and its link says that it was withdrawn.
        """
        return await self.send(
            calls.withdraw_quotation(quotation_id, request, if_match=if_match), timeout=timeout
        )
