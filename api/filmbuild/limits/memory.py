"""Buckets of one process."""

import time
from collections.abc import Callable, Sequence

from filmbuild.limits.buckets import Charge, Level, settle

_FEWEST_TO_CLEAR = 10_000


class MemoryStore:
    """Forgets buckets that are full again."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._full_at: dict[tuple[str, str], float] = {}
        self._clear_at = _FEWEST_TO_CLEAR

    async def take(self, charges: Sequence[Charge]) -> tuple[Level, ...]:
        now = self._clock()
        known = self._full_at
        names = [(one.owner, one.name) for one in charges]
        levels, kept = settle([known.get(one, 0.0) for one in names], now, charges)
        for name, full_at in zip(names, kept, strict=True):
            if full_at is not None:
                known[name] = full_at
        if len(known) > self._clear_at:
            self._full_at = {name: full for name, full in known.items() if full > now}
            self._clear_at = max(_FEWEST_TO_CLEAR, 2 * len(self._full_at))
        return levels

    async def close(self) -> None:
        self._full_at.clear()
