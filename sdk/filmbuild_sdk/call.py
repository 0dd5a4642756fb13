"""One call of the service, described without sending it, and how its answer is read."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from typing import Any, Generic, Self, TypeAlias, TypeVar, cast
from urllib.parse import quote
from uuid import uuid4

import httpx
import msgspec

from filmbuild_sdk.errors import DecodeError, error_of

T = TypeVar("T")
JSON = "application/json"
SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})


class Unchanged(Enum):
    """Stands for what the client was made with."""

    UNCHANGED = "unchanged"


UNCHANGED = Unchanged.UNCHANGED
Timeout: TypeAlias = float | httpx.Timeout | Unchanged | None


@dataclass(frozen=True, slots=True)
class Call(Generic[T]):
    """What is sent, and the type of what a success answers. Sending it twice sends the same.

    A body of bytes, a path or an open file is sent as it is, as `media_type`; any other as JSON.
    What is accepted beside JSON is answered as text or, where it is none, as bytes. `if_match` is
    the tag of the version that is changed; where something is `making`, it must not be there yet.
    One that is `computing` is posted, and stores nothing.
    """

    method: str
    path: str
    answer: type[T]
    query: Mapping[str, str] = field(default_factory=dict)
    body: object = None
    media_type: str = JSON
    idempotency_key: str | None = None
    computing: bool = False
    accept: str = JSON
    if_match: str | None = None
    making: bool = False
    last_event_id: str | None = None

    @property
    def repeatable(self) -> bool:
        """A second try does nothing that the first did not."""
        return self.method in SAFE_METHODS or self.computing or self.idempotency_key is not None

    @property
    def headers(self) -> dict[str, str]:
        headers = {"accept": f"{self.accept}, application/problem+json"}
        if self.body is not None:
            headers["content-type"] = self.media_type
        if self.if_match is not None:
            headers["if-match"] = self.if_match
        if self.making:
            headers["if-none-match"] = "*"
        if self.last_event_id is not None:
            headers["last-event-id"] = self.last_event_id
        if self.idempotency_key is not None:
            headers["idempotency-key"] = f'"{self.idempotency_key}"'
        return headers

    @property
    def content(self) -> bytes | None:
        """The body as JSON, or its bytes."""
        if self.body is None or isinstance(self.body, bytes):
            return self.body
        return msgspec.json.encode(self.body)

    def at(self, cursor: str) -> Self:
        """The same call for another page of its list."""
        return replace(self, query={**self.query, "cursor": cursor})

    def after(self, event_id: str) -> Self:
        """The same call for the events that follow one."""
        return replace(self, last_event_id=event_id)

    def read(self, status: int, headers: Mapping[str, str], content: bytes) -> T:
        """Raises ApiError for any status but a success, and DecodeError for what does not fit."""
        if not httpx.codes.is_success(status):
            raise error_of(status, headers, content)
        try:
            if self.answer in (bytes, type(None)):
                return cast("T", content if self.answer is bytes else None)
            if self.accept != JSON:
                return msgspec.convert(content.decode(), self.answer)
            return msgspec.json.decode(content, type=self.answer)
        except (msgspec.MsgspecError, UnicodeDecodeError) as error:
            raise DecodeError(str(error), status, headers, content) from error


@dataclass(frozen=True, slots=True)
class Tagged(Generic[T]):
    """What was read, and the tag of its version, to be given as `if_match` when changing it."""

    value: T
    tag: str


def query(**parameters: Any) -> dict[str, str]:  # noqa: ANN401 - text, numbers, dates, choices
    """What is None is left out."""
    return {name: _text(value) for name, value in parameters.items() if value is not None}


def path(template: str, *parts: str) -> str:
    return template.format(*(quote(part, safe="") for part in parts))


def key(given: str | None) -> str:
    """The caller's own idempotency key, without the quotes that it is sent in, or a new one."""
    return uuid4().hex if given is None else given.removeprefix('"').removesuffix('"')


def _text(value: object) -> str:
    return value if isinstance(value, str) else msgspec.json.encode(value).decode().strip('"')
