"""Invoices, and what is to be invoiced, as callers see them."""

from datetime import date
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from filmbuild.edge.paging import PageQuery
from filmbuild.money import Money
from filmbuild.organisations.parties import Address, Party
from filmbuild.pipeline.inputs import Input
from filmbuild.pipeline.results.base import Moment
from filmbuild.quotations.invoices.records import Invoice, InvoiceKind, InvoiceLine, InvoiceTax

SeriesPrefix = Annotated[
    str,
    Meta(
        pattern=r"^([!-~]([ -~]{0,14}[!-~])?)?$(?!\n)",
        description="Up to 16 visible characters of ASCII, with spaces between them; may be empty.",
    ),
]


class StoredInvoice(msgspec.Struct, frozen=True, kw_only=True):
    """An invoice as it was made. It never changes."""

    id: str
    created_at: Moment
    quotation_id: str
    stages: tuple[str, ...]
    invoice: Invoice


class InvoiceSummary(msgspec.Struct, frozen=True, kw_only=True):
    """One line of the list of invoices."""

    id: str
    created_at: Moment
    kind: InvoiceKind
    number: str
    issued_on: date
    quotation_id: str
    stages: tuple[str, ...]
    buyer: str
    total: Money


class InvoiceQuery(PageQuery, frozen=True, kw_only=True):
    """`quotation` is the id of the quotation whose invoices are listed."""

    quotation: Annotated[str, Meta(pattern=r"^quo_[0-9a-z]{26}$(?!\n)")] | None = None


class InvoicePage(msgspec.Struct, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[InvoiceSummary, ...]
    next: str | None


class StageToInvoice(msgspec.Struct, frozen=True, kw_only=True):
    """One stage of payment. `invoice` is the id of what billed it, null while nothing has.

    Here sums have their signs: of a stage that gives back they are below zero.
    """

    quotation: str
    quotation_id: str
    stage: str
    label: str
    occasion: Literal["on_acceptance", "per_visit", "on_completion", "retention"]
    expected_on: date | None
    due_days: int
    invoice: str | None
    lines: tuple[InvoiceLine, ...]
    net: Money
    taxes: tuple[InvoiceTax, ...]
    total: Money


class LinesToInvoice(msgspec.Struct, frozen=True, kw_only=True):
    """All that an accepted quotation and its accepted change orders come to.

    `lines` have the whole of the work one by one, `stages` the same sums as they are asked for:
    bill the one or the other. Both add up to `net`, and `stages` to `total`.
    """

    quotation: str
    currency: str
    language: str
    seller: Party
    buyer: Party
    place: Address | None
    reference: str | None
    lines: tuple[InvoiceLine, ...]
    stages: tuple[StageToInvoice, ...]
    net: Money
    tax: Money
    total: Money


class InvoiceSeries(Input, frozen=True, kw_only=True):
    """The organisation's numbers: the `prefix`, then `next` in at least so many `digits`."""

    prefix: SeriesPrefix
    digits: Annotated[int, Meta(ge=1, le=9)]
    next: Annotated[int, Meta(ge=1, le=999_999_999)]
