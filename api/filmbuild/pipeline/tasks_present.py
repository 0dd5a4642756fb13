"""Which kinds of work a job holds: what the system asks for, as far as the site needs it."""

from collections.abc import Set as AbstractSet
from functools import lru_cache

from filmbuild.pipeline.results import AreaTakeoff, Takeoff, Totals
from filmbuild.pipeline.specification import System, TaskCode
from filmbuild.quantities import Area

REPAIR_STRIP = 0.100
"""[m] Width ground flush along a filled crack or joint (common practice, no source)."""

_ALWAYS: frozenset[TaskCode] = frozenset(
    ("set_up", "place_cut_in", "place_field", "place_vertical", "demobilise")
)
_REPAIRS: frozenset[TaskCode] = frozenset(
    ("chase_cracks", "fill_cracks", "patch_spalls", "fill_joints", "grind_repairs", "form_cove")
)
_TAPE: frozenset[TaskCode] = frozenset(("mask", "pull_tape"))
_STRIP: frozenset[TaskCode] = frozenset(("strip_coating",))
_PROTECT: frozenset[TaskCode] = frozenset(("protect",))
PLACING: tuple[TaskCode, ...] = ("place_vertical", "place_cut_in", "place_field", "broadcast")
"""What comes with a layer of itself, in the order in which a coat is placed."""


def task_codes(takeoff: Takeoff, system: System) -> frozenset[TaskCode]:
    """The tasks of the job: those the system lists and those the takeoff implies.

    A listed task that finds nothing to do on this site is left out. A system that names repair
    work does not bring it about: only cracks, spalls, joints and coves on the site do.
    """
    wanted = _asked_for(system)
    if takeoff.totals.dust_barrier > 0 or takeoff.totals.tape_length > 0:
        wanted |= _PROTECT
    return wanted - _without_work(takeoff, system)


def listed_preparation(system: System, present: AbstractSet[TaskCode]) -> list[TaskCode]:
    """Listed again after work that this site does not need, a task is not done twice running."""
    order: list[TaskCode] = []
    skipped = False
    for code in system.preparation:
        if code not in present or code == "demobilise" or code in PLACING:
            skipped = True
        elif not (skipped and order and order[-1] == code):
            order.append(code)
            skipped = False
    return order


def repair_area(measured: AreaTakeoff | Totals) -> Area:
    """What is ground flush after filling: a strip along cracks and filled joints, and spalls."""
    runs = measured.crack_length + measured.joint_length
    return Area(REPAIR_STRIP * runs + measured.spall_area)


@lru_cache(maxsize=1_024)
def _asked_for(system: System) -> frozenset[TaskCode]:
    """Remembered: the same few systems serve every job."""
    wanted = set(_ALWAYS | _REPAIRS | _TAPE | _STRIP)
    wanted.update(system.preparation)
    for layer in system.layers:
        wanted.update(layer.before)
        wanted.update(layer.after)
        if layer.broadcast is not None:
            wanted.update(("broadcast", "sweep_broadcast"))
    return frozenset(wanted)


def _without_work(takeoff: Takeoff, system: System) -> set[TaskCode]:
    totals = takeoff.totals
    covered = totals.vertical if any(layer.vertical is not None for layer in system.layers) else 0.0
    cracks, spalls, tape = totals.crack_volume, totals.spall_volume, totals.tape_length
    quantities: tuple[tuple[TaskCode, float], ...] = (
        ("strip_coating", totals.strip_area),
        ("machine_grind", totals.machine_grind),
        ("hand_grind", totals.hand_grind),
        ("chase_cracks", cracks),
        ("fill_cracks", cracks),
        ("patch_spalls", spalls),
        ("fill_joints", totals.joint_volume),
        ("grind_repairs", cracks + spalls + totals.joint_volume),
        ("form_cove", totals.cove_volume),
        ("mask", tape),
        ("pull_tape", tape),
        ("place_vertical", covered),
        ("place_cut_in", totals.cut_in),
        ("place_field", totals.field),
    )
    return {code for code, quantity in quantities if not quantity > 0}
