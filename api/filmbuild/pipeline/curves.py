"""Curves as chains of straight edges that enclose the same area.

The vertices between the ends of an arc lie a little outside it, by just so much that the area
swept from the centre is that of the arc itself. With the edges of `EDGES_PER_TURN` that is at most
0.04 % of the radius, and the length is right to 0.01 %.
"""

from collections.abc import Iterator
from math import atan, atan2, ceil, cos, hypot, pi, sin, sqrt

from filmbuild.pipeline.geometry import Point, Ring

EDGES_PER_TURN = 128
STRAIGHT = 1e-9
"""An arc whose bulge is less is its chord."""
WHOLE_TURN = 2 * pi


def circle(centre: Point, radius: float) -> Ring:
    return ellipse(centre, (radius, 0.0), (0.0, radius))


def ellipse(centre: Point, major: Point, minor: Point) -> Ring:
    """By its two half axes, as vectors from the centre."""
    step = WHOLE_TURN / EDGES_PER_TURN
    lift = sqrt(step / sin(step))
    turns = (step * number for number in range(EDGES_PER_TURN))
    return tuple([_on_ellipse(centre, major, minor, turn, lift) for turn in turns])


def elliptic_arc(
    centre: Point, major: Point, minor: Point, start: float, sweep: float
) -> Iterator[Point]:
    """From its start up to but not with its end; `start` and `sweep` [rad] are parameters."""
    count = max(2, ceil(abs(sweep) / WHOLE_TURN * EDGES_PER_TURN))
    step = sweep / count
    lift = _lift(count, abs(step))
    yield _on_ellipse(centre, major, minor, start, 1.0)
    for number in range(1, count):
        yield _on_ellipse(centre, major, minor, start + number * step, lift)


def open_arc(
    centre: Point, major: Point, minor: Point, start: float, sweep: float
) -> Iterator[Point]:
    """From its start up to and with its end."""
    yield from elliptic_arc(centre, major, minor, start, sweep)
    yield _on_ellipse(centre, major, minor, start + sweep, 1.0)


def bulged(first: Point, second: Point, bulge: float) -> Iterator[Point]:
    """From the first point up to but not with the second, along an arc.

    `bulge` is the tangent of a quarter of the angle swept, positive against the clock.
    """
    along_x, along_y = second[0] - first[0], second[1] - first[1]
    chord = hypot(along_x, along_y)
    if abs(bulge) < STRAIGHT or not chord:
        yield first
        return
    aside = (1 - bulge * bulge) / (4 * bulge)
    centre = (
        (first[0] + second[0]) / 2 - along_y * aside,
        (first[1] + second[1]) / 2 + along_x * aside,
    )
    radius = hypot(first[0] - centre[0], first[1] - centre[1])
    start = atan2(first[1] - centre[1], first[0] - centre[0])
    points = elliptic_arc(centre, (radius, 0.0), (0.0, radius), start, 4 * atan(bulge))
    yield first
    next(points)
    yield from points


def _on_ellipse(centre: Point, major: Point, minor: Point, turn: float, lift: float) -> Point:
    along, across = lift * cos(turn), lift * sin(turn)
    return (
        centre[0] + along * major[0] + across * minor[0],
        centre[1] + along * major[1] + across * minor[1],
    )


def _lift(count: int, step: float) -> float:
    """In radii, where the inner vertices of an arc of so many steps lie for its area to be kept.

    Two triangles reach from an end to an inner vertex and the others between inner ones, so that
    ``sin(step) (2 lift + (count - 2) lift2) = count step``.
    """
    sine = sin(step)
    between = count - 2
    if not between:
        return step / sine
    return (sqrt(sine * sine + between * sine * count * step) - sine) / (between * sine)
