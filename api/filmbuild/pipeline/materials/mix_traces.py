"""How the figures of a mix plan came about."""

from filmbuild.pipeline.materials.demand import Batch, Demand
from filmbuild.pipeline.materials.mix_sequence import mixes_meanwhile, open_time
from filmbuild.pipeline.materials.mix_sizes import Sizes
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Duration, Temperature, Volume

Inputs = dict[str, object]


def mix_traces(
    batch: Batch, demand: Demand, sizes: Sizes, net: float, base: float, revision: int
) -> dict[str, Trace]:
    """`net` and `base` in m3."""
    residue, count = Volume(batch.residue), len(sizes.volumes)
    left_over: Inputs = {"container_residue": residue, "mixes": count}
    delivered: Inputs = {
        "net_volume": Volume(net),
        "base_volume": Volume(base),
        "container_residue": residue,
    }
    paces: Inputs = {pace.task: pace.inputs() for pace, _ in demand.work}
    of_gangs: Inputs = {
        "people": demand.work[0][0].people_inputs(),
        "people_per_gang": {pace.task: pace.gang for pace, _ in demand.work},
        "gangs": {pace.task: pace.gangs for pace, _ in demand.work},
    }
    return {
        "residue": Trace("materials.residue", left_over, revision),
        "mixes": Trace("materials.mix-plan", _plan(batch, demand, sizes, base), revision),
        "mix_covers": Trace("materials.mix-covers", delivered),
        "mix_placing_time": Trace("materials.mix-placing-time", paces, revision),
        "mix_working_life": Trace("materials.mix-working-life", batch.life.inputs(), revision),
        "mix_sequence": Trace("materials.mix-sequence", _sequence(batch, demand), revision),
        "placers": Trace("materials.placers", of_gangs, revision),
    }


def _plan(batch: Batch, demand: Demand, sizes: Sizes, base: float) -> Inputs:
    product, full = batch.product, sizes.full + batch.residue
    plan: Inputs = {
        "base_volume": Volume(base),
        "container_residue": Volume(batch.residue),
        "working_life": Duration(batch.life.of(full)),
        "working_life_rule": batch.life.rule_of(full),
        "temperature": Temperature(batch.temperature),
        "mixing_time": product.mixing_time,
        "limited_by": sizes.limited_by,
        "largest_mix": Volume(sizes.largest),
        "full_mix": Volume(full),
        "whole_kit": sizes.kit,
        "last_mixes": sizes.last,
        "mixes": len(sizes.volumes),
        "gangs": demand.work[0][0].gangs,
    }
    if product.container is not None:
        plan["container"] = product.container
    if product.largest_mix is not None:
        plan["product_largest_mix"] = product.largest_mix
    if sizes.kit is not None:
        plan["whole_kit_volume"] = Volume(sizes.kit_volume)
    return plan


def _sequence(batch: Batch, demand: Demand) -> Inputs:
    found: Inputs = {
        "premix_time": batch.product.premix_time,
        "mixing_time": batch.product.mixing_time,
        "mixed_meanwhile": mixes_meanwhile(demand),
    }
    wet = open_time(batch)
    if wet is not None:
        found["wet_edge_time"] = Duration(wet)
    return found
