"""The working order: every task of the job, before anything is known of its hours."""

from collections.abc import Iterable, Iterator
from collections.abc import Set as AbstractSet
from functools import lru_cache
from itertools import zip_longest
from typing import Literal

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.results import Takeoff
from filmbuild.pipeline.specification import Layer, System, TaskCode
from filmbuild.pipeline.tasks_present import PLACING, listed_preparation, task_codes

ProductField = Literal["crack_filler", "patch_mortar", "joint_filler", "cove_mortar"]

NAMES: dict[TaskCode, str] = {
    "set_up": "Set up",
    "protect": "Protect",
    "strip_coating": "Strip existing coating",
    "machine_grind": "Machine grind",
    "hand_grind": "Hand grind edges",
    "vacuum": "Vacuum",
    "chase_cracks": "Chase cracks",
    "fill_cracks": "Fill cracks",
    "patch_spalls": "Patch spalls",
    "fill_joints": "Fill joints",
    "grind_repairs": "Grind repairs flush",
    "wash": "Wash",
    "mask": "Mask",
    "form_cove": "Form cove",
    "place_vertical": "Place on verticals",
    "place_cut_in": "Cut in edges",
    "place_field": "Place on the floor",
    "broadcast": "Broadcast",
    "sweep_broadcast": "Take up loose broadcast",
    "abrade": "Abrade",
    "solvent_wipe": "Solvent wipe",
    "pull_tape": "Pull tape",
    "demobilise": "Demobilise",
}
REPAIR_PRODUCTS: dict[TaskCode, ProductField] = {
    "fill_cracks": "crack_filler",
    "patch_spalls": "patch_mortar",
    "fill_joints": "joint_filler",
    "form_cove": "cove_mortar",
}
"""Work that leaves a material to cure, and where the system names its product."""
_IMPLIED: dict[TaskCode, str] = {
    "set_up": "every job is set up",
    "protect": "openings without a door, or edges to tape",
    "strip_coating": "existing coating on the site",
    "chase_cracks": "cracks on the site",
    "fill_cracks": "cracks on the site",
    "patch_spalls": "spalls on the site",
    "fill_joints": "joints to be filled on the site",
    "grind_repairs": "filled cracks, spalls and joints are ground flush with the floor",
    "mask": "edges to tape on the site",
    "form_cove": "coves on the site",
}
_ORDER: dict[TaskCode, int] = {code: place for place, code in enumerate(NAMES)}
_LISTED = "the system lists it in its preparation"


class Step(msgspec.Struct, frozen=True):
    """One task. The steps of one `activity` are done together and stand side by side."""

    id: str
    code: TaskCode
    name: str
    activity: str
    activity_name: str
    layer: Layer | None
    reason: str
    section: int | None = None
    beside: tuple[str, ...] = ()


class Coating(msgspec.Struct, frozen=True):
    """The steps of one layer: before its coat, the coat, and after it."""

    layer: Layer
    before: tuple[Step, ...]
    placing: tuple[Step, ...]
    after: tuple[Step, ...]


class Order(msgspec.Struct, frozen=True):
    preparation: tuple[Step, ...]
    coatings: tuple[Coating, ...]
    closing: tuple[Step, ...]

    def steps(self) -> Iterator[Step]:
        yield from self.preparation
        for coating in self.coatings:
            yield from coating.before
            yield from coating.placing
            yield from coating.after
        yield from self.closing


def working_order(takeoff: Takeoff, system: System, faults: Faults) -> Order:
    """The system's own order, with what the site adds put where the trade does it."""
    _refuse_misplaced(system, faults)
    return _order_of(system, task_codes(takeoff, system))


@lru_cache(maxsize=1_024)
def _order_of(system: System, present: frozenset[TaskCode]) -> Order:
    """Remembered: the same few systems serve every job."""
    names = _Names()
    preparation = tuple(
        _step(code, None, _LISTED if code in system.preparation else _IMPLIED[code], names)
        for code in _preparation(system, present)
    )
    coatings = tuple(
        _coating(layer, following, present, names)
        for layer, following in zip_longest(system.layers, system.layers[1:])
    )
    pulled = any(step.code == "pull_tape" for one in coatings for step in one.after)
    closing = []
    if "pull_tape" in present and not pulled:
        reason = "no layer says when the tape is pulled: after the last one"
        closing.append(_step("pull_tape", None, reason, names))
    closing.append(_step("demobilise", None, "every job is cleared", names))
    return Order(preparation, coatings, tuple(closing))


class _Names:
    """Hands out each id once: a task listed twice has a number after a sign no identifier holds."""

    def __init__(self) -> None:
        self._count: dict[str, int] = {}

    def unique(self, name: str) -> str:
        count = self._count.get(name, 0) + 1
        self._count[name] = count
        return name if count == 1 else f"{name}#{count}"


def _refuse_misplaced(system: System, faults: Faults) -> None:
    lists: list[tuple[str, Iterable[TaskCode]]] = [("preparation", system.preparation)]
    for layer in system.layers:
        lists += [(f"before {layer.id}", layer.before), (f"after {layer.id}", layer.after)]
    for where, codes in lists:
        for code in codes:
            if code in PLACING:
                faults.add(
                    "task-misplaced",
                    f"system {system.id} lists {code} in {where}; placing comes with each layer of "
                    "itself: take it off the list",
                    "system",
                )


def _preparation(system: System, present: AbstractSet[TaskCode]) -> list[TaskCode]:
    order = listed_preparation(system, present)
    named: set[TaskCode] = set(order)
    for layer in system.layers:
        named.update(layer.before, layer.after)
    for code in _IMPLIED:
        if code in present and code not in named:
            rank = _ORDER[code]
            later = (place for place, one in enumerate(order) if _ORDER[one] > rank)
            order.insert(next(later, len(order)), code)
    return order


def _coating(
    layer: Layer, following: Layer | None, present: AbstractSet[TaskCode], names: _Names
) -> Coating:
    before = tuple(
        _step(code, layer, f"the system lists it before {layer.name}", names)
        for code in layer.before
        if code in present and code not in PLACING
    )
    return Coating(
        layer, before, _placing(layer, present), _after(layer, following, present, names)
    )


def _placing(layer: Layer, present: AbstractSet[TaskCode]) -> tuple[Step, ...]:
    codes = [
        code
        for code in PLACING
        if code in present
        and (code != "place_vertical" or layer.vertical is not None)
        and (code != "broadcast" or layer.broadcast is not None)
    ]
    return tuple(
        Step(
            f"{code}:{layer.id}",
            code,
            f"{NAMES[code]}, {layer.name}",
            f"coat:{layer.id}",
            layer.name,
            layer,
            f"the system has the layer {layer.name}",
        )
        for code in codes
    )


def _after(
    layer: Layer, following: Layer | None, present: AbstractSet[TaskCode], names: _Names
) -> tuple[Step, ...]:
    listed = [code for code in layer.after if code in present and code not in PLACING]
    steps = []
    swept_later = following is not None and "sweep_broadcast" in following.before
    if layer.broadcast is not None and "sweep_broadcast" not in listed and not swept_later:
        reason = f"what does not stick to {layer.name} is taken up"
        steps.append(_step("sweep_broadcast", layer, reason, names))
    reason = f"the system lists it after {layer.name}"
    steps += [_step(code, layer, reason, names) for code in listed]
    return tuple(steps)


def _step(code: TaskCode, layer: Layer | None, reason: str, names: _Names) -> Step:
    name = NAMES[code] if layer is None else f"{NAMES[code]}, {layer.name}"
    unique = names.unique(code if layer is None else f"{code}:{layer.id}")
    return Step(unique, code, name, unique, name, layer, reason)
