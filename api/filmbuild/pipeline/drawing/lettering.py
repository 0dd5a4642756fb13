"""How much room a line of text takes, whatever sans-serif font it is shown in."""

from functools import lru_cache
from unicodedata import combining, east_asian_width

BASELINE = 0.36
"""From the middle of a line down to its baseline, in font sizes."""
LINE = 1.25
"""From one baseline to the next, in font sizes."""
_BOLD = 1.12
_NARROW = frozenset(" ijlftrI.,:;'`|!-/\\()[]{}\u00b7")
_WIDE = frozenset("mwMW@%\u2026\u2014")
_ELLIPSIS = "\u2026"


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """[mm] Not less than in the wider of the usual fonts, from their published advance widths."""
    return size * _length(text) * (_BOLD if bold else 1.0)


@lru_cache(maxsize=1024)
def _length(text: str) -> float:
    """In font sizes."""
    return sum(map(_advance, text))


@lru_cache(maxsize=1024)
def _advance(character: str) -> float:
    if character in _NARROW:
        return 0.42
    if character in _WIDE or east_asian_width(character) in "WF":
        return 1.05
    if combining(character):
        return 0.0
    return 0.65 if character.islower() or character.isdigit() else 0.84


def shortened(text: str, size: float, width: float, *, bold: bool = False) -> str:
    """The text, or as much of its beginning as the width [mm] holds; nothing where that is none."""
    if width_of(text, size, bold=bold) <= width:
        return text
    left = width - width_of(_ELLIPSIS, size, bold=bold)
    kept = 0
    for character in text:
        left -= width_of(character, size, bold=bold)
        if left < 0:
            break
        kept += 1
    return text[:kept].rstrip() + _ELLIPSIS if kept else ""
