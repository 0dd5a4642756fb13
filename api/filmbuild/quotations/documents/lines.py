"""A quotation's lines as a table: each alternate's lines, taxes and total, and what may be added."""

from collections.abc import Iterator
from decimal import Decimal

from filmbuild.pipeline.csv_text import Cell, csv_text
from filmbuild.pipeline.results.offer import OfferLine, OfferOption, OfferTax
from filmbuild.quotations.content import Alternate, QuotationContent

HEADER = (
    "alternate",
    "row",
    "id",
    "description",
    "areas",
    "quantity",
    "unit",
    "net",
    "currency",
    "tax_rules",
    "tax_category",
    "tax_rate_percent",
    "tax_base",
)
OPTION = "optional"
_PART = "optional-line"


def offer_lines_csv(content: QuotationContent) -> str:
    """`row` says what a row is: a kind of line, or "net", "tax", "total" or "optional".

    The lines of an alternate add up to its "net", and this with its taxes to its "total". What is
    "optional" is in none of them; its own lines, "optional-line", stand below it.
    """
    return csv_text(HEADER, _rows(content))


def _rows(content: QuotationContent) -> Iterator[list[Cell]]:
    for one in content.alternates:
        offer = one.offer
        for line in offer.lines:
            yield _line(one, line, line.kind)
        yield _sum(one, "net", offer.net.amount)
        for tax in offer.taxes:
            yield _tax(one, tax)
        yield _sum(one, "total", offer.total.amount)
        for option in offer.options:
            yield from _option(one, option)


def _line(one: Alternate, line: OfferLine, row: str) -> list[Cell]:
    return [
        one.id,
        row,
        line.id,
        line.description,
        " ".join(line.areas),
        line.quantity,
        line.unit,
        line.net.amount,
        line.net.currency,
        " ".join(line.taxes),
        None,
        None,
        None,
    ]


def _option(one: Alternate, option: OfferOption) -> Iterator[list[Cell]]:
    row = _sum(one, OPTION, option.net.amount)
    row[2:4] = [option.id, option.label]
    yield row
    for line in option.lines:
        yield _line(one, line, _PART)


def _tax(one: Alternate, tax: OfferTax) -> list[Cell]:
    row = _sum(one, "tax", tax.amount.amount)
    row[2:4] = [tax.rule, tax.name]
    row[9:] = [tax.rule, tax.category, tax.rate_percent, tax.base.amount]
    return row


def _sum(one: Alternate, row: str, amount: Decimal) -> list[Cell]:
    currency = one.offer.currency
    return [one.id, row, *[None] * 5, amount, currency, None, None, None, None]
