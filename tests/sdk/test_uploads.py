"""Files as bodies: sent piece by piece, with their progress, and again where they can be."""

import asyncio
import io
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import httpx
import pytest

from filmbuild_sdk import AsyncClient, Client, NotFound, Retries, TransportError, calls
from filmbuild_sdk.uploads import PIECE

BASE = "http://floors.test"
AT_ONCE = Retries(tries=3, first_wait=0.0)
LONG = bytes(range(256)) * 1000  # 256,000 bytes: three whole pieces and a part
GONE = httpx.Response(404)
Told = list[tuple[int, int | None]]


class Service:
    """Reads whole bodies, and answers with the next of the outcomes."""

    def __init__(self, *outcomes: httpx.Response | Exception) -> None:
        self._outcomes = list(outcomes)
        self.bodies: list[bytes] = []
        self.headers: list[httpx.Headers] = []

    def _answer(self, request: httpx.Request, content: bytes) -> httpx.Response:
        self.bodies.append(content)
        self.headers.append(request.headers)
        outcome = self._outcomes.pop(0)
        if isinstance(outcome, Exception):
            raise outcome
        return httpx.Response(outcome.status_code, headers=outcome.headers)

    def handle_request(self, request: httpx.Request) -> httpx.Response:
        return self._answer(request, request.read())

    async def handle_async_request(self, request: httpx.Request) -> httpx.Response:
        return self._answer(request, await request.aread())


Send = Callable[..., Exception]


@pytest.fixture(params=["sync", "async"])
def send(request: pytest.FixtureRequest) -> Send:
    """Uploads prices through either client; what it ends in is given back."""

    def sync(service: Service, body: Any, **rest: Any) -> None:
        transport = httpx.MockTransport(service.handle_request)
        with Client(BASE, transport=transport, retries=AT_ONCE) as client:
            client.update_prices(body, media_type="text/csv", **rest)

    async def waiting(service: Service, body: Any, **rest: Any) -> None:
        transport = httpx.MockTransport(service.handle_async_request)
        async with AsyncClient(BASE, transport=transport, retries=AT_ONCE) as client:
            await client.update_prices(body, media_type="text/csv", **rest)

    def sent(service: Service, body: Any, **rest: Any) -> Exception:
        try:
            if request.param == "sync":
                sync(service, body, **rest)
            else:
                asyncio.run(waiting(service, body, **rest))
        except Exception as error:  # noqa: BLE001 - what was raised is what the test looks at
            return error
        raise AssertionError("it must end in what the service was told")

    return sent


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "prices.csv"
    path.write_bytes(LONG)
    return path


def told() -> tuple[Told, Callable[[int, int | None], None]]:
    calls: Told = []
    return calls, lambda sent, total: calls.append((sent, total))


def test_a_path_is_sent_with_its_length_and_its_progress(send: Send, path: Path) -> None:
    service = Service(GONE)
    seen, progress = told()
    assert isinstance(send(service, path, progress=progress), NotFound)
    assert service.bodies == [LONG]
    assert service.headers[0]["content-length"] == "256000"
    assert "transfer-encoding" not in service.headers[0]
    assert service.headers[0]["content-type"] == "text/csv"
    assert seen == [(place, 256_000) for place in (0, PIECE, 2 * PIECE, 3 * PIECE, 256_000)]


def test_bytes_and_open_files_tell_their_progress_too(send: Send, path: Path) -> None:
    for body in (LONG, io.BytesIO(LONG), path.open("rb")):
        service = Service(GONE)
        seen, progress = told()
        send(service, body, progress=progress)
        assert service.bodies == [LONG]
        assert (seen[0], seen[-1]) == ((0, 256_000), (256_000, 256_000))
        if not isinstance(body, bytes):
            assert not body.closed
            body.close()


def test_an_open_file_is_sent_from_where_it_stands_at_each_try(send: Send) -> None:
    file = io.BytesIO(b"heading\nbody")
    file.seek(8)
    service = Service(httpx.ReadError("reset"), httpx.Response(503), GONE)
    assert isinstance(send(service, file), NotFound)
    assert service.bodies == [b"body"] * 3
    assert {one["content-length"] for one in service.headers} == {"4"}
    assert len({one["idempotency-key"] for one in service.headers}) == 1


def pipe_of(content: bytes) -> io.BufferedReader:
    reading, writing = os.pipe()
    with os.fdopen(writing, "wb") as file:
        file.write(content)
    return os.fdopen(reading, "rb")


def test_a_pipe_is_sent_once_in_chunks(send: Send) -> None:
    service = Service(httpx.ReadError("reset"))
    seen, progress = told()
    with pipe_of(b"pack,amount\n") as pipe:
        assert isinstance(send(service, pipe, progress=progress), TransportError)
    assert service.bodies == [b"pack,amount\n"]
    assert service.headers[0]["transfer-encoding"] == "chunked"
    assert seen == [(0, None), (12, None)]


class Sparing(io.BytesIO):
    """Keeps how much was asked for at a time."""

    def __init__(self, content: bytes) -> None:
        super().__init__(content)
        self.asked: list[int | None] = []

    def read(self, size: int | None = -1, /) -> bytes:
        self.asked.append(size)
        return super().read(size)


def test_no_more_than_a_piece_is_in_memory(send: Send) -> None:
    file = Sparing(LONG)
    send(Service(GONE), file)
    assert set(file.asked) == {PIECE}


def test_a_file_that_is_not_there_is_told_before_anything_is_sent(
    send: Send, tmp_path: Path
) -> None:
    service = Service()
    assert isinstance(send(service, tmp_path / "none.csv"), FileNotFoundError)
    assert service.bodies == []


def test_a_file_opened_for_text_is_refused(send: Send, path: Path) -> None:
    with path.open() as text:
        error = send(Service(), text)
    assert isinstance(error, TypeError)
    assert "rb" in str(error)


def test_a_catalogue_is_imported_from_a_file_as_it_is(path: Path) -> None:
    call = calls.import_catalogue(path, check_only=True)
    assert call.headers["content-type"] == "application/json"
    service = Service(GONE)
    with (
        Client(BASE, transport=httpx.MockTransport(service.handle_request)) as client,
        pytest.raises(NotFound),
    ):
        client.import_catalogue(path)
    assert service.bodies == [LONG]
