"""Clients that send too much, too slowly or never, or do not read: ended, and nobody waits for them."""

import socket
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

import calling
import msgspec
import pytest
from msgspec import structs
from running import STOPPING_SECONDS, Running, running
from serving import NewDatabase
from waiting import until

from filmbuild import cli
from filmbuild.limits import connections

LONGEST_SECONDS = 30.0
# Those of the service are longer by far; the tests wait for them.
QUICK = structs.replace(
    connections.BOUNDS,
    head_seconds=1.0,
    body_grace_seconds=1.0,
    body_seconds=4.0,
    unread_seconds=1.0,
    address_share=0.5,
)
SHARE = 15
ESTABLISHED = "01"
HEAD = f"Host: test\r\nAuthorization: Bearer {calling.KEY}\r\nContent-Type: application/json\r\n"


@pytest.fixture(scope="module")
def service(new_sqlite: NewDatabase) -> Iterator[Running]:
    with pytest.MonkeyPatch.context() as patch, new_sqlite(True, loaded=True) as url:
        patch.setattr(connections, "BOUNDS", QUICK)
        patch.setattr(connections, "SWEEP_SECONDS", 0.2)
        with running(url, environment={"FILMBUILD_CONNECTIONS": "30"}) as service:
            yield service


def connected(service: Running, *, receives: int | None = None) -> socket.socket:
    connection = socket.socket()
    if receives is not None:
        connection.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, receives)
    connection.settimeout(LONGEST_SECONDS)
    connection.connect(("127.0.0.1", service.port))
    return connection


def received(connection: socket.socket) -> bytes:
    """All that comes until the service ends the connection."""
    found = b""
    try:
        while piece := connection.recv(1 << 16):
            found += piece
    except ConnectionResetError:
        pass
    return found


def trickled(connection: socket.socket, piece: bytes) -> bytes:
    """What comes back while a piece is sent every now and then, until the connection is ended."""
    connection.settimeout(0.2)
    found, deadline = b"", time.monotonic() + LONGEST_SECONDS
    while time.monotonic() < deadline:
        try:
            connection.sendall(piece)
            more = connection.recv(1 << 16)
        except TimeoutError:
            continue
        except (ConnectionResetError, BrokenPipeError):
            return found
        if not more:
            return found
        found += more
    pytest.fail("the service did not end the connection")


def problem(answer: bytes) -> tuple[int, str]:
    head, _, content = answer.partition(b"\r\n\r\n")
    lines = head.decode().lower().split("\r\n")
    assert "content-type: application/problem+json" in lines
    assert "connection: close" in lines
    told = msgspec.json.decode(content)
    status = int(lines[0].split(" ")[1])
    assert told["status"] == status
    assert told["detail"]
    return status, told["type"]


@contextmanager
def serving_others(service: Running) -> Iterator[None]:
    """Others are answered before, during and after."""
    assert service.client.get("/v1/products").status_code == 200
    yield
    assert service.client.get("/v1/products").status_code == 200


def test_a_head_that_never_ends(service: Running) -> None:
    with serving_others(service), connected(service) as connection:
        connection.sendall(b"GET /v1/health HTTP/1.1\r\nHost: test\r\n")
        answer = trickled(connection, b"X-A: b\r\n")
        assert problem(answer) == (408, "/problems/request-timeout")


@pytest.mark.parametrize("sent", [b"", b"\r\n", b"G"])
def test_a_connection_that_asks_nothing(service: Running, sent: bytes) -> None:
    with serving_others(service), connected(service) as connection:
        connection.sendall(sent)
        answer = trickled(connection, sent) if sent == b"\r\n" else received(connection)
        assert answer == b"" or problem(answer)[0] == 408


def test_a_second_request_that_never_comes_whole(service: Running) -> None:
    with serving_others(service), connected(service) as connection:
        connection.sendall(b"GET /v1/health HTTP/1.1\r\nHost: test\r\n\r\n")
        assert connection.recv(1 << 16).startswith(b"HTTP/1.1 200")
        answer = trickled(connection, b"\r\n")
        assert answer == b"" or problem(answer)[0] == 408


def test_a_body_that_stops(service: Running) -> None:
    with serving_others(service), connected(service) as connection:
        connection.sendall(
            f"POST /v1/takeoff HTTP/1.1\r\n{HEAD}Content-Length: 500\r\n\r\n{{".encode()
        )
        assert problem(received(connection)) == (408, "/problems/request-timeout")


def test_a_body_that_trickles(service: Running) -> None:
    with serving_others(service), connected(service) as connection:
        head = f"POST /v1/takeoff HTTP/1.1\r\n{HEAD}Transfer-Encoding: chunked\r\n\r\n"
        connection.sendall(head.encode())
        assert problem(trickled(connection, b"1\r\n \r\n")) == (408, "/problems/request-timeout")


def test_a_body_that_is_fast_and_never_ends(service: Running) -> None:
    """Beyond the size that is read it is refused, and of no use to send on."""
    with serving_others(service), connected(service) as connection:
        head = f"POST /v1/takeoff HTTP/1.1\r\n{HEAD}Transfer-Encoding: chunked\r\n\r\n"
        connection.sendall(head.encode())
        piece = b"10000\r\n" + b" " * 0x10000 + b"\r\n"
        with pytest.raises((ConnectionResetError, BrokenPipeError)):
            connection.sendall(piece * 1000)
        answer = received(connection)
        assert answer == b"" or b"413" in answer.split(b"\r\n")[0]


def test_a_body_that_nobody_asked_for(service: Running) -> None:
    """A reading operation answers at once; what follows is not listened to for long."""
    with serving_others(service), connected(service) as connection:
        head = "GET /v1/health HTTP/1.1\r\nHost: test\r\nTransfer-Encoding: chunked\r\n\r\n"
        connection.sendall(head.encode())
        assert trickled(connection, b"1\r\n \r\n").startswith(b"HTTP/1.1 200")


def test_a_target_that_is_too_long(service: Running) -> None:
    with serving_others(service), connected(service) as connection:
        target = "/v1/products?cursor=" + "a" * 9000
        connection.sendall(f"GET {target} HTTP/1.1\r\nHost: test\r\n\r\n".encode())
        assert problem(received(connection)) == (414, "/problems/uri-too-long")


@pytest.mark.parametrize(
    "fields",
    ["".join(f"X-{number}: y\r\n" for number in range(101)), "X-Long: " + "a" * 70_000 + "\r\n"],
    ids=["many", "long"],
)
@pytest.mark.parametrize("end", ["\r\n", ""], ids=["ended", "unended"])
def test_header_fields_that_are_too_many_or_too_long(
    service: Running, fields: str, end: str
) -> None:
    with serving_others(service), connected(service) as connection:
        connection.sendall(f"GET /v1/health HTTP/1.1\r\nHost: test\r\n{fields}{end}".encode())
        expected = (431, "/problems/header-fields-too-large")
        if end or len(fields) > 64 << 10:
            assert problem(received(connection)) == expected
        else:
            assert problem(received(connection))[0] == 408


def test_what_is_no_http(service: Running) -> None:
    with serving_others(service), connected(service) as connection:
        connection.sendall(b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03 hello\r\n\r\n")
        assert problem(received(connection)) == (400, "/problems/bad-request")


def test_an_answer_that_is_not_read(service: Running) -> None:
    """The contract is long: asked for again and again, it fills all the buffers there are."""
    with serving_others(service), connected(service, receives=4096) as connection:
        connection.sendall(b"GET /v1/openapi.json HTTP/1.1\r\nHost: test\r\n\r\n" * 200)
        until(lambda: not is_kept(service, connection), LONGEST_SECONDS)


def is_kept(service: Running, connection: socket.socket) -> bool:
    """Whether the service still holds its end: told by Linux, as the client reads nothing."""
    ends = (f":{service.port:04X}", f":{connection.getsockname()[1]:04X}")
    for line in Path("/proc/net/tcp").read_text().splitlines()[1:]:
        _, ours, theirs, state, *_ = line.split()
        if (ours[-5:], theirs[-5:]) == ends:
            return state == ESTABLISHED
    return False


def test_too_many_connections_of_one_address(service: Running) -> None:
    with ExitStack() as stack:
        held = [stack.enter_context(connected(service)) for _ in range(SHARE + 5)]
        status, kind = problem(received(held[-1]))
        assert (status, kind) == (503, "/problems/unavailable")
    until(service.up)
    with serving_others(service):
        pass


def test_slow_clients_do_not_slow_others(service: Running) -> None:
    with ExitStack() as stack:
        for _ in range(SHARE - 5):
            connection = stack.enter_context(connected(service))
            connection.sendall(b"POST /v1/takeoff HTTP/1.1\r\nHost: te")
        for _ in range(20):
            assert service.client.get("/v1/products").status_code == 200


def test_clients_that_stall_do_not_keep_it_from_stopping(
    new_sqlite: NewDatabase, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is being sent in time is answered, and the others are not waited for."""
    monkeypatch.setattr(connections, "BOUNDS", structs.replace(QUICK, body_grace_seconds=20.0))
    monkeypatch.setattr(connections, "SWEEP_SECONDS", 0.2)
    monkeypatch.setattr(cli, "FINISHING_SECONDS", 10 * STOPPING_SECONDS)
    with new_sqlite(True, loaded=True) as url, running(url) as service, ExitStack() as stack:
        reader = stack.enter_context(connected(service, receives=4096))
        reader.sendall(b"GET /v1/openapi.json HTTP/1.1\r\nHost: test\r\n\r\n" * 200)
        silent = stack.enter_context(connected(service))
        good = stack.enter_context(connected(service))
        head = f"{HEAD}Content-Length: 13\r\nExpect: 100-continue\r\n\r\n"
        for one in (silent, good):
            one.sendall(f"POST /v1/takeoff HTTP/1.1\r\n{head}".encode())
            assert one.recv(1 << 16).startswith(b"HTTP/1.1 100")
        service.ask_to_stop()
        until(lambda: not service.listening())
        good.sendall(b'{"units": 1}\n')
        assert received(good).startswith(b"HTTP/1.1 422")
        assert service.stopped() in (0, -15)
