"""When each mix is begun and must be down, by a timer started with the coat; and its wet edge."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

import msgspec

from filmbuild.pipeline.materials.demand import Batch, Demand
from filmbuild.pipeline.materials.life import time_of
from filmbuild.pipeline.materials.mix_stretches import Stretch, stretches
from filmbuild.pipeline.trace import Note

INSTANT = 1.0
"""[s] Less than this is no lateness, and no edge is later than another by less."""
_MOST_TRIED = 20_000
"""Mixes, of all crews that are tried for one that meets every wet edge."""


class Moments(msgspec.Struct, frozen=True):
    """[s] From the start of the coat; a mix that is placed `placed_from` on waits for nothing."""

    starts_at: float
    placed_from: float
    down_by: float
    wet_edge_by: float | None

    def late(self, following: "Moments") -> float:
        """[s] How much too late the next mix is begun to be placed."""
        if self.wet_edge_by is None:
            return 0.0
        late = following.placed_from - self.wet_edge_by
        return late if late > INSTANT else 0.0


def mixes_meanwhile(demand: Demand, crew: int | None = None) -> bool:
    """Whether somebody is free to mix while the others place."""
    if crew is None:
        return len(demand.work[0][0].people) > max([pace.workers for pace, _ in demand.work])
    return crew > max([pace.gang * pace.gangs_of(crew) for pace, _ in demand.work])


def open_time(batch: Batch) -> float | None:
    """[s] How long the edge of a placed film stays wet, where the product says so."""
    product = batch.product
    if not product.wet_edge_time:
        return None
    return time_of(product.wet_edge_time, product, batch.temperature)[0]


def moments(
    batch: Batch,
    demand: Demand,
    lives: Sequence[float],
    placed: Sequence[Stretch],
    crew: int | None = None,
) -> list[Moments]:
    """Of all mixes of a coat in placing order: each is placed as soon as it is mixed."""
    premix, mixing = batch.product.premix_time, batch.product.mixing_time
    meanwhile, wet = mixes_meanwhile(demand, crew), open_time(batch)
    start: float = premix
    found = []
    for life, one, edged in zip(lives, placed, _edged(demand, placed), strict=True):
        mixed = start + mixing
        until = mixed + one.time
        edge = start + life if wet is None else until + wet
        found.append(Moments(start, mixed, start + life, edge if edged else None))
        start = max(mixed + premix, until - mixing) if meanwhile else until + premix
    return found


def _edged(demand: Demand, placed: Sequence[Stretch]) -> Iterator[bool]:
    """Whether the next mix goes on in the area in which this one ends; repairs have no edge."""
    film = demand.work[0][0].task == "place_field"
    for one, following in pairwise(placed):
        yield film and one.areas[-1] == following.areas[0]
    yield False


def wet_edge_notes(
    batch: Batch,
    demand: Demand,
    lives: Sequence[float],
    brings: Sequence[float],
    found: Sequence[Moments],
) -> list[Note]:
    """Where edges dry before the next mix [m3, net] gets there, and what crew would be in time."""
    late = _lateness(found)
    if not any(late):
        return []
    worst = max(late)
    edge = next(number for number, one in enumerate(late, 1) if one > worst - INSTANT)
    detail = (
        f"{batch.label}: the edge of mix {edge} has dried for {worst / 60:.1f} min when mix "
        f"{edge + 1} is begun to be placed, the longest of {sum(map(bool, late))} edges that are "
        f"not met wet; {_in_time(batch, demand, lives, brings)}."
    )
    return [Note("wet-edge-not-met", detail)]


def _in_time(batch: Batch, demand: Demand, lives: Sequence[float], brings: Sequence[float]) -> str:
    """Up to where more people change nothing: all gangs, and somebody to mix."""
    people = len(demand.work[0][0].people)
    most = max(pace.largest_crew for pace, _ in demand.work) + 1
    most = min(most, people + max(1, _MOST_TRIED // len(brings)))
    for crew in range(people + 1, most + 1):
        placed = list(stretches(demand, demand.times(crew), brings))
        if not any(_lateness(moments(batch, demand, lives, placed, crew))):
            return f"a crew of {crew} would meet all of them in time"
    return (
        f"no crew of up to {max(people, most)} would: choose a product that stays open longer, or "
        "a cooler surface"
    )


def _lateness(found: Sequence[Moments]) -> list[float]:
    return [one.late(following) for one, following in pairwise(found)]
