"""What a request costs more where it is logged, measured and guarded: the application, called directly.

One request does next to nothing itself, so that what stands around it can be told from it.
"""

import asyncio
import gc
import os
import statistics
import tempfile
import time
from typing import Any

import msgspec
from litestar import Litestar

from filmbuild.app import create_app
from filmbuild.settings import MetricsAccess, Settings, read
from filmbuild.watching.lines import Lines, to_descriptor
from filmbuild.watching.request_lines import RequestLog, as_json

ROUNDS = 15
REQUESTS = 2000
SCOPE: dict[str, Any] = {
    "type": "http",
    "http_version": "1.1",
    "method": "GET",
    "scheme": "http",
    "path": "/v1/health",
    "raw_path": b"/v1/health",
    "query_string": b"",
    "root_path": "",
    "headers": [(b"host", b"localhost"), (b"user-agent", b"filmbuild-sdk/0.1.0 (linux)")],
    "client": ("127.0.0.1", 5000),
    "server": ("127.0.0.1", 8080),
}


def figures() -> list[dict[str, Any]]:
    """Rounds alternate, so that all kinds meet the same machine; figures are medians."""
    with (
        tempfile.TemporaryDirectory() as folder,
        open(os.path.join(folder, "log"), "wb") as file,  # noqa: PTH118, PTH123 - a plain descriptor
    ):
        settings = read({"FILMBUILD_DATA_FOLDER": folder})
        lines = Lines(to_descriptor(file.fileno()))
        log = RequestLog(lines, as_json)
        kinds = {
            "plain": _made(settings, None, "off"),
            "log": _made(settings, log, "off"),
            "metrics": _made(settings, None, "on"),
            "log_and_metrics": _made(settings, log, "on"),
        }
        taken = asyncio.run(_measured(kinds))
        lines.close()
    plain = statistics.median(taken["plain"])
    return [
        _figure("watching.request", plain),
        *(
            _figure(f"watching.{name}_more", statistics.median(taken[name]) - plain)
            for name in kinds
            if name != "plain"
        ),
    ]


def _made(settings: Settings, log: RequestLog | None, metrics: MetricsAccess) -> Litestar:
    return create_app(msgspec.structs.replace(settings, metrics=metrics), request_log=log)


async def _measured(kinds: dict[str, Litestar]) -> dict[str, list[float]]:
    taken: dict[str, list[float]] = {name: [] for name in kinds}
    for app in kinds.values():
        await _round(app)
    gc.freeze()
    for _ in range(ROUNDS):
        for name, app in kinds.items():
            taken[name].append(await _round(app))
    return taken


async def _round(app: Litestar) -> float:
    """Seconds of processor time a request, of all threads: the one that writes is one of them."""
    begun = time.process_time()
    for _ in range(REQUESTS):
        scope: Any = {**SCOPE, "state": {}}
        await app(scope, _receive, _send)
    return (time.process_time() - begun) / REQUESTS


async def _receive() -> Any:
    return {"type": "http.request", "body": b"", "more_body": False}


async def _send(message: object) -> None:
    assert message


def _figure(name: str, seconds: float) -> dict[str, Any]:
    return {"name": name, "value": round(seconds * 1e6, 2), "unit": "us"}
