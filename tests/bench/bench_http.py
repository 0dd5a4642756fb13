"""The whole pipeline over HTTP beside a route of the same application without the pipeline."""

import asyncio
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import load
import reference

AREAS = 12
CONNECTIONS = 16
ROUNDS = 5
SECONDS = 2.0
ECHO = "/bench/decode-and-encode"
PIPELINE = "/v1/calculations"
READY_WITHIN = 60.0


def figures() -> list[dict[str, Any]]:
    """Rounds alternate, so that both routes meet the same machine; figures are medians."""
    body = reference.request(AREAS)
    with tempfile.TemporaryDirectory() as folder:
        port = free_port()
        served = Path(__file__).parent / "served.py"
        command = [sys.executable, str(served), folder, str(port)]
        with subprocess.Popen(command) as server:
            try:
                wait(port, server)
                return asyncio.run(_measure(port, body))
            finally:
                server.terminate()


async def _measure(port: int, body: bytes) -> list[dict[str, Any]]:
    for path in (ECHO, PIPELINE):
        await load.run(port, path, body, connections=CONNECTIONS, seconds=SECONDS / 2)
    echo: list[load.Load] = []
    pipeline: list[load.Load] = []
    for _ in range(ROUNDS):
        for path, kept in ((ECHO, echo), (PIPELINE, pipeline)):
            kept.append(await load.run(port, path, body, connections=CONNECTIONS, seconds=SECONDS))
    ratios = [one.rate / other.rate for one, other in zip(pipeline, echo, strict=True)]
    tails = [one.slowest_percent / one.median for one in pipeline]
    return [
        _figure("http.request_bytes", len(body), "byte"),
        _figure("http.answer_bytes", pipeline[0].answer_bytes, "byte"),
        _figure("http.decode_and_encode", _median(echo), "requests/s"),
        _figure("http.pipeline", _median(pipeline), "requests/s"),
        _figure("http.pipeline_over_decode_and_encode", statistics.median(ratios), "ratio"),
        _figure("http.pipeline_p50", statistics.median(x.median for x in pipeline) * 1e3, "ms"),
        _figure("http.pipeline_p99_over_p50", statistics.median(tails), "ratio"),
    ]


def _median(loads: list[load.Load]) -> float:
    return statistics.median(one.rate for one in loads)


def _figure(name: str, value: float, unit: str) -> dict[str, Any]:
    return {"name": name, "value": value, "unit": unit}


def free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port: int = listener.getsockname()[1]
        return port


def wait(port: int, server: subprocess.Popen[bytes]) -> None:
    until = time.monotonic() + READY_WITHIN
    while time.monotonic() < until:
        if server.poll() is not None:
            raise RuntimeError("the server under load did not start")
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return
        time.sleep(0.1)
    raise TimeoutError("the server under load did not answer in time")
