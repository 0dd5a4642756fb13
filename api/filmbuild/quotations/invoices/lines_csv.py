"""Invoice lines as a table, for software that reads no XML."""

from collections.abc import Iterable, Sequence

from filmbuild.pipeline.csv_text import Cell, csv_text
from filmbuild.quotations.invoices.records import InvoiceLine
from filmbuild.quotations.ubl.parts import number

HEADER = (
    "quotation",
    "stage",
    "line",
    "description",
    "quantity",
    "unit code",
    "unit",
    "unit price",
    "price per",
    "net",
    "currency",
    "tax category",
    "tax rate [%]",
    "tax",
)


def invoice_lines_csv(lines: Iterable[InvoiceLine]) -> str:
    """A line for each; several taxes on one line stand in the same cells, with "+" between."""
    return csv_text(HEADER, (_row(line) for line in lines))


def _row(line: InvoiceLine) -> Sequence[Cell]:
    return (
        line.quotation,
        line.stage,
        line.id,
        line.description,
        line.quantity,
        line.unit,
        line.unit_name,
        line.unit_price,
        line.price_quantity,
        line.net.amount,
        line.net.currency,
        " + ".join(tax.category for tax in line.taxes),
        _rates(line),
        " + ".join(tax.name for tax in line.taxes),
    )


def _rates(line: InvoiceLine) -> Cell:
    """A number where there is one rate."""
    if len(line.taxes) == 1:
        rate = line.taxes[0].rate_percent
        return None if rate is None else rate.normalize()
    rates = ("" if tax.rate_percent is None else number(tax.rate_percent) for tax in line.taxes)
    return " + ".join(rates)
