"""Lines as a table."""

import csv
import io
from decimal import Decimal

import msgspec
from invoice_cases import accepted, line, offer, request, tax

from filmbuild.quotations.invoices.lines_csv import HEADER, invoice_lines_csv
from filmbuild.quotations.invoices.making import invoice_of

STATE, COUNTY = tax("S", "5.75", "state", "sales_tax"), tax("S", "1.5", "county", "sales_tax")


def rows(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline="")))


def test_amounts_are_numbers_and_text_is_no_formula() -> None:
    work = msgspec.structs.replace(
        line("1000.00", STATE, COUNTY, quantity="318.5", unit="FTK"),
        description='=HYPERLINK("http://example.com"), "quoted"\r\nand on',
    )
    given = offer([work, line("-50.00", STATE, COUNTY)], [STATE, COUNTY])
    text = invoice_lines_csv(invoice_of(accepted(given), [0], request(), "INV").lines)
    header, first, second = rows(text)
    assert tuple(header) == HEADER
    assert first[:4] == ["Q-0012", "whole", "1", f"'{work.description}"]
    assert first[4:11] == ["318.5", "FTK", "square foot", "3.13972", "1", "1000.00", "EUR"]
    assert first[11:] == ["S + S", "5.75 + 1.5", "Demo tax S 5.75 + Demo tax S 1.5"]
    assert second[4:10] == ["-1", "LS", "lump sum", "50.00", "1", "-50.00"]
    assert text.count("\r\n") == 4


def test_no_figure_is_written_with_an_exponent() -> None:
    work = line("0.01", STATE, quantity="123456.0000001", unit="MTK")
    given = offer([work, line("100", STATE, quantity="1E+2", currency="EUR")], [STATE])
    text = invoice_lines_csv(invoice_of(accepted(given), [0], request(), "INV").lines)
    _, first, second = rows(text)
    assert first[4] == "123456.0000001"
    assert [Decimal(one) for one in (second[4], second[7])] == [100, 1]
    assert "E+" not in text
