"""Each place where buckets are kept: shared exactly by processes, and left alone where it fails."""

import asyncio
import multiprocessing
import sqlite3
from collections.abc import Callable
from multiprocessing.queues import Queue
from multiprocessing.synchronize import Barrier
from pathlib import Path

import pytest
from private_valkey import Server

from filmbuild.limits.buckets import Charge, Store
from filmbuild.limits.file import FileStore
from filmbuild.limits.memory import MemoryStore
from filmbuild.limits.patience import PAUSE_SECONDS, Event, OpenWhereItFails
from filmbuild.limits.valkey import ValkeyStore
from filmbuild.settings import Allowance

PROCESSES = 2
TRIES = 400
BURST = 500
COST = 2
FINISHING_SECONDS = 60
LONG_ENOUGH = 20.0
NEVER_REFILLED = Allowance(1e-6, BURST)
MakeStore = Callable[[], Store]


def charge(
    allowance: Allowance = NEVER_REFILLED,
    cost: float = COST,
    *,
    name: str = "k",
    forced: bool = False,
) -> Charge:
    return Charge(owner="o", name=name, policy="p", allowance=allowance, cost=cost, forced=forced)


@pytest.fixture(params=["memory", "file", "valkey"])
def make_store(request: pytest.FixtureRequest, tmp_path: Path) -> MakeStore:
    if request.param == "memory":
        return MemoryStore
    if request.param == "file":
        return lambda: FileStore(tmp_path / "folder" / "limits.sqlite3", LONG_ENOUGH)
    server: Server = request.getfixturevalue("valkey")
    return lambda: ValkeyStore(server.url, LONG_ENOUGH)


def taker(make: MakeStore, start: Barrier, told: "Queue[tuple[int, int]]") -> None:
    async def run() -> tuple[int, int]:
        store = make()
        start.wait()
        admitted, charged = 0, charge()
        for _ in range(TRIES):
            (level,) = await store.take((charged,))
            admitted += level.admitted
        await store.close()
        return admitted, level.left

    told.put(asyncio.run(run()))


@pytest.mark.parametrize("make_store", ["file", "valkey"], indirect=True)
def test_two_processes_let_through_the_allowance_and_no_more(make_store: MakeStore) -> None:
    context = multiprocessing.get_context("fork")
    start, told = context.Barrier(PROCESSES), context.Queue()
    running = [
        context.Process(target=taker, args=(make_store, start, told)) for _ in range(PROCESSES)
    ]
    for process in running:
        process.start()
    found = [told.get(timeout=FINISHING_SECONDS) for _ in running]
    for process in running:
        process.join(FINISHING_SECONDS)
    assert [process.exitcode for process in running] == [0] * PROCESSES
    assert sum(admitted for admitted, _ in found) * COST == BURST
    assert [left for _, left in found] == [0] * PROCESSES


async def test_every_store_counts_alike(make_store: MakeStore) -> None:
    store = make_store()
    allowance = Allowance(1e-3, 10)
    (level,) = await store.take((charge(allowance, 4),))
    assert (level.admitted, level.left, level.seconds) == (True, 6, 4000)
    (level,) = await store.take((charge(allowance, 7),))
    assert (level.admitted, level.left, level.seconds) == (False, 6, 1000)
    (level,) = await store.take((charge(allowance, 50, name="other"),))
    assert (level.admitted, level.left) == (True, 0)
    both = (charge(allowance, 1), charge(allowance, 1, name="other"))
    assert [one.admitted for one in await store.take(both)] == [True, False]
    (level,) = await store.take((charge(allowance, 6),))
    assert (level.admitted, level.left) == (True, 0)
    (level,) = await store.take((charge(allowance, 3, forced=True),))
    assert (level.admitted, level.left) == (True, 0)
    await store.close()


async def test_a_damaged_file_is_made_anew(tmp_path: Path) -> None:
    path = tmp_path / "limits.sqlite3"
    path.write_bytes(b"this is no database" * 1000)
    buckets = OpenWhereItFails(FileStore(path), clock=lambda: 0.0)
    assert await buckets.take(charge()) == ()
    again = OpenWhereItFails(FileStore(path))
    (level,) = await again.take(charge())
    assert level.admitted
    await again.close()


async def test_a_locked_file_limits_nobody(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    path = tmp_path / "limits.sqlite3"
    now = 0.0
    events: list[Event] = []
    buckets = OpenWhereItFails(FileStore(path), events.append, lambda: now)
    (level,) = await buckets.take(charge())
    assert level.left == BURST - COST
    with sqlite3.connect(path, isolation_level=None) as other:
        other.execute("begin exclusive")
        for _ in range(5):
            assert await buckets.take(charge()) == ()
        other.execute("rollback")
    other.close()
    assert events == ["store-failed"], "only one request may have waited for it"
    assert [one.levelname for one in caplog.records] == ["WARNING"]
    assert await buckets.take(charge()) == ()
    now += PAUSE_SECONDS
    (level,) = await buckets.take(charge())
    assert level.left == BURST - 2 * COST
    await buckets.close()


async def test_a_server_that_goes_away_limits_nobody_until_it_is_back(
    valkey: Server, caplog: pytest.LogCaptureFixture
) -> None:
    now = 0.0
    events: list[Event] = []
    buckets = OpenWhereItFails(ValkeyStore(valkey.url, LONG_ENOUGH), events.append, lambda: now)
    assert await buckets.take(charge())
    valkey.stop()
    for _ in range(5):
        assert await buckets.take(charge()) == ()
    now += PAUSE_SECONDS
    assert await buckets.take(charge()) == ()
    assert events == ["store-failed"] * 2
    assert len(caplog.records) == 1, "what lasts is said once"
    valkey.start()
    now += PAUSE_SECONDS
    (level,) = await buckets.take(charge())
    assert level.left == BURST - COST
    await buckets.close()


async def test_a_server_that_never_answers_limits_nobody() -> None:
    """It takes connections, and says nothing."""
    held = []
    listener = await asyncio.start_server(lambda *both: held.append(both), "127.0.0.1", 0)
    port = listener.sockets[0].getsockname()[1]
    buckets = OpenWhereItFails(ValkeyStore(f"redis://127.0.0.1:{port}/0"))
    assert await buckets.take(charge()) == ()
    await buckets.close()
    for _, writer in held:
        writer.close()
    listener.close()
