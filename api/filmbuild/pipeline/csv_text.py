"""Tables as comma-separated values (RFC 4180), safe to open in a spreadsheet."""

import csv
import re
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from decimal import Decimal

Cell = str | float | Decimal | date | None
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
"""What makes a spreadsheet take a cell for a formula, from memory."""
_PLAIN_NUMBER = re.compile(r"0|[1-9][0-9]{0,14}")
_THREE_DECIMALS = re.compile(r"-?[0-9]+\.[0-9]{3}")
_FIGURES = re.compile(
    r"""[$£€¥]?[.,]?[0-9][0-9\s.,:/%$£€¥-]*   # 007, 1/2, 3-4, 10:30, 5 %
        ([eE][+-]?[0-9]+|\s*[aApP][mM]?)?        # 1E5, 10 am
      | true | false
      | (?P<day>[0-9]{1,4}[\s./-]*)?             # 5-Mar, March 2026
        (jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*
        (?(day)([\s./-]*[0-9]{1,4})?|[\s./-]*[0-9]{1,4})""",
    re.VERBOSE | re.IGNORECASE,
)
"""Texts that spreadsheets turn to numbers, days, times or truth, which changes them."""


class _Lines(list[str]):
    """What a csv writer writes to."""

    write = list.append


def csv_text(header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """Lines end in CR LF. Text that a spreadsheet would compute or change gets an apostrophe in front.

    None is an empty cell, numbers stay numbers, and days and times are written as ISO 8601 has them,
    with a space between. Whole numbers of up to 15 digits may be text as they are: nothing is lost.
    """
    lines = _Lines()
    writer = csv.writer(lines, lineterminator="\r\n")
    writer.writerow([_defused(title) for title in header])
    for row in rows:
        writer.writerow([_cell(one) for one in row])
    return "".join(lines)


def _cell(cell: Cell) -> str | float | None:
    if isinstance(cell, Decimal):
        return _number(f"{cell:f}")  # no exponent; and a minus sign before a number is no formula
    if isinstance(cell, float):
        return _number(float.__repr__(cell))
    if isinstance(cell, datetime):
        return f"{cell:%Y-%m-%d %H:%M:%S}"
    if isinstance(cell, date):
        return cell.isoformat()
    return _defused(cell) if isinstance(cell, str) else cell


def _number(text: str) -> str:
    """1.234 as 1.2340: where a point parts thousands, Calc takes three decimals for a thousand."""
    return f"{text}0" if _THREE_DECIMALS.fullmatch(text) else text


def _defused(text: str) -> str:
    return f"'{text}" if text.startswith(FORMULA_STARTS) or _changes(text) else text


def _changes(text: str) -> bool:
    return _FIGURES.fullmatch(text.strip()) is not None and not _PLAIN_NUMBER.fullmatch(text)
