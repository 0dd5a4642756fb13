"""What makes work slower or faster than the rate book's rate: the concrete, size and warmth."""

import math
from collections.abc import Sequence

import msgspec

from filmbuild.pipeline.results import AreaTakeoff
from filmbuild.pipeline.specification import Driver, Factor, Production, RateBook
from filmbuild.pipeline.tasks_present import repair_area

WEIGHTS: dict[Driver, tuple[str, ...]] = {
    "coated_area": ("floor", "vertical"),
    "floor_area": ("floor",),
    "vertical_area": ("vertical",),
    "machine_grind_area": ("machine_grind",),
    "hand_grind_area": ("hand_grind",),
    "cut_in_area": ("cut_in",),
    "edge_length": ("wall_length", "open_length"),
    "tape_length": ("tape_length",),
    "crack_length": ("crack_length",),
    "joint_length": ("joint_length",),
    "cove_length": ("cove_length",),
    "spall_area": ("spall_area",),
    "dust_barrier_area": ("dust_barrier",),
    "sheeting_area": ("sheeting",),
    "strip_area": ("strip_area",),
    "drain_edge_length": ("drain_length",),
}
_BY_FLOOR = ("floor",)
_ROUNDING = 1 - 1e-6


class Ground(msgspec.Struct, frozen=True):
    """What of the site's conditions changes pace: factors by area, and those of the whole job."""

    areas: tuple[tuple[AreaTakeoff, tuple[Factor, ...]], ...]
    of_areas: frozenset[Factor]
    of_job: tuple[Factor, ...]
    small_area: float


class Pace(msgspec.Struct, frozen=True):
    """The factor on working time, and which of the rate book's factors made it.

    `over_areas` is what those of areas come to, weighted by the driver's quantity of each.
    """

    factor: float
    applied: dict[str, float]
    over_areas: float = 1.0

    def inputs(self) -> dict[str, object]:
        """Rounded, so that they are the same from a takeoff that has been written."""
        found: dict[str, object] = {"factor": self.factor, "factors": self.applied}
        if self.applied:
            found["factor"] = round(self.factor, 9)
            found["over_areas"] = round(self.over_areas, 9)
        return found


_PLAIN = Pace(1.0, {})


def ground_of(areas: Sequence[AreaTakeoff], book: RateBook, surface: float) -> Ground:
    """`surface` in degC."""
    found = tuple((area, _of_area(area, book)) for area in areas)
    of_job: tuple[Factor, ...] = ()
    if surface >= book.hot_from:
        of_job = ("hot",)
    elif surface <= book.cold_up_to:
        of_job = ("cold",)
    of_areas = frozenset(name for _, names in found for name in names)
    return Ground(found, of_areas, of_job, book.small_area)


def _of_area(area: AreaTakeoff, book: RateBook) -> tuple[Factor, ...]:
    substrate = area.substrate
    names: list[Factor] = []
    if substrate.hardness == "hard":
        names.append("hard_concrete")
    elif substrate.hardness == "soft":
        names.append("soft_concrete")
    if substrate.existing_coating:
        names.append("existing_coating")
    if area.floor < book.small_area:
        names.append("small_area")
    if area.added_by_slope and mean_slope(area) >= book.steep_from_percent / 100 * _ROUNDING:
        names.append("steep")
    if area.access == "hard":
        names.append("hard_access")
    return tuple(names)


def mean_slope(area: AreaTakeoff) -> float:
    """Rise over run of a plane as much larger than its plan as the area's floor."""
    plan = area.floor - area.added_by_slope - area.added_treads
    larger = 1 + area.added_by_slope / plan if plan > 0 else 1.0
    return math.sqrt(larger * larger - 1)


def pace_of(production: Production, ground: Ground) -> Pace:
    """Factors of one area multiply; over areas they are weighted by the driver's quantity."""
    factors = production.factors
    if not factors:
        return _PLAIN
    applied: dict[str, float] = {name: factors[name] for name in ground.of_job if name in factors}
    factor = 1.0
    for value in applied.values():
        factor *= value
    weighted = 1.0
    if not ground.of_areas.isdisjoint(factors):
        weighted = _weighted(production, ground)
        factor *= weighted
        applied |= {name: factors[name] for name in sorted(ground.of_areas) if name in factors}
    return Pace(factor, applied, weighted) if applied else _PLAIN


def _weighted(production: Production, ground: Ground) -> float:
    fields = WEIGHTS.get(production.driver, _BY_FLOOR)
    factors = production.factors
    total = slowed = 0.0
    for area, names in ground.areas:
        weight = 0.0
        if production.driver == "repair_area":
            weight = repair_area(area)
        else:
            for field in fields:
                weight += getattr(area, field)
        total += weight
        for name in names:
            if name in factors:
                value = factors[name]
                if name == "small_area" and value > 1:
                    # A small area is never slower than one that is just not small.
                    value = min(value, ground.small_area / area.floor) if area.floor else value
                weight *= value
        slowed += weight
    return slowed / total if total > 0 else 1.0
