"""An invoice as an entry of double bookkeeping: receivable against revenue and tax per rate."""

from decimal import Decimal

from filmbuild_sdk import models
from filmbuild_sdk.values import Money
from invoicing_plug.books import Entry, Posting

RECEIVABLE = "1200 Receivables"
REVENUE = "4000 Revenue"
TAX = "2200 Tax payable"


def entry_of(stored: models.StoredInvoice) -> Entry:
    """A credit note states what is given back without a minus sign: its sides are changed."""
    invoice = stored.invoice
    digits = decimals(invoice.total)
    sign = -1 if invoice.kind == "credit_note" else 1
    sums = [(RECEIVABLE, invoice.total), (REVENUE, _opposite(invoice.net))]
    sums += [(tax_account(one), _opposite(one.amount)) for one in invoice.taxes]
    postings = [
        posting(account, sign * minor_units(amount, digits))
        for account, amount in sums
        if amount.amount
    ]
    return Entry(
        stored.id,
        invoice.number,
        invoice.issued_on.isoformat(),
        invoice.currency,
        digits,
        invoice.buyer.name,
        postings,
    )


def tax_account(tax: models.InvoiceTax) -> str:
    rate = "outside" if tax.rate_percent is None else f"{tax.rate_percent.normalize():f}%"
    return f"{TAX} {tax.category} {rate}"


def decimals(money: Money) -> int:
    """The service writes sums with as many decimals as their currency has."""
    exponent = money.amount.as_tuple().exponent
    if not isinstance(exponent, int):
        raise TypeError(f"{money} is no amount")
    return -exponent


def minor_units(money: Money, digits: int) -> int:
    """Exactly: an amount with more decimals than the currency has is an error, never rounded."""
    shifted = money.amount.scaleb(digits)
    if shifted != shifted.to_integral_value():
        raise ValueError(f"{money} has more than {digits} decimals")
    return int(shifted)


def posting(account: str, amount: int) -> Posting:
    return Posting(account, max(amount, 0), max(-amount, 0))


def _opposite(money: Money) -> Money:
    return Money(Decimal(0) - money.amount, money.currency)
