"""Tables as comma-separated values (RFC 4180), safe to open in a spreadsheet."""

import csv
from collections.abc import Iterable, Sequence
from decimal import Decimal

Cell = str | float | Decimal | None
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")
"""What makes a spreadsheet take a cell for a formula, from memory."""


class _Lines(list[str]):
    """What a csv writer writes to."""

    write = list.append


def csv_text(header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """Lines end in CR LF. Text that a spreadsheet would compute gets an apostrophe in front.

    None is an empty cell, and numbers stay numbers.
    """
    lines = _Lines()
    writer = csv.writer(lines, lineterminator="\r\n")
    writer.writerow([_defused(title) for title in header])
    for row in rows:
        writer.writerow([_cell(one) for one in row])
    return "".join(lines)


def _cell(cell: Cell) -> Cell:
    if isinstance(cell, Decimal):
        return f"{cell:f}"  # no exponent; and a minus sign in front of a number is no formula
    return _defused(cell) if isinstance(cell, str) else cell


def _defused(text: str) -> str:
    return f"'{text}" if text.startswith(FORMULA_STARTS) else text
