"""Outlines as the site gives them, turned into rings in metres and checked."""

from collections import defaultdict

from filmbuild.errors import Faults
from filmbuild.pipeline.geometry import FloorShape, Ring
from filmbuild.pipeline.islands import island_faults
from filmbuild.pipeline.outlines import ring_faults
from filmbuild.pipeline.overlap import EntangledError, Overlap, overlaps
from filmbuild.pipeline.site import Outline, Rectangle, Site, SiteArea

METRES = {"m": 1.0, "cm": 0.01, "mm": 0.001, "ft": 0.3048, "in": 0.0254, "yd": 0.9144}
FARTHEST = 1e6
"""[m] Coordinates beyond this are no building's."""
_LISTED_SIDES = 6


def shape_of(area: SiteArea, faults: Faults) -> FloorShape | None:
    """The area's floor, or None after the faults of its outline and islands were added."""
    known = len(faults)
    outline = _checked_ring(area.outline, faults, "outline")
    islands = [
        _checked_ring(island.outline, faults, "islands", index, "outline")
        for index, island in enumerate(area.islands)
    ]
    if len(faults) > known:
        return None
    shape = FloorShape(outline, tuple(islands))
    if islands:
        for fault in island_faults(shape):
            faults.add(fault.code, fault.detail, "islands", fault.island, "outline")
    return shape if len(faults) == known else None


def check_overlaps(site: Site, shapes: list[FloorShape | None], faults: Faults) -> None:
    """Areas of one level that lie on the plan may not cover the same floor."""
    levels: dict[str, list[int]] = defaultdict(list)
    for index, area in enumerate(site.areas):
        if shapes[index] is not None and _is_placed(area.outline):
            levels[area.level].append(index)
    for level, indices in levels.items():
        placed = [shape for index in indices if (shape := shapes[index]) is not None]
        for found in _overlaps(placed, level, faults):
            first, second = indices[found.first], indices[found.second]
            x, y = found.point
            faults.add(
                "areas-overlap",
                f"covers {found.area:.4g} m2 of the floor of areas/{first} on level {level}, for "
                f"one at ({x:.6g} m, {y:.6g} m); areas of one level may touch but not overlap",
                "areas",
                second,
                "outline",
            )


def _overlaps(placed: list[FloorShape], level: str, faults: Faults) -> list[Overlap]:
    try:
        return overlaps(placed)
    except EntangledError:
        faults.add(
            "areas-entangled",
            f"the outlines on level {level} lie round one another in too many places to be "
            "compared; give them on several levels, or cut long ones up",
            "areas",
        )
        return []


def _is_placed(outline: Outline) -> bool:
    return not isinstance(outline, Rectangle) or outline.origin is not None


def _ring(outline: Outline) -> Ring:
    if isinstance(outline, Rectangle):
        origin = outline.origin
        left, bottom = (origin.x, origin.y) if origin is not None else (0.0, 0.0)
        right, top = left + outline.length, bottom + outline.width
        return ((left, bottom), (right, bottom), (right, top), (left, top))
    factor = METRES[outline.unit]
    return tuple([(x * factor, y * factor) for x, y in outline.vertices])


def _is_near(ring: Ring) -> bool:
    for x, y in ring:  # noqa: SIM110 - a generator costs more than the few comparisons
        if not (-FARTHEST <= x <= FARTHEST and -FARTHEST <= y <= FARTHEST):
            return False
    return True


def _checked_ring(outline: Outline, faults: Faults, *where: str | int) -> Ring:
    ring = _ring(outline)
    if not _is_near(ring):
        faults.add("too-large", f"coordinates lie within {FARTHEST:.0f} m of the origin", *where)
        return ring
    for fault in ring_faults(ring):
        sides = ", ".join(str(edge) for edge in fault.edges[:_LISTED_SIDES])
        detail = f"{fault.detail} (sides {sides})" if sides else fault.detail
        faults.add(fault.code, detail, *where)
    return ring
