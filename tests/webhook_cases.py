"""Endpoints and events for tests, a clock that they set, and receivers that note what comes."""

import asyncio
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import msgspec
from calling import ORGANISATION
from open_gate import SOMEONE
from waiting import happens

from filmbuild.db import Database
from filmbuild.webhooks import outbox
from filmbuild.webhooks.addresses import Target
from filmbuild.webhooks.delivery_store import StoredDelivery, list_deliveries
from filmbuild.webhooks.events import CatalogueEventData, Event
from filmbuild.webhooks.sender import Sender
from filmbuild.webhooks.sending import Headers, Outcome, Postman
from filmbuild.webhooks.service import EndpointService
from filmbuild.webhooks.wire import WebhookEndpointRequest

NOON = datetime(2026, 9, 1, 12, 0, tzinfo=UTC)
URL = "https://hooks.harbour.example/in"
RECEIVED = Outcome(status=204)


class Clock:
    """Stands still until it is set."""

    def __init__(self) -> None:
        self.now = NOON

    def __call__(self) -> datetime:
        return self.now


class Sent(msgspec.Struct, frozen=True):
    """A message, as a receiver sees it."""

    path: str
    headers: dict[str, str]
    content: bytes

    @property
    def id(self) -> str:
        return self.headers["webhook-id"]


class Scripted(Postman):
    """Answers as it is told, by path, and notes what it was to send."""

    def __init__(self) -> None:
        self.sent: list[Sent] = []
        self.answers: dict[str, Outcome] = {}
        self.hold: asyncio.Event | None = None

    async def post(self, target: Target, content: bytes, headers: Headers) -> Outcome:
        self.sent.append(Sent(target.path, dict(headers), content))
        if self.hold is not None:
            await self.hold.wait()
        return self.answers.get(target.path, RECEIVED)

    async def close(self) -> None:
        """There is nothing to close."""


class Office:
    """A sender on a database, with what it takes to give it something to send."""

    def __init__(self, database: Database) -> None:
        self.database = database
        self.clock = Clock()
        self.postman = Scripted()
        self.endpoints = EndpointService(database, self.clock, private=False)
        self.sender = self.new_sender()

    def new_sender(self) -> Sender:
        return Sender(
            self.database,
            lambda: self.postman,
            private=False,
            clock=self.clock,
            jitter=lambda: 0.0,
        )

    async def endpoint(self, path: str = "/in", *types: str) -> str:
        asked = WebhookEndpointRequest(
            url=f"https://hooks.harbour.example{path}", event_types=types or None
        )
        made, _ = await self.endpoints.create(SOMEONE, asked, None)
        return made.id

    async def tell(self, subject: str, number: int = 1, kind: str = "catalogue.changed") -> None:
        async with self.database.writer(ORGANISATION) as connection:
            await outbox.write(connection, ORGANISATION, event(subject, number, kind, self.clock()))

    async def send(self) -> None:
        """Until nothing more is due."""
        before = -1
        while len(self.postman.sent) > before:
            before = len(self.postman.sent)
            await self.sender.turn()
            await self.sender.settled()

    async def pass_time(self, pause: timedelta) -> None:
        self.clock.now += pause
        await self.send()

    async def until(self, condition: Callable[[], bool]) -> None:
        async def holds() -> bool:
            return condition()

        await happens(holds)

    async def deliveries(self, organisation: str = ORGANISATION) -> list[StoredDelivery]:
        """The oldest first, and those of one moment as they happened to their subject."""
        async with self.database.reader(organisation) as connection:
            found = await list_deliveries(connection, organisation, None, 1000)
        return sorted(found, key=lambda one: (one.created_at, one.position))


def event(subject: str, number: int, kind: str, at: datetime) -> Event:
    return Event(type=kind, subject=subject, data=CatalogueEventData(revision=number), at=at)


def told(sent: Sent) -> int:
    """The number that the event was given."""
    return int(msgspec.json.decode(sent.content)["data"]["revision"])


class Receiver:
    """An HTTP server of this process; `answer` says what it answers, and may take its time."""

    def __init__(self, answer: Callable[[Sent], tuple[int, dict[str, str], bytes]]) -> None:
        self.received: list[Sent] = []
        outer = self

        class Handler(BaseHTTPRequestHandler):
            def do_POST(self) -> None:
                length = int(self.headers["content-length"])
                content = self.rfile.read(length)
                if len(content) < length:
                    return  # whoever sent it has died in the middle
                names = {name.lower(): value for name, value in self.headers.items()}
                sent = Sent(self.path, names, content)
                outer.received.append(sent)
                status, headers, text = answer(sent)
                self.send_response(status)
                for name, value in headers.items():
                    self.send_header(name, value)
                self.send_header("content-length", str(len(text)))
                self.end_headers()
                self.wfile.write(text)

            def log_message(self, *_words: object) -> None:
                """The test run tells what matters."""

            def handle(self) -> None:
                try:
                    super().handle()
                except OSError:
                    """Whoever asked has gone."""

        self.server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self.server.daemon_threads = True
        self.port = int(self.server.server_address[1])


def accepting(_sent: Sent) -> tuple[int, dict[str, str], bytes]:
    return 204, {}, b""


@contextmanager
def receiving(
    answer: Callable[[Sent], tuple[int, dict[str, str], bytes]] = accepting,
    prepare: Callable[[Receiver], None] = lambda _receiver: None,
) -> Iterator[Receiver]:
    receiver = Receiver(answer)
    prepare(receiver)
    thread = threading.Thread(target=receiver.server.serve_forever, args=(0.05,), daemon=True)
    thread.start()
    try:
        yield receiver
    finally:
        receiver.server.shutdown()
        thread.join()
        receiver.server.server_close()
