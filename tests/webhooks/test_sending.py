"""One message over a real connection, to the address that was checked and nowhere else."""

import asyncio
import ssl
import time
from collections.abc import Callable, Sequence
from ipaddress import ip_address
from pathlib import Path

import pytest
import trustme
from webhook_cases import Receiver, Sent, accepting, receiving

from filmbuild.webhooks.addresses import Target
from filmbuild.webhooks.sending import LARGEST_ANSWER_BYTES, Outcome, Postman, shown

Resolve = Callable[[str, int], "asyncio.Future[Sequence[str]]"]
CONTENT = b'{"type":"webhook.test"}'


class Names:
    """Stands for a name server: each look-up gets the next of the answers, the last for ever."""

    def __init__(self, *answers: Sequence[str]) -> None:
        self.answers = list(answers)
        self.asked: list[str] = []

    async def __call__(self, host: str, _port: int) -> Sequence[str]:
        self.asked.append(host)
        return self.answers.pop(0) if len(self.answers) > 1 else self.answers[0]


def at(port: int, host: str = "hooks.harbour.example", scheme: str = "http") -> Target:
    return Target(scheme=scheme, host=host, port=port, path="/in?key=7")


async def post(postman: Postman, target: Target) -> Outcome:
    try:
        return await postman.post(target, CONTENT, [("webhook-id", "evt_1")])
    finally:
        await postman.close()


async def test_a_message_arrives_as_it_is_under_the_hosts_own_name() -> None:
    names = Names(["127.0.0.1"])
    with receiving() as receiver:
        outcome = await post(Postman(private=True, resolver=names), at(receiver.port))
    (sent,) = receiver.received
    assert (outcome.status, outcome.problem) == (204, None)
    assert (sent.path, sent.content, sent.id) == ("/in?key=7", CONTENT, "evt_1")
    assert sent.headers["host"] == f"hooks.harbour.example:{receiver.port}"
    assert names.asked == ["hooks.harbour.example"]


@pytest.mark.parametrize(
    "found",
    [
        ["127.0.0.1"],
        ["8.8.8.8", "127.0.0.1"],
        ["::1"],
        ["::ffff:127.0.0.1"],
        ["169.254.169.254"],
        ["10.0.0.1"],
    ],
)
async def test_a_name_that_stands_for_this_machine_is_not_sent_to(found: list[str]) -> None:
    with receiving() as receiver:
        outcome = await post(Postman(private=False, resolver=Names(found)), at(receiver.port))
    assert receiver.received == []
    assert outcome.status is None
    assert "not public" in (outcome.problem or "")
    assert not any(one in (outcome.problem or "") for one in found)


async def test_a_name_that_changes_its_mind_is_looked_up_once_a_message(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Rebinding: public when it is checked, this machine a moment later."""
    connected: list[str] = []
    names = Names(["8.8.8.8"], ["127.0.0.1"])
    with receiving() as receiver:
        postman = Postman(private=False, resolver=names)
        backend = postman._pool._network_backend  # noqa: SLF001 - what the library connects by

        async def connect(host: str, *_rest: object) -> object:
            connected.append(host)
            raise OSError("nobody there")

        monkeypatch.setattr(backend._inner, "connect_tcp", connect)  # type: ignore[attr-defined] # noqa: SLF001 - so that the test sends nothing to anyone
        first = await postman.post(at(receiver.port), CONTENT, [])
        second = await postman.post(at(receiver.port), CONTENT, [])
        await postman.close()
    assert connected == ["8.8.8.8"]
    assert len(names.asked) == 2
    assert first.status is second.status is None
    assert "not public" in (second.problem or "")
    assert receiver.received == []


async def test_the_system_s_own_resolver_is_no_way_around() -> None:
    with receiving() as receiver:
        for host in ("127.1", "2130706433", "0x7f000001", "localhost"):
            outcome = await post(Postman(private=False), at(receiver.port, host))
            assert outcome.status is None
    assert receiver.received == []


async def test_redirects_are_not_followed() -> None:
    with receiving() as inside:

        def onward(_sent: Sent) -> tuple[int, dict[str, str], bytes]:
            return 307, {"location": f"http://127.0.0.1:{inside.port}/secret"}, b""

        with receiving(onward) as receiver:
            postman = Postman(private=True, resolver=Names(["127.0.0.1"]))
            outcome = await post(postman, at(receiver.port))
    assert (outcome.status, outcome.problem) == (307, "answered 307")
    assert len(receiver.received) == 1
    assert inside.received == []


async def test_no_proxy_of_the_environment_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    with receiving() as proxy, receiving() as receiver:
        for name in ("http_proxy", "HTTP_PROXY", "all_proxy", "ALL_PROXY"):
            monkeypatch.setenv(name, f"http://127.0.0.1:{proxy.port}")
        outcome = await post(
            Postman(private=True, resolver=Names(["127.0.0.1"])), at(receiver.port)
        )
    assert outcome.status == 204
    assert (len(proxy.received), len(receiver.received)) == (0, 1)


async def test_each_message_has_a_connection_of_its_own() -> None:
    names = Names(["127.0.0.1"])
    with receiving() as receiver:
        postman = Postman(private=True, resolver=names)
        for _ in range(3):
            await postman.post(at(receiver.port), CONTENT, [])
        await postman.close()
    assert len(names.asked) == len(receiver.received) == 3


async def test_of_a_long_answer_the_beginning_is_read_and_less_is_kept() -> None:
    def long(_sent: Sent) -> tuple[int, dict[str, str], bytes]:
        return 500, {}, b"broken\x00\x1b[31m \xff" + b"x" * (20 * LARGEST_ANSWER_BYTES)

    with receiving(long) as receiver:
        outcome = await post(
            Postman(private=True, resolver=Names(["127.0.0.1"])), at(receiver.port)
        )
    assert outcome.problem == "answered 500"
    assert outcome.answer is not None
    assert outcome.answer.startswith("broken [31m \ufffdxxx")
    assert len(outcome.answer) == 200


async def test_one_that_does_not_answer_is_left() -> None:
    def slow(_sent: Sent) -> tuple[int, dict[str, str], bytes]:
        time.sleep(1)
        return 204, {}, b""

    with receiving(slow) as receiver:
        postman = Postman(private=True, resolver=Names(["127.0.0.1"]), longest=0.1)
        outcome = await post(postman, at(receiver.port))
    assert (outcome.status, outcome.problem) == (None, "no answer within 0.1 s")


async def test_one_that_drips_is_left_as_well() -> None:
    """Each piece comes in time, but the answer never ends."""
    left = asyncio.Event()

    async def drip(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        await reader.readuntil(b"\r\n\r\n")
        writer.write(b"HTTP/1.1 200 OK\r\ntransfer-encoding: chunked\r\n\r\n")
        try:
            while True:
                writer.write(b"1\r\nx\r\n")
                await writer.drain()
                await asyncio.sleep(0.02)
        except OSError:
            writer.close()
            left.set()

    async with await asyncio.start_server(drip, "127.0.0.1", 0) as server:
        port = server.sockets[0].getsockname()[1]
        postman = Postman(private=True, resolver=Names(["127.0.0.1"]), longest=0.2)
        outcome = await post(postman, at(port))
        await left.wait()
    assert outcome.problem == "no answer within 0.2 s"


@pytest.mark.parametrize("answer", [b"SSH-2.0-server\r\n", b"", b"HTTP/1.1 abc\r\n\r\n"])
async def test_what_is_not_http_is_said(answer: bytes) -> None:
    async def speak(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        await reader.readuntil(b"\r\n\r\n")
        writer.write(answer)
        writer.close()

    async with await asyncio.start_server(speak, "127.0.0.1", 0) as server:
        port = server.sockets[0].getsockname()[1]
        outcome = await post(Postman(private=True, resolver=Names(["127.0.0.1"])), at(port))
    assert outcome.status is None
    assert (outcome.problem or "").startswith("the connection broke: ")


async def test_nobody_there_and_no_such_name_are_told_apart() -> None:
    with receiving() as receiver:
        port = receiver.port
    refused = await post(Postman(private=True, resolver=Names(["127.0.0.1"])), at(port))
    unknown = await post(Postman(private=True, resolver=Names([])), at(port))
    assert refused.status is unknown.status is None
    assert refused.problem
    assert unknown.problem == "the host's name stands for no address"


def test_what_is_shown_can_be_kept_by_every_database() -> None:
    assert shown("\ud800".encode("utf-8", "surrogatepass") + b"\x00ok\n") == "\ufffd\ufffd\ufffd ok"


class Authority:
    """Issues certificates that nobody but the test trusts."""

    def __init__(self) -> None:
        self.own = trustme.CA()

    def trusted(self) -> ssl.SSLContext:
        context = ssl.create_default_context()
        self.own.configure_trust(context)
        return context

    def serve(self, host: str) -> Callable[[Receiver], None]:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
        self.own.issue_cert(host).configure_cert(context)

        def prepare(receiver: Receiver) -> None:
            receiver.server.socket = context.wrap_socket(receiver.server.socket, server_side=True)

        return prepare


async def test_over_tls_the_certificate_is_of_the_name_and_not_of_the_address() -> None:
    authority = Authority()
    names = Names(["127.0.0.1"])
    with receiving(accepting, authority.serve("hooks.harbour.example")) as receiver:
        good = await post(
            Postman(private=True, resolver=names, trusted=authority.trusted()),
            at(receiver.port, scheme="https"),
        )
        other = await post(
            Postman(private=True, resolver=names, trusted=authority.trusted()),
            at(receiver.port, "other.harbour.example", "https"),
        )
        unknown = await post(
            Postman(private=True, resolver=names), at(receiver.port, scheme="https")
        )
    assert (good.status, good.problem) == (204, None)
    assert len(receiver.received) == 1
    for one in (other, unknown):
        assert one.status is None
        assert (one.problem or "").startswith("the certificate is not good: ")


async def test_an_authority_of_the_operator_can_be_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By the variable that OpenSSL reads (SSL_CERT_FILE)."""
    authority = Authority()
    file = tmp_path / "authority.pem"
    authority.own.cert_pem.write_to_path(file)
    monkeypatch.setenv("SSL_CERT_FILE", str(file))
    with receiving(accepting, authority.serve("hooks.harbour.example")) as receiver:
        outcome = await post(
            Postman(private=True, resolver=Names([str(ip_address("127.0.0.1"))])),
            at(receiver.port, scheme="https"),
        )
    assert outcome.status == 204
