"""Reads a request into a call, refusing what does not have the operation's form."""

import asyncio
import re
from collections.abc import AsyncIterator
from typing import Any

from litestar.types import HTTPScope, Receive

from filmbuild.edge.decoding import decode
from filmbuild.edge.negotiation import negotiate
from filmbuild.edge.operations import AnyOperation, Call, Caller, Header, Stream
from filmbuild.edge.query import read_query
from filmbuild.errors import (
    Fault,
    InvalidInput,
    NotAcceptable,
    NotFound,
    PayloadTooLarge,
    UnsupportedMediaType,
)

_CHARSET = re.compile(r'(?:\s*;\s*charset="?utf-8"?)?\s*', re.IGNORECASE)
_LARGEST_DECODED_AT_ONCE = 256 << 10
"""Larger bodies are decoded beside the loop [byte], so that others are answered meanwhile."""


class ClientGone(Exception):  # noqa: N818 - not an error of anyone's
    """The caller hung up before the body was whole."""


async def read_call(
    operation: AnyOperation, scope: HTTPScope, receive: Receive, body_limit: int, caller: Caller
) -> Call[Any, Any]:
    """Raises what `filmbuild.errors` has for each way of not having the operation's form."""
    headers = _headers(scope)
    media_type = _accepted(operation, headers.get("accept"))
    path = scope["path_params"]
    _check_path(operation, path)
    query = read_query(operation.query, scope["query_string"].decode("latin-1"))
    _check_headers(operation.headers, headers)
    if operation.body is None:
        return Call(path, query, None, b"", headers, media_type, caller)
    _check_content_type(operation, headers)
    if headers.get("content-encoding", "identity").lower() != "identity":
        raise UnsupportedMediaType("Send the body without a content encoding.")
    limit = operation.body_limit or body_limit
    pieces = _pieces(receive, headers.get("content-length"), limit)
    if operation.body is Stream:
        return Call(path, query, Stream(pieces), b"", headers, media_type, caller)
    content = b"".join([piece async for piece in pieces])
    if operation.body is bytes:
        body: Any = content
    elif len(content) > _LARGEST_DECODED_AT_ONCE:
        body = await asyncio.to_thread(decode, operation.body, content, max_bytes=limit)
    else:
        body = decode(operation.body, content, max_bytes=limit)
    return Call(path, query, body, content, headers, media_type, caller)


def _kind(headers: dict[str, str]) -> str:
    return headers.get("content-type", "").partition(";")[0].strip().lower()


def _check_content_type(operation: AnyOperation, headers: dict[str, str]) -> None:
    _, semicolon, more = headers.get("content-type", "").partition(";")
    listed = " or ".join(operation.body_media_types)
    if _kind(headers) not in operation.body_media_types:
        raise UnsupportedMediaType(f"Send the body as {listed}.")
    if operation.body not in (bytes, Stream) and not _CHARSET.fullmatch(semicolon + more):
        raise UnsupportedMediaType(f"Send the body as {listed} in UTF-8.")


def _headers(scope: HTTPScope) -> dict[str, str]:
    """Repeated headers are joined with commas, by RFC 9110 section 5.3."""
    headers: dict[str, str] = {}
    for raw_name, raw_value in scope["headers"]:
        name, value = raw_name.decode("latin-1"), raw_value.decode("latin-1")
        headers[name] = f"{headers[name]}, {value}" if name in headers else value
    return headers


def _accepted(operation: AnyOperation, accept: str | None) -> str:
    plain = operation.plainly_accepted.get(accept)
    if plain is not None:
        return plain
    chosen = negotiate(accept or "", operation.media_types)
    if chosen is None:
        listed = " or ".join(one.partition(";")[0] for one in operation.media_types)
        raise NotAcceptable(f"This operation answers in {listed}.")
    return chosen


def _check_path(operation: AnyOperation, path: dict[str, Any]) -> None:
    for parameter in operation.path_parameters:
        if re.fullmatch(parameter.pattern, path[parameter.name]) is None:
            raise NotFound(f"No record has this {parameter.name}.")


def _check_headers(expected: tuple[Header, ...], headers: dict[str, str]) -> None:
    faults = tuple(
        Fault("", "invalid-header", f"header {one.name}: accepted is {one.description}")
        for one in expected
        if (value := headers.get(one.name.lower())) is not None
        and re.fullmatch(one.pattern, value) is None
    )
    if faults:
        raise InvalidInput("A header is not valid.", faults)


async def _pieces(receive: Receive, announced: str | None, limit: int) -> AsyncIterator[bytes]:
    """Raises PayloadTooLarge before reading more than `limit` bytes."""
    too_large = f"Send at most {limit} bytes."
    if announced is not None and announced.isdigit() and int(announced[:20]) > limit:
        raise PayloadTooLarge(too_large)
    size = 0
    more = True
    while more:
        message = await receive()
        if message["type"] != "http.request":
            raise ClientGone
        piece = message.get("body", b"")
        size += len(piece)
        if size > limit:
            raise PayloadTooLarge(too_large)
        yield piece
        more = message.get("more_body", False)
