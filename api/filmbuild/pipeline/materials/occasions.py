"""How often each kind of work is done in one job."""

from collections import Counter
from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from functools import lru_cache
from itertools import zip_longest

from filmbuild.pipeline.specification import Layer, System, TaskCode
from filmbuild.pipeline.tasks_present import PLACING, listed_preparation


@lru_cache(maxsize=1_024)
def occasions(system: System, present: frozenset[TaskCode]) -> Mapping[TaskCode, int]:
    """By task of those present, as the working order has them: each is done at least once.

    Remembered: the same few systems serve every job.
    """
    counts = Counter(listed_preparation(system, present))
    for layer, following in zip_longest(system.layers, system.layers[1:]):
        counts.update(_of_layer(layer, following, present))
    counts["demobilise"] += 1
    if not any("pull_tape" in layer.after for layer in system.layers):
        counts["pull_tape"] += 1
    return {code: max(counts[code], 1) for code in present}


def _of_layer(
    layer: Layer, following: Layer | None, present: AbstractSet[TaskCode]
) -> list[TaskCode]:
    around = [code for code in (*layer.before, *layer.after) if code not in PLACING]
    if layer.broadcast is not None:
        around.append("broadcast")
        swept = "sweep_broadcast" in layer.after
        swept |= following is not None and "sweep_broadcast" in following.before
        if not swept:
            around.append("sweep_broadcast")
    if layer.vertical is not None:
        around.append("place_vertical")
    around += ["place_cut_in", "place_field"]
    return [code for code in around if code in present]
