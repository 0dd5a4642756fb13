"""Taxes of an offer, taken from the lines that fall under them."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

import msgspec

from filmbuild.money import Currency, Money, rounded, tax_of
from filmbuild.pipeline.results import OfferLine, OfferTax

_NOTHING = Decimal(0)


def net_of(lines: Iterable[OfferLine], currency: str) -> Money:
    return rounded(sum((line.net.amount for line in lines), _NOTHING), Currency(currency))


def taxed(taxes: Iterable[OfferTax], lines: Sequence[OfferLine]) -> tuple[OfferTax, ...]:
    """Each rule once on the sum of its lines (EN 16931-1, BR-CO-17), never line by line."""
    bases: dict[str, Decimal] = {}
    for line in lines:
        for rule in line.taxes:
            bases[rule] = bases.get(rule, _NOTHING) + line.net.amount
    return tuple([on_base(tax, bases.get(tax.rule, _NOTHING)) for tax in taxes])


def on_base(tax: OfferTax, base: Decimal) -> OfferTax:
    currency = tax.base.currency
    return msgspec.structs.replace(
        tax,
        base=rounded(base, currency),
        amount=Money(tax_of(base, tax.rate_percent, currency), currency),
    )


def total_of(net: Money, taxes: Iterable[OfferTax]) -> Money:
    amounts = sum((tax.amount.amount for tax in taxes), _NOTHING)
    return rounded(net.amount + amounts, net.currency)
