"""Rows of an update as they were written: the form that every format is read into."""

from typing import Protocol

import msgspec

MOST_ROWS = 200_000
MOST_BREAKS = 8
LONGEST_SHOWN = 60
COLUMNS = ("pack", "amount", "currency", "tier", "effective_from", "breaks")
REQUIRED = ("pack", "amount")

Steps = tuple[tuple[int, str], ...]
"""Price breaks: from so many packs on, the amount for each."""
Entry = tuple[int, str, str, str, str, str, Steps]
"""Line, pack, amount, currency, tier, day and breaks; nothing of it has been judged yet."""


class Defaults(msgspec.Struct, frozen=True):
    """What the request says for rows that do not say it themselves."""

    currency: str
    tier: str
    day: str


class Finder(Protocol):
    """Told of a row that cannot be read: its line, and what is wrong with which of its columns."""

    def __call__(self, line: int, pack: str, column: str, code: str, detail: str) -> None: ...


def shown(text: str) -> str:
    """A cell as a message can repeat it: short, and of characters that can be written."""
    plain = text.encode("utf-8", "replace").decode()
    return plain if len(plain) <= LONGEST_SHOWN else f"{plain[:LONGEST_SHOWN]}..."
