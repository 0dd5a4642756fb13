"""How many mixes there are, and how large each one is.

The effort of an area is the number of full mixes that it takes: by the time that each leaves for
placing, or by what each brings, whichever is more. Efforts of areas add up, in any order, and a mix
of an effort of 1 or less is within both limits wherever it is placed.
"""

import math
from itertools import accumulate

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.materials.demand import Batch
from filmbuild.pipeline.materials.film import EQUAL
from filmbuild.pipeline.materials.mix_limits import SMALLEST_MIX, Limits, full_mix, limits_of
from filmbuild.pipeline.materials.parts import kit_volume

LEAST_SHARE = 0.25
"""A last mix is no less than this share of a full one (common practice, no source)."""
LEAST_RESIDUES = 2.0
"""Nor than so many times what stays in its container: half of it reaches the floor."""
KIT_SHARE = 0.5
"""Kits are mixed whole if one fits where at least this share of the coat goes."""
MOST_MIXES = 20_000


class Sizes(msgspec.Struct, frozen=True):
    """Volumes [m3] of the mixes in placing order; those as large as the `kit` are whole kits.

    `last` says how the last mixes came by their volume: all are "equal", or have "equal_efforts";
    or the last is the "remainder" of full ones, or what was too little for a mix was "joined" to
    the one before it, or "halved" with it. A `full` mix brings so much, or all. `largest` is the
    largest that limits allow in any area.
    """

    volumes: list[float]
    last: str
    full: float
    largest: float
    limited_by: str
    kit: str | None
    kit_volume: float


def mix_sizes(
    batch: Batch, brought: list[float], times: list[float], faults: Faults
) -> Sizes | None:
    """Mixes for what is brought to each area [m3] in its time [s], or None with a fault."""
    limits = _limits(batch, brought, times, faults)
    if limits is None:
        return None
    residue = batch.residue
    name, size = _kit(batch, limits) or (None, 0.0)
    full = size - residue if name else full_mix(limits)
    at_one_pace = limits.in_time(full)
    course = None if at_one_pace else limits.course(full)
    effort = limits.total / full if course is None else course.effort
    count = max(1, math.ceil(effort * (1 - EQUAL)))
    if count > MOST_MIXES:
        _refuse_many(batch, count, limits.total, faults)
        return None
    last, efforts = "equal" if at_one_pace else "equal_efforts", [effort / count] * count
    if name and count > 1:
        last, efforts = _with_kits(full, limits, effort, count)
    if course is not None:
        volumes = [one + residue for one in course.between(list(accumulate(efforts))[:-1])]
    elif last == "equal":
        volumes = [limits.total / count + residue] * count
    else:
        volumes = [one * full + residue for one in efforts]
    in_time = limits.largest_in_time(limits.quickest)
    return Sizes(
        [size if _same(one, size) else one for one in volumes] if name else volumes,
        last,
        min(full, limits.total),
        min(limits.by_size, in_time if limits.quickest else math.inf, sum(volumes) - residue)
        + residue,
        limits.reason if limits.in_time(limits.by_size) else "working_life",
        name,
        size,
    )


def _with_kits(full: float, limits: Limits, effort: float, count: int) -> tuple[str, list[float]]:
    """How the last of several mixes comes by its volume, and the effort of each.

    What is too little for a mix is joined to the kit before it if one mix of both keeps its limits
    wherever it is placed.
    """
    residue = limits.batch.residue
    rest = effort - (count - 1)
    size = full + residue
    least = max(SMALLEST_MIX, LEAST_SHARE * size, LEAST_RESIDUES * residue)
    if rest * full + residue >= min(least, size / 2):
        return "remainder", [1.0] * (count - 1) + [rest]
    if limits.keeps((1 + rest) * full):
        return "joined", [1.0] * (count - 2) + [1 + rest]
    return "halved", [1.0] * (count - 2) + [(1 + rest) / 2] * 2


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= EQUAL * other


def _limits(
    batch: Batch, brought: list[float], times: list[float], faults: Faults
) -> Limits | None:
    container, mix = batch.product.container, batch.product.largest_mix
    largest, reason = math.inf, "need"
    if mix is not None:
        largest, reason = mix, "largest_mix"
    if container is not None and container <= largest:
        largest, reason = container, "container"
    if largest <= batch.residue:
        faults.add(
            "mix-below-residue",
            f"{batch.label}: a mix of {largest * 1e6:.0f} mL is all left in its container, which "
            f"keeps {batch.residue * 1e6:.0f} mL: choose a product in larger mixes",
            "system",
        )
        return None
    return limits_of(batch, largest - batch.residue, reason, brought, times)


def _kit(batch: Batch, limits: Limits) -> tuple[str, float] | None:
    """The largest kit that at least half of the coat can be mixed by, and its volume."""
    kits = []
    for priced in batch.packs:
        volume = kit_volume(priced.pack, batch.product)
        if volume is not None:
            kits.append((volume * (1 + batch.thinner), priced.pack.id))
    kits.sort(reverse=True)
    measurable = limits.most_measurable()
    for size, name in kits:
        brings = size - batch.residue
        full = min(brings, limits.total)
        if (
            0 < brings <= limits.by_size * (1 + EQUAL)
            and full <= measurable * (1 + EQUAL)
            and (limits.share_in_time(full) >= KIT_SHARE)
        ):
            return name, size
    return None


def _refuse_many(batch: Batch, count: int, brought: float, faults: Faults) -> None:
    size = brought / count + batch.residue
    faults.add(
        "too-many-mixes",
        f"{batch.label}: {count} mixes of {size * 1e3:.3g} L are needed; at most "
        f"{MOST_MIXES} are planned: divide the site, or choose a product in larger mixes",
        "system",
    )
