"""The mix plan: how large a mix may be, how many there are, and which areas each one serves."""

import math
from collections.abc import Iterator, Sequence

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.materials.crew import Pace
from filmbuild.pipeline.materials.film import EQUAL
from filmbuild.pipeline.materials.parts import kit_volume, split
from filmbuild.pipeline.results import Mix
from filmbuild.pipeline.specification import PricedPack, Product
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Duration, Volume

SMALLEST_MIX = 50e-6
"""[m3] Below this nobody can measure parts by ratio on a floor (common practice, no source)."""
MOST_MIXES = 20_000


class Demand(msgspec.Struct, frozen=True):
    """What one coat or repair needs, area by area in placing order.

    `volume` [m3] is net, `covers` [m2] what it covers, `time` [s] the crew's placing time, and
    `placed` [m3] the part of the volume that fixes how long placing takes: the film, or the void.
    """

    areas: list[str]
    volume: list[float]
    covers: list[float]
    time: list[float]
    placed: list[float]


class Batch(msgspec.Struct, frozen=True):
    """How a product is mixed here: its times, and the crew that places it."""

    label: str
    product: Product
    packs: tuple[PricedPack, ...]
    thinner: float
    life: Duration
    life_rule: str
    pace: Pace
    temperature: float


class MixPlan(msgspec.Struct, frozen=True):
    """`ordered = base + residue`, where `residue` stays behind in the mixing containers."""

    residue: float
    ordered: float
    mixes: tuple[Mix, ...]
    trace: Trace


class _Limit(msgspec.Struct, frozen=True):
    volume: float
    reason: str


def plan_mixes(
    batch: Batch, demand: Demand, base: float, revision: int, faults: Faults
) -> MixPlan | None:
    """Mixes for a base volume [m3] (net over loss, and soak), or None with a fault.

    With a residue r in each container and mixes of at most M, n mixes yield n (M - r), so the least
    number that is enough is n = ceil(base / (M - r)); the volume is then base + n r. That is
    the least fixed point of "the volume needs n mixes, and n mixes need the volume": counting up
    from no mixes, every smaller n leaves a volume that n mixes cannot hold.
    """
    demand = _without_gaps(demand)
    limit = _largest_mix(batch, demand, base, faults)
    if limit is None:
        return None
    residue = batch.product.container_residue or 0.0
    kit = _whole_kit(batch, limit.volume, residue)
    size = kit[1] if kit else limit.volume
    count = _count(batch, base, size, residue, faults)
    if count is None:
        return None
    ordered = base + count * residue
    name = None
    if kit and ordered >= size * (1 - EQUAL):
        name = kit[0]
        volumes = [size] * (count - 1) + [ordered - (count - 1) * size]
    else:
        volumes = [ordered / count] * count
    trace = Trace(
        "materials.mix-plan",
        {
            "base_volume": Volume(base),
            "largest_mix": Volume(min(limit.volume, ordered)),
            "limited_by": limit.reason,
            "whole_kit": name,
            "container_residue": Volume(residue),
            "mixes": count,
            "working_life": batch.life,
            "working_life_rule": batch.life_rule,
            "mixing_time": batch.product.mixing_time,
            "gangs": batch.pace.gangs,
        },
        revision,
    )
    mixes = tuple(_mixes(batch, demand, volumes, name, size))
    return MixPlan(count * residue, ordered, mixes, trace)


def _without_gaps(demand: Demand) -> Demand:
    """Areas that this coat does not need are left out."""
    if all(demand.volume):
        return demand
    kept = [index for index, volume in enumerate(demand.volume) if volume > 0]
    return Demand(
        [demand.areas[index] for index in kept],
        [demand.volume[index] for index in kept],
        [demand.covers[index] for index in kept],
        [demand.time[index] for index in kept],
        [demand.placed[index] for index in kept],
    )


def _largest_mix(batch: Batch, demand: Demand, base: float, faults: Faults) -> _Limit | None:
    """The least of what the container, the product and the working life allow."""
    left = batch.life - batch.product.mixing_time
    slowest = max(
        (time / placed for time, placed in zip(demand.time, demand.placed, strict=True) if placed),
        default=0.0,
    )
    in_time = left / slowest if slowest > 0 else math.inf
    if left <= 0 or in_time < min(SMALLEST_MIX, base):
        _too_short(batch, left, in_time, faults)
        return None
    limits = [_Limit(in_time, "working_life")]
    if batch.product.container is not None:
        limits.append(_Limit(batch.product.container, "container"))
    if batch.product.largest_mix is not None:
        limits.append(_Limit(batch.product.largest_mix, "largest_mix"))
    least = min(limits, key=lambda one: one.volume)
    return least if math.isfinite(least.volume) else _Limit(2 * base, "need")


def _too_short(batch: Batch, left: float, in_time: float, faults: Faults) -> None:
    start = (
        f"{batch.label}: at {batch.temperature:g} degC {batch.product.id} can be worked for "
        f"{batch.life / 60:.1f} min and mixing takes {batch.product.mixing_time / 60:.1f} min"
    )
    if left <= 0:
        way = "; choose a cooler surface or a slower product"
    else:
        pace = batch.pace
        gangs = math.ceil(pace.gangs * SMALLEST_MIX / in_time)
        way = (
            f", which leaves a mix of {in_time * 1e6:.0f} mL where {SMALLEST_MIX * 1e6:.0f} mL is "
            "the least that is measured by ratio; "
        )
        if gangs <= pace.gangs_maximum:
            way += f"a crew of {gangs * pace.gang} would place that in time"
        else:
            way += "no crew of this rate book is fast enough: choose a slower product"
    faults.add("working-life-too-short", start + way, "system")


def _whole_kit(batch: Batch, largest: float, residue: float) -> tuple[str, float] | None:
    """The largest kit that fits the largest mix, and the volume it makes with its thinner."""
    best: tuple[str, float] | None = None
    for priced in batch.packs:
        volume = kit_volume(priced.pack, batch.product)
        if volume is None:
            continue
        volume *= 1 + batch.thinner
        if residue < volume <= largest * (1 + EQUAL) and (best is None or volume > best[1]):
            best = (priced.pack.id, volume)
    return best


def _count(batch: Batch, base: float, size: float, residue: float, faults: Faults) -> int | None:
    if size <= residue:
        faults.add(
            "mix-below-residue",
            f"{batch.label}: a mix of {size * 1e6:.0f} mL is all left in its container, which "
            f"keeps {residue * 1e6:.0f} mL; a larger crew or a slower product makes larger mixes",
            "system",
        )
        return None
    count = max(base / (size - residue), 0.0)
    if count > MOST_MIXES:
        faults.add(
            "too-many-mixes",
            f"{batch.label}: {count:.0f} mixes of {size * 1e3:.3g} L are needed; at most "
            f"{MOST_MIXES} are planned: divide the site, or choose a product in larger mixes",
            "system",
        )
        return None
    return max(1, math.ceil(count * (1 - EQUAL)))


def _mixes(
    batch: Batch, demand: Demand, volumes: Sequence[float], kit: str | None, size: float
) -> Iterator[Mix]:
    """Mixes serve the areas one after the other: the last of one area may begin the next."""
    product = batch.product
    mixing_time = Duration(product.mixing_time)
    shared = split(product, volumes[0] / (1 + batch.thinner))
    stretches = _stretches(demand, volumes)
    for number, (volume, stretch) in enumerate(zip(volumes, stretches, strict=True), 1):
        covers, time, areas = stretch
        same = volume == volumes[0]
        yield Mix(
            number=number,
            whole_kit=kit if kit and abs(volume - size) <= EQUAL * size else None,
            volume=Volume(volume),
            parts=shared if same else split(product, volume / (1 + batch.thinner)),
            mixing_time=mixing_time,
            working_life=batch.life,
            placing_time=Duration(time),
            covers=Area(covers),
            areas=areas,
        )


def _stretches(
    demand: Demand, volumes: Sequence[float]
) -> Iterator[tuple[float, float, tuple[str, ...]]]:
    """What each mix covers [m2], how long that takes [s], and in which areas.

    Loss, soak and residue are shared over the mixes by volume.
    """
    amounts, covers, times = demand.volume, demand.covers, demand.time
    share = sum(amounts) / sum(volumes)
    index, last = 0, len(amounts) - 1
    whole = left = amounts[0]
    for volume in volumes:
        wanted = volume * share
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
        yield covered, time, tuple(demand.areas[first : served + 1])
