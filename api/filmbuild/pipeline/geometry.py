"""Plane figures in metres: rings of vertices, their areas, lengths and directions.

A ring is the tuple of its vertices, not closed (the first is not repeated at the end), in either
direction and from any start. Edge ``n`` runs from vertex ``n`` to the next one, the last edge
back to vertex 0.
"""

from math import dist
from typing import TypeAlias

import msgspec

Point: TypeAlias = tuple[float, float]
Ring: TypeAlias = tuple[Point, ...]

SMALLEST_AREA = 1e-6
"""[m2] A square millimetre: figures and overlaps no larger than this are taken for nothing."""

FOUR_CORNERS = 4


class FloorShape(msgspec.Struct, frozen=True, gc=False):
    """The outline of a floor, and the islands inside it that are not part of the floor."""

    outline: Ring
    islands: tuple[Ring, ...] = ()


class Oriented(msgspec.Struct, frozen=True):
    """A counter-clockwise ring, and for each of its edges the number the edge had as given."""

    points: Ring
    edges: tuple[int, ...]
    reversed: bool


def signed_area(ring: Ring) -> float:
    """Area [m2] by the shoelace formula, positive where the vertices run counter-clockwise.

    Taken about the first vertex, so that a ring far from the origin keeps its digits; of four
    vertices, half the cross product of the diagonals.
    """
    if len(ring) == FOUR_CORNERS:
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = ring
        return ((x2 - x0) * (y3 - y1) - (x3 - x1) * (y2 - y0)) / 2
    first_x, first_y = ring[0]
    twice = before_x = before_y = 0.0
    for x, y in ring:
        here_x = x - first_x
        here_y = y - first_y
        twice += before_x * here_y - here_x * before_y
        before_x = here_x
        before_y = here_y
    return twice / 2


def ring_area(ring: Ring) -> float:
    return abs(signed_area(ring))


def net_area(shape: FloorShape) -> float:
    """Area [m2] of the outline less its islands."""
    area = abs(signed_area(shape.outline))
    for island in shape.islands:
        area -= abs(signed_area(island))
    return area


def edge_lengths(ring: Ring) -> list[float]:
    return list(map(dist, ring, (*ring[1:], ring[0])))


def ring_perimeter(ring: Ring) -> float:
    return sum(edge_lengths(ring))


def counter_clockwise(ring: Ring) -> Oriented:
    """The same figure counter-clockwise, from the same first vertex.

    Where the ring had to be turned round, a place ``s`` along an edge as given lies at
    ``length - s`` along the edge returned.
    """
    count = len(ring)
    if signed_area(ring) >= 0:
        return Oriented(ring, tuple(range(count)), reversed=False)
    return Oriented((ring[0], *ring[:0:-1]), tuple(range(count - 1, -1, -1)), reversed=True)


def encloses(ring: Ring, point: Point) -> bool:
    """Whether a point lies inside, by the even-odd rule; undecided on the ring itself."""
    at_x, at_y = point
    inside = False
    before_x, before_y = ring[-1]
    for x, y in ring:
        if (y > at_y) != (before_y > at_y) and at_x < x + (before_x - x) * (at_y - y) / (
            before_y - y
        ):
            inside = not inside
        before_x = x
        before_y = y
    return inside
