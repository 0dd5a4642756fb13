"""All that an accepted quotation and its change orders come to, as lines to be invoiced."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from filmbuild.money import Currency, rounded
from filmbuild.pipeline.results.offer import Offer, PaymentStage
from filmbuild.quotations.accepted import AcceptedQuotation
from filmbuild.quotations.invoices.lines import invoice_lines
from filmbuild.quotations.invoices.making import plan_of, quotation_number
from filmbuild.quotations.invoices.shares import billed
from filmbuild.quotations.invoices.taxes import invoice_taxes
from filmbuild.quotations.invoices.wire import LinesToInvoice, StageToInvoice


def lines_to_invoice(
    quotations: Sequence[AcceptedQuotation], invoices: Mapping[tuple[str, str], str]
) -> LinesToInvoice:
    """The quotation first, then its change orders; `invoices` by quotation and stage."""
    content = quotations[0].content
    plans = [(one, *plan_of(one)) for one in quotations]
    stages = tuple(
        stage for one, offer, plan in plans for stage in _stages(one, offer, plan, invoices)
    )
    currency = Currency(content.currency)
    net = sum((stage.net.amount for stage in stages), Decimal(0))
    total = sum((stage.total.amount for stage in stages), Decimal(0))
    return LinesToInvoice(
        quotation=quotation_number(content),
        currency=currency,
        language=content.language,
        seller=content.seller,
        buyer=content.buyer,
        place=content.place,
        reference=content.reference,
        lines=tuple(
            line
            for one, offer, plan in plans
            for line in invoice_lines(
                offer,
                billed(offer, plan, range(len(plan))),
                quotation_number(one.content),
                1,
            )
        ),
        stages=stages,
        net=rounded(net, currency),
        tax=rounded(total - net, currency),
        total=rounded(total, currency),
    )


def _stages(
    quotation: AcceptedQuotation,
    offer: Offer,
    plan: Sequence[PaymentStage],
    invoices: Mapping[tuple[str, str], str],
) -> Iterator[StageToInvoice]:
    number = quotation_number(quotation.content)
    for place, stage in enumerate(plan):
        bill = billed(offer, plan, (place,))
        lines = invoice_lines(offer, bill, number, 1)
        yield StageToInvoice(
            quotation=number,
            quotation_id=quotation.id,
            stage=stage.id,
            label=stage.label,
            occasion=stage.occasion,
            expected_on=stage.expected_on,
            due_days=stage.due_days,
            invoice=invoices.get((quotation.id, stage.id)),
            lines=lines,
            net=stage.net,
            taxes=invoice_taxes(offer, bill, lines, 1),
            total=stage.total,
        )
