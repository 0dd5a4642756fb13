"""Figures that are asked for only when somebody looks: how long queues are, what is in memory."""

import asyncio
import logging
from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from typing import NamedTuple

PATIENCE_SECONDS = 2.0
logger = logging.getLogger("filmbuild.metrics")

Query = Callable[[], Awaitable[float | None]]


@dataclass(frozen=True, slots=True)
class _Asked:
    name: str
    help: str
    query: Query


class Figure(NamedTuple):
    name: str
    help: str
    value: float


class Gauges:
    """Features register what they can tell; a query that fails takes only its own figure away."""

    def __init__(self) -> None:
        self._asked: list[_Asked] = []

    def add(self, name: str, help: str, query: Query) -> None:  # noqa: A002 - what Prometheus calls it
        """`name` is without the prefix filmbuild_; a query answers None where there is no figure.

        Raises ValueError where the name is taken.
        """
        if any(one.name == name for one in self._asked):
            raise ValueError(f"there is a gauge {name} already")
        self._asked.append(_Asked(name, help, query))

    async def read(self, failed: Callable[[str], None]) -> list[Figure]:
        """`failed` is told the name of each that could not be read."""
        values = await asyncio.gather(*(self._read(one, failed) for one in self._asked))
        return [
            Figure(f"filmbuild_{one.name}", one.help, value)
            for one, value in zip(self._asked, values, strict=True)
            if value is not None
        ]

    async def _read(self, asked: _Asked, failed: Callable[[str], None]) -> float | None:
        try:
            async with asyncio.timeout(PATIENCE_SECONDS):
                return await asked.query()
        except Exception as error:  # noqa: BLE001 - the other figures are to be told all the same
            logger.warning("the gauge %s was not read: %s", asked.name, error)
            failed(f"gauge-{asked.name}")
            return None
