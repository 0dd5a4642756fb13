"""Stretches of wall laid out along the edges of a floor."""

from collections.abc import Iterable, Sequence
from typing import TypeAlias

import msgspec

from filmbuild.pipeline.geometry import FloorShape, Point, Ring, edge_lengths, signed_area

Run: TypeAlias = tuple[float, float]

SAME_PLACE = 1e-9
"""[m] A stretch that ends this close to a corner ends at it; one this short is none."""


class WallStretch(msgspec.Struct, frozen=True, gc=False):
    """A wall on one edge, from ``start`` to ``end`` [m] along it from its first vertex.

    Ring 0 is the outline, ring ``n + 1`` is island ``n``.
    """

    ring: int
    edge: int
    start: float
    end: float


class RingWalls(msgspec.Struct, frozen=True, gc=False):
    """One ring with the runs of wall on each edge, merged and in order.

    ``side`` is 1 where the floor lies left of the edges as given, -1 where it lies right;
    ``area`` [m2] is that of the ring, and ``total`` the length [m] of wall.
    """

    points: Ring
    ends: Ring
    lengths: list[float]
    side: float
    area: float
    runs: list[tuple[Run, ...]]
    total: float

    def inward(self, edge: int, distance: float) -> Point:
        """The step [m] from an edge into the floor."""
        x, y = self.points[edge]
        next_x, next_y = self.ends[edge]
        scale = self.side * distance / self.lengths[edge]
        return (y - next_y) * scale, (next_x - x) * scale

    def direction(self, edge: int) -> Point:
        """Of length 1, along an edge as given."""
        x, y = self.points[edge]
        next_x, next_y = self.ends[edge]
        return (next_x - x) / self.lengths[edge], (next_y - y) / self.lengths[edge]

    def place(self, edge: int, along: float) -> Point:
        """The point so far [m] along an edge from its first vertex."""
        x, y = self.points[edge]
        along_x, along_y = self.direction(edge)
        return x + along * along_x, y + along * along_y

    def is_upright(self) -> bool:
        for (x, y), (next_x, next_y) in zip(self.points, self.ends, strict=True):
            if x != next_x and y != next_y:
                return False
        return True

    def turns(self) -> list[float]:
        """At each vertex, more than 0 where the edges turn into the floor, less where away."""
        x, y = self.points[-1]
        next_x, next_y = self.points[0]
        in_x, in_y = next_x - x, next_y - y
        turns = []
        for (x, y), (next_x, next_y) in zip(self.points, self.ends, strict=True):
            out_x, out_y = next_x - x, next_y - y
            turns.append(self.side * (in_x * out_y - in_y * out_x))
            in_x, in_y = out_x, out_y
        return turns

    def half_turns(self) -> list[float]:
        """At each vertex, the tangent of half the angle by which the edges turn."""
        halves = []
        for vertex, turn in enumerate(self.turns()):
            before_x, before_y = self.points[vertex - 1]
            x, y = self.points[vertex]
            after_x, after_y = self.ends[vertex]
            onward = (x - before_x) * (after_x - x) + (y - before_y) * (after_y - y)
            halves.append(turn / (self.lengths[vertex - 1] * self.lengths[vertex] + onward))
        return halves

    def joins(self, vertex: int) -> bool:
        """Whether walls on both edges reach a vertex."""
        before, after = self.runs[vertex - 1], self.runs[vertex]
        return bool(
            before and after and before[-1][1] == self.lengths[vertex - 1] and after[0][0] == 0
        )


def ring_walls(shape: FloorShape, walls: Iterable[WallStretch]) -> list[RingWalls]:
    """The outline and each island, with its walls."""
    rings = (shape.outline, *shape.islands)
    given: list[list[list[Run]]] = [[[] for _ in ring] for ring in rings]
    for wall in walls:
        given[wall.ring][wall.edge].append((wall.start, wall.end))
    found: list[RingWalls] = []
    for ring, stretches in zip(rings, given, strict=True):
        lengths = edge_lengths(ring)
        runs = [merged_runs(*one) for one in zip(stretches, lengths, strict=True)]
        found.append(walled_ring(ring, lengths, runs, outline=not found))
    return found


def net_of(rings: Sequence[RingWalls]) -> float:
    """Area [m2] of the outline less its islands."""
    area = rings[0].area
    for island in rings[1:]:
        area -= island.area
    return area


def walled_ring(
    ring: Ring, lengths: list[float], runs: list[tuple[Run, ...]], *, outline: bool
) -> RingWalls:
    """`runs` are those of `merged_runs`."""
    area = signed_area(ring)
    side = 1.0 if (area > 0) == outline else -1.0
    total = sum([end - start for of_edge in runs for start, end in of_edge])
    return RingWalls(ring, (*ring[1:], ring[0]), lengths, side, abs(area), runs, total)


def merged_runs(stretches: Sequence[Run], length: float) -> tuple[Run, ...]:
    """The stretches cut to the edge, in order, with those that meet or overlap made one."""
    if len(stretches) > 1:
        stretches = sorted(stretches)
    merged: list[Run] = []
    for start, end in stretches:
        begin = start if start > SAME_PLACE else 0.0
        finish = end if end < length - SAME_PLACE else length
        if finish - begin <= SAME_PLACE:
            continue
        if merged and begin <= merged[-1][1] + SAME_PLACE:
            merged[-1] = (merged[-1][0], max(merged[-1][1], finish))
        else:
            merged.append((begin, finish))
    return tuple(merged)
