"""The service as it is run, under load: what keys, limits and the log cost, its tail, its memory.

And what is lost, and for how long, when one of three processes is killed. `--short` makes rounds,
and the run for memory, shorter.
"""

import asyncio
import os
import statistics
from collections.abc import Iterator
from itertools import cycle, islice
from pathlib import Path
from typing import Any, NamedTuple

import load
import reference
import service_failover
import service_processes
from service_processes import Process
from sqlalchemy import URL

SHORT = bool(os.environ.get("BENCH_SHORT"))
AREAS = 12
CONNECTIONS = 16
ROUNDS = 4 if SHORT else 10
SECONDS = 1.5 if SHORT else 2.5
PIPELINE = "/v1/calculations"
SHARE_OF_HIGHEST = 0.7
PACED_SECONDS = 6.0 if SHORT else 20.0
REQUESTS = 20_000 if SHORT else 200_000
MARKS = 10
CALCULATIONS_EVERY = 200
BUSY = 8
AGENTS = 50


def figures() -> Iterator[dict[str, Any]]:
    with service_processes.sqlite() as (url, folder):
        yield from _load("sqlite", url, folder)
        yield from _memory(url, folder)
    with service_processes.postgresql() as there:
        if there is not None:
            yield from _load("postgresql", *there)
            yield from service_failover.figures(*there)


class Round(NamedTuple):
    """Answers a second, and the server's processor time for one [s]."""

    rate: float
    processor: float


def _load(name: str, url: URL, folder: Path) -> list[dict[str, Any]]:
    """Rounds of both kinds alternate; ratios are of neighbours.

    Where the machine has other work, the ratio of processor times is the steadier of the two.
    """
    body = reference.request(AREAS)
    kinds = ("whole", "bare")
    with (
        service_processes.serving(kinds[0], url, folder) as whole,
        service_processes.serving(kinds[1], url, folder) as bare,
    ):
        rounds = asyncio.run(_alternating(whole, bare, body))
        highest = statistics.median(mine.rate for mine, _ in rounds)
        rate = SHARE_OF_HIGHEST * highest
        tail = asyncio.run(load.paced(whole.port, PIPELINE, body, rate=rate, seconds=PACED_SECONDS))
    rates = [mine.rate / other.rate for mine, other in rounds]
    processor = [other.processor / mine.processor for mine, other in rounds]
    slowest = tail.slowest_percent / tail.median
    return [
        _figure(f"service.{name}", highest, "requests/s"),
        *_ratios(f"service.{name}_over_bare", rates),
        *_ratios(f"service.{name}_over_bare_by_processor", processor),
        _figure(f"service.{name}.paced", tail.rate, "requests/s"),
        _figure(f"service.{name}.paced_p50", tail.median * 1e3, "ms"),
        _figure(f"service.{name}.paced_p99_over_p50", slowest, "ratio"),
    ]


def _ratios(name: str, found: list[float]) -> Iterator[dict[str, Any]]:
    yield _figure(name, statistics.median(found), "ratio")
    yield _figure(f"{name}.least", min(found), "ratio")
    yield _figure(f"{name}.most", max(found), "ratio")


async def _alternating(whole: Process, bare: Process, body: bytes) -> list[tuple[Round, Round]]:
    async def one(server: Process) -> Round:
        before = server.processor_seconds
        answered = await load.run(
            server.port, PIPELINE, body, connections=CONNECTIONS, seconds=SECONDS
        )
        return Round(answered.rate, (server.processor_seconds - before) / answered.answers)

    for server in (whole, bare):
        await one(server)
    found = []
    for turn in range(ROUNDS):
        # who comes first changes, as one may leave the machine warm for the other
        if turn % 2:
            mine, other = await one(whole), await one(bare)
        else:
            other, mine = await one(bare), await one(whole)
        found.append((mine, other))
    return found


def _memory(url: URL, folder: Path) -> list[dict[str, Any]]:
    """Resident memory at even marks, and its slope over the last two thirds of them."""
    with service_processes.serving("whole", url, folder) as server:
        sizes = asyncio.run(_resident(server))
    marks = [REQUESTS * number // MARKS for number in range(1, MARKS + 1)]
    late = slice(MARKS // 3, None)
    slope = statistics.linear_regression(marks[late], sizes[late]).slope
    return [
        *(
            _figure(f"service.resident_after_{mark}", size / 2**20, "MiB")
            for mark, size in zip(marks, sizes, strict=True)
        ),
        _figure("service.resident_slope", slope * 1000 / 1024, "KiB/1000 requests"),
    ]


async def _resident(server: Process) -> list[int]:
    sizes: list[int] = []
    lines = [load.Line(server.port) for _ in range(BUSY)]
    asked = cycle(_mixed(server.port))
    for _ in range(MARKS):
        portion = islice(asked, REQUESTS // MARKS)
        await asyncio.gather(*(_send(line, portion) for line in lines))
        sizes.append(server.resident)
    for line in lines:
        line.close()
    return sizes


async def _send(line: load.Line, portion: Iterator[bytes]) -> None:
    for one in portion:
        status, _ = await line.ask(one)
        if status not in (200, 404):
            raise RuntimeError(f"an answer of {status}")


def _mixed(port: int) -> list[bytes]:
    """Reads, some of what is not there, by many programs; a few calculations of many sites."""
    found: list[bytes] = []
    for number in range(AGENTS):
        agent = f"benchmark/{number}.0"
        reads = [
            load.message(port, "/v1/estimates?limit=1", user_agent=agent),
            load.message(port, "/v1/estimates/est_of_nobody", user_agent=agent),
            load.message(port, "/v1/organisation", user_agent=agent),
        ]
        found += islice(cycle(reads), CALCULATIONS_EVERY - 1)
        site = reference.request(1 + number % 3)
        found.append(load.message(port, PIPELINE, site, user_agent=agent))
    return found


def _figure(name: str, value: float, unit: str) -> dict[str, Any]:
    return {"name": name, "value": value, "unit": unit}
