"""What an HTTP operation is: the one record from which its route and its contract are both made."""

from collections.abc import AsyncIterator, Awaitable, Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Generic, Literal, TypeVar

import msgspec

Body = TypeVar("Body")
Query = TypeVar("Query")
Method = Literal["GET", "POST", "PUT", "PATCH", "DELETE"]
Failure = Literal[
    "malformed",
    "unauthorized",
    "forbidden",
    "too-many",
    "missing",
    "not-acceptable",
    "conflict",
    "precondition-failed",
    "precondition-required",
    "too-large",
    "not-json",
    "invalid",
    "failed",
    "unavailable",
]


class NoQuery(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """An operation without query parameters."""


@dataclass(frozen=True, slots=True)
class Stream:
    """A body that is read piece by piece, once.

    `pieces` raises PayloadTooLarge past the operation's limit, and ClientGone where the caller
    hangs up.
    """

    pieces: AsyncIterator[bytes]


CallerKind = Literal["secret", "publishable", "nobody"]


class Caller(msgspec.Struct, frozen=True, kw_only=True):
    """Whose records a request is about, and who says so; `actor` is written into histories.

    `nobody` calls operations that ask for no key: what they may see, their own link or none decides.
    """

    organisation: str
    actor: str
    kind: CallerKind = "secret"
    scopes: tuple[str, ...] = ()


NOBODY = Caller(organisation="", actor="nobody", kind="nobody")


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
    caller: Caller = NOBODY


@dataclass(frozen=True, slots=True)
class Answer:
    """What a handler answers; `status` is the operation's own where it is not given.

    Where there are `pieces`, they are sent one by one as they come, in the place of `content`.
    """

    content: bytes = b""
    headers: tuple[tuple[str, str], ...] = ()
    status: int | None = None
    pieces: AsyncIterator[bytes] | None = None


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

    `body` is None where the operation reads none; bytes where it reads them as they come, or
    `Stream` where it reads them piece by piece, in one of `body_media_types` and up to `body_limit`
    [byte]. Structs are read from JSON in any of `body_media_types`; `body_types` are the structs that
    the handler itself reads bytes into, by media type. `answer` is None where success
    has no content. `other_statuses` are further successes that a handler may choose. `failures` are
    the problems it can answer with beyond those that every operation can. A `public` operation asks
    for no key: the link that leads to it is what permits it, or there is nothing to keep from
    anyone. One that `reads` stores nothing, whatever its method. One that is `publishable` may be
    called with the key of a web page too, and tells no cost or margin then. `cost` is what a call
    takes of its caller's allowance, where 1 is a read.
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
    body_types: dict[str, Any] = field(default_factory=dict)
    body_limit: int | None = None
    status: int = 200
    other_statuses: tuple[int, ...] = ()
    public: bool = False
    reads: bool = False
    publishable: bool = False
    cost: int = 1
    media_type: str = "application/json"
    failures: tuple[Failure, ...] = ()
    headers: tuple[Header, ...] = ()
    path_parameters: tuple[PathParameter, ...] = ()
    answer_headers: dict[str, str] = field(default_factory=dict)
    representations: tuple[Representation[Body, Query], ...] = ()

    @cached_property
    def scope(self) -> str:
        """What a key must be allowed for it."""
        return f"{self.tag}:{'read' if self.reads or self.method == 'GET' else 'write'}"

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
