"""Mixes serve the areas one after the other: the last of one area may begin the next."""

from collections.abc import Iterator, Sequence

import msgspec

from filmbuild.pipeline.materials.demand import Demand
from filmbuild.pipeline.materials.film import EQUAL


class Stretch(msgspec.Struct, frozen=True):
    """What a mix covers [m2], how long placing it takes [s], and the areas it goes to."""

    covers: float
    time: float
    areas: tuple[str, ...]


def stretches(
    demand: Demand, times: Sequence[float], volumes: Sequence[float]
) -> Iterator[Stretch]:
    """What each net volume [m3] comes to, where the areas take so long [s]."""
    amounts, covers = demand.volume, demand.covers
    index, last = 0, len(amounts) - 1
    whole = left = amounts[0]
    for volume in volumes:
        wanted = volume
        least = wanted * EQUAL
        covered = time = 0.0
        first = index
        while True:
            taken = min(left, wanted)
            part = taken / whole
            covered += part * covers[index]
            time += part * times[index]
            left -= taken
            wanted -= taken
            served = index
            if left <= EQUAL * whole:
                if index == last:
                    break
                index += 1
                whole = left = amounts[index]
            if wanted <= least:
                break
        yield Stretch(covered, time, tuple(demand.areas[first : served + 1]))
