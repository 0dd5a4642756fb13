"""A small closed-loop load generator: so many connections, each sending when it was answered."""

import asyncio
import time

import msgspec

HEAD_END = b"\r\n\r\n"
LENGTH = b"content-length:"


class Load(msgspec.Struct, frozen=True):
    """What was measured: answers per second and the times of single answers [s]."""

    rate: float
    median: float
    slowest_percent: float
    answers: int
    answer_bytes: int


async def run(port: int, path: str, body: bytes, *, connections: int, seconds: float) -> Load:
    head = (
        f"POST {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nContent-Type: application/json\r\n"
        f"Content-Length: {len(body)}\r\n\r\n"
    )
    message = head.encode() + body
    times: list[float] = []
    sizes: set[int] = set()
    start = time.perf_counter()
    until = start + seconds
    await asyncio.gather(
        *(_connection(port, message, until, times, sizes) for _ in range(connections))
    )
    elapsed = time.perf_counter() - start
    times.sort()
    return Load(
        rate=len(times) / elapsed,
        median=times[len(times) // 2],
        slowest_percent=times[int(len(times) * 0.99)],
        answers=len(times),
        answer_bytes=max(sizes),
    )


async def _connection(
    port: int, message: bytes, until: float, times: list[float], sizes: set[int]
) -> None:
    reader, writer = await asyncio.open_connection("127.0.0.1", port, limit=1 << 24)
    try:
        while time.perf_counter() < until:
            sent = time.perf_counter()
            writer.write(message)
            head = (await reader.readuntil(HEAD_END)).lower()
            if not head.startswith(b"http/1.1 20"):
                raise RuntimeError(head.split(b"\r\n", 1)[0].decode())
            size = int(head.split(LENGTH, 1)[1].split(b"\r\n", 1)[0])
            await reader.readexactly(size)
            times.append(time.perf_counter() - sent)
            sizes.add(size)
    finally:
        writer.close()
