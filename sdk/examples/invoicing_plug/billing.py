"""From messages to booked invoices. Every step asks what is there already, and can be taken again."""

import datetime as dt
import os
import tempfile
from collections.abc import Callable
from pathlib import Path

from filmbuild_sdk import Client, Conflict, FilmbuildError, NotFound, models
from invoicing_plug.books import Books
from invoicing_plug.ledger import entry_of

Today = Callable[[], dt.date]


def is_due(stage: models.StageToInvoice, today: dt.date) -> bool:
    """House rule, to be changed: deposits at once, all else from the day planned for it."""
    planned = stage.expected_on is not None and stage.expected_on <= today
    return stage.occasion == "on_acceptance" or planned


class Biller:
    """Makes, files and books the invoices of accepted quotations."""

    def __init__(
        self, client: Client, books: Books, folder: Path, today: Today = dt.date.today
    ) -> None:
        self._client = client
        self._books = books
        self._folder = folder
        self._today = today
        folder.mkdir(parents=True, exist_ok=True)

    def run(self) -> None:
        """All that is open. What fails holds nothing else up; it stays open, and is raised together."""
        failures: list[FilmbuildError] = []
        for event, named in self._books.open_events():
            try:
                self._books.bill(event, self.billed_under(named))
            except FilmbuildError as failure:
                failures.append(failure)
        for quotation, asked in self._books.open_quotations():
            try:
                self.bill(quotation, asked)
            except FilmbuildError as failure:
                failures.append(failure)
        if failures:
            raise ExceptionGroup("not everything could be billed", failures)

    def billed_under(self, named: str) -> str | None:
        """A message is only a hint: what holds is what the service says now.

        Change orders are billed under the quotation that they change. None where there is nothing
        to bill.
        """
        try:
            quotation = self._client.get_quotation(named)
        except NotFound:
            return None
        if quotation.state != "accepted":
            return None
        return quotation.changes or quotation.id

    def bill(self, quotation: str, asked: int) -> None:
        """What is due of it, and what was invoiced before and never booked."""
        left = False
        for stage in self._client.get_invoice_lines(quotation).stages:
            invoice = stage.invoice
            if invoice is None and is_due(stage, self._today()):
                invoice = self.invoice(quotation, stage)
            if invoice is None:
                left = True
            elif not self._books.is_booked(invoice):
                self.file(invoice)
                self.book(invoice)
        if not left:
            self._books.settle(quotation, asked)

    def invoice(self, quotation: str, stage: models.StageToInvoice) -> str:
        """Its id. The service bills each stage once; the key is for calls at the same time."""
        request = models.InvoiceRequest(issued_on=self._today(), stages=(stage.stage,))
        key = f"{quotation}/{stage.quotation_id}/{stage.stage}/{request.issued_on}"
        try:
            return self._client.create_invoice(quotation, request, idempotency_key=key).id
        except Conflict:
            for now in self._client.get_invoice_lines(quotation).stages:
                same = (now.quotation_id, now.stage) == (stage.quotation_id, stage.stage)
                if same and now.invoice is not None:
                    return now.invoice
            raise

    def file(self, invoice: str) -> None:
        """Whoever watches the folder for *.xml sees a whole file or none."""
        content = self._client.get_invoice_xml(invoice).encode()
        with tempfile.NamedTemporaryFile(
            dir=self._folder, prefix=f"{invoice}.", suffix=".part", delete=False
        ) as part:
            part.write(content)
            part.flush()
            os.fsync(part.fileno())
        Path(part.name).replace(self._folder / f"{invoice}.xml")

    def book(self, invoice: str) -> None:
        self._books.book(entry_of(self._client.get_invoice(invoice)))
