"""Serves operations over HTTP, and answers every failure with a problem document."""

import asyncio
import logging
import re
from collections import defaultdict
from collections.abc import AsyncIterator, Sequence
from functools import cache
from http import HTTPStatus
from typing import Any
from uuid import uuid4

import msgspec
from litestar import HttpMethod, Request
from litestar.exceptions import HTTPException, MethodNotAllowedException
from litestar.handlers import HTTPRouteHandler
from litestar.response import Response
from litestar.types import HTTPScope, Receive, Scope, Send

from filmbuild.edge.gate import Admission, Gate, RawHeaders
from filmbuild.edge.operations import AnyOperation
from filmbuild.edge.problems import MEDIA_TYPE, problem_for, problem_for_status
from filmbuild.edge.reading import ClientGone, read_call
from filmbuild.errors import FilmbuildError, PayloadTooLarge

logger = logging.getLogger("filmbuild.http")
_SANE_REQUEST_ID = re.compile(r"[A-Za-z0-9._-]{1,128}")
_NO_SNIFF = (b"x-content-type-options", b"nosniff")
_VARY = (("vary", "Accept"),)
_CLIENT_CLOSED_REQUEST = 499


@cache
def _content_type(media_type: str) -> bytes:
    if media_type.startswith("text/") and "charset=" not in media_type:
        media_type = f"{media_type}; charset=utf-8"
    return media_type.encode()


class Reply:
    """An answer ready to be sent, as an ASGI application; HEAD gets its headers alone."""

    __slots__ = ("content", "headers", "pieces", "status")

    def __init__(
        self,
        status: int,
        content: bytes,
        media_type: str,
        request_id: str,
        headers: Sequence[tuple[str, str]] = (),
        pieces: AsyncIterator[bytes] | None = None,
    ) -> None:
        self.status = status
        self.content = content
        self.pieces = pieces
        self.headers = [
            (b"x-request-id", request_id.encode()),
            _NO_SNIFF,
            *((name.encode("latin-1"), value.encode("latin-1")) for name, value in headers),
        ]
        if status not in (HTTPStatus.NO_CONTENT, HTTPStatus.NOT_MODIFIED):
            self.headers.append((b"content-type", _content_type(media_type)))
            if pieces is None:
                self.headers.append((b"content-length", b"%d" % len(content)))

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        await send({"type": "http.response.start", "status": self.status, "headers": self.headers})
        head = scope.get("method") == HttpMethod.HEAD
        if self.pieces is not None and not head:
            await self._send_pieces(self.pieces, receive, send)
        content = b"" if head else self.content
        await send({"type": "http.response.body", "body": content, "more_body": False})

    async def _send_pieces(
        self, pieces: AsyncIterator[bytes], receive: Receive, send: Send
    ) -> None:
        """Until the caller hangs up: a server takes what is sent after that without a word."""
        gone = asyncio.create_task(_hung_up(receive))
        try:
            async for piece in pieces:
                if gone.done():
                    break
                await send({"type": "http.response.body", "body": piece, "more_body": True})
        finally:
            gone.cancel()


async def _hung_up(receive: Receive) -> None:
    while (await receive())["type"] != "http.disconnect":
        pass


def handlers(
    operations: Sequence[AnyOperation], body_limit: int, gate: Gate
) -> list[HTTPRouteHandler]:
    """One handler per path: Litestar's own OPTIONS names only the first handler's methods."""
    paths: defaultdict[str, dict[str, AnyOperation]] = defaultdict(dict)
    for operation in operations:
        methods = paths[operation.path.replace("}", ":str}")]
        methods[operation.method] = operation
        if operation.method == HttpMethod.GET:
            methods[HttpMethod.HEAD.value] = operation
    return [_serve(path, methods, body_limit, gate) for path, methods in paths.items()]


def _serve(
    path: str, methods: dict[str, AnyOperation], body_limit: int, gate: Gate
) -> HTTPRouteHandler:
    names = sorted({*methods, HttpMethod.OPTIONS.value})
    allow = (("allow", ", ".join(names)),)

    async def endpoint(request: Request[Any, Any, Any]) -> Reply:
        scope = request.scope
        operation = methods.get(scope["method"])
        if operation is None:
            told = (*allow, *await gate.preflight(methods, scope))
            return Reply(HTTPStatus.OK, b"", "text/plain", request_id(scope), told)
        # for those who watch from around the application, and who have the scope alone
        scope["state"]["operation"] = operation
        admission = Admission()
        try:
            admission = await gate.admit(operation, scope)
            scope["state"]["caller"] = admission.caller
            admission.check()
            call = await read_call(operation, scope, request.receive, body_limit, admission.caller)
            answer = await operation.answering[call.media_type](call)
        except Exception as error:  # noqa: BLE001 - whatever fails becomes a problem document
            return _failed(error, scope, (*admission.headers, *_vary(operation)))
        return Reply(
            answer.status or operation.status,
            answer.content,
            call.media_type,
            request_id(scope),
            (*answer.headers, *admission.headers, *_vary(operation)),
            answer.pieces,
        )

    methods_of_route = [HttpMethod(name) for name in names]
    # the status is the reply's own; without one here, a path with DELETE may not answer at all
    route = HTTPRouteHandler(
        path, http_method=methods_of_route, include_in_schema=False, status_code=HTTPStatus.OK
    )
    return route(endpoint)


def _vary(operation: AnyOperation) -> RawHeaders:
    """For caches: where there is a choice, another Accept may get another answer."""
    return _VARY if operation.representations else ()


def request_id(scope: HTTPScope) -> str:
    """The caller's, where it is one that can be written to a log; else a new one."""
    state = scope["state"]
    known = state.get("request_id")
    if isinstance(known, str):
        return known
    given = next((value for name, value in scope["headers"] if name == b"x-request-id"), b"")
    text = given.decode("latin-1")
    chosen = text if _SANE_REQUEST_ID.fullmatch(text) else uuid4().hex
    state["request_id"] = chosen
    return chosen


def routing_failed(request: Request[Any, Any, Any], error: Exception) -> Response[bytes]:
    """For what fails before an operation is reached: no such path, method or host."""
    scope = request.scope
    identity = request_id(scope)
    headers = {"x-request-id": identity, "x-content-type-options": "nosniff"}
    if isinstance(error, HTTPException):
        detail = _ROUTING.get(error.status_code, error.detail)
        problem = problem_for_status(error.status_code, detail, identity)
        if isinstance(error, MethodNotAllowedException):
            methods = (error.headers or {}).get("allow", "")
            headers["allow"] = ", ".join(sorted(methods.split(", ")))
    else:
        _log(error, scope)
        problem = problem_for(error, identity)
    content = b"" if scope["method"] == HttpMethod.HEAD else msgspec.json.encode(problem)
    return Response(content, media_type=MEDIA_TYPE, status_code=problem.status, headers=headers)


_ROUTING: dict[int, str] = {
    HTTPStatus.NOT_FOUND: "No operation has this path.",
    HTTPStatus.METHOD_NOT_ALLOWED: "This path does not answer to this method; see Allow.",
}


def _failed(error: Exception, scope: HTTPScope, headers: RawHeaders) -> Reply:
    if isinstance(error, ClientGone):
        return Reply(_CLIENT_CLOSED_REQUEST, b"", MEDIA_TYPE, request_id(scope))
    if not isinstance(error, FilmbuildError):
        _log(error, scope)
    problem = problem_for(error, request_id(scope))
    # what is left of a body that was not read would be taken for the next request
    if isinstance(error, PayloadTooLarge):
        headers = (*headers, ("connection", "close"))
    content = msgspec.json.encode(problem)
    return Reply(problem.status, content, MEDIA_TYPE, problem.request_id, headers)


def _log(error: Exception, scope: HTTPScope) -> None:
    logger.error(
        "request %s failed: %s %s",
        request_id(scope),
        scope["method"],
        scope.get("path_template", "-"),
        exc_info=error,
    )
