"""Connections that cannot keep the service waiting: HTTP/1.1 with bounds on size, time and number.

The server's own protocol bounds only how long a connection is idle between requests. Times are added
up by one sweep over all connections, so that a request pays for none.
"""

import asyncio
import logging
import resource
from collections import Counter
from collections.abc import Collection
from http import HTTPStatus
from typing import Any, ClassVar, Literal
from uuid import uuid4

import msgspec
from uvicorn._types import ASGI3Application
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol, RequestResponseCycle

from filmbuild.edge.closing import Closing
from filmbuild.edge.problems import MEDIA_TYPE, problem_for_status
from filmbuild.limits.addresses import Network, bucket_of_host, is_among

SWEEP_SECONDS = 1.0
_DESCRIPTORS_FOR_THE_REST = 100
logger = logging.getLogger("filmbuild.connections")


class Bounds(msgspec.Struct, frozen=True, kw_only=True):
    """Of one process. Trusted proxies stand for many callers: they may open all connections."""

    connections: int = 1000
    address_share: float = 0.25
    head_seconds: float = 10.0
    head_bytes: int = 64 << 10
    header_fields: int = 100
    target_bytes: int = 8 << 10
    body_grace_seconds: float = 10.0
    body_bytes_per_second: float = 1024.0
    body_seconds: float = 600.0
    unread_seconds: float = 30.0
    unread_bytes_per_second: float = 1024.0
    hurried: float = 0.25
    """The part of these times that is left once the service is stopping."""
    trusted: tuple[Network, ...] = ()


BOUNDS = Bounds()
_Reading = Literal["nothing", "head", "body"]


class Connection(HttpToolsProtocol):
    """One that breaks a bound is answered, where no answer has begun, and ended."""

    bounds: ClassVar[Bounds] = BOUNDS
    crowd: ClassVar[Counter[str]] = Counter()

    def __init__(self, *arguments: Any, **options: Any) -> None:  # noqa: ANN401 - the server's own
        super().__init__(*arguments, **options)
        self._reading: _Reading = "head"
        self._waited = 0.0
        self._received = 0
        self._unread = 0
        self._unread_for = 0.0
        self._ended = False
        self._asked = False
        self._answering: RequestResponseCycle | None = None
        self._address = ""

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]  # as the server has it
        super().connection_made(transport)
        host = self.client[0] if self.client else ""
        self._address = "" if is_among(host, self.bounds.trusted) else bucket_of_host(host)
        self.crowd[self._address] += 1
        share = max(1, int(self.bounds.connections * self.bounds.address_share))
        if len(self.connections) > self.bounds.connections or (
            self._address and self.crowd[self._address] > share
        ):
            self._end(HTTPStatus.SERVICE_UNAVAILABLE, "Too many connections are open.")

    def connection_lost(self, exc: Exception | None) -> None:
        super().connection_lost(exc)
        self._hang_up()
        self.crowd[self._address] -= 1
        if self.crowd[self._address] <= 0:
            del self.crowd[self._address]

    def data_received(self, data: bytes) -> None:
        if self._ended:
            return
        if self._reading == "nothing":
            self._begin("head")
        if self._reading == "head":
            self._received += len(data)
        super().data_received(data)
        if self._reading == "head" and self._received > self.bounds.head_bytes:
            self._head_too_large()

    def on_headers_complete(self) -> None:
        if self._ended:
            return
        size = sum(len(name) + len(value) for name, value in self.headers)
        if len(self.url) > self.bounds.target_bytes:
            detail = f"Send a path and query of at most {self.bounds.target_bytes} bytes."
            self._end(HTTPStatus.REQUEST_URI_TOO_LONG, detail)
        elif len(self.headers) > self.bounds.header_fields or size > self.bounds.head_bytes:
            self._head_too_large()
        else:
            super().on_headers_complete()
            self._asked = True
            self._begin("body")

    def _start_asgi_task(self, cycle: RequestResponseCycle, app: ASGI3Application) -> None:
        self._answering = cycle
        super()._start_asgi_task(cycle, app)

    def _hang_up(self) -> None:
        """Tells the request that is being answered, which need not be the one that came last."""
        self.pipeline.clear()
        if self._answering is not None and not self._answering.response_complete:
            self._answering.disconnected = True
            self._answering.message_event.set()

    def on_body(self, body: bytes) -> None:
        if not self._ended:
            self._received += len(body)
            super().on_body(body)

    def on_message_complete(self) -> None:
        if not self._ended:
            super().on_message_complete()
            self._begin("nothing")

    def send_400_response(self, msg: str) -> None:
        if not self._ended:
            self._end(HTTPStatus.BAD_REQUEST, msg)

    def sweep(self, seconds: float, *, stopping: bool) -> None:
        """Adds to the times, and ends the connection where one is beyond its bound."""
        scale = self.bounds.hurried if stopping else 1.0
        if self._is_unread(seconds, scale):
            logger.info("ended a connection: its answer was not read")
            self.transport.abort()
        elif not self._ended and not self.flow.read_paused and self._is_late(seconds, scale):
            self._end(HTTPStatus.REQUEST_TIMEOUT, f"The {self._reading} came too slowly.")

    def _is_unread(self, seconds: float, scale: float) -> bool:
        """Whether less was read of what waits to be sent than the least rate asks for."""
        waiting = self.transport.get_write_buffer_size()
        bounds = self.bounds
        enough = bounds.unread_seconds * bounds.unread_bytes_per_second
        if waiting == 0 or waiting <= self._unread - enough:
            self._unread, self._unread_for = waiting, 0.0
            return False
        self._unread = max(self._unread, waiting)
        self._unread_for += seconds
        return self._unread_for > bounds.unread_seconds * scale

    def _is_late(self, seconds: float, scale: float) -> bool:
        if self._reading == "nothing" and not self.cycle.response_complete:
            return False
        self._waited += seconds
        bounds = self.bounds
        if self._reading == "nothing":
            return self._waited > 2 * self.timeout_keep_alive
        if self._reading == "head":
            return self._waited > bounds.head_seconds * scale
        earned = self._received / bounds.body_bytes_per_second
        return self._waited > min(
            bounds.body_grace_seconds * scale + earned, bounds.body_seconds * scale
        )

    def _begin(self, reading: _Reading) -> None:
        self._reading = reading
        self._waited = 0.0
        self._received = 0

    def _head_too_large(self) -> None:
        bounds = self.bounds
        detail = f"Send at most {bounds.header_fields} header fields and {bounds.head_bytes} bytes."
        self._end(HTTPStatus.REQUEST_HEADER_FIELDS_TOO_LARGE, detail)

    def _end(self, status: HTTPStatus, detail: str) -> None:
        self._ended = True
        self._unset_keepalive_if_required()
        logger.info("ended a connection: %s", detail)
        if self._can_be_told(status):
            self.transport.write(self._answer(status, detail))
        self.transport.close()

    def _can_be_told(self, status: HTTPStatus) -> bool:
        """Whether an answer would not be put into the middle of another, or follow no question."""
        if self.transport.is_closing() or self._reading == "nothing" or self.pipeline:
            return False
        if self._reading == "body":
            return not self.cycle.response_started
        if status == HTTPStatus.REQUEST_TIMEOUT and self._received == 0:
            return False
        return not self._asked or self.cycle.response_complete

    def _answer(self, status: HTTPStatus, detail: str) -> bytes:
        identity = uuid4().hex
        content = msgspec.json.encode(problem_for_status(status, detail, identity))
        head = (
            f"HTTP/1.1 {status.value} {status.phrase}\r\ncontent-type: {MEDIA_TYPE}\r\n"
            f"content-length: {len(content)}\r\nx-request-id: {identity}\r\n"
            "x-content-type-options: nosniff\r\nconnection: close\r\n"
        )
        if status == HTTPStatus.SERVICE_UNAVAILABLE:
            head += "retry-after: 1\r\n"
        return head.encode() + b"\r\n" + content


def bound_by(bounds: Bounds) -> type[Connection]:
    """The protocol of one server."""
    members = {"bounds": bounds, "crowd": Counter[str]()}
    return type("BoundConnection", (Connection,), members)


def affordable(connections: int) -> int:
    """No more than the system gives the process descriptors for."""
    soft, _ = resource.getrlimit(resource.RLIMIT_NOFILE)
    return max(1, min(connections, soft - _DESCRIPTORS_FOR_THE_REST))


async def sweeping(connections: Collection[object], closing: Closing) -> None:
    """Until cancelled. For time in which the service itself was held up, no client is blamed."""
    clock = asyncio.get_running_loop().time
    last = clock()
    while True:
        await asyncio.sleep(SWEEP_SECONDS)
        now = clock()
        for one in tuple(connections):
            if isinstance(one, Connection):
                one.sweep(min(now - last, 2 * SWEEP_SECONDS), stopping=closing.begun)
        last = now
