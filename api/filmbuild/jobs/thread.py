"""The worker of a process that also serves: in a thread with an event loop of its own."""

import asyncio
import logging
import threading
from collections.abc import Callable
from typing import Literal

from filmbuild.jobs.worker import Worker

logger = logging.getLogger("filmbuild.jobs")


class WorkerThread:
    """`build` makes the worker inside the thread, with connections that are its own."""

    def __init__(self, build: Callable[[], Worker]) -> None:
        self._build = build
        self._thread = threading.Thread(target=self._run, name="worker", daemon=True)
        self._ready = threading.Event()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._worker: Worker | None = None

    @property
    def state(self) -> Literal["working", "standing-by", "ended"]:
        if not self._thread.is_alive() or self._worker is None:
            return "ended"
        return "working" if self._worker.at_work else "standing-by"

    def start(self) -> None:
        self._thread.start()
        self._ready.wait()

    def stop(self) -> None:
        """Blocking: returns once the portion that is being done is finished."""
        if self._loop is not None and self._worker is not None and self._thread.is_alive():
            self._loop.call_soon_threadsafe(self._worker.stop)
        self._thread.join()

    def _run(self) -> None:
        asyncio.run(self._work())

    async def _work(self) -> None:
        self._loop = asyncio.get_running_loop()
        try:
            self._worker = self._build()
        finally:
            self._ready.set()
        try:
            await self._worker.run()
        except Exception:
            logger.exception("the worker ended")
