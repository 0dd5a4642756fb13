"""Outlines as the site gives them, checked and made floors."""

from collections import defaultdict
from collections.abc import Sequence

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.band_union import Piece, united_areas
from filmbuild.pipeline.bands import band_areas_of
from filmbuild.pipeline.effort import Effort, TooMuchWorkError
from filmbuild.pipeline.geometry import FloorShape, Ring, ring_area
from filmbuild.pipeline.islands import island_faults
from filmbuild.pipeline.outlines import Ruler, ring_faults
from filmbuild.pipeline.overlap import EntangledError, Overlap, overlaps
from filmbuild.pipeline.site import Outline, Site, SiteArea
from filmbuild.pipeline.takeoff.figures import (
    METRES,
    RULERS,
    Figure,
    figure_of,
    is_placed,
    vertices_of,
    without_text,
)
from filmbuild.pipeline.walls import RingWalls
from filmbuild.quantities import Area, UnitSystem, format_text

FARTHEST = 1e6
"""[m] Coordinates beyond this are no building's."""
LARGEST_AREA = 1e6
"""[m2] A hundred hectares."""
MOST_VERTICES = 200_000
_LISTED_SIDES = 6
_CUSTOMARY = ("ft", "in", "yd")


class Floors(msgspec.Struct, frozen=True):
    """The site with no text left in its outlines, its floors, and the effort left for them.

    A floor is None where its outline or islands are at fault.
    """

    site: Site
    shapes: list[FloorShape | None]
    effort: Effort

    def bands(
        self,
        index: int,
        rings: Sequence[RingWalls],
        widths: Sequence[float],
        faults: Faults,
        beyond: Sequence[Sequence[Piece]] = (),
    ) -> tuple[float, ...]:
        """Area [m2] of the band of each width. Raises InvalidInput where it takes too long.

        `beyond` are pieces of each band that reach in from areas without a wall between.
        """
        shape = self.shapes[index]
        try:
            if beyond and shape is not None:
                return tuple(united_areas(shape, rings, widths, self.effort, beyond))
            return band_areas_of(rings, widths, self.effort)
        except TooMuchWorkError:
            _too_much_work(faults, "areas", index, "outline")
            raise


def floors_of(site: Site, faults: Faults, units: UnitSystem) -> Floors:
    """Raises InvalidInput at once where there is more to read than is read in one request."""
    _check_vertices(site, faults)
    plain = without_text(site, faults)
    effort = Effort(len(site.areas))
    shapes = []
    for index, area in enumerate(plain.areas):
        own = len(site.areas[index].islands)
        try:
            shapes.append(shape_of(area, faults.at("areas", index), units, own, effort))
        except TooMuchWorkError:
            _too_much_work(faults, "areas", index, "islands")
    check_overlaps(plain, shapes, faults, units)
    return Floors(plain, shapes, effort)


def _too_much_work(faults: Faults, *where: str | int) -> None:
    faults.add(
        "too-much-work",
        "the figures up to here take longer to work out than one request may: leave out vertices "
        "of curves and of straight runs, leave out small islands, or send part of the site",
        *where,
    )
    faults.raise_if_any()


def _check_vertices(site: Site, faults: Faults) -> None:
    count = 0
    for area in site.areas:
        count += vertices_of(area.outline)
        if area.islands:
            count += sum([vertices_of(island.outline) for island in area.islands])
    if count > MOST_VERTICES:
        faults.add(
            "too-many-vertices",
            f"the site's outlines and islands have {count} vertices and at most {MOST_VERTICES} "
            "are read at once; leave out vertices on straight runs, or send part of the site",
            "areas",
        )
        faults.raise_if_any()


def shape_of(
    area: SiteArea,
    faults: Faults,
    units: UnitSystem = "si",
    own_islands: int | None = None,
    effort: Effort | None = None,
) -> FloorShape | None:
    """The area's floor, or None after the faults of its outline and islands were added.

    Islands from number `own_islands` on are interior rings of the outline.
    """
    known = len(faults)
    own = len(area.islands) if own_islands is None else own_islands
    outline = _checked(area.outline, units, faults, "outline")
    islands = [
        _checked(island.outline, units, faults, *_where(index, own))
        for index, island in enumerate(area.islands)
    ]
    if outline is None or len(faults) > known:
        return None
    size = ring_area(outline.ring)
    if size > LARGEST_AREA:
        both = [format_text(Area(one), units) for one in (size, LARGEST_AREA)]
        detail = "encloses {}; at most {} are read as one area".format(*both)
        faults.add("too-large", detail, "outline")
    shape = FloorShape(outline.ring, tuple([island.ring for island in islands if island]))
    if islands:
        for fault in island_faults(shape, outline.ruler, own, effort):
            faults.add(fault.code, fault.detail, *_where(fault.island, own))
    return shape if len(faults) == known else None


def _where(island: int, own: int) -> tuple[str | int, ...]:
    return ("islands", island, "outline") if island < own else ("outline",)


def check_overlaps(
    site: Site, shapes: list[FloorShape | None], faults: Faults, units: UnitSystem = "si"
) -> None:
    """Areas of one level that lie on the plan may not cover the same floor."""
    levels: dict[str, list[int]] = defaultdict(list)
    for index, area in enumerate(site.areas):
        if shapes[index] is not None and is_placed(area.outline):
            levels[area.level].append(index)
    for level, indices in levels.items():
        placed = [shape for index in indices if (shape := shapes[index]) is not None]
        for found in _overlaps(placed, level, faults):
            first, second = indices[found.first], indices[found.second]
            place = _ruler(site.areas[second].outline, units).place(found.point)
            covered = format_text(Area(found.area), units)
            faults.add(
                "areas-overlap",
                f"covers {covered} of the floor of {site.areas[first].id} on level {level}, for "
                f"one at {place}; areas of one level may touch but not overlap",
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


def _ruler(outline: Outline, units: UnitSystem) -> Ruler:
    """That of the outline's own unit where it is of the system that areas are told in."""
    unit = getattr(outline, "unit", None)
    if unit is not None and (unit in _CUSTOMARY) == (units == "us"):
        return Ruler(unit, METRES[unit])
    return RULERS[units]


def _is_near(ring: Ring) -> bool:
    for x, y in ring:  # noqa: SIM110 - a generator costs more than the few comparisons
        if not (-FARTHEST <= x <= FARTHEST and -FARTHEST <= y <= FARTHEST):
            return False
    return True


def _checked(
    outline: Outline, units: UnitSystem, faults: Faults, *where: str | int
) -> Figure | None:
    figure = figure_of(outline, units, faults, *where)
    if figure is None:
        return None
    if not _is_near(figure.ring):
        ruler = figure.ruler
        farthest = f"{FARTHEST / ruler.metres:,.0f} {ruler.unit}"
        faults.add("too-large", f"coordinates lie within {farthest} of the origin", *where)
        return None
    for fault in ring_faults(figure.ring, figure.ruler):
        sides = ", ".join(str(edge) for edge in fault.edges[:_LISTED_SIDES])
        detail = f"{fault.detail} (sides {sides})" if sides else fault.detail
        faults.add(fault.code, detail, *where)
    return figure
