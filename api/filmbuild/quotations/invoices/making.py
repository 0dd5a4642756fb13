"""Makes the invoice of chosen stages of an accepted quotation."""

from collections.abc import Sequence
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal

from filmbuild.money import Currency, Money, rounded
from filmbuild.pipeline.results.offer import Offer, PaymentStage
from filmbuild.quotations.accepted import AcceptedQuotation, accepted_offer
from filmbuild.quotations.content import QuotationContent
from filmbuild.quotations.invoices.lines import invoice_lines
from filmbuild.quotations.invoices.records import (
    EN_16931,
    EarlierInvoice,
    Invoice,
    InvoiceLine,
    InvoiceRequest,
    InvoiceTax,
)
from filmbuild.quotations.invoices.shares import billed, due_days, stages_of
from filmbuild.quotations.invoices.taxes import invoice_taxes, is_vat, keeps_en_16931

COMMERCIAL_INVOICE = "380"
PREPAYMENT_INVOICE = "386"
CREDIT_NOTE = "381"
"""Codes of UNTDID 1001."""


def quotation_number(content: QuotationContent) -> str:
    if content.number is None:
        raise ValueError("an accepted quotation has a number")
    return content.number


def plan_of(accepted: AcceptedQuotation) -> tuple[Offer, tuple[PaymentStage, ...]]:
    """What was accepted, and the stages in which it is paid."""
    offer = accepted_offer(accepted.content, accepted.decision)
    return offer, stages_of(offer, quotation_number(accepted.content))


def invoice_of(
    accepted: AcceptedQuotation,
    chosen: Sequence[int],
    request: InvoiceRequest,
    number: str,
    earlier: Sequence[EarlierInvoice] = (),
) -> Invoice:
    """The invoice with `number` of the stages at the places `chosen` in the plan of payments.

    Each stage bills its share of every set of lines that fall under the same taxes, and all of
    them together the offer: its net, each tax and its total. Retention is a stage like others. What
    comes to less than nothing, such as a change order that leaves work out, is a credit note, with
    all of its signs turned. Nothing is checked here: see `checking`.
    """
    content = accepted.content
    offer, stages = plan_of(accepted)
    bill = billed(offer, stages, chosen)
    whole = sum((line.net for line in bill.lines), Decimal(0)) + sum(
        (tax.amount for tax in bill.taxes.values()), Decimal(0)
    )
    sign = -1 if whole < 0 else 1
    lines = invoice_lines(offer, bill, quotation_number(content), sign)
    taxes = invoice_taxes(offer, bill, lines, sign)
    sums = _Sums(offer.currency, lines, taxes, request)
    return Invoice(
        kind="credit_note" if sign < 0 else "invoice",
        type_code=_type_code(sign, stages, chosen),
        conforms_to=EN_16931 if keeps_en_16931(offer) else None,
        vat=is_vat(offer),
        number=number,
        issued_on=request.issued_on,
        due_on=request.due_on or _after(request.issued_on, due_days(stages, chosen)),
        delivered_on=request.delivered_on,
        currency=offer.currency,
        language=content.language,
        seller=request.seller or content.seller,
        buyer=request.buyer or content.buyer,
        place=request.place or content.place,
        site=content.site,
        quotation=quotation_number(content),
        reference=request.reference or content.reference,
        payee=request.payee,
        terms=content.texts.payment,
        earlier=tuple(earlier),
        lines=lines,
        net=sums.net,
        taxes=taxes,
        tax=sums.tax,
        total=sums.total,
        prepaid=sums.prepaid,
        rounding=sums.rounding,
        amount_due=sums.amount_due,
    )


def _after(day: date, days: int) -> date:
    """The last day of the calendar where there is none so late."""
    return day + timedelta(days=min(days, (date.max - day).days))


class _Sums:
    """EN 16931 rules BR-CO-10 to BR-CO-16; sums of rounded amounts are not rounded again."""

    def __init__(
        self,
        currency: str,
        lines: Sequence[InvoiceLine],
        taxes: Sequence[InvoiceTax],
        request: InvoiceRequest,
    ) -> None:
        self._currency = Currency(currency)
        net = sum((line.net.amount for line in lines), Decimal(0))
        tax = sum((tax.amount.amount for tax in taxes), Decimal(0))
        total = net + tax
        prepaid = Decimal(0) if request.prepaid is None else Decimal(request.prepaid.amount)
        due = _to_step(total - prepaid, request.due_step)
        self.net = self._money(net)
        self.tax = self._money(tax)
        self.total = self._money(total)
        self.prepaid = self._money(prepaid)
        self.rounding = self._money(due - (total - prepaid))
        self.amount_due = self._money(due)

    def _money(self, amount: Decimal) -> Money:
        return rounded(amount, self._currency)


def _to_step(due: Decimal, step: Decimal | None) -> Decimal:
    """Halves go up, as everywhere."""
    return (due / step).to_integral_value(ROUND_HALF_UP) * step if step else due


def _type_code(sign: int, stages: Sequence[PaymentStage], chosen: Sequence[int]) -> str:
    """What is asked for before any work is a prepayment, unless it is all there is."""
    if sign < 0:
        return CREDIT_NOTE
    before_work = all(stages[place].occasion == "on_acceptance" for place in chosen)
    return PREPAYMENT_INVOICE if before_work and len(chosen) < len(stages) else COMMERCIAL_INVOICE
