"""Recorded requests and answers, which the contract shows and a test sends again."""

from functools import cache
from importlib.resources import files
from typing import Any

import msgspec

FOLDER = files("filmbuild") / "examples"


class Example(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A request, and what it was answered on the demo catalogue, where that is worth showing.

    The body is text where `media_type` is not JSON's, and so is the answer by `answer_media_type`.
    Of an abridged answer each list has its first entry alone.
    """

    name: str
    summary: str
    status: int
    path: dict[str, str] = {}
    query: dict[str, str] = {}
    headers: dict[str, str] = {}
    body: Any = msgspec.UNSET
    media_type: str = "application/json"
    answer: Any = msgspec.UNSET
    answer_media_type: str = "application/json"
    abridged: bool = False


@cache
def examples_of(operation_id: str) -> tuple[Example, ...]:
    """From the package's own files; none where nothing was recorded."""
    source = FOLDER / f"{operation_id}.json"
    if not source.is_file():
        return ()
    return msgspec.json.decode(source.read_bytes(), type=tuple[Example, ...])
