"""Queries on invoices and the series of their numbers. All run in the caller's transaction."""

import secrets
from collections.abc import Sequence
from datetime import date, datetime

import msgspec
from sqlalchemy import Column, and_, insert, or_, select, update
from sqlalchemy.exc import IntegrityError
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.money import Exact
from filmbuild.quotations.invoices import tables
from filmbuild.quotations.invoices.records import EarlierInvoice, InvoiceKind

_INVOICE = tables.invoice
_STAGE = tables.invoiced_stage
_SERIES = tables.invoice_series
_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"
_ID_LENGTH = 26


class InvoiceRow(msgspec.Struct, frozen=True, kw_only=True):
    """What a list shows of an invoice; `stages` is JSON text."""

    id: str
    number: str
    created_at: datetime
    issued_on: date
    kind: InvoiceKind
    quotation_id: str
    stages: str
    buyer: str
    currency: str
    total: Exact


class WholeInvoice(InvoiceRow, frozen=True, kw_only=True):
    """`content` is the JSON text of the invoice, `document` its XML."""

    content: str
    document: str


class Series(msgspec.Struct, frozen=True, kw_only=True):
    """The numbers of an organisation's invoices."""

    prefix: str = "INV-"
    digits: int = 4
    next: int = 1

    @property
    def number(self) -> str:
        return f"{self.prefix}{self.next:0{self.digits}}"


class Position(msgspec.Struct, frozen=True):
    """The place of an invoice in the order of lists."""

    created_at: datetime
    id: str


def new_invoice_id() -> str:
    """Opaque: "inv_" and 130 random bits in lower-case letters and digits."""
    return "inv_" + "".join(secrets.choice(_LETTERS) for _ in range(_ID_LENGTH))


def _columns(record: type[msgspec.Struct]) -> list[Column[object]]:
    return [_INVOICE.c[name] for name in record.__struct_fields__]


async def read_series(connection: AsyncConnection, organisation: str) -> Series | None:
    return await _series(connection, organisation, lock=False)


async def lock_series(connection: AsyncConnection, organisation: str) -> Series:
    """The series as it is, for the caller alone until its transaction ends.

    Whoever invoices takes this lock, so that one invoice of an organisation is made at a time.
    """
    found = await _series(connection, organisation, lock=True)
    if found is not None:
        return found
    row = {"organisation_id": organisation, **msgspec.structs.asdict(Series())}
    try:
        async with connection.begin_nested():
            await connection.execute(insert(_SERIES), row)
    except IntegrityError:
        pass  # another transaction has begun the series in the meantime
    found = await _series(connection, organisation, lock=True)
    if found is None:
        raise RuntimeError("a series that was just begun is not there")
    return found


async def _series(connection: AsyncConnection, organisation: str, *, lock: bool) -> Series | None:
    query = select(_SERIES.c.prefix, _SERIES.c.digits, _SERIES.c.next).where(
        _SERIES.c.organisation_id == organisation
    )
    found = await connection.execute(query.with_for_update() if lock else query)
    row = found.mappings().first()
    return None if row is None else Series(**row)


async def write_series(connection: AsyncConnection, organisation: str, series: Series) -> None:
    change = update(_SERIES).where(_SERIES.c.organisation_id == organisation)
    await connection.execute(change.values(**msgspec.structs.asdict(series)))


async def is_taken(connection: AsyncConnection, organisation: str, number: str) -> bool:
    query = select(_INVOICE.c.id).where(
        _INVOICE.c.organisation_id == organisation, _INVOICE.c.number == number
    )
    return (await connection.execute(query)).first() is not None


async def insert_invoice(
    connection: AsyncConnection, organisation: str, invoice: WholeInvoice, stages: Sequence[str]
) -> None:
    row = {"organisation_id": organisation, **msgspec.structs.asdict(invoice)}
    await connection.execute(insert(_INVOICE), row)
    billed = [
        {
            "organisation_id": organisation,
            "quotation_id": invoice.quotation_id,
            "stage": stage,
            "invoice_id": invoice.id,
        }
        for stage in stages
    ]
    await connection.execute(insert(_STAGE), billed)


async def get_invoice(
    connection: AsyncConnection, organisation: str, invoice: str
) -> WholeInvoice | None:
    query = select(*_columns(WholeInvoice)).where(
        _INVOICE.c.organisation_id == organisation, _INVOICE.c.id == invoice
    )
    row = (await connection.execute(query)).mappings().first()
    return None if row is None else WholeInvoice(**row)


async def invoiced(
    connection: AsyncConnection, organisation: str, quotations: Sequence[str]
) -> dict[tuple[str, str], str]:
    """By quotation and stage, the id of the invoice that bills it."""
    query = select(_STAGE.c.quotation_id, _STAGE.c.stage, _STAGE.c.invoice_id).where(
        _STAGE.c.organisation_id == organisation, _STAGE.c.quotation_id.in_(quotations)
    )
    rows = (await connection.execute(query)).all()
    return {(row.quotation_id, row.stage): row.invoice_id for row in rows}


async def earlier_invoices(
    connection: AsyncConnection, organisation: str, quotations: Sequence[str]
) -> tuple[EarlierInvoice, ...]:
    """Of these quotations, in the order in which they were made."""
    query = (
        select(_INVOICE.c.number, _INVOICE.c.issued_on)
        .where(_INVOICE.c.organisation_id == organisation, _INVOICE.c.quotation_id.in_(quotations))
        .order_by(_INVOICE.c.created_at, _INVOICE.c.id)
    )
    return tuple(EarlierInvoice(**row) for row in (await connection.execute(query)).mappings())


async def page_of_invoices(
    connection: AsyncConnection,
    organisation: str,
    quotation: str | None,
    after: Position | None,
    limit: int,
) -> tuple[tuple[InvoiceRow, ...], bool]:
    """Newest first, those that follow `after`; and whether more follow."""
    query = (
        select(*_columns(InvoiceRow))
        .where(_INVOICE.c.organisation_id == organisation)
        .order_by(_INVOICE.c.created_at.desc(), _INVOICE.c.id.desc())
    )
    if quotation is not None:
        query = query.where(_INVOICE.c.quotation_id == quotation)
    if after is not None:
        query = query.where(
            or_(
                _INVOICE.c.created_at < after.created_at,
                and_(_INVOICE.c.created_at == after.created_at, _INVOICE.c.id < after.id),
            )
        )
    rows = (await connection.execute(query.limit(limit + 1))).mappings()
    found = tuple(InvoiceRow(**row) for row in rows)
    return found[:limit], len(found) > limit
