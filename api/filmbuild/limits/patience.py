"""A store that does not answer limits nobody, and is left alone for a while."""

import logging
import time
from collections.abc import Callable
from typing import Literal

from filmbuild.limits.buckets import Charge, Level, Store, StoreFailed

PAUSE_SECONDS = 5.0
Event = Literal["refused", "store-failed"]
logger = logging.getLogger("filmbuild.limits")


def unnoticed(_event: Event) -> None:
    """For who counts nothing."""


class OpenWhereItFails:
    """One failure is waited for in each pause; it is logged once until the store answers again."""

    def __init__(
        self,
        store: Store,
        note: Callable[[Event], None] = unnoticed,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._store = store
        self._note = note
        self._clock = clock
        self._failing = False
        self._again_at = 0.0

    async def take(self, *charges: Charge) -> tuple[Level, ...]:
        """Nothing where the store does not answer."""
        if self._failing:
            now = self._clock()
            if now < self._again_at:
                return ()
            self._again_at = now + PAUSE_SECONDS
        try:
            levels = await self._store.take(charges)
        except StoreFailed as failure:
            self._failed(failure)
            return ()
        if self._failing:
            self._failing = False
            logger.warning("limits are kept again")
        return levels

    async def close(self) -> None:
        await self._store.close()

    def _failed(self, failure: StoreFailed) -> None:
        self._note("store-failed")
        self._again_at = self._clock() + PAUSE_SECONDS
        if not self._failing:
            self._failing = True
            logger.warning("limits are not kept for now: %s", failure)
