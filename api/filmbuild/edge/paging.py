"""Pages of a list: an opaque cursor that is bound to its list and filters, and the link onward."""

import base64
import binascii
import re
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from hashlib import blake2b
from typing import Annotated, TypeVar
from urllib.parse import urlencode

import msgspec
from msgspec import Meta

from filmbuild.errors import Fault, InvalidInput

R = TypeVar("R")
Limit = Annotated[int, Meta(ge=1, le=100, description="How many records a page holds at most.")]
Cursor = Annotated[
    str,
    Meta(
        pattern="^[A-Za-z0-9_-]{1,500}$",
        description="Where the page starts: `next` of the page before, with the same filters.",
    ),
]


LINK = 'Where the next page is (RFC 8288, `rel="next"`); absent on the last page.'


class PageQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Parameters of every list. Fields that a subclass adds are filters."""

    limit: Limit = 20
    cursor: Cursor | None = None


class _Position(msgspec.Struct, frozen=True, array_like=True):
    """The list, and the key of the last record that was given."""

    listing: str
    after: str


_POSITION = msgspec.json.Decoder(_Position)
_NUMBER = re.compile(r"[0-9]{1,9}")


def after(query: PageQuery, path: str) -> str | None:
    """The key after which the page starts. Raises InvalidInput."""
    if query.cursor is None:
        return None
    try:
        padded = query.cursor + "=" * (-len(query.cursor) % 4)
        position = _POSITION.decode(base64.urlsafe_b64decode(padded))
    except (binascii.Error, msgspec.DecodeError, ValueError):
        position = None
    if position is None or position.listing != _listing(query, path):
        raise not_a_cursor()
    return position.after


def after_moment(query: PageQuery, path: str, kind: Callable[[datetime, str], R]) -> R | None:
    """The same as a `kind`, where the key is a moment and an id. Raises InvalidInput."""
    last = after(query, path)
    if last is None:
        return None
    text, _, name = last.partition(" ")
    try:
        moment = datetime.fromisoformat(text)
        if moment.tzinfo is not None and "\0" not in name:
            return kind(moment.astimezone(UTC), name)
    except (ValueError, OverflowError):
        pass
    raise not_a_cursor()


def after_number(query: PageQuery, path: str) -> int | None:
    """The same, where the key is a number. Raises InvalidInput."""
    last = after(query, path)
    if last is None:
        return None
    if _NUMBER.fullmatch(last) is None:
        raise not_a_cursor()
    return int(last)


def not_a_cursor() -> InvalidInput:
    """Of a cursor that somebody else has made, or for something else."""
    detail = "give `next` of the page before, and the same filters as for that page"
    fault = Fault("/cursor", "invalid-cursor", detail)
    return InvalidInput("The query is not valid.", (fault,))


def cursor(query: PageQuery, path: str, last: str) -> str:
    text = msgspec.json.encode(_Position(_listing(query, path), last))
    return base64.urlsafe_b64encode(text).decode().rstrip("=")


def link(query: PageQuery, path: str, next_cursor: str | None) -> tuple[tuple[str, str], ...]:
    """The Link header of RFC 8288, where there is a next page."""
    if next_cursor is None:
        return ()
    parameters = _filters(query) | {"limit": str(query.limit), "cursor": next_cursor}
    return (("link", f'<{path}?{urlencode(parameters)}>; rel="next"'),)


def cut(
    records: Sequence[R], key: Callable[[R], str], query: PageQuery, path: str
) -> tuple[tuple[R, ...], str | None]:
    """A page of records that are already in ascending order of a unique key."""
    last = after(query, path)
    rest = [one for one in records if last is None or key(one) > last]
    page = tuple(rest[: query.limit])
    more = len(rest) > query.limit
    return page, cursor(query, path, key(page[-1])) if more else None


def _filters(query: PageQuery) -> dict[str, str]:
    values = msgspec.structs.asdict(query)
    return {
        name: str(value).lower() if isinstance(value, bool) else str(value)
        for name, value in values.items()
        if name not in ("limit", "cursor") and value is not None
    }


def _listing(query: PageQuery, path: str) -> str:
    text = urlencode({"path": path, **_filters(query)})
    return blake2b(text.encode(), digest_size=6).hexdigest()
