"""Tables of comma-separated values, read back by the standard library."""

import csv
import io
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.pipeline.csv_text import Cell, csv_text

TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)


def test_the_form_is_that_of_rfc_4180() -> None:
    """RFC 4180 section 2, rules 1, 3, 5, 6 and 7."""
    rows: list[list[Cell]] = [
        ["plain", 1.5, None],
        ['say "no"', 3, "a,b"],
        ["two\r\nlines", -0.25, ""],
    ]
    assert csv_text(["name", "size", "note"], rows) == (
        'name,size,note\r\nplain,1.5,\r\n"say ""no""",3,"a,b"\r\n"two\r\nlines",-0.25,\r\n'
    )


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n"])
def test_a_cell_that_would_be_computed_is_defused(start: str) -> None:
    (header, row) = csv.reader(
        io.StringIO(csv_text([f"{start}1"], [[f"{start}HYPERLINK(1)"]]), newline="")
    )
    assert header == [f"'{start}1"]
    assert row == [f"'{start}HYPERLINK(1)"]


def test_numbers_stay_numbers() -> None:
    assert csv_text(["n"], [[-1.5], [-2], [1e-9]]) == "n\r\n-1.5\r\n-2\r\n1e-09\r\n"


@given(st.lists(st.lists(TEXTS, min_size=2, max_size=2), max_size=5))
def test_what_is_written_is_what_is_read(rows: list[list[str]]) -> None:
    text = csv_text(["one", "two"], rows)
    read = list(csv.reader(io.StringIO(text, newline=""), strict=True))[1:]
    assert [[cell.removeprefix("'") for cell in row] for row in read] == [
        [cell.removeprefix("'") for cell in row] for row in rows
    ]
    assert not any(
        cell.startswith(("=", "+", "-", "@", "\t", "\r", "\n")) for row in read for cell in row
    )


def test_exact_decimals_stay_numbers_and_have_no_exponent() -> None:
    rows = [[Decimal("-1234.50")], [Decimal("1E+3")], [Decimal("0.0000001")]]
    assert csv_text(["n"], rows) == "n\r\n-1234.50\r\n1000\r\n0.0000001\r\n"
