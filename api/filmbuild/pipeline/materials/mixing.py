"""The mix plan: how large each mix is, which areas it serves, when it is begun, and who places it."""

from collections.abc import Iterator, Sequence

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.materials.demand import Batch, Demand
from filmbuild.pipeline.materials.mix_refusals import can_be_placed
from filmbuild.pipeline.materials.mix_sequence import Moments, moments, wet_edge_notes
from filmbuild.pipeline.materials.mix_sizes import Sizes, mix_sizes
from filmbuild.pipeline.materials.mix_stretches import Stretch, stretches
from filmbuild.pipeline.materials.mix_traces import mix_traces
from filmbuild.pipeline.materials.parts import split
from filmbuild.pipeline.results import Mix, Placer
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Area, Duration, Volume


class MixPlan(msgspec.Struct, frozen=True):
    """`ordered = base + residue`, where `residue` stays behind in the mixing containers."""

    residue: float
    ordered: float
    mixes: tuple[Mix, ...]
    placers: tuple[Placer, ...]
    traces: dict[str, Trace]
    notes: list[Note]


def plan_mixes(
    batch: Batch, demand: Demand, base: float, revision: int, faults: Faults
) -> MixPlan | None:
    """Mixes for a base volume [m3] (net over loss, and soak), or None with a fault."""
    demand = demand.without_gaps()
    times = demand.times()
    if not can_be_placed(batch, demand, times, base, faults):
        return None
    net = sum(demand.volume)
    more = base / net
    sizes = mix_sizes(batch, [more * one for one in demand.volume], times, faults)
    if sizes is None:
        return None
    residue = len(sizes.volumes) * batch.residue
    share = net / base
    brings = [(volume - batch.residue) * share for volume in sizes.volumes]
    placed = list(stretches(demand, times, brings))
    lives = _lives(batch, sizes.volumes)
    begun = moments(batch, demand, lives, placed)
    return MixPlan(
        residue,
        base + residue,
        tuple(_mixes(batch, demand, sizes, lives, placed, begun)),
        tuple([one for pace, _ in demand.work for one in pace.placers()]),
        mix_traces(batch, demand, sizes, net, base, revision),
        wet_edge_notes(batch, demand, lives, brings, begun),
    )


def _lives(batch: Batch, volumes: Sequence[float]) -> list[Duration]:
    """[s] Mixes of one volume share theirs."""
    known = {volume: Duration(batch.life.of(volume)) for volume in set(volumes)}
    return [known[volume] for volume in volumes]


def _mixes(
    batch: Batch,
    demand: Demand,
    sizes: Sizes,
    lives: Sequence[Duration],
    placed: Sequence[Stretch],
    begun: Sequence[Moments],
) -> Iterator[Mix]:
    product, volumes = batch.product, sizes.volumes
    mixing_time, premix_time = Duration(product.mixing_time), Duration(product.premix_time)
    parts = {one: split(product, one / (1 + batch.thinner)) for one in set(volumes)}
    gangs = tuple(range(1, max([pace.gangs for pace, _ in demand.work]) + 1))
    for number, (volume, life, stretch, at) in enumerate(
        zip(volumes, lives, placed, begun, strict=True), 1
    ):
        yield Mix(
            number=number,
            whole_kit=sizes.kit if volume == sizes.kit_volume else None,
            volume=Volume(volume),
            container=product.container,
            parts=parts[volume],
            premix_time=premix_time,
            mixing_time=mixing_time,
            working_life=life,
            placing_time=Duration(stretch.time),
            starts_at=Duration(at.starts_at),
            down_by=Duration(at.down_by),
            wet_edge_by=None if at.wet_edge_by is None else Duration(at.wet_edge_by),
            placed_by=gangs,
            covers=Area(stretch.covers),
            areas=stretch.areas,
        )
