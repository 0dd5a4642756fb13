"""A look at a file's bytes, before anything reads it as a drawing."""

import re
from itertools import islice

from filmbuild.errors import Refusal

LARGEST_FILE = 20 * 1000 * 1000
MOST_ENTITIES = 300_000
LONGEST_LINE = 65_536
_ACCEPTED = "accepted is a DXF drawing saved as text (ASCII), of any release"
_DISGUISES = (
    (b"AutoCAD Binary DXF", "a binary DXF"),
    (b"AC10", "a DWG drawing"),
    (b"AC1.", "a DWG drawing"),
    (b"\x1f\x8b", "a gzip archive"),
    (b"PK\x03\x04", "a zip archive"),
    (b"7z\xbc\xaf", "a 7z archive"),
    (b"%PDF", "a PDF document"),
    (b"<", "XML or HTML"),
    (b"{", "JSON"),
)
_START = re.compile(rb"\s*(?:999[ \t]*\r?\n[^\n]*\n\s*)*0[ \t]*\r?\n[ \t]*SECTION[ \t]*\r?\n")
_ENTITY = re.compile(rb"(?:^|\n)[ \t]*0[ \t]*\r?\n[ \t]*[A-Z]")
_ENTITIES = re.compile(rb"\n[ \t]*2[ \t]*\r?\n[ \t]*ENTITIES[ \t]*\r?\n")
_LONG_LINE = re.compile(rb"\n[^\n]{%d}" % LONGEST_LINE)
_LONGEST_START = 65_536


def check_kind(content: bytes) -> None:
    """Raises Refusal for what does not begin as a DXF text does."""
    start = content[:_LONGEST_START].removeprefix(b"\xef\xbb\xbf")
    plain = start.lstrip()
    if not plain:
        raise Refusal("not-dxf", f"the body is empty; {_ACCEPTED}")
    for mark, kind in _DISGUISES:
        if plain.startswith(mark):
            raise Refusal("not-dxf", f"this is {kind}; {_ACCEPTED}")
    if _START.match(start) is None:
        raise Refusal("not-dxf", f"it does not begin with a section of a drawing; {_ACCEPTED}")


def check_size(content: bytes) -> None:
    """Raises Refusal for a file that would take too long, or that holds no entities."""
    if b"\0" in content:
        raise Refusal("not-dxf", f"there are zero bytes in it; {_ACCEPTED}")
    # from line to line: a search from every byte of long lines would not end
    if _LONG_LINE.search(content) or len(content.split(b"\n", 1)[0]) > LONGEST_LINE:
        detail = f"a line is longer than {LONGEST_LINE} bytes; {_ACCEPTED}"
        raise Refusal("not-dxf", detail)
    if _ENTITIES.search(content) is None:
        raise Refusal("not-dxf", f"it has no ENTITIES section; {_ACCEPTED}")
    if next(islice(_ENTITY.finditer(content), MOST_ENTITIES, None), None) is not None:
        raise Refusal(
            "plan-too-large",
            f"at most {MOST_ENTITIES} entities are read; save the layers of the floor to a drawing "
            "of their own",
        )
