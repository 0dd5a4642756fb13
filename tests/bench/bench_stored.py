"""Estimates made and kept over HTTP, beside the same estimates computed and not kept.

Each database under a server process of its own; the two routes take turns within one run, so that
both meet the same machine.
"""

import asyncio
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import bench_http
import load
import private_cluster
import reference

CONNECTIONS = 4
ROUNDS = 6
SECONDS = 2.0
PIPELINE = "/v1/calculations"
STORED = "/v1/estimates"


def figures() -> list[dict[str, Any]]:
    """Medians; the server keeps every estimate it is sent, tens of megabytes in all."""
    found = _measured("sqlite", None)
    binaries = private_cluster.programs()
    if binaries is not None:
        with private_cluster.cluster(binaries) as cluster:
            url = cluster.create("bench").render_as_string(hide_password=False)
            found += _measured("postgresql", url)
    return found


def _measured(name: str, url: str | None) -> list[dict[str, Any]]:
    body = reference.request(bench_http.AREAS)
    with _server(url) as port:
        stored, computed = asyncio.run(_measure(port, body))
    ratios = [one.rate / other.rate for one, other in zip(stored, computed, strict=True)]
    rate = statistics.median(one.rate for one in stored)
    return [
        {"name": f"stored.{name}", "value": rate, "unit": "requests/s"},
        {
            "name": f"stored.{name}_over_not_stored",
            "value": statistics.median(ratios),
            "unit": "ratio",
        },
    ]


@contextmanager
def _server(url: str | None) -> Iterator[int]:
    with tempfile.TemporaryDirectory() as folder:
        port = bench_http.free_port()
        served = Path(__file__).parent / "served.py"
        command = [sys.executable, str(served), folder, str(port), *([url] if url else [])]
        with subprocess.Popen(command) as server:
            try:
                bench_http.wait(port, server)
                yield port
            finally:
                server.terminate()


async def _measure(port: int, body: bytes) -> tuple[list[load.Load], list[load.Load]]:
    for path in (PIPELINE, STORED):
        await load.run(port, path, body, connections=CONNECTIONS, seconds=SECONDS / 2)
    stored: list[load.Load] = []
    computed: list[load.Load] = []
    for _ in range(ROUNDS):
        for path, kept in ((PIPELINE, computed), (STORED, stored)):
            kept.append(await load.run(port, path, body, connections=CONNECTIONS, seconds=SECONDS))
    return stored, computed
