"""Price updates over HTTP beside the bare driver's upsert of the same rows, on both engines.

The update is parsed, checked, compared with what holds and written; the driver has its rows ready.
"""

import asyncio
import http.client
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import calling
import many_prices
import private_cluster
import raw_upserts
from bench_http import free_port, wait
from sqlalchemy import URL

SIZES = (50_000, 200_000)
ROUNDS = 3
PAUSE = 0.01
Raw = Callable[[list[many_prices.PriceRow], list[many_prices.PriceRow]], float]


def figures() -> list[dict[str, Any]]:
    with tempfile.TemporaryDirectory() as folder:
        url = URL.create("sqlite+aiosqlite", database=f"{folder}/prices.sqlite3")
        found = _engine(
            "sqlite", url, folder, lambda *rows: raw_upserts.sqlite_seconds(folder, *rows)
        )
        binaries = private_cluster.programs()
        if binaries is not None:
            with private_cluster.cluster(binaries) as cluster:
                url = cluster.create("prices")
                found += _engine(
                    "postgresql",
                    url,
                    folder,
                    lambda *rows: asyncio.run(raw_upserts.postgresql_seconds(url, *rows)),
                )
    return found


def _engine(engine: str, url: URL, folder: str, raw: Raw) -> list[dict[str, Any]]:
    many_prices.prepare(url)
    found = []
    with _served(url, folder) as (port, process):
        _send(port, many_prices.table(1, 1))
        for size in SIZES:
            found += _measure(engine, size, port, process, raw)
    return found


def _measure(engine: str, size: int, port: int, process: int, raw: Raw) -> list[dict[str, Any]]:
    before = list(many_prices.rows(size, 0))
    ratios, rates, peaks, waits = [], [], [], []
    for number in range(ROUNDS):
        cents = 10 * SIZES.index(size) + number + 2
        rows, body = list(many_prices.rows(size, cents)), many_prices.table(size, cents)
        base = raw(before, rows)
        _settle(port, process)
        held = _memory(process, "VmRSS")
        with _asking(port) as times:
            start = time.perf_counter()
            _send(port, body)
            taken = time.perf_counter() - start
        peaks.append(_memory(process, "VmHWM") - held)
        ratios.append(base / taken)
        rates.append(size / taken)
        waits.append(max(times))
    name = f"prices.{engine}.{size}"
    return [
        _figure(f"{name}.rows_per_second", statistics.median(rates), "rows/s"),
        _figure(f"{name}.raw_upsert_over_update", statistics.median(ratios), "ratio"),
        _figure(f"{name}.memory_growth", max(peaks) / 1024, "MiB"),
        _figure(f"{name}.longest_wait_of_others", statistics.median(waits) * 1e3, "ms"),
    ]


@contextmanager
def _served(url: URL, folder: str) -> Iterator[tuple[int, int]]:
    port = free_port()
    program = Path(__file__).parent / "served_prices.py"
    shown = url.render_as_string(hide_password=False)
    with subprocess.Popen([sys.executable, str(program), shown, folder, str(port)]) as server:
        try:
            wait(port, server)
            yield port, server.pid
        finally:
            server.terminate()


@contextmanager
def _asking(port: int) -> Iterator[list[float]]:
    """What another caller waits for a small answer meanwhile [s]."""
    times: list[float] = [0.0]
    ended = threading.Event()

    def ask() -> None:
        connection = http.client.HTTPConnection("127.0.0.1", port)
        while not ended.wait(PAUSE):
            start = time.perf_counter()
            connection.request("GET", "/v1/health")
            connection.getresponse().read()
            times.append(time.perf_counter() - start)
        connection.close()

    asking = threading.Thread(target=ask)
    asking.start()
    try:
        yield times
    finally:
        ended.set()
        asking.join()


def _settle(port: int, process: int) -> None:
    """Has the newest revision in memory, as it is between updates; and forgets the peak so far."""
    time.sleep(1.1)
    _request(port, "GET", "/v1/catalogue")
    Path(f"/proc/{process}/clear_refs").write_text("5")


def _memory(process: int, name: str) -> int:
    """[KiB] As the system counts it."""
    lines = Path(f"/proc/{process}/status").read_text().splitlines()
    return int(next(one for one in lines if one.startswith(name)).split()[1])


def _send(port: int, body: bytes) -> None:
    _request(port, "POST", "/v1/price-updates", body, {"content-type": "text/csv"})


def _request(
    port: int,
    method: str,
    path: str,
    body: bytes | None = None,
    headers: dict[str, str] | None = None,
) -> None:
    connection = http.client.HTTPConnection("127.0.0.1", port)
    connection.request(method, path, body, {**calling.HEADERS, **(headers or {})})
    answered = connection.getresponse()
    content = answered.read()
    connection.close()
    if answered.status >= http.client.BAD_REQUEST:
        raise RuntimeError(content[:500].decode())


def _figure(name: str, value: float, unit: str) -> dict[str, Any]:
    return {"name": name, "value": value, "unit": unit}
