"""Where two JSON documents differ, value by value."""

from collections.abc import Iterator
from itertools import islice
from typing import Any

from filmbuild.errors import Token, pointer
from filmbuild.pipeline.differences.records import ValueDifference


def value_differences(was: object, now: object, most: int) -> tuple[ValueDifference, ...]:
    """At most so many, in the order of the documents.

    Entries of lists are compared by their place; where one list is longer, its further entries are
    differences as they stand.
    """
    return tuple(islice(_walk(was, now, ()), most))


def _walk(was: object, now: object, at: tuple[Token, ...]) -> Iterator[ValueDifference]:
    if isinstance(was, dict) and isinstance(now, dict):
        for name in dict.fromkeys((*was, *now)):
            if name in was and name in now:
                yield from _walk(was[name], now[name], (*at, name))
            else:
                yield _difference(was.get(name), now.get(name), (*at, name))
    elif isinstance(was, list) and isinstance(now, list):
        for place in range(max(len(was), len(now))):
            if place < len(was) and place < len(now):
                yield from _walk(was[place], now[place], (*at, place))
            else:
                yield _difference(_entry(was, place), _entry(now, place), (*at, place))
    elif type(was) is not type(now) or was != now:
        yield _difference(was, now, at)


def _entry(values: list[Any], place: int) -> object:
    return values[place] if place < len(values) else None


def _difference(was: object, now: object, at: tuple[Token, ...]) -> ValueDifference:
    return ValueDifference(pointer=pointer(at), was=was, now=now)
