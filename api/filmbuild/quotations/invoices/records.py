"""Invoices as they are kept and answered; nothing in them tells what the work costs."""

from datetime import date
from decimal import Decimal
from typing import Annotated, Literal

from msgspec import Meta

from filmbuild.money import Exact, Money, PositiveExact
from filmbuild.organisations.parties import Address, Party
from filmbuild.pipeline.inputs import Input, Label
from filmbuild.pipeline.results.base import Result

EN_16931 = "urn:cen.eu:en16931:2017"
InvoiceKind = Literal["invoice", "credit_note"]
InvoiceNumber = Annotated[
    str,
    Meta(
        pattern=r"^[!-~]([ -~]{0,28}[!-~])?$(?!\n)",
        description="Up to 30 visible characters of ASCII, with spaces between them.",
    ),
]


class Payee(Input, frozen=True, kw_only=True):
    """The account to be paid into: an IBAN or another account number, and the bank's BIC."""

    account: Annotated[str, Meta(pattern=r"^[0-9A-Za-z][0-9A-Za-z -]{2,33}$(?!\n)")]
    name: Label | None = None
    bank: Annotated[str, Meta(pattern=r"^[A-Z0-9]{8}([A-Z0-9]{3})?$(?!\n)")] | None = None


class LineTax(Result, frozen=True, kw_only=True):
    """A tax that a line falls under. `rate_percent` is missing where the line is outside of it."""

    rule: str
    name: str
    category: str
    rate_percent: Decimal | None


class InvoiceLine(Result, frozen=True, kw_only=True):
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
    unit_price: Exact
    price_quantity: Decimal
    net: Money
    taxes: tuple[LineTax, ...]


class InvoiceTax(Result, frozen=True, kw_only=True):
    """A tax on the lines of one category and rate; of several rules where they agree in both."""

    rules: tuple[str, ...]
    name: str
    category: str
    rate_percent: Decimal | None
    base: Money
    amount: Money
    exemption_reason: str | None = None
    exemption_code: str | None = None


class EarlierInvoice(Result, frozen=True, kw_only=True):
    """An invoice before this one, of the same work."""

    number: str
    issued_on: date


class Invoice(Result, frozen=True, kw_only=True):
    """An invoice, or a credit note where what is billed is less than nothing.

    A credit note states what is given back without a minus sign. `total` is `net` with all its `tax`;
    `amount_due` is the total less what was `prepaid`, with `rounding` to what can be paid in cash.
    `conforms_to` names the rules that its XML keeps, and is missing where no such rules are made
    for its taxes. `vat` says whether its taxes are value added tax.
    """

    kind: InvoiceKind
    type_code: str
    conforms_to: str | None
    vat: bool
    number: str
    issued_on: date
    due_on: date
    delivered_on: date | None
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


class InvoiceRequest(Input, frozen=True, kw_only=True):
    """What to bill, and what the quotation does not say.

    `stages` are ids of stages of payment; left out, the next that is not invoiced yet is billed.
    Without `number` the next of the organisation's series is taken. `due_on` is otherwise counted
    from `issued_on` by the shortest term of the stages. `delivered_on` is the day on which the work
    was handed over. `seller`, `buyer` and `place` stand for those of the quotation, and `payee` for the
    account in the organisation's profile.
    `prepaid` is what was already paid on this invoice; `due_step` is the smallest step that can
    be paid, such as "0.05" in cash.
    """

    issued_on: date
    stages: Annotated[tuple[Label, ...], Meta(max_length=200)] = ()
    number: InvoiceNumber | None = None
    due_on: date | None = None
    delivered_on: date | None = None
    seller: Party | None = None
    buyer: Party | None = None
    place: Address | None = None
    payee: Payee | None = None
    reference: Label | None = None
    prepaid: Money | None = None
    due_step: PositiveExact | None = None
