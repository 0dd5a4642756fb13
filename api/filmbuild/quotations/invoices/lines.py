"""Lines of invoices, from what is billed."""

from collections.abc import Iterable
from decimal import Decimal

from filmbuild.money import Currency, rounded
from filmbuild.pipeline.results.offer import Offer, OfferTax
from filmbuild.pipeline.unit_codes import UNITS
from filmbuild.quotations.invoices.categories import OUTSIDE
from filmbuild.quotations.invoices.records import InvoiceLine, LineTax
from filmbuild.quotations.invoices.shares import Billed, BilledLine
from filmbuild.quotations.ubl.prices import line_price


def invoice_lines(offer: Offer, bill: Billed, quotation: str, sign: int) -> tuple[InvoiceLine, ...]:
    """`sign` is -1 where what is billed is given back."""
    taxes: dict[str, list[OfferTax]] = {}
    for tax in offer.taxes:
        taxes.setdefault(tax.rule, []).append(tax)
    return tuple(
        _line(
            str(place),
            line,
            offer.currency,
            quotation,
            sign,
            (tax for rule in line.taxes for tax in taxes.get(rule, ())),
        )
        for place, line in enumerate(bill.lines, 1)
    )


def _line(
    name: str,
    line: BilledLine,
    currency: str,
    quotation: str,
    sign: int,
    taxes: Iterable[OfferTax],
) -> InvoiceLine:
    net = rounded(sign * Decimal(line.net), Currency(currency))
    price = line_price(sign * line.quantity, line.unit, net)
    unit = UNITS.get(price.unit)
    return InvoiceLine(
        id=name,
        quotation=quotation,
        stage=line.stage,
        description=line.description,
        quantity=price.quantity,
        unit=price.unit,
        unit_name=unit.name if unit is not None else price.unit,
        unit_price=price.amount,
        price_quantity=price.per,
        net=net,
        taxes=tuple(_line_tax(tax) for tax in taxes),
    )


def _line_tax(tax: OfferTax) -> LineTax:
    return LineTax(
        rule=tax.rule, name=tax.name, category=tax.category, rate_percent=stated_rate(tax)
    )


def stated_rate(tax: OfferTax) -> Decimal | None:
    """What is outside of a tax has no rate (EN 16931 rule BR-O-05), which is not a rate of zero."""
    return None if tax.category == OUTSIDE else tax.rate_percent
