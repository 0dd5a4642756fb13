"""Where the floor is divided, so that each coat of each part is placed inside one shift."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet

import msgspec

from filmbuild.pipeline.labour.borders import Borders
from filmbuild.pipeline.labour.conditions import WEIGHTS, ground_of
from filmbuild.pipeline.labour.efforts import Efforts
from filmbuild.pipeline.labour.tasks import (
    Planned,
    PlannedCoating,
    PlannedOrder,
    layer_drivers,
    planned_steps,
)
from filmbuild.pipeline.results import AreaTakeoff, Coat, Section, Takeoff, Totals
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Driver, Layer
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Duration, Quantity

MOST_PARTS = 100
"""More parts of one area are a job to be thought over, not computed."""
MOST_COATS = 120
"""As many coats as a plan has at most, each section's counted by itself."""
_ROUNDING = 1 + 1e-9
_FIELDS = sorted({field for fields in WEIGHTS.values() for field in fields})
_COUNTS: tuple[Driver, ...] = ("mix", "coat_mix")


class Part(msgspec.Struct, frozen=True):
    """A share of an area, measured as that share of it; the last of an area ends with the area."""

    area: AreaTakeoff
    share: float
    number: int = 1
    of: int = 1

    def measured(self) -> AreaTakeoff:
        if self.of == 1:
            return self.area
        given = {name: getattr(self.area, name) for name in _FIELDS}
        scaled = {name: type(value)(value * self.share) for name, value in given.items()}
        return msgspec.structs.replace(self.area, **scaled)


class Divider:
    """The coats of one job over parts of its floor, placed by `crew` people."""

    def __init__(
        self,
        planned: PlannedOrder,
        efforts: Efforts,
        drivers: Mapping[Driver, float],
        totals: Totals,
        coats: Sequence[Coat],
        selection: Selection,
        crew: int,
    ) -> None:
        self._coatings = [one for one in planned.coatings if one.placing]
        self._wanted: set[Driver] = {
            "floor_area",
            *(each.effort.production.driver for one in self._coatings for each in one.placing),
        }
        self._efforts = efforts
        self._drivers = drivers
        self._totals = totals
        self._coats = coats
        self._selection = selection
        self._crew = crew

    def divide(self, areas: Iterable[AreaTakeoff], shift: float) -> list[tuple[Part, ...]] | None:
        """The fewest consecutive groups in placing order whose coats fit; None if there are none.

        Each group is as large as fits in the shift [s], so that no other division has fewer.
        """
        parts: list[Part] = []
        for area in sorted(areas, key=lambda one: one.placing_order):
            some = self._parts(area, shift)
            if some is None:
                return None
            parts += some
        groups = []
        start = 0
        while start < len(parts):
            end = _furthest(start, len(parts), self._fits(parts, start, shift))
            groups.append(tuple(parts[start:end]))
            if len(groups) * len(self._coatings) > MOST_COATS:
                return None
            start = end
        return groups

    def _fits(self, parts: Sequence[Part], start: int, shift: float) -> Callable[[int], bool]:
        return lambda end: self.longest(parts[start:end]) <= shift * _ROUNDING

    def _parts(self, area: AreaTakeoff, shift: float) -> list[Part] | None:
        most = min(crossing_joints(area) + 1, MOST_PARTS)
        for count in range(1, most + 1):
            parts = [Part(area, 1 / count, number, count) for number in range(1, count + 1)]
            if self.longest(parts[:1]) <= shift * _ROUNDING:
                return parts
        return None

    def longest(self, parts: Sequence[Part]) -> float:
        """[s] Of the coats over some parts."""
        over = self._over(parts)
        return max(
            sum(each.duration for each in self._placing(coating, over))
            for coating in self._coatings
        )

    def sectioned(self, planned: PlannedOrder, groups: Sequence[Sequence[Part]]) -> PlannedOrder:
        """The order with the placing of each coat taken section by section."""
        overs = [self._over(parts) for parts in groups]
        coatings = [
            msgspec.structs.replace(
                coating,
                placing=tuple(
                    each
                    for number, over in enumerate(overs, 1)
                    for each in self._placing(coating, over, number)
                ),
            )
            for coating in planned.coatings
        ]
        return msgspec.structs.replace(planned, coatings=tuple(coatings))

    def _over(self, parts: Sequence[Part]) -> tuple[Efforts, Sequence[AreaTakeoff]]:
        measured = [one.measured() for one in parts]
        book, surface = self._selection.rate_book, self._selection.conditions.surface_temperature
        return self._efforts.on(ground_of(measured, book, surface)), measured

    def _placing(
        self,
        coating: PlannedCoating,
        over: tuple[Efforts, Sequence[AreaTakeoff]],
        number: int | None = None,
    ) -> tuple[Planned, ...]:
        efforts, measured = over
        layer = coating.coating.layer
        whole = layer_drivers(layer, self._drivers, self._totals, self._coats)
        drivers = drivers_over(measured, layer, whole, self._totals, self._wanted)
        steps = coating.coating.placing
        if number is not None:
            steps = tuple(
                msgspec.structs.replace(
                    step,
                    id=f"{step.id}/{number}",
                    name=f"{step.name}, section {number}",
                    activity=f"{step.activity}/{number}",
                    activity_name=f"{step.activity_name}, section {number}",
                    section=number,
                )
                for step in steps
            )
        return planned_steps(steps, drivers, efforts, self._crew)


def drivers_over(
    areas: Sequence[AreaTakeoff],
    layer: Layer,
    whole: Mapping[Driver, float],
    totals: Totals,
    wanted: AbstractSet[Driver] | None = None,
) -> dict[Driver, float]:
    """What drives work on a layer over some areas; mixes by their share of the floor.

    Drivers that are not `wanted` are left as those of the whole floor.
    """
    found = dict(whole)
    for driver in WEIGHTS if wanted is None else wanted & WEIGHTS.keys():
        fields = WEIGHTS[driver]
        amount = sum([getattr(area, field) for area in areas for field in fields])
        given = whole[driver]
        found[driver] = type(given)(amount) if isinstance(given, Quantity) else amount
    share = sum([area.floor for area in areas]) / totals.floor
    for driver in _COUNTS:
        found[driver] = whole[driver] * share
    if layer.vertical is None:
        found["vertical_area"] = Area(0.0)
        found["coated_area"] = found["floor_area"]
    return found


def areas_of(section: Section, takeoff: Takeoff) -> list[AreaTakeoff]:
    """As far as they lie in the section; names that the takeoff does not have are left out."""
    by_id = {area.id: area for area in takeoff.areas}
    return [
        Part(by_id[name], share, of=1 if share == 1 else 2).measured()
        for name, share in zip(section.areas, section.shares, strict=True)
        if name in by_id
    ]


def crossing_joints(area: AreaTakeoff) -> int:
    """How often the area's joints together run across it, were it a rectangle of its edges."""
    joints = area.joint_length + area.honoured_joint_length + area.coated_joint_length
    edges = area.wall_length + area.open_length + area.joined_length - area.drain_length
    narrow = math.sqrt(area.floor)
    beyond = edges * edges - 16 * area.floor
    if beyond > 0:
        narrow = (edges - math.sqrt(beyond)) / 4
    return math.floor(joints / narrow * _ROUNDING) if narrow > 0 else 0


def _furthest(start: int, most: int, fits: Callable[[int], bool]) -> int:
    """The last end that fits, where one does and all beyond it do not; in steps that double."""
    good, step = start + 1, 1
    while good + step <= most and fits(good + step):
        good += step
        step *= 2
    bad = min(good + step, most + 1)
    while bad - good > 1:
        middle = (good + bad) // 2
        if fits(middle):
            good = middle
        else:
            bad = middle
    return good


def sections_of(
    groups: Sequence[Sequence[Part]],
    areas: Sequence[AreaTakeoff],
    divider: Divider,
    shift: float,
    revision: int,
) -> tuple[Section, ...]:
    borders = Borders(areas)
    found = []
    for number, parts in enumerate(groups, 1):
        later = groups[number] if number < len(groups) else ()
        longest = divider.longest(parts)
        found.append(
            Section(
                number=number,
                areas=tuple(one.area.id for one in parts),
                shares=tuple(one.share for one in parts),
                floor=Area(sum(one.area.floor * one.share for one in parts)),
                ends_at=_end(parts, later, borders),
                longest=Duration(longest),
                trace=Trace(
                    "labour.sections",
                    {
                        "floors": {f"{one.area.id}/{one.number}": one.area.floor for one in parts},
                        "shares": {f"{one.area.id}/{one.number}": one.share for one in parts},
                        "shift": Duration(shift),
                    },
                    revision,
                ),
            )
        )
    return tuple(found)


def _end(parts: Sequence[Part], later: Sequence[Part], borders: Borders) -> str:
    if not later:
        return "the end of the floor"
    last, first = parts[-1], later[0]
    if last.area.id == first.area.id:
        return (
            f"a joint across {last.area.id}, after part {last.number} of {last.of}: at most "
            f"{last.area.floor * last.share:.1f} m2 each"
        )
    return borders.between({one.area.id for one in parts}, last.area.id)
