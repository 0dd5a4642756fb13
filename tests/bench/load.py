"""Small load generators that send the key of the tests' organisation.

Closed: so many connections, each sending when it was answered. Open: at a fixed rate, whoever waits.
"""

import asyncio
import time
from collections.abc import Iterator, Sequence

import msgspec
from calling import HEADERS

HEAD_END = b"\r\n\r\n"
LENGTH = b"content-length:"
LARGEST_ANSWER = 1 << 24
MOST_WAITING = 64


class Load(msgspec.Struct, frozen=True):
    """What was measured: answers per second and the times of single answers [s]."""

    rate: float
    median: float
    slowest_percent: float
    answers: int
    answer_bytes: int


class Line:
    """One connection, over which one request is sent after another."""

    def __init__(self, port: int) -> None:
        self._port = port
        self._reader: asyncio.StreamReader
        self._writer: asyncio.StreamWriter | None = None

    async def ask(self, message: bytes) -> tuple[int, bytes]:
        """Status and body. Raises OSError or EOFError where there is no answer."""
        if self._writer is None:
            self._reader, self._writer = await asyncio.open_connection(
                "127.0.0.1", self._port, limit=LARGEST_ANSWER
            )
        self._writer.write(message)
        head = (await self._reader.readuntil(HEAD_END)).lower()
        size = int(head.split(LENGTH, 1)[1].split(b"\r\n", 1)[0])
        body = await self._reader.readexactly(size)
        if b"\r\nconnection: close" in head:
            self.close()
        return int(head[9:12]), body

    def close(self) -> None:
        if self._writer is not None:
            self._writer.close()
            self._writer = None


def message(port: int, path: str, body: bytes | None = None, **headers: str) -> bytes:
    """A POST of the body, or a GET where there is none."""
    method, content = ("GET", b"") if body is None else ("POST", body)
    sent = {
        "host": f"127.0.0.1:{port}",
        **HEADERS,
        **({} if body is None else {"content-type": "application/json"}),
        **{name.replace("_", "-"): text for name, text in headers.items()},
        "content-length": str(len(content)),
    }
    fields = "".join(f"{name}: {text}\r\n" for name, text in sent.items())
    return f"{method} {path} HTTP/1.1\r\n{fields}\r\n".encode() + content


async def run(port: int, path: str, body: bytes, *, connections: int, seconds: float) -> Load:
    asked = message(port, path, body)
    times: list[float] = []
    sizes: set[int] = set()
    start = time.perf_counter()
    until = start + seconds
    await asyncio.gather(*(_closed(port, asked, until, times, sizes) for _ in range(connections)))
    return _measured(times, sizes, time.perf_counter() - start)


async def _closed(
    port: int, asked: bytes, until: float, times: list[float], sizes: set[int]
) -> None:
    line = Line(port)
    try:
        while time.perf_counter() < until:
            sent = time.perf_counter()
            sizes.add(await _answered(line, asked))
            times.append(time.perf_counter() - sent)
    finally:
        line.close()


async def paced(port: int, path: str, body: bytes, *, rate: float, seconds: float) -> Load:
    """Sent at even times; a request's time begins when it was to be sent, so that queues are seen."""
    asked = message(port, path, body)
    times: list[float] = []
    sizes: set[int] = set()
    start = time.perf_counter()
    due = iter([start + number / rate for number in range(int(rate * seconds))])
    await asyncio.gather(*(_open(port, asked, due, times, sizes) for _ in range(MOST_WAITING)))
    return _measured(times, sizes, time.perf_counter() - start)


async def _open(
    port: int, asked: bytes, due: Iterator[float], times: list[float], sizes: set[int]
) -> None:
    line = Line(port)
    try:
        for one in due:
            await asyncio.sleep(max(0.0, one - time.perf_counter()))
            sizes.add(await _answered(line, asked))
            times.append(time.perf_counter() - one)
    finally:
        line.close()


async def _answered(line: Line, asked: bytes) -> int:
    status, body = await line.ask(asked)
    if not 200 <= status < 300:
        raise RuntimeError(f"{status}: {body[:200]!r}")
    return len(body)


def _measured(times: Sequence[float], sizes: set[int], elapsed: float) -> Load:
    ordered = sorted(times)
    return Load(
        rate=len(ordered) / elapsed,
        median=ordered[len(ordered) // 2],
        slowest_percent=ordered[int(len(ordered) * 0.99)],
        answers=len(ordered),
        answer_bytes=max(sizes),
    )
