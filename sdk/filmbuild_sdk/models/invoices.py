"""What the service is sent and what it answers: invoices.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal

from filmbuild_sdk.models.inputs import Address, Party
from filmbuild_sdk.values import Answer, Input, Moment, Money


class InvoiceSummary(Answer, frozen=True, kw_only=True):
    """One line of the list of invoices."""

    id: str
    created_at: Moment
    kind: str
    number: str
    issued_on: dt.date
    quotation_id: str
    stages: tuple[str, ...]
    buyer: str
    total: Money


class InvoicePage(Answer, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[InvoiceSummary, ...]
    next: str | None


class Payee(Input, frozen=True, kw_only=True):
    """The account to be paid into: an IBAN or another account number, and the bank's BIC."""

    account: str
    bank: str | None = None
    name: str | None = None


class InvoiceRequest(Input, frozen=True, kw_only=True):
    """What to bill, and what the quotation does not say.

    `stages` are ids of stages of payment; left out, the next that is not invoiced yet is billed.
    Without `number` the next of the organisation's series is taken. `due_on` is otherwise counted
    from `issued_on` by the shortest term of the stages. `delivered_on` is the day on which the work
    was handed over. `seller`, `buyer` and `place` stand for those of the quotation, and `payee` for
    the
    account in the organisation's profile.
    `prepaid` is what was already paid on this invoice; `due_step` is the smallest step that can
    be paid, such as "0.05" in cash.
    """

    issued_on: dt.date
    buyer: Party | None = None
    delivered_on: dt.date | None = None
    due_on: dt.date | None = None
    due_step: Decimal | None = None
    number: str | None = None
    payee: Payee | None = None
    place: Address | None = None
    prepaid: Money | None = None
    reference: str | None = None
    seller: Party | None = None
    stages: Sequence[str] = ()


class InvoiceSeries(Answer, frozen=True, kw_only=True):
    """The organisation's numbers: the `prefix`, then `next` in at least so many `digits`."""

    prefix: str
    digits: int
    next: int


class LineTax(Answer, frozen=True, kw_only=True):
    """A tax that a line falls under. `rate_percent` is missing where the line is outside of it."""

    rule: str
    name: str
    category: str
    rate_percent: Decimal | None


class InvoiceLine(Answer, frozen=True, kw_only=True):
    """`unit_price` is for `price_quantity` of the unit: times quantity, rounded once, it is `net`.

    `quotation` and `stage` say what it bills.
    """

    id: str
    quotation: str
    stage: str
    description: str
    quantity: Decimal
    unit: str
    unit_name: str
    unit_price: Decimal
    price_quantity: Decimal
    net: Money
    taxes: tuple[LineTax, ...]


class InvoiceTax(Answer, frozen=True, kw_only=True):
    """A tax on the lines of one category and rate; of several rules where they agree in both."""

    rules: tuple[str, ...]
    name: str
    category: str
    rate_percent: Decimal | None
    base: Money
    amount: Money
    exemption_code: str | None = None
    exemption_reason: str | None = None


class StageToInvoice(Answer, frozen=True, kw_only=True):
    """One stage of payment. `invoice` is the id of what billed it, null while nothing has.

    Here sums have their signs: of a stage that gives back they are below zero.
    """

    quotation: str
    quotation_id: str
    stage: str
    label: str
    occasion: str
    expected_on: dt.date | None
    due_days: int
    invoice: str | None
    lines: tuple[InvoiceLine, ...]
    net: Money
    taxes: tuple[InvoiceTax, ...]
    total: Money


class LinesToInvoice(Answer, frozen=True, kw_only=True):
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


class EarlierInvoice(Answer, frozen=True, kw_only=True):
    """An invoice before this one, of the same work."""

    number: str
    issued_on: dt.date


class Invoice(Answer, frozen=True, kw_only=True):
    """An invoice, or a credit note where what is billed is less than nothing.

    A credit note states what is given back without a minus sign. `total` is `net` with all its
    `tax`;
    `amount_due` is the total less what was `prepaid`, with `rounding` to what can be paid in cash.
    `conforms_to` names the rules that its XML keeps, and is missing where no such rules are made
    for its taxes. `vat` says whether its taxes are value added tax.
    """

    kind: str
    type_code: str
    conforms_to: str | None
    vat: bool
    number: str
    issued_on: dt.date
    due_on: dt.date
    delivered_on: dt.date | None
    currency: str
    language: str
    seller: Party
    buyer: Party
    place: Address | None
    site: str
    quotation: str
    reference: str | None
    payee: Payee | None
    terms: tuple[str, ...]
    earlier: tuple[EarlierInvoice, ...]
    lines: tuple[InvoiceLine, ...]
    net: Money
    taxes: tuple[InvoiceTax, ...]
    tax: Money
    total: Money
    prepaid: Money
    rounding: Money
    amount_due: Money


class StoredInvoice(Answer, frozen=True, kw_only=True):
    """An invoice as it was made. It never changes."""

    id: str
    created_at: Moment
    quotation_id: str
    stages: tuple[str, ...]
    invoice: Invoice
