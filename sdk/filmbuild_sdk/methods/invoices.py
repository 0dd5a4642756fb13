"""The calls as methods of the clients: invoices.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender


class InvoicesMethods(Sender):
    """The calls about invoices."""

    def get_invoice_series(self, *, timeout: Timeout = UNCHANGED) -> models.InvoiceSeries:
        """The series of invoice numbers.

        What the next invoice is numbered that brings no number of its own.
        """
        return self.send(calls.get_invoice_series(), timeout=timeout)

    def put_invoice_series(
        self, request: models.InvoiceSeries, *, if_match: str, timeout: Timeout = UNCHANGED
    ) -> models.InvoiceSeries:
        """Say how invoices are numbered.

        To go on from the numbers of other software, or to begin a new series. With the same prefix
        `next` never goes back, so that no number is given twice.
        """
        return self.send(calls.put_invoice_series(request, if_match=if_match), timeout=timeout)

    def list_invoices(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        quotation: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.InvoicePage, models.InvoiceSummary]:
        """Invoices and credit notes, newest first.

        All of them, or those of one `quotation`.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_invoices(limit=limit, cursor=cursor, quotation=quotation),
        )

    def get_invoice(self, invoice_id: str, *, timeout: Timeout = UNCHANGED) -> models.StoredInvoice:
        """One invoice or credit note.

        The same bytes that its creation was answered with. `Accept` chooses between these, an XML
        document and a table of its lines.
        """
        return self.send(calls.get_invoice(invoice_id), timeout=timeout)

    def get_invoice_xml(self, invoice_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """UBL 2.1.

        An Invoice or CreditNote of the Universal Business Language 2.1 (OASIS). Where its taxes are
        value added tax it keeps the rules of EN 16931 and says so; others, such as sales taxes, are
        written in the same form, without that claim. The bytes stay the same.
        """
        return self.send(calls.get_invoice_xml(invoice_id), timeout=timeout)

    def get_invoice_table(self, invoice_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """Its lines as a table.

        A row for each line (RFC 4180), amounts with a point and their currency beside them. Text
        that a spreadsheet would take for a formula has an apostrophe before it.
        """
        return self.send(calls.get_invoice_table(invoice_id), timeout=timeout)

    def get_invoice_lines(
        self, quotation_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.LinesToInvoice:
        """What there is to invoice.

        Of an accepted quotation with its accepted change orders: the lines of the work, and the
        same sums by stage of payment with what has been invoiced. Units are codes of UNECE
        Recommendation 20, tax categories those of UNTDID 5305. As a table, the lines of the stages.
        """
        return self.send(calls.get_invoice_lines(quotation_id), timeout=timeout)

    def get_invoice_lines_table(self, quotation_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """The lines as a table.

        A row for each line (RFC 4180), amounts with a point and their currency beside them. Text
        that a spreadsheet would take for a formula has an apostrophe before it.
        """
        return self.send(calls.get_invoice_lines_table(quotation_id), timeout=timeout)

    def create_invoice(
        self,
        quotation_id: str,
        request: models.InvoiceRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.StoredInvoice:
        """Invoice stages of an accepted quotation.

        One invoice for the stages that are named, or for the next that has not been invoiced; a
        credit note where they come to less than nothing. Each stage is invoiced once, and all of
        them together are the offer: its net, each tax and its total. Without a `number` the next of
        the organisation's series is taken, which has no gaps. Where the taxes are value added tax,
        all that EN 16931 asks for must be there; what lacks is listed before a number is taken. An
        invoice never changes.
        """
        return self.send(
            calls.create_invoice(quotation_id, request, idempotency_key=idempotency_key),
            timeout=timeout,
        )


class AsyncInvoicesMethods(AsyncSender):
    """The calls about invoices."""

    async def get_invoice_series(self, *, timeout: Timeout = UNCHANGED) -> models.InvoiceSeries:
        """The series of invoice numbers.

        What the next invoice is numbered that brings no number of its own.
        """
        return await self.send(calls.get_invoice_series(), timeout=timeout)

    async def put_invoice_series(
        self, request: models.InvoiceSeries, *, if_match: str, timeout: Timeout = UNCHANGED
    ) -> models.InvoiceSeries:
        """Say how invoices are numbered.

        To go on from the numbers of other software, or to begin a new series. With the same prefix
        `next` never goes back, so that no number is given twice.
        """
        return await self.send(
            calls.put_invoice_series(request, if_match=if_match), timeout=timeout
        )

    def list_invoices(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        quotation: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.InvoicePage, models.InvoiceSummary]:
        """Invoices and credit notes, newest first.

        All of them, or those of one `quotation`.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_invoices(limit=limit, cursor=cursor, quotation=quotation),
        )

    async def get_invoice(
        self, invoice_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.StoredInvoice:
        """One invoice or credit note.

        The same bytes that its creation was answered with. `Accept` chooses between these, an XML
        document and a table of its lines.
        """
        return await self.send(calls.get_invoice(invoice_id), timeout=timeout)

    async def get_invoice_xml(self, invoice_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """UBL 2.1.

        An Invoice or CreditNote of the Universal Business Language 2.1 (OASIS). Where its taxes are
        value added tax it keeps the rules of EN 16931 and says so; others, such as sales taxes, are
        written in the same form, without that claim. The bytes stay the same.
        """
        return await self.send(calls.get_invoice_xml(invoice_id), timeout=timeout)

    async def get_invoice_table(self, invoice_id: str, *, timeout: Timeout = UNCHANGED) -> str:
        """Its lines as a table.

        A row for each line (RFC 4180), amounts with a point and their currency beside them. Text
        that a spreadsheet would take for a formula has an apostrophe before it.
        """
        return await self.send(calls.get_invoice_table(invoice_id), timeout=timeout)

    async def get_invoice_lines(
        self, quotation_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.LinesToInvoice:
        """What there is to invoice.

        Of an accepted quotation with its accepted change orders: the lines of the work, and the
        same sums by stage of payment with what has been invoiced. Units are codes of UNECE
        Recommendation 20, tax categories those of UNTDID 5305. As a table, the lines of the stages.
        """
        return await self.send(calls.get_invoice_lines(quotation_id), timeout=timeout)

    async def get_invoice_lines_table(
        self, quotation_id: str, *, timeout: Timeout = UNCHANGED
    ) -> str:
        """The lines as a table.

        A row for each line (RFC 4180), amounts with a point and their currency beside them. Text
        that a spreadsheet would take for a formula has an apostrophe before it.
        """
        return await self.send(calls.get_invoice_lines_table(quotation_id), timeout=timeout)

    async def create_invoice(
        self,
        quotation_id: str,
        request: models.InvoiceRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.StoredInvoice:
        """Invoice stages of an accepted quotation.

        One invoice for the stages that are named, or for the next that has not been invoiced; a
        credit note where they come to less than nothing. Each stage is invoiced once, and all of
        them together are the offer: its net, each tax and its total. Without a `number` the next of
        the organisation's series is taken, which has no gaps. Where the taxes are value added tax,
        all that EN 16931 asks for must be there; what lacks is listed before a number is taken. An
        invoice never changes.
        """
        return await self.send(
            calls.create_invoice(quotation_id, request, idempotency_key=idempotency_key),
            timeout=timeout,
        )
