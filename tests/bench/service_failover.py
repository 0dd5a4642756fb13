"""Three processes behind haproxy on PostgreSQL, one of them killed under load and begun again.

Estimates are asked for at even times, each under an idempotency key and again until it is answered.
"""

import asyncio
import math
import os
import time
import urllib.parse
from collections.abc import Iterator
from contextlib import ExitStack
from functools import partial
from itertools import count
from pathlib import Path
from typing import Any

import load
import msgspec
import reference
import service_processes
from calling import ORGANISATION
from proxy import proxied
from service_processes import Process
from sqlalchemy import URL, func, select

from filmbuild.db import Database
from filmbuild.estimates.tables import estimate

PROCESSES = 3
STORED = "/v1/estimates"
CALLERS = 32
SHARE_OF_HIGHEST = 0.5
BEFORE, DOWN, AFTER = (3.0, 2.0, 8.0) if os.environ.get("BENCH_SHORT") else (6.0, 4.0, 12.0)
UNDER_WAY = 12
"""Requests sent at once just before the kill, so that it meets some in the middle."""
WINDOW_SECONDS = 1.0
STEP_SECONDS = 0.1
RECOVERED = 0.9
MOST_TRIES = 60
WAIT_SECONDS = 0.1


class Kept(msgspec.Struct):
    """When answers came, the ids they told, and how often a request was sent again."""

    at: list[float]
    ids: list[str]
    again: int = 0
    lost: int = 0


def figures(url: URL, folder: Path) -> list[dict[str, Any]]:
    with ExitStack() as stack:
        start = partial(service_processes.serving, "whole", url, folder)
        processes = [stack.enter_context(start()) for _ in range(PROCESSES)]
        address = stack.enter_context(proxied([one.port for one in processes], folder))
        port = urllib.parse.urlsplit(address).port or 0
        kept, killed, again = asyncio.run(_run(port, processes, stack, url, folder))
        stored = asyncio.run(_stored(url))
    shares = list(_shares(kept.at, killed))
    return [
        _figure("service.failover.requests", len(kept.ids) + kept.lost, "requests"),
        _figure("service.failover.lost", kept.lost, "requests"),
        _figure("service.failover.done_twice", stored - len(set(kept.ids)), "requests"),
        _figure("service.failover.sent_again", kept.again, "requests"),
        _figure("service.failover.recovery", _recovery(shares), "s"),
        _figure("service.failover.least_over_usual", min(shares), "ratio"),
        _figure("service.failover.restarted_after", again - killed, "s"),
    ]


async def _run(
    port: int, processes: list[Process], stack: ExitStack, url: URL, folder: Path
) -> tuple[Kept, float, float]:
    """What was kept, when one was killed, and when it was ready again."""
    kept = Kept(at=[], ids=[])
    body = reference.request(1)
    numbers = count()
    await _ask_all(port, body, _as_fast_as_can_be(BEFORE), numbers, kept)
    rate = SHARE_OF_HIGHEST * len(kept.at) / BEFORE
    begun = time.perf_counter()
    total = int((BEFORE + DOWN + AFTER) * rate)
    due = iter([begun + number / rate for number in range(total)])
    load_under_way = asyncio.create_task(_ask_all(port, body, due, numbers, kept))
    await asyncio.sleep(BEFORE)
    under_way = Kept(at=[], ids=[])
    due_now = iter([0.0] * UNDER_WAY)
    burst = asyncio.create_task(_ask_all(port, body, due_now, numbers, under_way))
    await asyncio.sleep(STEP_SECONDS)
    processes[0].kill()
    killed = time.perf_counter()
    await asyncio.sleep(DOWN)
    restarted = Process("whole", url, folder, processes[0].port)
    stack.callback(restarted.kill)
    await asyncio.to_thread(restarted.wait)
    again = time.perf_counter()
    await asyncio.gather(burst, load_under_way)
    kept.ids += under_way.ids
    kept.again += under_way.again
    kept.lost += under_way.lost
    return kept, killed, again


def _as_fast_as_can_be(seconds: float) -> Iterator[float]:
    until = time.perf_counter() + seconds
    while time.perf_counter() < until:
        yield 0.0


async def _ask_all(
    port: int, body: bytes, due: Iterator[float], numbers: Iterator[int], kept: Kept
) -> None:
    await asyncio.gather(*(_caller(port, body, due, numbers, kept) for _ in range(CALLERS)))


async def _caller(
    port: int, body: bytes, due: Iterator[float], numbers: Iterator[int], kept: Kept
) -> None:
    line = load.Line(port)
    for one in due:
        await asyncio.sleep(max(0.0, one - time.perf_counter()))
        key = f'"failover-{next(numbers)}"'
        identity = await _until_answered(
            line, load.message(port, STORED, body, idempotency_key=key), kept
        )
        if identity is None:
            kept.lost += 1
        else:
            kept.ids.append(identity)
            kept.at.append(time.perf_counter())
    line.close()


async def _until_answered(line: load.Line, asked: bytes, kept: Kept) -> str | None:
    for _ in range(MOST_TRIES):
        try:
            status, answer = await line.ask(asked)
        except (OSError, EOFError):
            line.close()
        else:
            if status == 201:
                return str(msgspec.json.decode(answer)["id"])
        kept.again += 1
        await asyncio.sleep(WAIT_SECONDS)
    return None


def _shares(at: list[float], killed: float) -> Iterator[float]:
    """Of the usual rate, in windows that begin one step after another from the kill on."""
    usual = sum(killed - BEFORE / 2 <= one < killed for one in at) / (BEFORE / 2)
    start = killed
    while start + WINDOW_SECONDS <= killed + DOWN + AFTER / 2:
        answered = sum(start <= one < start + WINDOW_SECONDS for one in at)
        yield answered / WINDOW_SECONDS / usual
        start += STEP_SECONDS


def _recovery(shares: list[float]) -> float:
    """From the kill to the first window in which enough are answered again; 0 if none had too few."""
    dip = next((place for place, share in enumerate(shares) if share < RECOVERED), None)
    if dip is None:
        return 0.0
    waited = [place for place, share in enumerate(shares) if place > dip and share >= RECOVERED]
    return waited[0] * STEP_SECONDS if waited else math.inf


async def _stored(url: URL) -> int:
    database = Database(url)
    mine = select(func.count()).where(estimate.c.organisation_id == ORGANISATION)
    async with database.reader(ORGANISATION) as connection:
        found = await connection.scalar(mine)
    await database.dispose()
    return int(found or 0)


def _figure(name: str, value: float, unit: str) -> dict[str, Any]:
    return {"name": name, "value": value, "unit": unit}
