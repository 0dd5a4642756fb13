"""Where the service's messages arrive: they are checked, kept and confirmed, and nothing more.

The work is done afterwards by a thread of its own, so that no message waits for it.
"""

import logging
import threading
from collections.abc import Iterable
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

from filmbuild_sdk import FilmbuildError
from filmbuild_sdk.webhooks import Event, NotVerified, verify
from invoicing_plug.billing import Biller
from invoicing_plug.books import Books

LARGEST_BYTES = 1 << 20
SOCKET_SECONDS = 10
RETRY_SECONDS = 60.0
ACCEPTED = "quotation.accepted"
_LOG = logging.getLogger("invoicing_plug")


def quotation_of(event: Event) -> str | None:
    """The id of the accepted quotation; all else in the message may be out of date."""
    match event:
        case Event(type="quotation.accepted", data={"id": str(name)}):
            return name
    return None


class Receiver(ThreadingHTTPServer):
    """`secrets` are the one in use, and while it is being replaced the other as well."""

    def __init__(self, address: tuple[str, int], books: Books, secrets: Iterable[str]) -> None:
        self.books = books
        self.secrets = tuple(secrets)
        self.arrived = threading.Event()
        super().__init__(address, _Handler)


class _Handler(BaseHTTPRequestHandler):
    server: Receiver
    timeout = SOCKET_SECONDS

    def do_POST(self) -> None:
        self.send_response(self._received())
        self.send_header("content-length", "0")
        self.end_headers()

    def _received(self) -> HTTPStatus:
        length = self.headers.get("content-length", "")
        if not (length.isascii() and length.isdigit()):
            return HTTPStatus.LENGTH_REQUIRED
        if int(length) > LARGEST_BYTES:
            return HTTPStatus.REQUEST_ENTITY_TOO_LARGE
        content = self.rfile.read(int(length))
        try:
            event = verify(content, dict(self.headers.items()), self.server.secrets)
        except NotVerified as error:
            _LOG.warning("a message was refused: %s", error)
            return HTTPStatus.UNAUTHORIZED
        return self._kept(event)

    def _kept(self, event: Event) -> HTTPStatus:
        """A type that is not known is confirmed as well, or it would be sent again for days."""
        quotation = quotation_of(event)
        if quotation is None:
            if event.type == ACCEPTED:
                _LOG.warning("message %s names no quotation", event.id)
            return HTTPStatus.NO_CONTENT
        self.server.books.keep_event(event.id, quotation)
        self.server.arrived.set()
        return HTTPStatus.NO_CONTENT

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the base class's name
        _LOG.debug(format, *args)


def work(biller: Biller, arrived: threading.Event, stopping: threading.Event) -> None:
    """Until it is told to stop: after each message, and every minute for what failed or fell due."""
    while not stopping.is_set():
        arrived.clear()
        try:
            biller.run()
        except* FilmbuildError:
            _LOG.exception("the service failed; what is open is tried again")
        arrived.wait(RETRY_SECONDS)
