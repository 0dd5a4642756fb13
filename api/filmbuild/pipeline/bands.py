"""The bands of floor along the walls that machines and wide rollers do not reach.

A machine is driven in straight passes and keeps its working width away from a wall. The band of
width ``w`` is therefore the union, cut to the floor, of

- for each stretch of wall, the rectangle of that stretch and of depth ``w`` into the floor, with
  flat ends: past the end of a wall, in a doorway, the machine runs through;
- where two walls meet and turn away from the floor (a column, the inside of an L), the mitre
  between their rectangles: the passes along the two walls stop at each other's line and leave
  the square corner, not a rounded one. At corners sharper than a right angle the mitre is cut
  off square to its middle line at ``sqrt(2) w``, the reach it has at a right angle, so that a
  narrow wedge does not throw a long spike.

Being a union, it counts corners once, and once also where the bands of opposite walls meet.
All boundaries are straight, so the areas are exact up to rounding.
"""

from collections.abc import Callable, Sequence
from math import atan, cos, sin
from typing import TypeAlias

import msgspec

from filmbuild.pipeline.band_groups import MITRE_REACH, around, groups_of
from filmbuild.pipeline.band_union import united_areas
from filmbuild.pipeline.boxes import Box, bounding_box
from filmbuild.pipeline.effort import Effort
from filmbuild.pipeline.geometry import FOUR_CORNERS, FloorShape, edge_lengths
from filmbuild.pipeline.walls import RingWalls, WallStretch, net_of, ring_walls

SQUARE_WITHIN = 1e-12
PAIRWISE_EDGES = 24
PAIRWISE_ISLANDS = 24

_Method: TypeAlias = Callable[[Sequence[RingWalls], Sequence[float]], list[float] | None]


def band_areas(
    shape: FloorShape, walls: Sequence[WallStretch], widths: Sequence[float]
) -> tuple[float, ...]:
    """Area [m2] of the band of each width [m] along the stretches of wall of a valid shape."""
    return band_areas_of(ring_walls(shape, walls), widths)


def band_areas_of(
    rings: Sequence[RingWalls], widths: Sequence[float], effort: Effort | None = None
) -> tuple[float, ...]:
    """The same of a shape whose walls are laid out along its outline and its islands.

    Raises TooMuchWorkError where uniting what no closed form fits takes more than the effort left.
    """
    net = net_of(rings)
    areas = _closed_form(rings, widths)
    if areas is None:
        areas = _by_groups(rings, widths, effort)
    return tuple([min(max(area, 0.0), net) for area in areas])


def _closed_form(rings: Sequence[RingWalls], widths: Sequence[float]) -> list[float] | None:
    for method in _METHODS:
        areas = method(rings, widths)
        if areas is not None:
            return areas
    return None


def _by_groups(
    rings: Sequence[RingWalls], widths: Sequence[float], effort: Effort | None
) -> list[float]:
    """Only what lies near one another is united, and only where no closed form fits it."""
    widest = max(widths, default=0.0)
    outer, *others = groups_of(rings, widest)
    areas = _closed_form(outer, widths) if others else None
    if areas is None:
        shape = FloorShape(outer[0].points, tuple([ring.points for ring in outer[1:]]))
        areas = united_areas(shape, outer, widths, effort)
    for islands in others:
        found = _lone_island(islands[0], widths) if len(islands) == 1 else None
        if found is None:
            found = united_areas(around(islands, widest), islands, widths, effort)
        areas = [one + more for one, more in zip(areas, found, strict=True)]
    return areas


def _lone_island(ring: RingWalls, widths: Sequence[float]) -> list[float] | None:
    """An island with no other ring near: bare, convex, or upright with no strip in another's way."""
    if not ring.total:
        return [0.0 for _ in widths]
    if all(_is_whole(ring, edge) for edge in range(len(ring.points))):
        turns = ring.turns()
        if all(turn <= 0 for turn in turns):
            corners = sum(map(_mitre_area, ring.half_turns()))
            return [width * (ring.total + width * corners) for width in widths]
    if len(ring.points) > PAIRWISE_EDGES or not ring.is_upright():
        return None
    corners_of = _Corners.of(ring)
    strips = _strips(ring, corners_of, max(widths, default=0.0))
    if _in_the_way(strips, corners_of.inner, len(ring.points)):
        return None
    return [_upright_band(ring, corners_of, width) for width in widths]


def _mitre_area(half_turn: float) -> float:
    """Of a band of width 1, between the strips of walls that turn away from the floor."""
    tangent = -half_turn
    if tangent <= 1:
        return tangent
    half = atan(tangent)
    reach = (MITRE_REACH - cos(half)) / sin(half)
    return tangent - (tangent - reach) ** 2 * sin(2 * half) / 2


def whole_walls(shape: FloorShape) -> tuple[WallStretch, ...]:
    """Every edge of the outline and of the islands, as wall over its whole length."""
    return tuple(
        WallStretch(ring, edge, 0.0, length)
        for ring, points in enumerate((shape.outline, *shape.islands))
        for edge, length in enumerate(edge_lengths(points))
    )


def _rectangle(rings: Sequence[RingWalls], widths: Sequence[float]) -> list[float] | None:
    """One rectangle, at any angle: bare floor ``(a - nw)(b - mw)``, or strips less corners."""
    ring = rings[0]
    if len(rings) > 1 or not _is_rectangle(ring):
        return None
    length, breadth = ring.lengths[0], ring.lengths[1]
    if all(not runs or _is_whole(ring, edge) for edge, runs in enumerate(ring.runs)):
        first, second, third, fourth = (1 if runs else 0 for runs in ring.runs)
        along, across = second + fourth, first + third
        return [
            length * breadth - max(length - along * width, 0.0) * max(breadth - across * width, 0.0)
            for width in widths
        ]
    if 2 * max(widths, default=0.0) > min(length, breadth):
        return None
    corners = range(FOUR_CORNERS)
    return [width * ring.total - _corners(ring, corners, width) for width in widths]


def _is_rectangle(ring: RingWalls) -> bool:
    if len(ring.points) != FOUR_CORNERS:
        return False
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = ring.points
    length, breadth = ring.lengths[0], ring.lengths[1]
    skew = abs((x1 - x0) * (x2 - x1) + (y1 - y0) * (y2 - y1))
    gap = abs(x0 - x1 + x2 - x3) + abs(y0 - y1 + y2 - y3)
    return skew <= SQUARE_WITHIN * length * breadth and gap <= SQUARE_WITHIN * (length + breadth)


def _is_whole(ring: RingWalls, edge: int) -> bool:
    return ring.runs[edge] == ((0.0, ring.lengths[edge]),)


def _corners(ring: RingWalls, corners: Sequence[int], width: float) -> float:
    """Area counted twice where the strips of an edge and of the one before cross squarely."""
    twice = 0.0
    for corner in corners:
        reach = ring.lengths[corner - 1] - width
        before = after = 0.0
        for start, end in ring.runs[corner - 1]:
            if end > reach:
                before += end - (max(reach, start))
        if not before:
            continue
        for start, end in ring.runs[corner]:
            if start < width:
                after += (min(width, end)) - start
        twice += before * after
    return twice


def _convex(rings: Sequence[RingWalls], widths: Sequence[float]) -> list[float] | None:
    """A convex ring walled all round: ``P w - w2 sum(tan(turn / 2))``, the strip of an offset.

    Holds while the offset has every edge left.
    """
    ring = rings[0]
    if len(rings) > 1 or not all(_is_whole(ring, edge) for edge in range(len(ring.points))):
        return None
    if any(turn < 0 for turn in ring.turns()):
        return None
    halves = ring.half_turns()
    widest = max(widths, default=0.0)
    for length, here, there in zip(ring.lengths, halves, [*halves[1:], halves[0]], strict=True):
        if length < widest * (here + there):
            return None
    bend = sum(halves)
    return [width * (ring.total - width * bend) for width in widths]


def _upright(rings: Sequence[RingWalls], widths: Sequence[float]) -> list[float] | None:
    """All edges along x or y and no strip in another's way: strips - inner + outer corners."""
    if len(rings) > PAIRWISE_ISLANDS or any(
        len(ring.points) > PAIRWISE_EDGES or not ring.is_upright() for ring in rings
    ):
        return None
    widest = max(widths, default=0.0)
    corners = [_Corners.of(ring) for ring in rings]
    strips = _strips(rings[0], corners[0], widest)
    if _in_the_way(strips, corners[0].inner, len(rings[0].points)):
        return None
    for ring, turned in zip(rings[1:], corners[1:], strict=True):
        if len(ring.points) > FOUR_CORNERS:
            own = _strips(ring, turned, widest)
            if _in_the_way(own, turned.inner, len(ring.points)):
                return None
        around = _surroundings(ring, widest)
        if _overlaps_any(around, strips):
            return None
        strips.append(around)
    both = list(zip(rings, corners, strict=True))
    return [sum([_upright_band(*one, width) for one in both]) for width in widths]


def _upright_band(ring: RingWalls, corners: "_Corners", width: float) -> float:
    strips = width * (ring.total + width * len(corners.mitred))
    return strips - _corners(ring, corners.inner, width)


class _Corners(msgspec.Struct, frozen=True):
    """Vertices where the walls turn into the floor, and where two walls turn away from it."""

    inner: list[int]
    mitred: list[int]

    @classmethod
    def of(cls, ring: RingWalls) -> "_Corners":
        turns = ring.turns()
        return cls(
            [corner for corner, turn in enumerate(turns) if turn > 0],
            [corner for corner, turn in enumerate(turns) if turn < 0 and ring.joins(corner)],
        )


def _strips(ring: RingWalls, corners: _Corners, width: float) -> list[Box]:
    """The strip of each edge, of no depth where it has no wall, and the squares of the mitres."""
    strips = []
    for edge, (x, y) in enumerate(ring.points):
        next_x, next_y = ring.ends[edge]
        left, right = (x, next_x) if x < next_x else (next_x, x)
        bottom, top = (y, next_y) if y < next_y else (next_y, y)
        if ring.runs[edge]:
            in_x, in_y = ring.inward(edge, width)
            if left == right:
                left, right = (left, left + in_x) if in_x > 0 else (left + in_x, left)
            else:
                bottom, top = (bottom, bottom + in_y) if in_y > 0 else (bottom + in_y, bottom)
        strips.append((left, bottom, right, top))
    for corner in corners.mitred:
        x, y = ring.points[corner]
        before_x, before_y = ring.inward(corner - 1, width)
        after_x, after_y = ring.inward(corner, width)
        far_x, far_y = x + before_x + after_x, y + before_y + after_y
        strips.append((min(x, far_x), min(y, far_y), max(x, far_x), max(y, far_y)))
    return strips


def _surroundings(ring: RingWalls, width: float) -> Box:
    left, bottom, right, top = bounding_box(ring.points)
    reach = width if ring.total else 0.0
    return left - reach, bottom - reach, right + reach, top + reach


def _in_the_way(strips: Sequence[Box], inner: Sequence[int], edges: int) -> bool:
    """Whether any two strips overlap, other than those of two edges at an inner corner."""
    expected = {(corner - 1, corner) if corner else (0, edges - 1) for corner in inner}
    for first, (left, bottom, right, top) in enumerate(strips):
        for second in range(first + 1, len(strips)):
            other_left, other_bottom, other_right, other_top = strips[second]
            if (
                left < other_right
                and other_left < right
                and bottom < other_top
                and other_bottom < top
                and (first, second) not in expected
            ):
                return True
    return False


def _overlaps_any(box: Box, others: Sequence[Box]) -> bool:
    left, bottom, right, top = box
    for other_left, other_bottom, other_right, other_top in others:
        if left < other_right and other_left < right and bottom < other_top and other_bottom < top:
            return True
    return False


_METHODS: tuple[_Method, ...] = (_rectangle, _upright, _convex)
