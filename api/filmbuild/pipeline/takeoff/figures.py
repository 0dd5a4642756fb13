"""Every kind of outline turned into a ring in metres, with the unit its places are told in."""

from typing import assert_never

import msgspec

from filmbuild.errors import Faults, Refusal
from filmbuild.pipeline.geometry import Point, Ring
from filmbuild.pipeline.outlines import Ruler
from filmbuild.pipeline.site import (
    Island,
    LShape,
    Origin,
    Outline,
    Polygon,
    Rectangle,
    Site,
    SiteArea,
    TShape,
    WellKnownText,
)
from filmbuild.pipeline.wkt import read_polygon
from filmbuild.quantities import Coordinate, UnitSystem, parse

METRES = {"m": 1.0, "cm": 0.01, "mm": 0.001, "ft": 0.3048, "in": 0.0254, "yd": 0.9144}
RULERS = {"us": Ruler("ft", METRES["ft"]), "si": Ruler()}
_TURNS = {0: (1.0, 0.0), 90: (0.0, 1.0), 180: (-1.0, 0.0), 270: (0.0, -1.0)}


class Figure(msgspec.Struct, frozen=True, gc=False):
    ring: Ring
    ruler: Ruler


def without_text(site: Site, faults: Faults) -> Site:
    """The site with the figures written as well-known text made polygons and islands."""
    if not any(_has_text(area) for area in site.areas):
        return site
    areas = [
        _area_without_text(area, faults.at("areas", index)) if _has_text(area) else area
        for index, area in enumerate(site.areas)
    ]
    return msgspec.structs.replace(site, areas=tuple(areas))


def is_placed(outline: Outline) -> bool:
    return isinstance(outline, Polygon | WellKnownText) or outline.origin is not None


def vertices_of(outline: Outline) -> int:
    """How many vertices an outline has at most, told without reading it."""
    if isinstance(outline, Polygon):
        return len(outline.vertices)
    return outline.text.count(",") + 1 if isinstance(outline, WellKnownText) else 8


def figure_of(
    outline: Outline, units: UnitSystem, faults: Faults, *where: str | int
) -> Figure | None:
    """None after the faults of its measures were added; whether the ring is simple is not seen."""
    ruler = RULERS[units]
    if isinstance(outline, Rectangle):
        origin = outline.origin
        left, bottom = (origin.x, origin.y) if origin is not None else (0.0, 0.0)
        right, top = left + outline.length, bottom + outline.width
        return Figure(((left, bottom), (right, bottom), (right, top), (left, top)), ruler)
    if isinstance(outline, Polygon):
        return _polygon(outline, ruler, faults.at(*where))
    if isinstance(outline, LShape):
        return _l_shape(outline, ruler, faults.at(*where))
    if isinstance(outline, TShape):
        return _t_shape(outline, ruler, faults.at(*where))
    if isinstance(outline, WellKnownText):
        raise TypeError("well-known text is made polygons first")
    assert_never(outline)


def _placed(corners: tuple[Point, ...], origin: Origin | None, rotation: int) -> Ring:
    left, bottom = (origin.x, origin.y) if origin is not None else (0.0, 0.0)
    cosine, sine = _TURNS[rotation]
    return tuple(
        [(left + x * cosine - y * sine, bottom + x * sine + y * cosine) for x, y in corners]
    )


def _l_shape(outline: LShape, ruler: Ruler, faults: Faults) -> Figure | None:
    length, width = outline.length, outline.width
    along, across = outline.end_length, outline.end_width
    known = len(faults)
    for short, whole, name in ((along, length, "length"), (across, width, "width")):
        if short >= whole:
            detail = f"the end wall is shorter than the {name} of {_measure(whole, ruler)}"
            faults.add("not-an-l", detail, f"end_{name}")
    if len(faults) > known:
        return None
    corners = ((0.0, 0.0), (length, 0.0), (length, across), (along, across), (along, width))
    return Figure(_placed((*corners, (0.0, width)), outline.origin, outline.rotation), ruler)


def _t_shape(outline: TShape, ruler: Ruler, faults: Faults) -> Figure | None:
    length, bar, stem = outline.length, outline.bar_width, outline.stem_width
    spare = length - stem
    near = spare / 2 if outline.shoulder is None else outline.shoulder
    if spare <= 0:
        detail = f"the stem is narrower than the length of {_measure(length, ruler)}"
        faults.add("not-a-t", detail, "stem_width")
        return None
    if near >= spare:
        detail = f"beside the stem are {_measure(spare, ruler)}; leave some on its far side"
        faults.add("not-a-t", detail, "shoulder")
        return None
    far, top = near + stem, bar + outline.stem_length
    corners = ((0.0, 0.0), (length, 0.0), (length, bar), (far, bar), (far, top), (near, top))
    ring = _placed((*corners, (near, bar), (0.0, bar)), outline.origin, outline.rotation)
    return Figure(ring, ruler)


def _measure(length: float, ruler: Ruler) -> str:
    return f"{length / ruler.metres:.6g} {ruler.unit}"


def _polygon(outline: Polygon, ruler: Ruler, faults: Faults) -> Figure | None:
    if outline.unit is not None:
        ruler = Ruler(outline.unit, METRES[outline.unit])
        factor = ruler.metres
        try:
            return Figure(tuple([(x * factor, y * factor) for x, y in outline.vertices]), ruler)  # type: ignore[operator]  # text fails, and is read below
        except TypeError:
            pass
    known = len(faults)
    ring = tuple(
        [
            (_coordinate(x, outline, faults, index, 0), _coordinate(y, outline, faults, index, 1))
            for index, (x, y) in enumerate(outline.vertices)
        ]
    )
    return Figure(ring, ruler) if len(faults) == known else None


def _coordinate(
    place: float | str, outline: Polygon, faults: Faults, vertex: int, axis: int
) -> float:
    where = ("vertices", vertex, axis)
    if isinstance(place, str):
        try:
            return parse(Coordinate, place)
        except Refusal as refusal:
            faults.add(refusal.code, refusal.detail, *where)
            return 0.0
    if outline.unit is None:
        detail = 'a number needs the `unit` of the polygon; or write "24 ft 6 in"'
        faults.add("missing-unit", detail, *where)
        return 0.0
    return place * METRES[outline.unit]


def _has_text(area: SiteArea) -> bool:
    return isinstance(area.outline, WellKnownText) or any(
        isinstance(island.outline, WellKnownText) for island in area.islands
    )


def _area_without_text(area: SiteArea, faults: Faults) -> SiteArea:
    islands = [
        _island_without_text(island, faults.at("islands", index, "outline"))
        for index, island in enumerate(area.islands)
    ]
    outline = area.outline
    if isinstance(outline, WellKnownText):
        polygons = _polygons(outline, faults.at("outline"))
        edge = outline.interior_edge
        outline = polygons[0]
        islands += [Island(outline=one, edge=edge) for one in polygons[1:]]
    return msgspec.structs.replace(area, outline=outline, islands=tuple(islands))


def _island_without_text(island: Island, faults: Faults) -> Island:
    if not isinstance(island.outline, WellKnownText):
        return island
    outline, *holes = _polygons(island.outline, faults)
    if holes:
        detail = "an island is left out whole; floor inside it is an area of its own"
        faults.add("island-with-holes", detail, "text")
    return msgspec.structs.replace(island, outline=outline)


def _polygons(outline: WellKnownText, faults: Faults) -> list[Polygon]:
    """One that says nothing where the text cannot be read: its fault has been added."""
    try:
        rings = read_polygon(outline.text)
    except Refusal as refusal:
        faults.add(refusal.code, refusal.detail, "text")
        rings = [((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))]
    return [Polygon(unit=outline.unit, vertices=ring) for ring in rings]
