"""Reads rows of prices from comma-separated values (RFC 4180), one at a time."""

import csv
import io
from collections.abc import Generator, Iterator
from functools import lru_cache
from typing import BinaryIO, Protocol

from filmbuild.errors import Faults, InvalidInput
from filmbuild.pricelists.entries import (
    COLUMNS,
    REQUIRED,
    Defaults,
    Entry,
    Finder,
    Steps,
    shown,
)

_NOT_CSV = "The file cannot be read as comma-separated values."


class _Reader(Protocol):
    """What the csv module reads with, whose own class has no name in every version of it."""

    @property
    def line_num(self) -> int: ...
    def __iter__(self) -> Iterator[list[str]]: ...
    def __next__(self) -> list[str]: ...


def rows(file: BinaryIO, defaults: Defaults, faulty: Finder) -> Generator[Entry, None, None]:
    """The first line names the columns. Raises InvalidInput where the file is no such table."""
    text = io.TextIOWrapper(file, encoding="utf-8-sig", newline="")
    reader = csv.reader(text, strict=True)
    try:
        yield from _rows(reader, defaults, faulty)
    except csv.Error as error:
        raise _unreadable(reader.line_num, f"line {reader.line_num}: {error}") from error
    except UnicodeDecodeError as error:
        detail = f"after line {reader.line_num}: a byte that is not UTF-8; send the file in UTF-8"
        raise _unreadable(reader.line_num, detail) from error
    finally:
        text.detach()


def _rows(reader: _Reader, defaults: Defaults, faulty: Finder) -> Generator[Entry, None, None]:
    header = next(reader, None)
    if not header:
        raise _unreadable(1, "the file is empty; its first line names the columns")
    pack_at, amount_at, currency_at, tier_at, day_at, breaks_at = _places(header)
    width = len(header)
    currency, tier, day = defaults.currency, defaults.tier, defaults.day
    line = reader.line_num
    for cells in reader:
        start, line = line + 1, reader.line_num
        if len(cells) != width:
            if cells:
                detail = f"{len(cells)} cells where the first line names {width} columns"
                faulty(start, cells[0], "", "wrong-cells", detail)
            continue
        cells.append("")  # what a column that is not there holds
        steps: Steps = ()
        if cells[breaks_at]:
            try:
                steps = _steps(cells[breaks_at])
            except ValueError:
                detail = 'accepted: packs and amounts such as "4:955.00 10:915.00"'
                faulty(start, cells[pack_at], "breaks", "invalid-breaks", detail)
                continue
        yield (
            start,
            cells[pack_at],
            cells[amount_at],
            cells[currency_at] or currency,
            cells[tier_at] or tier,
            cells[day_at] or day,
            steps,
        )


def _places(header: list[str]) -> list[int]:
    """Where each of the columns stands; -1 where it does not."""
    faults = Faults()
    for place, name in enumerate(header):
        if name not in COLUMNS:
            detail = f'no column is called "{shown(name)}"; accepted: {", ".join(COLUMNS)}'
            faults.add("unknown-column", detail, "lines", 1, shown(name))
        elif name in header[:place]:
            faults.add("duplicate", "name each column once", "lines", 1, name)
    for name in REQUIRED:
        if name not in header:
            faults.add("missing-column", f"the column {name} is needed", "lines", 1, name)
    faults.raise_if_any(_NOT_CSV)
    return [header.index(name) if name in header else -1 for name in COLUMNS]


@lru_cache(maxsize=1_000)
def _steps(text: str) -> Steps:
    """Raises ValueError."""
    steps = []
    for one in text.split(" "):
        packs, colon, amount = one.partition(":")
        if not colon or not (packs.isascii() and packs.isdigit() and len(packs) <= len("1000")):
            raise ValueError(one)
        steps.append((int(packs), amount))
    return tuple(steps)


def _unreadable(line: int, detail: str) -> InvalidInput:
    faults = Faults()
    faults.add("not-csv", detail, "lines", max(line, 1))
    return InvalidInput(_NOT_CSV, faults.found)
