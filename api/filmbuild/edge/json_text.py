"""JSON text read for the sake of a good explanation: slower than msgspec, and tells more."""

import json
import math
import re
from collections import Counter
from typing import Any, NoReturn

import msgspec

from filmbuild.errors import MalformedJson

LONGEST_NUMBER = 400
_ESCAPE = re.compile(r"\\(?:u([0-9a-fA-F]{4})|.)", re.DOTALL)
_decode_untyped = msgspec.json.Decoder().decode
_encode_plain = msgspec.json.Encoder().encode


class Repeating(dict[str, Any]):
    """An object in which a name stands more than once."""

    names: tuple[str, ...] = ()


def repeats_names(body: bytes) -> bool:
    """Whether an object in valid JSON may hold a name twice; says yes where it cannot tell.

    msgspec keeps the last of repeated names. Written out again, such a body has fewer names than
    it had; an escaped quotation mark would spoil the count.
    """
    if b"\\u0022" in body:
        return True
    once = _encode_plain(_decode_untyped(body))
    return msgspec.json.format(body, indent=-1).count(b'":') != once.count(b'":')


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    plain = dict(pairs)
    if len(plain) == len(pairs):
        return plain
    counts = Counter(name for name, _ in pairs)
    marked = Repeating(plain)
    marked.names = tuple(name for name, count in counts.items() if count > 1)
    return marked


def _integer(text: str) -> int | float:
    if len(text) <= LONGEST_NUMBER:
        return int(text)
    return -math.inf if text.startswith("-") else math.inf


def _constant(text: str) -> NoReturn:
    raise MalformedJson(f"{text} is not JSON: numbers must be finite.")


def _check_surrogates(text: str) -> None:
    """RFC 8259 section 8.2: half of an escaped surrogate pair stands for no character."""
    half_at: int | None = None
    half_ends = -1
    for escape in _ESCAPE.finditer(text):
        code = int(escape[1], 16) if escape[1] else 0
        low = 0xDC00 <= code <= 0xDFFF  # noqa: PLR2004 - the Unicode low surrogates
        if half_at is not None and not (low and escape.start() == half_ends):
            break
        if low and half_at is None:
            half_at = escape.start()
            break
        high = 0xD800 <= code <= 0xDBFF  # noqa: PLR2004 - the Unicode high surrogates
        half_at, half_ends = (escape.start(), escape.end()) if high else (None, -1)
    if half_at is not None:
        raise MalformedJson(f"Half a surrogate pair is escaped at byte {_offset(text, half_at)}.")


def _offset(text: str, position: int) -> int:
    return len(text[:position].encode())


_decoder = json.JSONDecoder(object_pairs_hook=_object, parse_int=_integer, parse_constant=_constant)


def read(body: bytes) -> object:
    """Plain values; numbers too large to hold are infinite. Raises `MalformedJson`."""
    if not body:
        raise MalformedJson("The body is empty; JSON is expected.")
    try:
        text = body.decode()
    except UnicodeDecodeError as error:
        raise MalformedJson(f"The body is not UTF-8 text at byte {error.start}.") from None
    try:
        value: object = _decoder.decode(text)
    except json.JSONDecodeError as error:
        place = _offset(text, error.pos)
        raise MalformedJson(f"The body is not JSON at byte {place}: {error.msg}.") from None
    except RecursionError:
        raise MalformedJson("The body is nested too deeply.") from None
    if "\\u" in text:
        _check_surrogates(text)
    return value
