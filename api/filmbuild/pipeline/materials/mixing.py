"""The mix plan: how large a mix may be, and which areas each one serves."""

import math
from collections.abc import Iterator

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.materials.demand import Batch, Demand
from filmbuild.pipeline.materials.film import EQUAL
from filmbuild.pipeline.materials.mix_sizes import SMALLEST_MIX, Sizes, mix_sizes
from filmbuild.pipeline.materials.parts import split
from filmbuild.pipeline.results import Mix
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Duration, Temperature, Volume


class MixPlan(msgspec.Struct, frozen=True):
    """`ordered = base + residue`, where `residue` stays behind in the mixing containers."""

    residue: float
    ordered: float
    mixes: tuple[Mix, ...]
    traces: dict[str, Trace]


def plan_mixes(
    batch: Batch, demand: Demand, base: float, revision: int, faults: Faults
) -> MixPlan | None:
    """Mixes for a base volume [m3] (net over loss, and soak), or None with a fault."""
    demand = demand.without_gaps()
    times = demand.times()
    if not _can_be_placed(batch, demand, times, base, faults):
        return None
    net = sum(demand.volume)
    more = base / net
    sizes = mix_sizes(batch, [more * one for one in demand.volume], times, faults)
    if sizes is None:
        return None
    residue = len(sizes.volumes) * batch.residue
    return MixPlan(
        residue,
        base + residue,
        tuple(_mixes(batch, demand, times, sizes, net / base)),
        _traces(batch, demand, sizes, net, base, revision),
    )


def _can_be_placed(
    batch: Batch, demand: Demand, times: list[float], base: float, faults: Faults
) -> bool:
    """Whether the smallest mix can be, in the area that takes its film slowest."""
    left = batch.life - batch.product.mixing_time
    pairs = zip(times, demand.placed, strict=True)
    slowest = max([time / placed for time, placed in pairs if placed], default=0.0)
    in_time = left / slowest if slowest > 0 else math.inf
    if left > 0 and in_time >= min(SMALLEST_MIX, base):
        return True
    _too_short(batch, demand, left, in_time, faults)
    return False


def _too_short(batch: Batch, demand: Demand, left: float, in_time: float, faults: Faults) -> None:
    start = (
        f"{batch.label}: at {batch.temperature:g} degC {batch.product.id} can be worked for "
        f"{batch.life / 60:.1f} min and mixing takes {batch.product.mixing_time / 60:.1f} min"
    )
    if left <= 0:
        way = "; choose a cooler surface or a slower product"
    else:
        crew = _quick_enough(demand, left)
        way = (
            f", which leaves a mix of {in_time * 1e6:.0f} mL where {SMALLEST_MIX * 1e6:.0f} mL is "
            "the least that is measured by ratio; "
        )
        if crew is not None:
            way += f"a crew of {crew} would place that in time"
        else:
            way += "no crew of this rate book is fast enough: choose a slower product"
    faults.add("working-life-too-short", start + way, "system")


def _quick_enough(demand: Demand, left: float) -> int | None:
    """The smallest crew that places the smallest mix in every area in the time left [s]."""
    largest = max(pace.largest_crew for pace, _ in demand.work)
    for crew in range(1, largest + 1):
        pairs = zip(demand.times(crew), demand.placed, strict=True)
        if all(SMALLEST_MIX * time <= left * placed for time, placed in pairs):
            return crew
    return None


def _mixes(
    batch: Batch, demand: Demand, times: list[float], sizes: Sizes, share: float
) -> Iterator[Mix]:
    """Mixes serve the areas one after the other: the last of one area may begin the next."""
    product, volumes = batch.product, sizes.volumes
    mixing_time = Duration(product.mixing_time)
    shared = split(product, volumes[0] / (1 + batch.thinner))
    residue = batch.residue
    wanted = [(volume - residue) * share for volume in volumes]
    stretches = _stretches(demand, times, wanted)
    for number, (volume, stretch) in enumerate(zip(volumes, stretches, strict=True), 1):
        covers, time, areas = stretch
        same = volume == volumes[0]
        yield Mix(
            number=number,
            whole_kit=sizes.kit if volume == sizes.kit_volume else None,
            volume=Volume(volume),
            parts=shared if same else split(product, volume / (1 + batch.thinner)),
            mixing_time=mixing_time,
            working_life=batch.life,
            placing_time=Duration(time),
            covers=Area(covers),
            areas=areas,
        )


def _stretches(
    demand: Demand, times: list[float], volumes: list[float]
) -> Iterator[tuple[float, float, tuple[str, ...]]]:
    """What each net volume covers [m2], how long that takes [s], and in which areas."""
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
        yield covered, time, tuple(demand.areas[first : served + 1])


def _traces(
    batch: Batch,
    demand: Demand,
    sizes: Sizes,
    net: float,
    base: float,
    revision: int,
) -> dict[str, Trace]:
    product, residue, count = batch.product, Volume(batch.residue), len(sizes.volumes)
    plan: dict[str, object] = {
        "base_volume": Volume(base),
        "container_residue": residue,
        "working_life": batch.life,
        "working_life_rule": batch.life_rule,
        "temperature": Temperature(batch.temperature),
        "mixing_time": product.mixing_time,
        "limited_by": sizes.limited_by,
        "largest_mix": Volume(sizes.largest),
        "whole_kit": sizes.kit,
        "last_mixes": sizes.last,
        "mixes": count,
        "gangs": demand.work[0][0].gangs,
    }
    if product.container is not None:
        plan["container"] = product.container
    if product.largest_mix is not None:
        plan["product_largest_mix"] = product.largest_mix
    if sizes.kit is not None:
        plan["whole_kit_volume"] = Volume(sizes.kit_volume)
    delivered: dict[str, object] = {
        "net_volume": Volume(net),
        "base_volume": Volume(base),
        "container_residue": residue,
    }
    paces: dict[str, object] = {pace.task: pace.inputs() for pace, _ in demand.work}
    left_over = {"container_residue": residue, "mixes": count}
    return {
        "residue": Trace("materials.residue", left_over, revision),
        "mixes": Trace("materials.mix-plan", plan, revision),
        "mix_covers": Trace("materials.mix-covers", delivered),
        "mix_placing_time": Trace("materials.mix-placing-time", paces, revision),
    }
