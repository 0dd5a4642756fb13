"""The figures in plan of what lies at a place on a floor [m]."""

from math import cos, pi, sin

from filmbuild.errors import Faults
from filmbuild.pipeline.geometry import Point, Ring
from filmbuild.pipeline.site import Polygon
from filmbuild.pipeline.site_places import PlanPath, Spot
from filmbuild.pipeline.site_work import Footprint, StepFlight
from filmbuild.pipeline.takeoff.figures import Figure, figure_of
from filmbuild.quantities import UnitSystem

_CORNERS = 64
_CIRCLE = [
    (cos(2 * pi * turn / _CORNERS), sin(2 * pi * turn / _CORNERS)) for turn in range(_CORNERS)
]


def line_of(path: PlanPath, units: UnitSystem, faults: Faults) -> Figure | None:
    """The vertices of a path, not closed; None after the faults of its coordinates were added."""
    return figure_of(Polygon(vertices=path.vertices, unit=path.unit), units, faults)


def centred_ring(one: Footprint, at: Spot) -> Ring:
    half_x, half_y = (side / 2 for side in _sides(one))
    if one.diameter is not None:
        return _round((at.x, at.y), half_x)
    return _box(at.x - half_x, at.y - half_y, at.x + half_x, at.y + half_y)


def cornered_ring(one: Footprint, at: Spot) -> Ring:
    """With its corner of least x and y, or that of the square round it, at the place."""
    across, up = _sides(one)
    if one.diameter is not None:
        return _round((at.x + across / 2, at.y + up / 2), across / 2)
    return _box(at.x, at.y, at.x + across, at.y + up)


def flight_ring(flight: StepFlight, at: Spot) -> Ring:
    """All treads together."""
    run = (flight.risers - 1) * (flight.going or 0.0)
    across, up = (run, flight.width) if flight.up.endswith("x") else (flight.width, run)
    return _box(at.x, at.y, at.x + across, at.y + up)


def _sides(one: Footprint) -> Point:
    if one.diameter is not None:
        return one.diameter, one.diameter
    width = one.width or 0.0
    length = one.length or width
    return (length, width) if one.along == "x" else (width, length)


def _box(left: float, bottom: float, right: float, top: float) -> Ring:
    return (left, bottom), (right, bottom), (right, top), (left, top)


def _round(middle: Point, radius: float) -> Ring:
    return tuple([(middle[0] + radius * x, middle[1] + radius * y) for x, y in _CIRCLE])
