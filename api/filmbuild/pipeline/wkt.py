"""Reads one planar POLYGON of well-known text, OGC Simple Features 06-103r4 section 7.2."""

import re
from collections.abc import Iterator
from math import isfinite
from typing import NamedTuple

from filmbuild.errors import Refusal
from filmbuild.pipeline.geometry import Point, Ring

MOST_RING_VERTICES = 2_000
MOST_INTERIOR_RINGS = 500
FEWEST_CLOSED = 4
_HEAD = re.compile(r"\s*([A-Za-z]+)(?:\s+([A-Za-z]+))?\s*")
_TOKEN = re.compile(
    r"\s*(?:(?P<mark>[(),])|(?P<number>[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)"
    r"(?=[\s(),]|$))"
)
_SHOWN = 20
_ACCEPTED = 'accepted: "POLYGON ((0 0, 6 0, 6 4, 0 4, 0 0))", with interior rings for islands'


class _Token(NamedTuple):
    mark: str
    number: float
    place: int


def read_polygon(text: str) -> list[Ring]:
    """The exterior ring and then the interior ones, without the vertex that closes each.

    Coordinates are as written. Raises Refusal; what the rings enclose is not checked here.
    """
    tokens = _tokens(text, _body(text))
    rings = [_ring(tokens, number) for number in _members(tokens)]
    if (rest := next(tokens)).mark:
        raise _unexpected(text, rest, "the end of the text")
    if len(rings) > MOST_INTERIOR_RINGS + 1:
        raise Refusal("too-many-rings", f"at most {MOST_INTERIOR_RINGS} interior rings are read")
    return rings


def _body(text: str) -> int:
    """Where the rings begin, after the word POLYGON."""
    head = _HEAD.match(text)
    kind, more = (head[1].upper(), (head[2] or "").upper()) if head else ("", "")
    if kind == "SRID":
        raise Refusal("wkt-not-planar", f"leave SRID out: a plan lies on no globe; {_ACCEPTED}")
    if head is None:
        raise Refusal("wkt-not-polygon", f"the text starts with a kind of figure; {_ACCEPTED}")
    if kind in {"POLYGONZ", "POLYGONM", "POLYGONZM"} or more in {"Z", "M", "ZM"}:
        detail = f"{f'{kind} {more}'.strip()} has more than x and y; a plan is planar; {_ACCEPTED}"
        raise Refusal("wkt-not-planar", detail)
    if kind != "POLYGON":
        raise Refusal("wkt-not-polygon", f"{kind[:_SHOWN]} is not read; {_ACCEPTED}")
    if more:
        what = "encloses no floor" if more == "EMPTY" else "is not read"
        raise Refusal("wkt-empty", f"POLYGON {more[:_SHOWN]} {what}; {_ACCEPTED}")
    return head.end()


def _tokens(text: str, start: int) -> Iterator[_Token]:
    """An endless stream: after the last token come empty ones."""
    place = start
    while (found := _TOKEN.match(text, place)) is not None:
        number = found["number"]
        at = found.end() - len(found["mark"] or number)
        if number is None:
            yield _Token(found["mark"], 0.0, at)
        else:
            value = float(number)
            if not isfinite(value):
                raise Refusal("coordinate-range", f"{number[:_SHOWN]} is too large to be read")
            yield _Token("number", value, at)
        place = found.end()
    rest = text[place:].strip()
    if rest:
        raise _unexpected(
            text, _Token("?", 0.0, len(text) - len(text[place:].lstrip())), "a number"
        )
    while True:
        yield _Token("", 0.0, len(text))


def _members(tokens: Iterator[_Token]) -> Iterator[int]:
    """Numbers the parts of a list in brackets, from before each part to after its comma."""
    _expect(tokens, "(")
    number = 0
    while True:
        yield number
        token = next(tokens)
        if token.mark == ")":
            return
        if token.mark != ",":
            raise _unexpected("", token, 'a comma or ")"')
        number += 1


def _ring(tokens: Iterator[_Token], number: int) -> Ring:
    name = f"interior ring {number - 1}" if number else "the exterior ring"
    _expect(tokens, "(")
    vertices: list[Point] = []
    while True:
        point, token = _vertex(tokens, name, len(vertices))
        vertices.append(point)
        if token.mark == ")":
            break
        if len(vertices) > MOST_RING_VERTICES:
            detail = f"{name} has more than the {MOST_RING_VERTICES} vertices that are read"
            raise Refusal("too-many-vertices", detail)
    first, last = vertices[0], vertices[-1]
    if first != last or len(vertices) < FEWEST_CLOSED:
        raise Refusal(
            "wkt-not-closed",
            f"{name} starts at ({first[0]:g}, {first[1]:g}) and ends at ({last[0]:g}, {last[1]:g}); "
            f"a ring has at least {FEWEST_CLOSED} vertices, and the last repeats the first",
        )
    return tuple(vertices[:-1])


def _vertex(tokens: Iterator[_Token], name: str, vertex: int) -> tuple[Point, _Token]:
    """The vertex, and the comma or bracket after it."""
    x, y, token = next(tokens), next(tokens), next(tokens)
    if x.mark != "number" or y.mark != "number":
        wrong = y if x.mark == "number" else x
        raise _unexpected("", wrong, f"the two numbers of vertex {vertex} of {name}")
    if token.mark == "number":
        detail = f"vertex {vertex} of {name} has more than two numbers; a plan is planar"
        raise Refusal("wkt-not-planar", detail)
    if token.mark not in {",", ")"}:
        raise _unexpected("", token, f'a comma or ")" after vertex {vertex} of {name}')
    return (x.number, y.number), token


def _expect(tokens: Iterator[_Token], mark: str) -> None:
    token = next(tokens)
    if token.mark != mark:
        raise _unexpected("", token, f'"{mark}"')


def _unexpected(text: str, token: _Token, expected: str) -> Refusal:
    found = {"": "the text ends", "number": "a number stands"}.get(token.mark)
    if found is None:
        shown = text[token.place : token.place + _SHOWN] or token.mark
        found = f'"{shown}" stands'
    return Refusal("wkt-syntax", f"{found} at character {token.place} where {expected} is expected")
