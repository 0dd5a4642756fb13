"""Corners of a floor that lie where areas are joined, so that no single area has both walls."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from math import atan2, pi, tau
from typing import Literal, TypeAlias

import msgspec

from filmbuild.pipeline.band_union import Piece, mitre
from filmbuild.pipeline.geometry import Point
from filmbuild.pipeline.takeoff.stretches import SLACK, Sides, Stretch, by_side
from filmbuild.pipeline.walls import RingWalls

ONE_PLACE = 0.01
"""[m] Corners of areas nearer than this are one: sides may lie 5 mm apart and be one line."""
SAME_WAY = 1e-2
"""[rad] Directions of one line as two areas have it."""
STRAIGHT = 1e-9

_Kind: TypeAlias = Literal["wall", "joined", "open"]


class Corner(msgspec.Struct, frozen=True):
    """Where the wall that arrives by `before` is left by one in direction `after`, floor left."""

    point: Point
    before: Point
    after: Point

    def piece(self, width: float) -> Piece:
        """The mitre between the strips of the two walls."""
        (x, y), (in_x, in_y), (out_x, out_y) = self.point, self.before, self.after
        points = ((x - in_x, y - in_y), self.point, (x + out_x, y + out_y))
        wedge = RingWalls(points, (*points[1:], points[0]), [1.0, 1.0, 1.0], 1.0, 0.0, [], 0.0)
        return (self.point, *mitre(wedge, 1, width), (x - in_y * width, y + in_x * width))


class _Sector(msgspec.Struct, frozen=True):
    """An area's floor at a point, counter-clockwise from the ray `first` to the ray `last`."""

    point: Point
    first: Point
    first_kind: _Kind
    last: Point
    last_kind: _Kind

    @property
    def angle(self) -> float:
        return (_bearing(self.last) - _bearing(self.first)) % tau


def joined_corners(
    members: Mapping[int, Sequence[Stretch]], rings: Mapping[int, Sequence[RingWalls]]
) -> Iterator[Corner]:
    """Those that turn away from the floor, of the areas of one level and their joined stretches."""
    for sectors in _by_place(members, rings):
        for begin in sectors:
            if begin.first_kind != "wall" or begin.last_kind != "joined":
                continue
            turned, end = begin.angle, begin
            for _ in sectors:
                if end.last_kind != "joined":
                    break
                following = next((one for one in sectors if _follows(end, one)), None)
                if following is None:
                    break
                turned, end = turned + following.angle, following
            if end.last_kind == "wall" and turned > pi + STRAIGHT:
                yield Corner(begin.point, (-end.last[0], -end.last[1]), begin.first)


def _by_place(
    members: Mapping[int, Sequence[Stretch]], rings: Mapping[int, Sequence[RingWalls]]
) -> Iterator[list[_Sector]]:
    """The sectors at each end of a joined stretch, where there are several."""
    places: defaultdict[tuple[int, int], list[_Sector]] = defaultdict(list)
    for area, stretches in members.items():
        own, sides = rings[area], by_side(stretches)
        seen: set[tuple[int, int, float]] = set()
        for one in stretches:
            ring = own[one.ring]
            for along in (one.start, one.end):
                side, place = _settled(ring, one.side, along)
                if (one.ring, side, place) not in seen:
                    seen.add((one.ring, side, place))
                    sector = _sector(ring, side, place, sides, one.ring)
                    places[_cell(places, sector.point)].append(sector)
    yield from (sectors for sectors in places.values() if len(sectors) > 1)


def _cell(places: Mapping[tuple[int, int], object], point: Point) -> tuple[int, int]:
    """The cell of a point, or a neighbouring one that points near it are in already."""
    x, y = point[0] / ONE_PLACE, point[1] / ONE_PLACE
    around = [
        (round(x + step_x), round(y + step_y))
        for step_x in (-0.45, 0.45)
        for step_y in (-0.45, 0.45)
    ]
    return next((cell for cell in around if cell in places), (round(x), round(y)))


def _settled(ring: RingWalls, side: int, along: float) -> tuple[int, float]:
    """A vertex belongs to the side that starts there."""
    if along >= ring.lengths[side] - SLACK:
        return (side + 1) % len(ring.points), 0.0
    return side, 0.0 if along <= SLACK else along


def _sector(ring: RingWalls, side: int, along: float, sides: Sides, number: int) -> _Sector:
    point = ring.place(side, along)
    before = side if along else (side - 1) % len(ring.points)
    reached = along or ring.lengths[before]
    onward, back = ring.direction(side), ring.direction(before)
    back = (-back[0], -back[1])
    leaving = _kind(ring, side, along, sides, number, forward=True)
    arriving = _kind(ring, before, reached, sides, number, forward=False)
    if ring.side > 0:
        return _Sector(point, onward, leaving, back, arriving)
    return _Sector(point, back, arriving, onward, leaving)


def _kind(
    ring: RingWalls,
    side: int,
    along: float,
    sides: Sides,
    number: int,
    *,
    forward: bool,
) -> _Kind:
    for start, end in ring.runs[side]:
        if abs((start if forward else end) - along) <= SLACK:
            return "wall"
    for one in sides.get((number, side), ()):
        if abs((one.start if forward else one.end) - along) <= SLACK:
            return "joined"
    return "open"


def _follows(one: _Sector, other: _Sector) -> bool:
    if other is one or other.first_kind != "joined":
        return False
    apart = (_bearing(other.first) - _bearing(one.last)) % tau
    return min(apart, tau - apart) <= SAME_WAY


def _bearing(direction: Point) -> float:
    return atan2(direction[1], direction[0])
