"""The taxes of an invoice."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from filmbuild.money import Currency, minor_units, rounded
from filmbuild.pipeline.results.offer import Offer, OfferTax
from filmbuild.quotations.invoices.categories import VAT_CATEGORIES
from filmbuild.quotations.invoices.lines import stated_rate
from filmbuild.quotations.invoices.records import InvoiceLine, InvoiceTax
from filmbuild.quotations.invoices.shares import Billed, BilledTax, key_of

VAT_SCHEME = "vat"
FINEST_EN_16931 = 2
"""Decimals of an amount (its rules BR-DEC)."""
_NOTHING = BilledTax(base=Decimal(0), amount=Decimal(0))


def is_vat(offer: Offer) -> bool:
    return bool(offer.taxes) and all(tax.scheme == VAT_SCHEME for tax in offer.taxes)


def keeps_en_16931(offer: Offer) -> bool:
    """Value added tax, with each line under one rate of it, in a currency of two decimals at most.

    A tax on part of a line, such as on its materials alone, has no form there.
    """
    if not is_vat(offer) or minor_units(offer.currency) > FINEST_EN_16931:
        return False
    if any(len(line.taxes) != 1 for line in offer.lines):
        return False
    sums: dict[str, Decimal] = {}
    for line in offer.lines:
        sums[line.taxes[0]] = sums.get(line.taxes[0], Decimal(0)) + line.net.amount
    return all(tax.base.amount == sums.get(tax.rule, Decimal(0)) for tax in offer.taxes)


def invoice_taxes(
    offer: Offer, bill: Billed, lines: Sequence[InvoiceLine], sign: int
) -> tuple[InvoiceTax, ...]:
    """By category and rate where the invoice keeps EN 16931, else by rule.

    There the sums taxed are those of the lines, whatever the plan of payments says of them.
    """
    by_category = keeps_en_16931(offer)
    used = {tax.rule for line in lines for tax in line.taxes}
    found: dict[object, list[OfferTax]] = {}
    for tax in offer.taxes:
        if tax.rule in used:
            key = _category_key(tax) if by_category else key_of(tax)
            found.setdefault(key, []).append(tax)
    taxes = []
    for rules in found.values():
        billed = [bill.taxes.get(key_of(tax), _NOTHING) for tax in rules]
        base = sign * sum((one.base for one in billed), Decimal(0))
        amount = sign * sum((one.amount for one in billed), Decimal(0))
        if by_category:
            base = _sum_of_lines(rules, lines)
        taxes.append(_tax(rules, base, amount, vat=is_vat(offer)))
    return tuple(taxes)


def _category_key(tax: OfferTax) -> tuple[str, Decimal | None]:
    rate = stated_rate(tax)
    return tax.category, None if rate is None else rate.normalize()


def _sum_of_lines(rules: Sequence[OfferTax], lines: Sequence[InvoiceLine]) -> Decimal:
    names = {tax.rule for tax in rules}
    nets = (line.net.amount for line in lines if any(tax.rule in names for tax in line.taxes))
    return sum(nets, Decimal(0))


def _tax(rules: Sequence[OfferTax], base: Decimal, amount: Decimal, *, vat: bool) -> InvoiceTax:
    first, currency = rules[0], Currency(rules[0].base.currency)
    usual = VAT_CATEGORIES.get(first.category) if vat else None
    reason, code = _joined(tax.exemption_reason for tax in rules), None
    if usual is not None and usual.exempt:
        reason, code = reason or usual.reason, usual.reason_code
    elif vat:
        reason = None
    return InvoiceTax(
        rules=tuple(dict.fromkeys(tax.rule for tax in rules)),
        name=_joined(tax.name for tax in rules) or first.name,
        category=first.category,
        rate_percent=stated_rate(first),
        base=rounded(base, currency),
        amount=rounded(amount, currency),
        exemption_reason=reason,
        exemption_code=code,
    )


def _joined(texts: Iterable[str | None]) -> str | None:
    """Each once, in the order in which they come."""
    return "; ".join(dict.fromkeys(text for text in texts if text)) or None
