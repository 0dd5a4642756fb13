"""Makes invoices of accepted quotations, and keeps them."""

from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from typing import Protocol

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild import idempotency
from filmbuild.db import Database
from filmbuild.edge import paging
from filmbuild.edge.decoding import dec_hook
from filmbuild.edge.encoding import encode
from filmbuild.errors import Conflict, Fault, Faults, NotFound
from filmbuild.idempotency import KeptAnswer, RequestKey
from filmbuild.money import Currency, Exact, Money
from filmbuild.organisations.service import bank_of
from filmbuild.quotations.accepted import AcceptedQuotation
from filmbuild.quotations.invoices import store
from filmbuild.quotations.invoices.checking import check
from filmbuild.quotations.invoices.choosing import chosen_stages
from filmbuild.quotations.invoices.listing import lines_to_invoice
from filmbuild.quotations.invoices.making import invoice_of, plan_of
from filmbuild.quotations.invoices.records import (
    EarlierInvoice,
    Invoice,
    InvoiceRequest,
    Payee,
)
from filmbuild.quotations.invoices.series import SeriesService
from filmbuild.quotations.invoices.wire import (
    InvoicePage,
    InvoiceQuery,
    InvoiceSummary,
    LinesToInvoice,
)
from filmbuild.quotations.invoices.xml import invoice_xml
from filmbuild.webhooks import outbox
from filmbuild.webhooks.events import Event, InvoiceEventData

CREATED = 201


class AcceptedQuotations(Protocol):
    """Where accepted quotations come from. Both read in the caller's transaction."""

    async def accepted(
        self, connection: AsyncConnection, organisation: str, quotation: str
    ) -> AcceptedQuotation:
        """Raises NotFound, and Conflict for a quotation in another state."""

    async def change_orders(
        self, connection: AsyncConnection, organisation: str, quotation: str
    ) -> Sequence[AcceptedQuotation]:
        """Those to this quotation that were accepted, in the order in which they were made."""


class Made(msgspec.Struct, frozen=True):
    """A stored invoice, as it is answered."""

    id: str
    content: bytes


class _Envelope(msgspec.Struct, frozen=True):
    """A stored invoice, around the text that is kept as it was first written."""

    id: str
    created_at: datetime
    quotation_id: str
    stages: msgspec.Raw
    invoice: msgspec.Raw


class InvoiceService:
    """`clock` tells the moment at which an invoice is made."""

    def __init__(
        self,
        database: Database,
        quotations: AcceptedQuotations,
        clock: Callable[[], datetime] = lambda: datetime.now(UTC),
    ) -> None:
        self._database = database
        self.series = SeriesService(database)
        self._quotations = quotations
        self._clock = clock

    async def lines(self, organisation: str, quotation: str) -> LinesToInvoice:
        """Raises NotFound and Conflict."""
        async with self._database.reader(organisation) as connection:
            accepted = await self._quotations.accepted(connection, organisation, quotation)
            changes = await self._quotations.change_orders(connection, organisation, quotation)
            names = [one.id for one in (accepted, *changes)]
            done = await store.invoiced(connection, organisation, names)
        return lines_to_invoice((accepted, *changes), done)

    async def create(
        self, organisation: str, quotation: str, request: InvoiceRequest, key: RequestKey | None
    ) -> Made:
        """Raises NotFound, Conflict, IdempotencyKeyReused, and InvalidInput with all that lacks."""
        now = self._clock()
        async with self._database.writer(organisation) as connection:
            series = await store.lock_series(connection, organisation)
            if key is not None and (known := await idempotency.find(connection, key, now)):
                return _made(await self._kept(connection, organisation, known.resource))
            accepted = await self._quotations.accepted(connection, organisation, quotation)
            request = await _with_payee(connection, organisation, request)
            invoice, stages = await _invoice(connection, organisation, accepted, request)
            number = request.number
            if number is None:
                number = await _take_number(connection, organisation, series)
            elif await store.is_taken(connection, organisation, number):
                detail = f"another invoice has the number {number}"
                fault = Fault("/number", "number-taken", detail)
                raise Conflict("An invoice's number is used once.", (fault,))
            invoice = msgspec.structs.replace(invoice, number=number)
            row = _row(invoice, accepted.id, stages, now)
            if key is not None:
                kept = KeptAnswer(status=CREATED, resource=row.id)
                await idempotency.keep(connection, key, kept, now)
            await store.insert_invoice(connection, organisation, row, stages)
            await outbox.write(connection, organisation, _event(row))
        return _made(row)

    async def get(self, organisation: str, name: str) -> bytes:
        """Raises NotFound."""
        return _made(await self._read(organisation, name)).content

    async def document(self, organisation: str, name: str) -> bytes:
        """Its XML. Raises NotFound."""
        return (await self._read(organisation, name)).document.encode()

    async def invoice(self, organisation: str, name: str) -> Invoice:
        """Raises NotFound."""
        text = (await self._read(organisation, name)).content
        return msgspec.json.decode(text, type=Invoice, dec_hook=dec_hook)

    async def find(self, organisation: str, query: InvoiceQuery, path: str) -> InvoicePage:
        after = paging.after_moment(query, path, store.Position)
        async with self._database.reader(organisation) as connection:
            found, more = await store.page_of_invoices(
                connection, organisation, query.quotation, after, query.limit
            )
        last = f"{found[-1].created_at.isoformat()} {found[-1].id}" if more else None
        return InvoicePage(
            items=tuple(_summary(one) for one in found),
            next=None if last is None else paging.cursor(query, path, last),
        )

    async def _read(self, organisation: str, name: str) -> store.WholeInvoice:
        async with self._database.reader(organisation) as connection:
            return await self._kept(connection, organisation, name)

    async def _kept(
        self, connection: AsyncConnection, organisation: str, name: str
    ) -> store.WholeInvoice:
        found = await store.get_invoice(connection, organisation, name)
        if found is None:
            raise NotFound("No invoice has this id.")
        return found


async def _with_payee(
    connection: AsyncConnection, organisation: str, request: InvoiceRequest
) -> InvoiceRequest:
    """To be paid to the account of the organisation's profile where none is asked for."""
    bank = None if request.payee else await bank_of(connection, organisation)
    if bank is None:
        return request
    account = bank.account.replace(" ", "").replace("-", "")
    payee = Payee(account=account, name=bank.holder, bank=bank.bic)
    return msgspec.structs.replace(request, payee=payee)


async def _invoice(
    connection: AsyncConnection,
    organisation: str,
    accepted: AcceptedQuotation,
    request: InvoiceRequest,
) -> tuple[Invoice, tuple[str, ...]]:
    """Checked, but without its number, so that none is taken for what cannot be invoiced."""
    _, stages = plan_of(accepted)
    done = await store.invoiced(connection, organisation, (accepted.id,))
    chosen = chosen_stages(stages, request.stages, {stage for _, stage in done})
    related = [accepted.id, *([accepted.changes] if accepted.changes else [])]
    earlier: tuple[EarlierInvoice, ...] = await store.earlier_invoices(
        connection, organisation, related
    )
    invoice = invoice_of(accepted, chosen, request, request.number or "", earlier)
    faults = Faults()
    check(invoice, request, faults)
    faults.raise_if_any("The invoice cannot be made yet.")
    return invoice, tuple(stages[place].id for place in chosen)


async def _take_number(connection: AsyncConnection, organisation: str, series: store.Series) -> str:
    """The next of the series that no invoice has yet: one may have been given by hand."""
    while await store.is_taken(connection, organisation, series.number):
        series = msgspec.structs.replace(series, next=series.next + 1)
    after = msgspec.structs.replace(series, next=series.next + 1)
    await store.write_series(connection, organisation, after)
    return series.number


def _row(
    invoice: Invoice, quotation: str, stages: Sequence[str], now: datetime
) -> store.WholeInvoice:
    return store.WholeInvoice(
        id=store.new_invoice_id(),
        number=invoice.number,
        created_at=now,
        issued_on=invoice.issued_on,
        kind=invoice.kind,
        quotation_id=quotation,
        stages=msgspec.json.encode(stages).decode(),
        buyer=invoice.buyer.name,
        currency=invoice.currency,
        total=Exact(invoice.total.amount),
        content=encode(invoice, "si").decode(),
        document=invoice_xml(invoice).decode(),
    )


def _event(row: store.WholeInvoice) -> Event:
    data = InvoiceEventData(
        id=row.id,
        kind=row.kind,
        number=row.number,
        quotation=row.quotation_id,
        issued_on=row.issued_on,
        total=Money(row.total, Currency(row.currency)),
    )
    return Event(type="invoice.created", subject=row.id, data=data, at=row.created_at)


def _made(row: store.WholeInvoice) -> Made:
    envelope = _Envelope(
        row.id,
        row.created_at,
        row.quotation_id,
        msgspec.Raw(row.stages),
        msgspec.Raw(row.content),
    )
    return Made(row.id, msgspec.json.encode(envelope))


def _summary(row: store.InvoiceRow) -> InvoiceSummary:
    return InvoiceSummary(
        id=row.id,
        created_at=row.created_at,
        kind=row.kind,
        number=row.number,
        issued_on=row.issued_on,
        quotation_id=row.quotation_id,
        stages=msgspec.json.decode(row.stages, type=tuple[str, ...]),
        buyer=row.buyer,
        total=Money(row.total, Currency(row.currency)),
    )
