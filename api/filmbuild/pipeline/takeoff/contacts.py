"""Where the sides of areas on one plan face one another: shared floor, or the two faces of a wall."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from math import dist
from typing import TypeAlias

import msgspec
import shapely

from filmbuild.pipeline.geometry import FloorShape, Point, Ring, signed_area
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff.figures import is_placed

APART = 0.005
"""[m] Sides this near one another are one line: plans are drawn to the centimetre."""
OPPOSITE = -0.999
"""Cosine between the directions in which two sides face that are taken for parallel."""
CHUNK = 32
MOST_PAIRS = 20_000_000

_Line: TypeAlias = tuple[Point, Point]


class TangledError(Exception):
    """More sides lie near one another than can be compared in a reasonable time."""


class Probe(msgspec.Struct, frozen=True, gc=False):
    """Part of a side, from `start` to `end` [m] along it; ring 0 is the outline."""

    area: int
    ring: int
    side: int
    start: float
    end: float


class Contact(msgspec.Struct, frozen=True, gc=False):
    """What faces a probe: from `start` to `end` [m] along the probe, and where on the other side.

    `gap` [m] lies between the two, and `length` and `other_length` are those of the whole probe
    and of the whole other side.
    """

    probe: int
    area: int
    ring: int
    side: int
    start: float
    end: float
    length: float
    other_start: float
    other_end: float
    other_length: float
    gap: float

    @property
    def overlap(self) -> float:
        return self.end - self.start


class Plan:
    """The areas that are placed, by level; a level is read when it is first asked for."""

    def __init__(self, site: Site, shapes: Sequence[FloorShape | None]) -> None:
        self._level_of = [
            area.level if is_placed(area.outline) and shape is not None else None
            for area, shape in zip(site.areas, shapes, strict=True)
        ]
        self._shapes = shapes
        self._levels: dict[str, _Level] = {}

    def is_placed(self, area: int) -> bool:
        return self._level_of[area] is not None

    def are_together(self, first: int, second: int) -> bool:
        level = self._level_of[first]
        return level is not None and level == self._level_of[second]

    def sides(self, area: int) -> Iterator[Probe]:
        """Every side of the outline and of the islands, whole."""
        shape = self._shapes[area]
        if shape is None:
            return
        for ring, points in enumerate((shape.outline, *shape.islands)):
            for side, (start, end) in enumerate(_lines(points)):
                yield Probe(area, ring, side, 0.0, dist(start, end))

    def contacts(self, probes: Sequence[Probe], reach: float) -> list[Contact]:
        """Those at most `reach` [m] beyond each probe, in its order. Raises TangledError."""
        by_level: defaultdict[str, list[int]] = defaultdict(list)
        for number, probe in enumerate(probes):
            level = self._level_of[probe.area]
            if level is not None:
                by_level[level].append(number)
        found = [
            contact
            for name, numbers in by_level.items()
            for contact in self._level(name).contacts(probes, numbers, reach)
        ]
        found.sort(key=lambda one: (one.probe, one.start, one.gap))
        return found

    def _level(self, name: str) -> "_Level":
        level = self._levels.get(name)
        if level is None:
            members = {
                area: shape
                for area, (level_of, shape) in enumerate(
                    zip(self._level_of, self._shapes, strict=True)
                )
                if level_of == name and shape is not None
            }
            level = self._levels[name] = _Level(members)
        return level


class _Level:
    """All sides of one level, in rows, with the direction of each and the way it faces."""

    def __init__(self, shapes: Mapping[int, FloorShape]) -> None:
        self._first: dict[tuple[int, int], int] = {}
        self._sides: list[_Side] = []
        for area, shape in shapes.items():
            for ring, points in enumerate((shape.outline, *shape.islands)):
                self._first[area, ring] = len(self._sides)
                floor = 1.0 if (signed_area(points) > 0) == (ring == 0) else -1.0
                self._sides.extend(
                    [
                        _Side.of(area, ring, side, line, floor)
                        for side, line in enumerate(_lines(points))
                    ]
                )
        figures = shapely.linestrings([side.line for side in self._sides])
        self._tree = shapely.STRtree(figures)

    def contacts(
        self, probes: Sequence[Probe], numbers: Sequence[int], reach: float
    ) -> Iterator[Contact]:
        """Of the probes of these numbers, which all lie on this level."""
        compared = 0
        for begin in range(0, len(numbers), CHUNK):
            some = numbers[begin : begin + CHUNK]
            owners = [self._owner(probes[number]) for number in some]
            stretches = [
                owner.part(probes[number].start, probes[number].end)
                for number, owner in zip(some, owners, strict=True)
            ]
            boxes = shapely.bounds(shapely.linestrings(stretches))
            boxes[:, :2] -= reach + APART
            boxes[:, 2:] += reach + APART
            asked, near = self._tree.query(shapely.box(*boxes.T))
            compared += len(asked)
            if compared > MOST_PAIRS:
                raise TangledError
            for place, other in zip(asked.tolist(), near.tolist(), strict=True):
                number = some[place]
                found = _facing(number, probes[number], owners[place], self._sides[other], reach)
                if found is not None:
                    yield found

    def _owner(self, probe: Probe) -> "_Side":
        return self._sides[self._first[probe.area, probe.ring] + probe.side]


class _Side(msgspec.Struct, frozen=True, gc=False):
    """`along` is its direction, and `out` points away from its floor."""

    area: int
    ring: int
    side: int
    line: _Line
    length: float
    along: Point
    out: Point

    @classmethod
    def of(cls, area: int, ring: int, side: int, line: _Line, floor: float) -> "_Side":
        """`floor` is 1 where the floor lies left of the line, -1 where it lies right."""
        (x, y), (next_x, next_y) = line
        length = dist(*line)
        along_x, along_y = (next_x - x) / length, (next_y - y) / length
        out = (along_y * floor, -along_x * floor)
        return cls(area, ring, side, line, length, (along_x, along_y), out)

    def part(self, start: float, end: float) -> _Line:
        (x, y), (along_x, along_y) = self.line[0], self.along
        return (
            (x + start * along_x, y + start * along_y),
            (x + end * along_x, y + end * along_y),
        )


def _facing(number: int, probe: Probe, own: _Side, other: _Side, reach: float) -> Contact | None:
    """The contact of two sides that face one another in parallel, near enough, if they do."""
    if other.area == own.area or _dot(own.out, other.out) > OPPOSITE:
        return None
    x, y = own.line[0]
    near, far = [((end_x - x, end_y - y)) for end_x, end_y in other.line]
    from_near, from_far = _dot(near, own.along), _dot(far, own.along)
    start = max(probe.start, min(from_near, from_far))
    end = min(probe.end, max(from_near, from_far))
    if end - start <= APART:
        return None
    gap_near, gap_far = _dot(near, own.out), _dot(far, own.out)
    turn = 1 / (from_far - from_near)
    gaps = [gap_near + (gap_far - gap_near) * (place - from_near) * turn for place in (start, end)]
    if min(gaps) < -APART or max(gaps) > reach or max(gaps) - min(gaps) > APART:
        return None
    places = sorted([(place - from_near) * turn * other.length for place in (start, end)])
    return Contact(
        probe=number,
        area=other.area,
        ring=other.ring,
        side=other.side,
        start=start,
        end=end,
        length=own.length,
        other_start=max(places[0], 0.0),
        other_end=min(places[1], other.length),
        other_length=other.length,
        gap=max(*gaps, 0.0),
    )


def _dot(one: Point, other: Point) -> float:
    return one[0] * other[0] + one[1] * other[1]


def _lines(ring: Ring) -> list[_Line]:
    return list(zip(ring, (*ring[1:], ring[0]), strict=True))
