"""Reads rows of prices from JSON: an array of objects, or one object a line, one at a time."""

import codecs
import json
import re
from collections.abc import Generator, Iterator
from json.scanner import make_scanner
from typing import Any, BinaryIO

from filmbuild.errors import Fault, InvalidInput, MalformedJson
from filmbuild.pricelists.entries import (
    COLUMNS,
    MOST_BREAKS,
    REQUIRED,
    Defaults,
    Entry,
    Finder,
    Steps,
    shown,
)

PIECE = 1 << 16
LONGEST_ROW = 1 << 14
_SPACE = re.compile(r"[ \t\n\r]*")
_BREAK = {"from_packs", "amount"}


class _Number(str):
    """A JSON number as it is written; it is no text, where text is wanted."""

    __slots__ = ()


class _Repeating(dict[str, Any]):
    """An object in which a name stands twice."""


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    members = dict(pairs)
    return members if len(members) == len(pairs) else _Repeating(members)


_DECODER = json.JSONDecoder(
    object_pairs_hook=_object, parse_float=_Number, parse_int=_Number, parse_constant=_Number
)
_scan = make_scanner(_DECODER)  # type: ignore[arg-type] # the stubs want a context, which a decoder is


def rows(file: BinaryIO, defaults: Defaults, faulty: Finder) -> Generator[Entry, None, None]:
    """Of one array. Rows are counted from 1. Raises MalformedJson."""
    for number, value in enumerate(_elements(file), 1):
        entry = _entry(number, value, defaults, faulty)
        if entry is not None:
            yield entry


def lines(file: BinaryIO, defaults: Defaults, faulty: Finder) -> Generator[Entry, None, None]:
    """Of JSON texts, one a line. A line that is no JSON is a fault of that line alone."""
    number = 0
    while line := file.readline(LONGEST_ROW):
        number += 1
        if len(line) == LONGEST_ROW and not line.endswith(b"\n"):
            faulty(number, "", "", "row-too-long", f"a row has at most {LONGEST_ROW} bytes")
            while line and not line.endswith(b"\n"):
                line = file.readline(LONGEST_ROW)
            continue
        try:
            text = line.decode("utf-8-sig" if number == 1 else "utf-8").strip(" \t\r\n")
            value = _DECODER.decode(text) if text else None
        except (ValueError, RecursionError) as error:
            faulty(number, "", "", "malformed-json", _reason(error))
            continue
        if text and (entry := _entry(number, value, defaults, faulty)) is not None:
            yield entry


class _Text:
    """The text of a file, of which no more is held than a piece and a row."""

    def __init__(self, file: BinaryIO) -> None:
        self._file = file
        self._decode = codecs.getincrementaldecoder("utf-8-sig")().decode
        self._text = ""
        self._at = 0

    def mark(self) -> str:
        """The next character that is not white space; none at the end."""
        while True:
            found = _SPACE.match(self._text, self._at)
            self._at = found.end() if found else self._at
            if self._at < len(self._text):
                return self._text[self._at]
            if not self._more():
                return ""

    def take(self) -> str:
        mark = self.mark()
        self._at += 1
        return mark

    def value(self, row: int) -> Any:  # noqa: ANN401 - any JSON value
        """Raises MalformedJson."""
        self.mark()
        while True:
            try:
                value, self._at = _scan(self._text, self._at)
            except RecursionError:
                raise MalformedJson(f"Row {row} is nested too deeply.") from None
            except (StopIteration, ValueError) as error:
                if len(self._text) - self._at > LONGEST_ROW:
                    detail = f"Row {row} is not JSON, or too long: {_reason(error)}."
                    raise MalformedJson(detail) from error
                if not self._more():
                    detail = f"The body ends in the middle of the array, at row {row}."
                    raise MalformedJson(detail) from error
            else:
                return value

    def _more(self) -> bool:
        piece = self._file.read(PIECE)
        try:
            self._text = self._text[self._at :] + self._decode(piece, not piece)
        except UnicodeDecodeError as error:
            raise MalformedJson("The body is not UTF-8.") from error
        self._at = 0
        return bool(piece)


def _elements(file: BinaryIO) -> Iterator[Any]:
    """The elements of the array."""
    text = _Text(file)
    mark = text.take()
    if not mark:
        raise MalformedJson("The body is empty: send an array of rows.")
    if mark != "[":
        fault = Fault("", "not-an-array", "accepted: an array of rows")
        raise InvalidInput("The body must be an array of rows.", (fault,))
    row = 1
    mark = text.take() if text.mark() == "]" else ","
    while mark == ",":
        yield text.value(row)
        mark = text.take()
        row += 1
    if not mark:
        raise MalformedJson(f"The body ends in the middle of the array, after row {row - 1}.")
    if mark != "]" or text.mark():
        raise MalformedJson(f"After row {row - 1} a comma, or the end of the array, is needed.")


def _reason(error: Exception) -> str:
    if isinstance(error, json.JSONDecodeError):
        return f"{error.msg} at character {error.pos + 1}"
    if isinstance(error, UnicodeDecodeError):
        return "a byte that is not UTF-8"
    return "nested too deeply" if isinstance(error, RecursionError) else str(error) or "not JSON"


def _entry(line: int, value: Any, defaults: Defaults, faulty: Finder) -> Entry | None:  # noqa: ANN401 - any JSON value
    """None where the row has not the form; what is wrong has then been told."""
    if type(value) is not dict:
        twice = isinstance(value, _Repeating)
        detail = "a name stands twice" if twice else f"a row is an object with {', '.join(COLUMNS)}"
        faulty(line, "", "", "duplicate" if twice else "not-an-object", detail)
        return None
    pack = value.get("pack")
    name = pack if type(pack) is str else ""
    well = True
    for column, given in value.items():
        if column not in COLUMNS:
            detail = f"accepted: {', '.join(COLUMNS)}"
            faulty(line, name, shown(column), "unknown-field", detail)
            well = False
        elif type(given) is not str and column != "breaks":
            more = (
                ', such as "12.50"; a JSON number would lose digits' if column == "amount" else ""
            )
            faulty(line, name, column, "not-text", f"give it as text{more}")
            well = False
    for column in REQUIRED:
        if column not in value:
            faulty(line, name, column, "missing-field", f"{column} is needed")
            well = False
    steps: Steps | None = ()
    if "breaks" in value and (steps := _steps(value["breaks"])) is None:
        detail = 'accepted: at most 8 of {"from_packs": 4, "amount": "955.00"}'
        faulty(line, name, "breaks", "invalid-breaks", detail)
    if not well or steps is None:
        return None
    return (
        line,
        name,
        value["amount"],
        value.get("currency") or defaults.currency,
        value.get("tier") or defaults.tier,
        value.get("effective_from") or defaults.day,
        steps,
    )


def _steps(value: Any) -> Steps | None:  # noqa: ANN401 - any JSON value
    if type(value) is not list or len(value) > MOST_BREAKS:
        return None
    steps = []
    for one in value:
        if type(one) is not dict or one.keys() != _BREAK:
            return None
        packs, amount = one["from_packs"], one["amount"]
        if type(packs) is not _Number or not re.fullmatch("[0-9]{1,4}", packs):
            return None
        if type(amount) is not str:
            return None
        steps.append((int(packs), amount))
    return tuple(steps)
