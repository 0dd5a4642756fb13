"""Mixes that set before the crew has placed them: refused, with the crew or the size that would."""

import math

from filmbuild.errors import Faults
from filmbuild.pipeline.materials.demand import Batch, Demand
from filmbuild.pipeline.materials.mix_limits import SMALLEST_MIX


def can_be_placed(
    batch: Batch, demand: Demand, times: list[float], base: float, faults: Faults
) -> bool:
    """Whether the smallest mix can be, in the area that takes its film slowest."""
    least = min(SMALLEST_MIX, base)
    left, slowest = batch.time_to_place(least), _slowest(demand, times)
    if left > 0 and slowest * least <= left:
        return True
    _too_short(batch, demand, left, left / slowest if slowest else 0.0, faults)
    return False


def _slowest(demand: Demand, times: list[float]) -> float:
    """[s/m3]."""
    pairs = zip(times, demand.placed, strict=True)
    return max([time / placed for time, placed in pairs if placed], default=0.0)


def _too_short(batch: Batch, demand: Demand, left: float, in_time: float, faults: Faults) -> None:
    life = left + batch.product.mixing_time
    start = (
        f"{batch.label}: at {batch.temperature:g} degC {batch.product.id} can be worked for "
        f"{life / 60:.1f} min and mixing takes {batch.product.mixing_time / 60:.1f} min"
    )
    if left <= 0:
        way = "; choose a cooler surface or a slower product"
    else:
        way = (
            f", which leaves a mix of {in_time * 1e6:.0f} mL where {SMALLEST_MIX * 1e6:.0f} mL is "
            f"the least that is measured by ratio; {_what_would_do(demand, left)}"
        )
    faults.add("working-life-too-short", start + way, "system")


def _what_would_do(demand: Demand, left: float) -> str:
    """Never more people than the rate book lets place at once."""
    largest = max(pace.largest_crew for pace, _ in demand.work)
    for crew in range(1, largest + 1):
        if _slowest(demand, demand.times(crew)) * SMALLEST_MIX <= left:
            return f"a crew of {crew} would place that in time"
    slowest = _slowest(demand, demand.times(largest))
    most = left / slowest * 1e6 if math.isfinite(slowest) else 0.0
    return (
        f"no crew of this rate book is fast enough: {largest} people would place {most:.0f} mL; "
        "choose a slower product"
    )
