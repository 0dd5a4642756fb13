"""Whether a takeoff that was handed in hangs together."""

from math import fsum
from operator import attrgetter

from filmbuild.pipeline.intake.marks import Marks, close
from filmbuild.pipeline.results import AreaTakeoff, Takeoff, Totals
from filmbuild.quantities import Quantity

_VERTICALS = (
    "base_walls",
    "risers",
    "step_sides",
    "curbs",
    "cove_face",
    "pit_sides",
    "collars",
)
_verticals_of = attrgetter(*_VERTICALS)


def check_takeoff(takeoff: Takeoff, marks: Marks) -> None:
    """`marks` stands at the takeoff."""
    areas = takeoff.areas
    if not areas:
        marks.add("empty", "a takeoff has one area at least", "areas")
    marks.unique((area.id for area in areas), "areas", field="id")
    _check_order(areas, marks)
    for index, area in enumerate(areas):
        _check_area(area, index, marks)
    for field in Totals.__struct_fields__:
        total = getattr(takeoff.totals, field)
        if isinstance(total, Quantity):
            expected = fsum(map(attrgetter(field), areas))
            marks.same(total, expected, "totals-mismatch", _SUM, "totals", field)


_SUM = "a total is the sum over the areas"


def _check_order(areas: tuple[AreaTakeoff, ...], marks: Marks) -> None:
    seen: set[int] = set()
    for index, area in enumerate(areas):
        place = area.placing_order
        if not 1 <= place <= len(areas) or place in seen:
            detail = f"areas are placed in an order from 1 to {len(areas)}, each number once"
            marks.add("placing-order", detail, "areas", index, "placing_order")
        seen.add(place)


def _check_area(area: AreaTakeoff, index: int, marks: Marks) -> None:
    """The floor is both what is ground and what is coated on the flat."""
    floor = area.floor
    ground = area.machine_grind + area.hand_grind
    coated = area.field + area.cut_in
    if not close(floor, ground):
        if close(floor, coated):
            rest, detail = floor - area.hand_grind, "machine_grind and hand_grind make up floor"
            kind = type(area.machine_grind)
            _differs(marks, index, "machine_grind", f"{detail}: {marks.shown(kind, rest)}")
        else:
            detail = "floor is machine_grind and hand_grind together, and field and cut_in too"
            _differs(marks, index, "floor", detail)
    elif not close(floor, coated):
        rest = floor - area.cut_in
        detail = f"field and cut_in make up floor: {marks.shown(type(area.field), rest)}"
        _differs(marks, index, "field", detail)
    vertical = sum(_verticals_of(area))
    if not close(area.vertical, vertical):
        detail = f"{', '.join(_VERTICALS)} add up to {marks.shown(type(area.vertical), vertical)}"
        _differs(marks, index, "vertical", detail)
    for place, reading in enumerate(area.substrate.moisture):
        if reading.emission is None and reading.relative_humidity_percent is None:
            detail = "give emission (ASTM F1869) or relative_humidity_percent (ASTM F2170)"
            tokens = ("areas", index, "substrate", "moisture", place)
            marks.add("missing-field", detail, *tokens)


def _differs(marks: Marks, index: int, field: str, detail: str) -> None:
    marks.add("parts-mismatch", detail, "areas", index, field)
