"""Joints, cracks, drains, pits, posts and steps that are given a place on the plan."""

from collections.abc import Sequence
from functools import cached_property
from itertools import islice, pairwise
from math import dist
from typing import TypeVar

import msgspec
import shapely

from filmbuild.errors import Faults
from filmbuild.pipeline.boxes import CHUNK, bounding_box, is_box, meeting_boxes
from filmbuild.pipeline.effort import Effort, TooMuchWorkError
from filmbuild.pipeline.geometry import SMALLEST_AREA, FloorShape, Point, Ring
from filmbuild.pipeline.outlines import METRE_RULER, SAME_POINT, Ruler
from filmbuild.pipeline.site import SiteArea
from filmbuild.pipeline.site_places import FloorLine
from filmbuild.pipeline.site_work import Footprint, StepFlight
from filmbuild.pipeline.takeoff.plan_marks import (
    centred_ring,
    cornered_ring,
    flight_ring,
    line_of,
)
from filmbuild.quantities import PositiveLength, UnitSystem

AGREEMENT = 0.01
"""A length as measured differs from that of its path by no more than this share."""
MOST_FAULTS = 100
_FOOT = Ruler("ft", 0.3048)
_VERTICES_FOR_EFFORT = 20
Line = TypeVar("Line", bound=FloorLine)


def with_lengths(
    area: SiteArea, shape: FloorShape, units: UnitSystem, effort: Effort, faults: Faults
) -> SiteArea:
    """The area with the lengths of joints and cracks that have a path alone; all places checked.

    Raises InvalidInput at once where comparing them with the floor takes too long.
    """
    if not (area.joints or area.cracks or _has_places(area)):
        return area
    floor = _Floor(shape, effort, units)
    try:
        joints = tuple(_measured(area.joints, floor, faults.at("joints")))
        cracks = tuple(_measured(area.cracks, floor, faults.at("cracks")))
        if _has_places(area):
            _check_places(area, floor, faults)
    except TooMuchWorkError:
        faults.add(
            "too-much-work",
            "the places up to here take longer to compare with the floor than one request may: "
            "leave out vertices of paths, give some without a place, or send part of the site",
        )
        faults.raise_if_any()
        raise
    if joints == area.joints and cracks == area.cracks:
        return area
    return msgspec.structs.replace(area, joints=joints, cracks=cracks)


def _has_places(area: SiteArea) -> bool:
    return bool(area.drains or area.collars or area.pits or area.steps)


class _Floor:
    """A floor with what of it has to be known to see whether something lies on it."""

    def __init__(self, shape: FloorShape, effort: Effort, units: UnitSystem) -> None:
        self._shape = shape
        self._effort = effort
        self.units = units
        self.ruler = _FOOT if units == "us" else METRE_RULER
        left, bottom, right, top = bounding_box(shape.outline)
        self._box = (left - SAME_POINT, bottom - SAME_POINT, right + SAME_POINT, top + SAME_POINT)
        self._vertices = len(shape.outline) + sum([len(one) for one in shape.islands])

    def spend(self, pieces: int) -> None:
        self._effort.spend(pieces * (2 + self._vertices // _VERTICES_FOR_EFFORT))

    def beyond_box(self, points: Sequence[Point]) -> Point | None:
        left, bottom, right, top = self._box
        return next(
            ((x, y) for x, y in points if not (left <= x <= right and bottom <= y <= top)), None
        )

    @cached_property
    def is_plain(self) -> bool:
        """Whether what lies in the box lies on the floor."""
        outline = self._shape.outline
        return not self._shape.islands and is_box(outline, bounding_box(outline))

    @cached_property
    def outline(self) -> shapely.Polygon:
        return self._widened(())

    @cached_property
    def figure(self) -> shapely.Polygon:
        return self._widened(self._shape.islands) if self._shape.islands else self.outline

    def _widened(self, islands: Sequence[Ring]) -> shapely.Polygon:
        """By as much as two points may lie apart and be the same."""
        self._effort.spend(5 * self._vertices)
        floor = shapely.buffer(
            shapely.Polygon(self._shape.outline, islands), SAME_POINT, join_style="mitre"
        )
        shapely.prepare(floor)
        return floor


def _measured(lines: Sequence[Line], floor: _Floor, faults: Faults) -> list[Line]:
    return [_with_length(line, floor, faults.at(index)) for index, line in enumerate(lines)]


def _with_length(line: Line, floor: _Floor, faults: Faults) -> Line:
    if line.path is None:
        if line.length is None:
            detail = "give the length, or the path on the plan that it is worked out from"
            faults.add("missing-field", detail, "length")
            return msgspec.structs.replace(line, length=PositiveLength(0.0))
        return line
    figure = line_of(line.path, floor.units, faults.at("path"))
    known = len(faults)
    length = 0.0 if figure is None else _length_on(figure.ring, figure.ruler, floor, faults)
    if line.length is None:
        return msgspec.structs.replace(line, length=PositiveLength(length))
    if figure is None or len(faults) > known:
        return line
    if abs(line.length - length) > AGREEMENT * length:
        detail = (
            f"the path is {length / figure.ruler.metres:.6g} {figure.ruler.unit} long and the "
            f"length given is {line.length / figure.ruler.metres:.6g} {figure.ruler.unit}: they "
            "agree within 1 %, or leave one of them out"
        )
        faults.add("length-differs", detail, "length")
    return line


def _length_on(points: Ring, ruler: Ruler, floor: _Floor, faults: Faults) -> float:
    """[m] Of the path, less what crosses islands."""
    place = floor.beyond_box(points)
    if place is None and not floor.is_plain:
        place, length = _compared(points, floor)
    else:
        length = sum(map(dist, points, points[1:]))
    if place is not None:
        detail = f"leaves the outline of the area at {ruler.place(place)}; it keeps to the floor"
        faults.add("leaves-outline", detail, "path")
    elif length < SAME_POINT:
        faults.add("no-length", "has no length on the floor", "path")
    return length


def _compared(points: Ring, floor: _Floor) -> tuple[Point | None, float]:
    """Where the path leaves the outline, and else its length on the floor."""
    ends = [(start, end) for start, end in pairwise(points) if start != end]
    if not ends:
        return None, 0.0
    pieces = shapely.linestrings(ends)
    floor.spend(len(pieces))
    inside = shapely.covers(floor.outline, pieces).tolist()
    if not all(inside):
        first = inside.index(False)
        beyond = shapely.difference(pieces[first], floor.outline)
        x, y = [*shapely.get_coordinates(beyond).tolist(), ends[first][0]][0]
        return (x, y), 0.0
    if floor.figure is floor.outline:
        return None, sum(map(dist, points, points[1:]))
    floor.spend(len(pieces))
    lengths = shapely.length(pieces)
    crossing = ~shapely.covers(floor.figure, pieces)
    floor.spend(20 * int(crossing.sum()))
    lengths[crossing] = shapely.length(shapely.intersection(pieces[crossing], floor.figure))
    return None, sum(lengths.tolist())


def _check_places(area: SiteArea, floor: _Floor, faults: Faults) -> None:
    standing: list[_Standing] = []
    for field, things in (("drains", area.drains), ("collars", area.collars)):
        for index, one in enumerate(things):
            if one.at is not None:
                standing.append(_Standing(field, index, centred_ring(one, one.at)))
                _check_single(one, faults.at(field, index))
    pits: list[_Standing] = []
    for index, one in enumerate(area.pits):
        if one.at is not None:
            pits.append(_Standing("pits", index, cornered_ring(one, one.at)))
            _check_single(one, faults.at("pits", index))
    flights = [
        _Standing("steps", index, flight_ring(flight, flight.at))
        for index, flight in enumerate(area.steps)
        if flight.at is not None and _has_run(flight, faults.at("steps", index))
    ]
    for group in (standing, pits, flights):
        if group and _all_inside(group, floor, faults):
            _check_apart(group, floor, faults)


class _Standing(msgspec.Struct, frozen=True):
    field: str
    index: int
    ring: Ring


def _check_single(one: Footprint, faults: Faults) -> None:
    if one.count > 1:
        detail = f"{one.count} of them cannot lie at one place: give each with a place of its own"
        faults.add("several-at-one-place", detail, "count")


def _has_run(flight: StepFlight, faults: Faults) -> bool:
    if flight.treads == "added":
        detail = "added treads are outside the outline, and so have no place in it"
        faults.add("not-in-outline", detail, "at")
    elif flight.going is None or flight.risers == 1:
        detail = "a flight with a place has a going and two risers at least"
        faults.add("missing-field", detail, "going")
    else:
        return True
    return False


def _all_inside(group: Sequence[_Standing], floor: _Floor, faults: Faults) -> bool:
    known = len(faults)
    for one in group:
        place = floor.beyond_box(one.ring)
        if place is None and not floor.is_plain:
            place = _off_floor(one.ring, floor)
        if place is not None:
            detail = (
                f"does not lie on the floor at {floor.ruler.place(place)}; keep it whole inside "
                "the outline and clear of islands"
            )
            faults.add("outside-floor", detail, one.field, one.index, "at")
    return len(faults) == known


def _off_floor(ring: Ring, floor: _Floor) -> Point | None:
    floor.spend(len(ring) // 4)
    figure = shapely.Polygon(ring)
    if shapely.covers(floor.figure, figure):
        return None
    floor.spend(20)
    inner = shapely.point_on_surface(shapely.difference(figure, floor.figure))
    return inner.x, inner.y


def _check_apart(group: Sequence[_Standing], floor: _Floor, faults: Faults) -> None:
    """At most a hundred of those that lie on one another are told."""
    figures = shapely.polygons([shapely.linearrings(one.ring) for one in group])
    pairs = meeting_boxes([bounding_box(one.ring) for one in group])
    told = 0
    while told < MOST_FAULTS and (some := list(islice(pairs, CHUNK))):
        floor.spend(len(some))
        shared = shapely.intersection(
            figures[[first for first, _ in some]], figures[[second for _, second in some]]
        )
        for place in (shapely.area(shared) > SMALLEST_AREA).nonzero()[0].tolist():
            first, second = (group[index] for index in some[place])
            inner = shapely.point_on_surface(shared[place])
            detail = (
                f"lies on {first.field}/{first.index} at {floor.ruler.place((inner.x, inner.y))}; "
                "no two of these lie on one another"
            )
            faults.add(f"{second.field}-overlap", detail, second.field, second.index, "at")
            told += 1
