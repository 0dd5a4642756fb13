"""Calendar files by RFC 5545: content lines, escaping, folding."""

from collections.abc import Iterable, Iterator, Sequence

_LONGEST_LINE = 75
"""[byte] RFC 5545 section 3.1, without the line break."""
_CONTINUED = " "
_ESCAPED = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"})
_FIRST_PRINTABLE, _DELETE = 0x20, 0x7F

Property = tuple[str, str]
"""A name with its parameters, and a value that is written as it is."""


def calendar_text(properties: Iterable[Property], components: Iterable[Sequence[Property]]) -> str:
    """A VCALENDAR of VEVENTs; lines end in CR LF."""
    lines: list[str] = []
    for name, value in _stream(properties, components):
        lines += _folded(f"{name}:{value}")
    return "".join(f"{line}\r\n" for line in lines)


def text_value(text: str) -> str:
    """Section 3.3.11: escaped, and without the control characters that no line may hold."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    return "".join(filter(_is_allowed, plain)).translate(_ESCAPED)


def _is_allowed(character: str) -> bool:
    if character in "\t\n":
        return True
    code = ord(character)
    return code >= _FIRST_PRINTABLE and code != _DELETE and not 0xD800 <= code <= 0xDFFF  # noqa: PLR2004 - the surrogates


def _stream(
    properties: Iterable[Property], components: Iterable[Sequence[Property]]
) -> Iterator[Property]:
    yield "BEGIN", "VCALENDAR"
    yield from properties
    for component in components:
        yield "BEGIN", "VEVENT"
        yield from component
        yield "END", "VEVENT"
    yield "END", "VCALENDAR"


def _folded(line: str) -> Iterator[str]:
    """Section 3.1: no line longer than 75 octets, and none broken inside a character."""
    if len(line) <= _LONGEST_LINE and line.isascii():
        yield line
        return
    part, length = "", 0
    for character in line:
        size = len(character.encode())
        if length + size > _LONGEST_LINE:
            yield part
            part, length = _CONTINUED, len(_CONTINUED)
        part += character
        length += size
    yield part
