"""One request and its answer, as those see it who watch the service from around it."""

from collections.abc import Sequence
from time import perf_counter
from typing import Protocol

from litestar.enums import ScopeType
from litestar.types import (
    ASGIApp,
    HTTPReceiveMessage,
    HTTPScope,
    Message,
    Receive,
    Scope,
    Send,
    WebSocketReceiveMessage,
)

from filmbuild.edge.operations import NOBODY, AnyOperation, Caller
from filmbuild.spans import Watcher, watched_by

NOT_ANSWERED = 499
"""The status of a request whose caller was gone before there was an answer, as proxies log it."""


class Exchange:
    """What is known of it grows until it has ended."""

    __slots__ = ("_receive", "_send", "begun", "ended", "received", "scope", "sent", "status")

    def __init__(self, scope: HTTPScope, receive: Receive, send: Send) -> None:
        self.scope = scope
        self.begun = perf_counter()
        self.ended = self.begun
        self.received = 0
        self.sent = 0
        self.status = NOT_ANSWERED
        self._receive = receive
        self._send = send

    async def receive(self) -> HTTPReceiveMessage | WebSocketReceiveMessage:
        message = await self._receive()
        if message["type"] == "http.request":
            self.received += len(message.get("body", b""))
        return message

    async def send(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self.status = message["status"]
        elif message["type"] == "http.response.body":
            self.sent += len(message["body"])
        await self._send(message)

    @property
    def seconds(self) -> float:
        return self.ended - self.begun

    @property
    def operation(self) -> AnyOperation | None:
        """None where there is none, or the request did not come so far."""
        found: AnyOperation | None = self.scope["state"].get("operation")
        return found

    @property
    def caller(self) -> Caller:
        found: Caller = self.scope["state"].get("caller", NOBODY)
        return found


class Observer(Protocol):
    def begin(self, exchange: Exchange) -> None: ...

    def end(self, exchange: Exchange) -> None: ...


class Watched:
    """An application, each request of which is shown to the observers."""

    def __init__(
        self, inner: ASGIApp, observers: Sequence[Observer], watcher: Watcher | None
    ) -> None:
        self._inner = inner
        self._observers = observers
        self._watcher = watcher

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != ScopeType.HTTP:
            await self._inner(scope, receive, send)
            return
        exchange = Exchange(scope, receive, send)
        for one in self._observers:
            one.begin(exchange)
        try:
            if self._watcher is None:
                await self._inner(scope, exchange.receive, exchange.send)
            else:
                with watched_by(self._watcher):
                    await self._inner(scope, exchange.receive, exchange.send)
        finally:
            exchange.ended = perf_counter()
            for one in reversed(self._observers):
                one.end(exchange)
