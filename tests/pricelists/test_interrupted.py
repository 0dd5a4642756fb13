"""Updates that are cut off, and updates at once: whole or not at all."""

import asyncio
import os
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager, contextmanager
from pathlib import Path

import calling
import httpx
import pytest
from price_update_cases import CSV, DAY, KIT, PAIL, UPDATES
from serving import settings_for
from sqlalchemy import URL, text

from filmbuild.app import create_app
from filmbuild.db import EVERYONE, Database

WITHIN = 60.0
MANY_AT_ONCE = 9
TABLE = f"pack,amount\n{KIT},200.00\n{PAIL},1.00\n"
ASKED = {"currency": "USD", "effective_from": DAY}
DAYS = [
    f"{year}-{month:02d}-{day:02d}"
    for year in range(2030, 2070)
    for month in range(1, 13)
    for day in range(1, 29)
]


def large() -> bytes:
    """Some 27,000 rows: two packs on each of many days."""
    rows = (f"{pack},1.00,{day}" for day in DAYS for pack in (KIT, PAIL))
    return "\n".join(["pack,amount,effective_from", *rows]).encode()


async def count(url: URL) -> tuple[int, int, int]:
    """Revisions, updates, and prices that came after the demo."""
    database = Database(url)
    async with database.reader(EVERYONE) as connection:
        found = [
            await connection.scalar(text(f"SELECT count(*) FROM {table}"))  # noqa: S608 - of this test's own text
            for table in ("catalogue_revision", "price_update", "pack_price WHERE revision > 1")
        ]
    await database.dispose()
    revisions, updates, prices = map(int, found)
    return revisions, updates, prices


def answers(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


@contextmanager
def served(url: URL) -> Iterator[tuple[int, "subprocess.Popen[bytes]"]]:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        port = listener.getsockname()[1]
    environment = os.environ | {
        "FILMBUILD_DATABASE_URL": url.render_as_string(hide_password=False)
        .replace("+asyncpg", "")
        .replace("+aiosqlite", ""),
        "FILMBUILD_PORT": str(port),
    }
    program = [sys.executable, "-c", "from filmbuild.cli import main; main()", "serve"]
    with subprocess.Popen(program, env=environment, stderr=subprocess.DEVNULL) as server:
        try:
            until = time.monotonic() + WITHIN
            while not answers(port):
                assert server.poll() is None
                assert time.monotonic() < until
                time.sleep(0.05)
            yield port, server
        finally:
            server.kill()


@pytest.mark.parametrize("after", [0.2])
async def test_a_server_that_is_killed_has_written_all_or_nothing(
    loaded_database_url: URL, after: float
) -> None:
    body = large()
    ended = threading.Event()

    def send(port: int) -> None:
        try:
            path = f"http://127.0.0.1:{port}{UPDATES}"
            httpx.post(path, content=body, headers=CSV, params=ASKED, timeout=WITHIN)
        except httpx.HTTPError:
            pass
        finally:
            ended.set()

    def run() -> None:
        with served(loaded_database_url) as (port, server):
            sending = threading.Thread(target=send, args=(port,))
            sending.start()
            ended.wait(after)
            server.send_signal(signal.SIGKILL)
            sending.join()

    await asyncio.to_thread(run)
    revisions, updates, prices = await count(loaded_database_url)
    assert (revisions, updates, prices) in {(1, 0, 0), (2, 1, 2 * len(DAYS))}
    async with running(loaded_database_url) as client:
        more = await client.post(UPDATES, content=TABLE, headers=CSV, params=ASKED)
    assert more.status_code == 201


async def test_a_caller_who_stops_halfway_has_changed_nothing(loaded_database_url: URL) -> None:
    def run() -> None:
        with served(loaded_database_url) as (port, _):
            with socket.create_connection(("127.0.0.1", port)) as connection:
                head = (
                    f"POST {UPDATES}?currency=USD HTTP/1.1\r\nHost: x\r\nContent-Type: text/csv\r\n"
                )
                connection.sendall(
                    f"{head}Authorization: {calling.HEADERS['authorization']}\r\n"
                    f"Content-Length: {len(TABLE) + 1}\r\n\r\n{TABLE}".encode()
                )
            answered = httpx.get(
                f"http://127.0.0.1:{port}{UPDATES}", headers=calling.HEADERS, timeout=WITHIN
            )
            assert answered.json()["items"] == []

    await asyncio.to_thread(run)
    assert await count(loaded_database_url) == (1, 0, 0)


@asynccontextmanager
async def running(url: URL) -> AsyncIterator[httpx.AsyncClient]:
    """An application of its own in this process."""
    app = create_app(settings_for(url))
    transport = httpx.ASGITransport(app)  # type: ignore[arg-type] # two spellings of one interface
    async with (
        app.lifespan(),
        httpx.AsyncClient(
            transport=transport, base_url="http://test", headers=calling.HEADERS
        ) as client,
    ):
        yield client


async def test_updates_at_once_are_each_whole(loaded_database_url: URL) -> None:
    """Through two applications on one database; the last to come holds."""
    tables = [TABLE.replace("200.00", f"{300 + number}.00") for number in range(MANY_AT_ONCE)]
    async with running(loaded_database_url) as one, running(loaded_database_url) as other:
        answered = await asyncio.gather(
            *(
                (one if number % 2 else other).post(
                    UPDATES, content=table, headers=CSV, params=ASKED
                )
                for number, table in enumerate(tables)
            )
        )
    assert [one.status_code for one in answered] == [201] * MANY_AT_ONCE
    made = sorted(one.json()["revision"] for one in answered)
    assert made == list(range(2, 2 + MANY_AT_ONCE))
    # the first changes both packs, each later one the kit alone, as it saw what came before it
    assert await count(loaded_database_url) == (1 + MANY_AT_ONCE, MANY_AT_ONCE, 1 + MANY_AT_ONCE)


async def test_a_key_at_once_makes_one_update(loaded_database_url: URL) -> None:
    headers = {**CSV, "idempotency-key": "once"}
    async with running(loaded_database_url) as client:
        answered = await asyncio.gather(
            *(client.post(UPDATES, content=TABLE, headers=headers, params=ASKED) for _ in range(4))
        )
    assert {one.status_code for one in answered} <= {201, 409}
    assert len({one.content for one in answered if one.status_code == 201}) == 1
    assert await count(loaded_database_url) == (2, 1, 2)


def test_a_large_update_takes_no_more_memory_than_a_small_one(tmp_path: Path) -> None:
    """What the reading and the checking hold at once, by Python's own count."""
    program = Path(__file__).with_name("measured_check.py")
    ran = subprocess.run(
        [sys.executable, str(program), str(tmp_path)], capture_output=True, check=True, text=True
    )
    small, large = map(int, ran.stdout.split())
    assert large < 1.5 * small, f"{small} bytes at most for 5,000 rows, {large} for 30,000"
