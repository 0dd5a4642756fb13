"""Tables of comma-separated values, read back by the standard library."""

import csv
import io
from datetime import UTC, date, datetime
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


@pytest.mark.parametrize(
    "text",
    [
        "007",
        "1/2",
        "1 1/2",
        "3-4",
        "1E5",
        "10:30",
        "5%",
        "1,5",
        "1.50",
        "TRUE",
        "false",
        "5-Mar",
        "Mar 5",
    ],
)
def test_text_that_would_be_changed_is_defused(text: str) -> None:
    """What Calc and other spreadsheets read as numbers, days, times or truth: from memory."""
    assert next(csv.reader([csv_text([text], [])])) == [f"'{text}"]


@pytest.mark.parametrize(
    "text", ["1", "120", "march", "mars 7a", "may be", "1/4 in", "B-01", "a", "2 x 3"]
)
def test_other_text_stays_as_it_is(text: str) -> None:
    assert next(csv.reader([csv_text([text], [])])) == [text]


def test_days_and_times_are_written_so_that_spreadsheets_read_them() -> None:
    rows: list[list[Cell]] = [[date(2026, 9, 1)], [datetime(2026, 9, 1, 7, 30, tzinfo=UTC)]]
    assert csv_text(["d"], rows) == "d\r\n2026-09-01\r\n2026-09-01 07:30:00\r\n"


def test_three_decimals_are_never_read_as_thousands() -> None:
    """Seen in LibreOffice 7.4 with German formats: 1.234 is opened as 1234."""
    rows: list[list[Cell]] = [[1.234], [Decimal("-0.125")], [1.25]]
    assert csv_text(["n"], rows) == "n\r\n1.2340\r\n-0.1250\r\n1.25\r\n"
