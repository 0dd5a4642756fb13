"""What an HTTP operation is: the one record from which its route and its contract are both made."""

from collections.abc import Awaitable, Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Generic, Literal, TypeVar

import msgspec

Body = TypeVar("Body")
Query = TypeVar("Query")
Method = Literal["GET", "POST"]
Failure = Literal[
    "malformed",
    "missing",
    "not-acceptable",
    "conflict",
    "too-large",
    "not-json",
    "invalid",
    "failed",
    "unavailable",
]


class NoQuery(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """An operation without query parameters."""


@dataclass(frozen=True, slots=True)
class Call(Generic[Body, Query]):
    """A request whose form has been checked.

    `content` is the body as it came; `media_type` is that of the representation it is answered in.
    """

    path: dict[str, str]
    query: Query
    body: Body
    content: bytes
    headers: dict[str, str]
    media_type: str = "application/json"


@dataclass(frozen=True, slots=True)
class Answer:
    """What a handler answers; `status` is the operation's own where it is not given."""

    content: bytes
    headers: tuple[tuple[str, str], ...] = ()
    media_type: str = "application/json"
    status: int | None = None


class Header(msgspec.Struct, frozen=True):
    """A request header that an operation reads; its values match `pattern`."""

    name: str
    description: str
    pattern: str
    example: str


class PathParameter(msgspec.Struct, frozen=True):
    name: str
    description: str
    pattern: str


@dataclass(frozen=True, kw_only=True)
class Representation(Generic[Body, Query]):
    """Another form of an operation's answer, for callers whose Accept prefers it."""

    media_type: str
    summary: str
    description: str
    handler: Callable[[Call[Body, Query]], Awaitable[Answer]]


@dataclass(frozen=True, kw_only=True)
class Operation(Generic[Body, Query]):
    """One method of one path.

    `body` is None where the operation reads none, and bytes where it reads them as they come, in
    one of `body_media_types` and up to `body_limit` [byte]. `failures` are the problems it can answer with
    beyond those that every operation can.
    """

    method: Method
    path: str
    id: str
    tag: str
    summary: str
    description: str
    handler: Callable[[Call[Body, Query]], Awaitable[Answer]]
    answer: Any
    query: type[Query]
    body: type[Body] | None = None
    body_media_types: tuple[str, ...] = ("application/json",)
    body_limit: int | None = None
    status: int = 200
    media_type: str = "application/json"
    failures: tuple[Failure, ...] = ()
    headers: tuple[Header, ...] = ()
    path_parameters: tuple[PathParameter, ...] = ()
    answer_headers: dict[str, str] = field(default_factory=dict)
    representations: tuple[Representation[Body, Query], ...] = ()

    @cached_property
    def media_types(self) -> tuple[str, ...]:
        """All that Accept can choose from, the preferred one first."""
        return (self.media_type, *(one.media_type for one in self.representations))

    @cached_property
    def answering(self) -> dict[str, Callable[[Call[Body, Query]], Awaitable[Answer]]]:
        """By media type, what makes the answer."""
        others = {one.media_type: one.handler for one in self.representations}
        return {self.media_type: self.handler, **others}

    @cached_property
    def plainly_accepted(self) -> dict[str | None, str]:
        """The media type for the commonest ways to accept it, which need no negotiation."""
        plain: dict[str | None, str] = {None: self.media_type, "*/*": self.media_type}
        for one in self.media_types:
            plain[one] = plain[f"{one}, application/problem+json"] = one
        return plain


AnyOperation = Operation[Any, Any]
