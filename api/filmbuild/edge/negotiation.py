"""Which of the media types on offer a request's Accept header asks for (RFC 9110 section 12.5.1)."""

import re
from collections.abc import Iterator, Sequence
from typing import NamedTuple

_WEIGHT = re.compile(r"0(?:\.\d{0,3})?|1(?:\.0{0,3})?")
"""RFC 9110 section 12.4.2."""


class _Range(NamedTuple):
    """A media range: "*" stands for any type or subtype."""

    type: str
    subtype: str
    parameters: dict[str, str]
    weight: float

    def precision(self, media_type: "_Range") -> int:
        """0 where the range does not hold the media type, else more the closer it describes it.

        A parameter that the media type does not have, such as a charset of JSON, is passed over,
        but a range without it is closer.
        """
        if self.type not in ("*", media_type.type):
            return 0
        if self.subtype not in ("*", media_type.subtype):
            return 0
        shared = self.parameters.keys() & media_type.parameters.keys()
        if any(self.parameters[name] != media_type.parameters[name] for name in shared):
            return 0
        steps = 1 + (self.type != "*") + (self.subtype != "*") + len(shared)
        return 2 * steps - (len(shared) < len(self.parameters))


def negotiate(accept: str, offered: Sequence[str]) -> str | None:
    """The media type on offer with the highest weight, the first of those that weigh the same.

    Each weighs what the range that describes it most closely says. Elements that are not media
    ranges are passed over, and a header without any asks for nothing in particular.
    """
    ranges = [one for text in _split(accept, ",") if (one := _range(text)) is not None]
    if not accept.strip(", \t"):
        return offered[0]
    best, heaviest = None, 0.0
    for media_type in offered:
        described = _range(media_type)
        if described is not None and (weight := _weight(described, ranges)) > heaviest:
            best, heaviest = media_type, weight
    return best


def _weight(media_type: _Range, ranges: Sequence[_Range]) -> float:
    closest = max(ranges, key=lambda one: one.precision(media_type), default=None)
    if closest is None or not closest.precision(media_type):
        return 0.0
    return closest.weight


def _range(text: str) -> _Range | None:
    name, *rest = _split(text, ";")
    kind, slash, subtype = name.strip().lower().partition("/")
    if not (kind and slash and subtype) or (kind == "*" and subtype != "*"):
        return None
    parameters: dict[str, str] = {}
    for one in rest:
        key, _, value = one.partition("=")
        name, value = key.strip().lower(), value.strip()
        if name == "q":
            return _weighted(kind, subtype, parameters, value)
        if name:
            parameters[name] = value.strip('"').lower()
    return _Range(kind, subtype, parameters, 1.0)


def _weighted(kind: str, subtype: str, parameters: dict[str, str], weight: str) -> _Range | None:
    if _WEIGHT.fullmatch(weight) is None:
        return None
    return _Range(kind, subtype, parameters, float(weight))


def _split(text: str, separator: str) -> Iterator[str]:
    """At the separators outside of quoted strings (RFC 9110 section 5.6.4)."""
    if '"' not in text:
        yield from text.split(separator)
        return
    start, quoted, escaped = 0, False, False
    for place, character in enumerate(text):
        if escaped:
            escaped = False
        elif character == '"':
            quoted = not quoted
        elif quoted:
            escaped = character == "\\"
        elif character == separator:
            yield text[start:place]
            start = place + 1
    yield text[start:]
