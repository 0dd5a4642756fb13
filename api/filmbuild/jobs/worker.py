"""Finds what is due, and has it done."""

import asyncio
import logging
from collections.abc import Sequence
from datetime import UTC, datetime

from sqlalchemy.exc import SQLAlchemyError

from filmbuild.db import EVERYONE, Database
from filmbuild.errors import FilmbuildError, Unavailable
from filmbuild.jobs import durable, store
from filmbuild.jobs.lock import worker_lock
from filmbuild.jobs.work import Duty, Job, Works

logger = logging.getLogger("filmbuild.jobs")
POLL_SECONDS = 0.5
AT_ONCE = 4
MOST_ATTEMPTS = 20
PATIENCE_SECONDS = 30.0


class Worker:
    """One of a process. All of it runs in one event loop, but for the library's own threads."""

    def __init__(self, database: Database, works: Works, duties: Sequence[Duty] = ()) -> None:
        self._database = database
        self._works = works
        self._lock = worker_lock(database.url)
        self._launched = False
        self._stopping = asyncio.Event()
        self._busy = 0
        self._idle = asyncio.Event()
        self._idle.set()
        self._watched: dict[str, Job] = {}
        self._duties = duties
        self._on_duty: list[asyncio.Task[None]] = []

    @property
    def at_work(self) -> bool:
        """Whether it is this worker that works on the database, and no other process's."""
        return self._launched

    def stop(self) -> None:
        """Lets the portions that are being done be finished, and begins no others."""
        self._stopping.set()

    async def run(self) -> None:
        """Until stopped. Where another process is the worker, waits to take its place."""
        self._loop = asyncio.get_running_loop()
        failing = False
        try:
            while not self._stopping.is_set():
                try:
                    await self._turn()
                    failing = False
                except Exception as error:
                    known = isinstance(error, FilmbuildError | SQLAlchemyError | OSError)
                    if not failing:
                        logger.warning("background work waits: %s", error, exc_info=not known)
                    failing = True
                await self._pause()
        finally:
            await self._end()

    async def _turn(self) -> None:
        if not await self._lock.held():
            await self._put_down()
            return
        if not self._launched:
            await asyncio.to_thread(durable.launch, self._database.url, self._from_thread)
            self._launched = True
            self._on_duty = [asyncio.create_task(self._see_to(one)) for one in self._duties]
        await self._dispatch()

    async def _see_to(self, duty: Duty) -> None:
        while True:
            try:
                await duty()
            except Exception:
                logger.exception("a duty of the worker failed, and is begun again")
            await self._pause()

    async def _come_off_duty(self) -> None:
        """Those that have begun something finish it first."""
        for one in self._on_duty:
            one.cancel()
        await asyncio.gather(*self._on_duty, return_exceptions=True)
        self._on_duty = []

    async def _dispatch(self) -> None:
        async with self._database.reader(EVERYONE) as connection:
            due = await store.due(connection, AT_ONCE)
        for job in due:
            self._watched[job.id] = job
            if not await asyncio.to_thread(durable.under_way, job):
                await self._try_again(job)
        for job in [one for one in self._watched.values() if one not in due]:
            if not await asyncio.to_thread(durable.under_way, job):
                await asyncio.to_thread(durable.forget, job)
                del self._watched[job.id]

    async def _try_again(self, job: Job) -> None:
        """An attempt has ended, but not the job: the library gave it up, or could not write."""
        if job.attempt >= MOST_ATTEMPTS:
            await self._fail(job, "The work was begun again and again, and never ended.")
            return
        async with self._database.writer(job.organisation) as connection:
            await store.try_again(connection, job)

    def _from_thread(self, job: Job) -> bool:
        more = asyncio.run_coroutine_threadsafe(self._portion(job), self._loop).result()
        if more is None:
            raise durable.Interrupted
        return more

    async def _portion(self, job: Job) -> bool | None:
        """Whether more is left; None where the worker is to stop."""
        self._busy += 1
        self._idle.clear()
        try:
            while not self._stopping.is_set():
                try:
                    return await self._done(job)
                except Unavailable as error:
                    logger.warning("job %s waits: %s", job.id, error)
                    await self._pause()
            return None
        finally:
            self._busy -= 1
            if not self._busy:
                self._idle.set()

    async def _done(self, job: Job) -> bool:
        work = self._works.get(job.kind)
        try:
            if work is None:
                await self._fail(job, f"This version has no work of the kind {job.kind}.")
                return False
            if await work.portion(job.organisation, job.subject):
                return True
        except Unavailable:
            raise
        except Exception as error:
            logger.exception("job %s failed", job.id)
            await self._fail(job, f"{type(error).__name__}")
            return False
        async with self._database.writer(job.organisation) as connection:
            await store.end(connection, job, "done", datetime.now(UTC))
        return False

    async def _fail(self, job: Job, detail: str) -> None:
        work = self._works.get(job.kind)
        async with self._database.writer(job.organisation) as connection:
            ended = await store.end(connection, job, "failed", datetime.now(UTC), detail)
            if ended and work is not None:
                await work.failed(connection, job.organisation, job.subject, detail)

    async def _pause(self) -> None:
        try:
            async with asyncio.timeout(POLL_SECONDS):
                await self._stopping.wait()
        except TimeoutError:
            pass

    async def _put_down(self) -> None:
        """What is going on stays as it is for whoever is the worker next."""
        await self._come_off_duty()
        if self._launched:
            self._launched = False
            self._watched.clear()
            await asyncio.to_thread(durable.shut_down)

    async def _end(self) -> None:
        leaving = asyncio.create_task(self._come_off_duty())
        try:
            async with asyncio.timeout(PATIENCE_SECONDS):
                await self._idle.wait()
        except TimeoutError:
            logger.warning("stopped in the middle of a portion; it will be done again")
        await leaving
        await self._put_down()
        await self._lock.release()
        await self._database.dispose()
