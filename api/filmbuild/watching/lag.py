"""How far the event loop is behind: what takes it for long keeps every request waiting."""

import asyncio
from time import perf_counter

EVERY_SECONDS = 0.5


class Lag:
    """`latest` is how late the loop came back when it was last to come back at a given time [s]."""

    def __init__(self) -> None:
        self.latest = 0.0

    async def measure(self) -> None:
        """Until cancelled."""
        while True:
            begun = perf_counter()
            await asyncio.sleep(EVERY_SECONDS)
            self.latest = max(0.0, perf_counter() - begun - EVERY_SECONDS)

    async def read(self) -> float:
        return self.latest
