"""Bands along walls by uniting their pieces: for the floors that no closed form fits."""

from collections.abc import Iterator, Sequence
from math import sqrt
from typing import TypeAlias

import shapely

from filmbuild.pipeline.band_groups import MITRE_REACH
from filmbuild.pipeline.effort import Effort
from filmbuild.pipeline.geometry import FloorShape, Point
from filmbuild.pipeline.overlay import intersection, united
from filmbuild.pipeline.walls import RingWalls

Piece: TypeAlias = tuple[Point, ...]
"""The corners of a part of a band."""

ROUNDING = 1e-9
"""A right angle may miss by this cosine; so short a cut would be lost in rounding."""
EFFORT_OF_PIECE = 100


def united_areas(
    shape: FloorShape,
    rings: Sequence[RingWalls],
    widths: Sequence[float],
    effort: Effort | None = None,
    more: Sequence[Sequence[Piece]] = (),
) -> list[float]:
    """Area [m2] of the band of each width [m], one union each. Raises TooMuchWorkError.

    `more` are pieces of the band of each width that lie along walls of other floors.
    """
    if effort is not None:
        runs = sum([len(of_edge) for ring in rings for of_edge in ring.runs])
        runs += max(map(len, more), default=0)
        effort.spend(EFFORT_OF_PIECE * runs * sum([width > 0 for width in widths]))
    origin = shape.outline[0]
    floor = shapely.Polygon(
        _moved(shape.outline, origin), [_moved(island, origin) for island in shape.islands]
    )
    return [
        float(shapely.area(intersection(floor, _band(rings, width, origin, beyond))))
        if width > 0
        else 0.0
        for width, beyond in zip(widths, more or [()] * len(widths), strict=True)
    ]


def _moved(points: Sequence[Point], origin: Point) -> list[Point]:
    return [(x - origin[0], y - origin[1]) for x, y in points]


def _band(
    rings: Sequence[RingWalls], width: float, origin: Point, beyond: Sequence[Piece]
) -> shapely.Geometry:
    corners: list[Point] = []
    numbers: list[int] = []
    pieces = [piece for ring in rings for piece in pieces_of(ring, width)]
    pieces.extend(beyond)
    if not pieces:
        return shapely.Polygon()
    for number, piece in enumerate(pieces):
        corners.extend(_moved((*piece, piece[0]), origin))
        numbers.extend([number] * (len(piece) + 1))
    return united(shapely.polygons(shapely.linearrings(corners, indices=numbers)))


def pieces_of(ring: RingWalls, width: float) -> Iterator[Piece]:
    """The strip of each run of wall, with the mitre at its end where there is one."""
    turns = ring.turns()
    for edge, runs in enumerate(ring.runs):
        if not runs:
            continue
        (x, y), (next_x, next_y) = ring.points[edge], ring.ends[edge]
        along_x, along_y = (next_x - x) / ring.lengths[edge], (next_y - y) / ring.lengths[edge]
        in_x, in_y = ring.inward(edge, width)
        corner = (edge + 1) % len(turns)
        for start, end in runs:
            near_x, near_y = x + start * along_x, y + start * along_y
            back = ((near_x + in_x, near_y + in_y), (near_x, near_y))
            if end < ring.lengths[edge]:
                far_x, far_y = x + end * along_x, y + end * along_y
                yield (*back, (far_x, far_y), (far_x + in_x, far_y + in_y))
            elif turns[corner] < 0 and ring.joins(corner):
                yield (*back, (next_x, next_y), *mitre(ring, corner, width))
            else:
                yield (*back, (next_x, next_y), (next_x + in_x, next_y + in_y))


def mitre(ring: RingWalls, vertex: int, width: float) -> tuple[Point, ...]:
    """From the next strip back to this one: by the tip, or by its cut where sharper than 90 deg."""
    x, y = ring.points[vertex]
    before_x, before_y = ring.inward(vertex - 1, width)
    after_x, after_y = ring.inward(vertex, width)
    turned = (before_x * after_x + before_y * after_y) / width**2
    last = (x + after_x, y + after_y)
    if turned >= -ROUNDING:
        return last, (
            x + (before_x + after_x) / (1 + turned),
            y + (before_y + after_y) / (1 + turned),
        )
    # Along each wall's line, from the end of its strip to the cut.
    half_cosine, half_sine = sqrt(max(1 + turned, 0.0) / 2), sqrt((1 - turned) / 2)
    step = ring.side * (MITRE_REACH - half_cosine) / half_sine
    return (
        last,
        (last[0] - after_y * step, last[1] + after_x * step),
        (x + before_x + before_y * step, y + before_y - before_x * step),
    )
