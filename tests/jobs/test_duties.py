"""What the worker sees to beside jobs, for as long as it is the worker."""

import asyncio

import pytest
from sqlalchemy import URL
from waiting import happens

from filmbuild.db import Database
from filmbuild.jobs import worker as worker_module
from filmbuild.jobs.worker import Worker


async def test_a_duty_is_begun_again_and_ends_with_the_worker(
    database_url: URL, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(worker_module, "POLL_SECONDS", 0.01)
    begun: list[int] = []
    finished: list[str] = []

    async def duty() -> None:
        begun.append(len(begun) + 1)
        if len(begun) == 1:
            raise ZeroDivisionError
        try:
            await asyncio.Event().wait()
        finally:
            finished.append("what it was in the middle of")

    async def twice() -> bool:
        return len(begun) == 2

    worker = Worker(Database(database_url), {}, (duty,))
    task = asyncio.create_task(worker.run())
    await happens(twice)
    worker.stop()
    await task
    assert begun == [1, 2]
    assert finished == ["what it was in the middle of"]


async def test_only_the_worker_is_on_duty(
    database_url: URL, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(worker_module, "POLL_SECONDS", 0.01)
    on_duty: list[str] = []

    def begin(name: str) -> tuple[Worker, asyncio.Task[None]]:
        async def duty() -> None:
            on_duty.append(name)
            try:
                await asyncio.Event().wait()
            finally:
                on_duty.remove(name)

        worker = Worker(Database(database_url), {}, (duty,))
        return worker, asyncio.create_task(worker.run())

    async def first_is() -> bool:
        return on_duty == ["first"]

    async def second_is() -> bool:
        return on_duty == ["second"]

    first, first_task = begin("first")
    await happens(first_is)
    second, second_task = begin("second")
    await asyncio.sleep(0.1)
    assert on_duty == ["first"]
    first.stop()
    await first_task
    await happens(second_is)
    second.stop()
    await second_task
    assert on_duty == []
