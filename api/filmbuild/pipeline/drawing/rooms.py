"""The site as it is drawn: each area's outline, its walls, and what its other edges are."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.boxes import Box, bounding_box
from filmbuild.pipeline.geometry import FOUR_CORNERS, FloorShape, Point, Ring, edge_lengths
from filmbuild.pipeline.results import AreaTakeoff, Takeoff
from filmbuild.pipeline.results.traffic import DoorwayTakeoff, EdgeRun
from filmbuild.pipeline.site import Outline, Site, SiteArea
from filmbuild.pipeline.takeoff.figures import figure_of, is_placed, without_text
from filmbuild.pipeline.walls import RingWalls, WallStretch, ring_walls

_SQUARE = 1e-6
"""Cosine of the angle at a corner that is taken for square."""
_SLACK = 1e-6
"""[m] What is left of a side between two stretches is no wall where it is shorter."""


class Stretch(msgspec.Struct, frozen=True):
    """Part of a side, from one point to another; `out` leads a metre out of the floor."""

    kind: str
    start: Point
    end: Point
    out: Point


class Door(msgspec.Struct, frozen=True):
    """A doorway on the side of it that it is drawn from; `out` leads away from the floor."""

    name: str
    start: Point
    end: Point
    out: Point
    has_leaf: bool


class Room(msgspec.Struct, frozen=True):
    """An area in metres; ring 0 of `rings` is the outline."""

    area: SiteArea
    takeoff: AreaTakeoff
    shape: FloorShape
    rings: list[RingWalls]
    stretches: list[Stretch]
    exits: list[Stretch]
    doors: list[Door]

    @property
    def is_placed(self) -> bool:
        return is_placed(self.area.outline)

    @property
    def box(self) -> Box:
        return bounding_box(self.shape.outline)

    @property
    def is_rectangle(self) -> bool:
        ring = self.rings[0]
        if len(ring.points) != FOUR_CORNERS:
            return False
        steps = [ring.direction(side) for side in range(FOUR_CORNERS)]
        return all(
            abs(one[0] * other[0] + one[1] * other[1]) < _SQUARE for one, other in pairwise(steps)
        )

    @property
    def has_lines(self) -> bool:
        """Whether joints or cracks are drawn on it."""
        return any(one.path is not None for one in (*self.area.joints, *self.area.cracks))

    @property
    def is_plain(self) -> bool:
        """An upright rectangle without islands."""
        ring = self.rings[0]
        return len(self.rings) == 1 and len(ring.points) == FOUR_CORNERS and ring.is_upright()


def rooms_of(site: Site, takeoff: Takeoff) -> list[Room]:
    """In the site's order. The takeoff is that of this site."""
    doorways: defaultdict[str, list[DoorwayTakeoff]] = defaultdict(list)
    for doorway in takeoff.doorways:
        doorways[doorway.sides[0].area].append(doorway)
    areas = without_text(site, Faults()).areas
    return [
        _room(area, found, doorways.get(area.id, ()))
        for area, found in zip(areas, takeoff.areas, strict=True)
    ]


def _room(area: SiteArea, found: AreaTakeoff, doorways: Sequence[DoorwayTakeoff]) -> Room:
    shape = FloorShape(
        _ring(area.outline), tuple([_ring(island.outline) for island in area.islands])
    )
    rings = ring_walls(shape, _walls(area, shape, found.runs))
    runs = [(run, _stretch(rings, run)) for run in found.runs]
    exits = [stretch for run, stretch in runs if run.exit]
    for edge in area.edges:
        if edge.exit and edge.kind == "wall":
            start = edge.offset or 0.0
            end = rings[0].lengths[edge.side] if edge.length is None else start + edge.length
            exits.append(_part(rings[0], edge.side, start, end, "wall"))
    doors = [_door(rings, doorway) for doorway in doorways]
    return Room(area, found, shape, rings, [stretch for _, stretch in runs], exits, doors)


def _ring(outline: Outline) -> Ring:
    figure = figure_of(outline, "si", Faults())
    if figure is None:
        raise ValueError("the site was taken off, but one of its outlines cannot be read")
    return figure.ring


def _walls(area: SiteArea, shape: FloorShape, runs: Sequence[EdgeRun]) -> Iterator[WallStretch]:
    """What the runs leave of the outline and of walled islands."""
    by_side: defaultdict[tuple[int, int], list[EdgeRun]] = defaultdict(list)
    for run in sorted(runs, key=lambda one: one.offset):
        by_side[_number(run.island), run.side].append(run)
    for number, ring in enumerate((shape.outline, *shape.islands)):
        if number and area.islands[number - 1].edge == "open":
            continue
        for side, length in enumerate(edge_lengths(ring)):
            reached = 0.0
            for run in by_side.get((number, side), ()):
                if run.offset - reached > _SLACK:
                    yield WallStretch(number, side, reached, run.offset)
                reached = max(reached, run.offset + run.length)
            if length - reached > _SLACK:
                yield WallStretch(number, side, reached, length)


def _number(island: int | None) -> int:
    return 0 if island is None else island + 1


def _stretch(rings: Sequence[RingWalls], run: EdgeRun) -> Stretch:
    ring = rings[_number(run.island)]
    return _part(ring, run.side, run.offset, run.offset + run.length, run.kind)


def _door(rings: Sequence[RingWalls], doorway: DoorwayTakeoff) -> Door:
    side = doorway.sides[0]
    ring = rings[_number(side.island)]
    part = _part(ring, side.side, side.offset, side.offset + side.width, "")
    return Door(doorway.id, part.start, part.end, part.out, doorway.door)


def _part(ring: RingWalls, side: int, start: float, end: float, kind: str) -> Stretch:
    out = ring.inward(side, -1.0)
    return Stretch(kind, along(ring, side, start), along(ring, side, end), out)


def wall_lines(ring: RingWalls) -> list[tuple[list[Point], bool]]:
    """Walls as lines that go round the corners where two of them meet, and whether one closes."""
    lines: list[list[Point]] = []
    goes_on = False
    for edge, runs in enumerate(ring.runs):
        goes_on = goes_on and ring.joins(edge)
        for start, end in runs:
            if goes_on and start == 0:
                lines[-1].append(along(ring, edge, end))
            else:
                lines.append([along(ring, edge, start), along(ring, edge, end)])
        goes_on = bool(runs)
    if lines and ring.joins(0):
        last = lines.pop()
        if not lines:
            return [(last[:-1], True)]
        lines[0] = last + lines[0][1:]
    return [(line, False) for line in lines]


def along(ring: RingWalls, edge: int, distance: float) -> Point:
    """The point at a distance [m] from the first vertex of an edge."""
    (x, y), (next_x, next_y) = ring.points[edge], ring.ends[edge]
    share = distance / ring.lengths[edge]
    return x + (next_x - x) * share, y + (next_y - y) * share


def island_rings(room: Room) -> Iterator[tuple[Ring, str, str | None]]:
    """Each island's ring, the kind of its edge, and its name."""
    for island, ring in zip(room.area.islands, room.shape.islands, strict=True):
        yield ring, island.edge, island.name
