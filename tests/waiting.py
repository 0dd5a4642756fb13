"""Waits for what another thread or process does, and gives up where it never does."""

import asyncio
import time
from collections.abc import Awaitable, Callable

LONGEST_SECONDS = 30.0
LOOK_SECONDS = 0.02


def until(condition: Callable[[], bool], longest: float = LONGEST_SECONDS) -> None:
    deadline = time.monotonic() + longest
    while not condition():
        if time.monotonic() > deadline:
            raise TimeoutError(f"did not happen in {longest:g} s")
        time.sleep(LOOK_SECONDS)


async def happens(condition: Callable[[], Awaitable[bool]]) -> None:
    async with asyncio.timeout(LONGEST_SECONDS):
        while not await condition():  # noqa: ASYNC110 - what is waited for is in another process
            await asyncio.sleep(LOOK_SECONDS)
