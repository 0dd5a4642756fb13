"""A proxy on the loopback address, between a client and the service, that does harm when told to."""

import socket
import threading
from collections import deque
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

END_OF_HEAD = b"\r\n\r\n"
PIECE = 65_536
PROBLEM = (
    b'{"type": "/problems/%s", "title": "%s", "status": %d, "detail": "%s", '
    b'"request_id": "from-the-proxy", "errors": []}'
)

Service = tuple[str, int]
Plan = Callable[[socket.socket, bytes, Service], None]


class Proxy:
    """Does to each connection what the next of `plans` says; without one it carries it over.

    `requests` has all that came whole, and each connection serves one request.
    """

    def __init__(self, port: int) -> None:
        self.plans: deque[Plan | None] = deque()
        self.requests: list[bytes] = []
        self._service = ("127.0.0.1", port)
        self._listener = socket.create_server(("127.0.0.1", 0))
        self.url = f"http://127.0.0.1:{self._listener.getsockname()[1]}"
        self._thread = threading.Thread(target=self._accept, daemon=True)
        self._thread.start()

    def close(self) -> None:
        with suppress(OSError):
            self._listener.shutdown(socket.SHUT_RDWR)
        self._listener.close()
        self._thread.join(5)

    def _accept(self) -> None:
        while True:
            try:
                client, _ = self._listener.accept()
            except OSError:
                return
            plan = self.plans.popleft() if self.plans else carry
            threading.Thread(target=self._serve, args=(client, plan), daemon=True).start()

    def _serve(self, client: socket.socket, plan: Plan | None) -> None:
        with client, suppress(OSError):
            if plan is None:
                return
            request = read_request(client)
            self.requests.append(request)
            plan(client, request, self._service)


@contextmanager
def before(port: int) -> Iterator[Proxy]:
    proxy = Proxy(port)
    try:
        yield proxy
    finally:
        proxy.close()


DROP = None


def carry(client: socket.socket, request: bytes, service: Service) -> None:
    for piece in answer_to(request, service):
        client.sendall(piece)


def lose_the_answer(_client: socket.socket, request: bytes, service: Service) -> None:
    """After the service has done what it was asked."""
    for _ in answer_to(request, service):
        pass


def cut_the_answer(client: socket.socket, request: bytes, service: Service) -> None:
    """In the middle of its body."""
    whole = b"".join(answer_to(request, service))
    head, _, body = whole.partition(END_OF_HEAD)
    client.sendall(head + END_OF_HEAD + body[: len(body) // 2])


def cut_after(sent: int) -> Plan:
    """After so many bytes of an answer that goes on and on."""

    def plan(client: socket.socket, request: bytes, service: Service) -> None:
        left = sent
        for piece in answer_to(request, service):
            client.sendall(piece[:left])
            left -= len(piece)
            if left <= 0:
                return

    return plan


def shorten_the_json(client: socket.socket, request: bytes, service: Service) -> None:
    """As something on the way may that sends less than it was sent, and says so."""
    whole = b"".join(answer_to(request, service))
    head, _, body = whole.partition(END_OF_HEAD)
    half = body[: len(body) // 2]
    lines = [line for line in head.split(b"\r\n") if not line.lower().startswith(b"content-length")]
    lines.append(b"content-length: %d" % len(half))
    client.sendall(b"\r\n".join(lines) + END_OF_HEAD + half)


def dribble(client: socket.socket, request: bytes, service: Service) -> None:
    whole = b"".join(answer_to(request, service))
    for start in range(0, len(whole), len(whole) // 7 + 1):
        client.sendall(whole[start : start + len(whole) // 7 + 1])
        threading.Event().wait(0.01)


def stall(client: socket.socket, request: bytes, service: Service) -> None:
    """Half of the answer, and then nothing until the client gives up."""
    whole = b"".join(answer_to(request, service))
    client.sendall(whole[: len(whole) // 2])
    client.recv(1)


def answer(status: int, code: str, detail: str, **headers: str) -> Plan:
    """A problem document, without asking the service."""
    words = code.encode(), code.encode(), status, detail.encode()
    body = PROBLEM % words
    named = "".join(f"{name.replace('_', '-')}: {text}\r\n" for name, text in headers.items())
    head = f"HTTP/1.1 {status} Failed\r\n{named}content-length: {len(body)}\r\n".encode()
    kind = b"content-type: application/problem+json\r\nconnection: close\r\n\r\n"

    def plan(client: socket.socket, _request: bytes, _service: Service) -> None:
        client.sendall(head + kind + body)

    return plan


def answer_to(request: bytes, service: Service) -> Iterator[bytes]:
    """As it comes; the service is told to end the connection after it."""
    first, _, rest = request.partition(b"\r\n")
    with socket.create_connection(service, timeout=30) as upstream:
        upstream.sendall(first + b"\r\nconnection: close\r\n" + without_connection(rest))
        while piece := upstream.recv(PIECE):
            yield piece


def without_connection(rest: bytes) -> bytes:
    head, end, body = rest.partition(END_OF_HEAD)
    lines = [line for line in head.split(b"\r\n") if not line.lower().startswith(b"connection:")]
    return b"\r\n".join(lines) + end + body


def read_request(client: socket.socket) -> bytes:
    content = b""
    while END_OF_HEAD not in content:
        content += _more(client)
    head, _, body = content.partition(END_OF_HEAD)
    while not _is_whole(head.lower(), body):
        body += _more(client)
    return head + END_OF_HEAD + body


def _is_whole(head: bytes, body: bytes) -> bool:
    if b"transfer-encoding: chunked" in head:
        return body.endswith(b"0\r\n\r\n")
    _, found, after = head.partition(b"content-length: ")
    return not found or len(body) >= int(after.partition(b"\r\n")[0])


def _more(client: socket.socket) -> bytes:
    piece = client.recv(PIECE)
    if not piece:
        raise ConnectionResetError("the client ended its request")
    return piece
