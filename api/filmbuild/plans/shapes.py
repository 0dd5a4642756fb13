"""One entity of a drawing as a chain of points in the plane of the plan."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from math import hypot, inf, isfinite, pi, radians, tau
from typing import Any, NamedTuple

from filmbuild.pipeline import curves
from filmbuild.pipeline.geometry import Point, ring_area

MOST_POINTS = 2_000
MOST_CONTROL_POINTS = 5_000
CLOSED_WITHIN = 1e-6
"""As a share of a chain's extent: ends nearer than this meet."""
SPLINE_FINENESS = 1e-5
"""How far a spline's chain may lie from it, as a share of its extent: 0.005 % of a circle's area."""
WHOLE_TURN_WITHIN = 1e-6
UPRIGHT = 1e-9


class Skipped(Exception):  # noqa: N818 - not an error: the drawing is read without it
    """Why an entity makes no shape."""


class Shape(NamedTuple):
    """`holes` are rings inside a closed shape, as a hatch has them."""

    points: tuple[Point, ...]
    closed: bool
    holes: tuple[tuple[Point, ...], ...] = ()


def shape_of(entity: Any) -> Shape | None:  # noqa: ANN401 - the drawing library's entities
    """None for what is no line of a plan. Raises Skipped with what cannot be read of one."""
    read = _READERS.get(entity.dxftype())
    if read is None:
        return None
    shape = read(entity)
    chains = (shape.points, *shape.holes)
    if not all(isfinite(x) and isfinite(y) for chain in chains for x, y in chain):
        raise Skipped("its coordinates are not finite numbers")
    if max(map(len, chains), default=0) > MOST_POINTS:
        raise Skipped(f"it has more than {MOST_POINTS} vertices")
    return shape


def _on_plan(entity: Any, points: Iterable[Point]) -> tuple[Point, ...]:  # noqa: ANN401 - as above
    """From the entity's own plane to that of the plan, seen from above."""
    axis = entity.dxf.extrusion
    if abs(axis.x) > UPRIGHT or abs(axis.y) > UPRIGHT:
        raise Skipped("it does not lie flat in the plan")
    if axis.z > 0:
        return tuple([(float(x), float(y)) for x, y in points])
    return tuple([(-float(x), float(y)) for x, y in points])


def _chain(vertices: Sequence[tuple[float, float, float]], *, closed: bool) -> Iterator[Point]:
    """Vertices (x, y, bulge), each bulge that of the edge to the next vertex."""
    for number, (x, y, bulge) in enumerate(vertices):
        last = number == len(vertices) - 1
        if last and not closed:
            yield (x, y)
            return
        next_x, next_y, _ = vertices[0 if last else number + 1]
        if not isfinite(bulge):
            raise Skipped("its coordinates are not finite numbers")
        yield from curves.bulged((x, y), (next_x, next_y), bulge)


def _ends_meet(points: Sequence[Point]) -> bool:
    if len(points) < 4:  # noqa: PLR2004 - a triangle and its first vertex again
        return False
    (x, y), (last_x, last_y) = points[0], points[-1]
    extent = max(max(abs(px - x), abs(py - y)) for px, py in points)
    return hypot(last_x - x, last_y - y) <= CLOSED_WITHIN * extent


def _polyline(
    entity: Any,  # noqa: ANN401 - as above
    vertices: Sequence[tuple[float, float, float]],
    *,
    closed: bool,
) -> Shape:
    if len(vertices) > MOST_POINTS:
        raise Skipped(f"it has more than {MOST_POINTS} vertices")
    if not closed and _ends_meet([vertex[:2] for vertex in vertices]):
        vertices, closed = vertices[:-1], True
    return Shape(_on_plan(entity, _chain(vertices, closed=closed)), closed)


def _lwpolyline(entity: Any) -> Shape:  # noqa: ANN401 - as above
    vertices = [(float(x), float(y), float(bulge)) for x, y, bulge in entity.get_points("xyb")]
    return _polyline(entity, vertices, closed=bool(entity.closed))


def _old_polyline(entity: Any) -> Shape:  # noqa: ANN401 - as above
    if entity.is_poly_face_mesh or entity.is_polygon_mesh:
        raise Skipped("it is a mesh")
    vertices = [
        (one.dxf.location.x, one.dxf.location.y, one.dxf.get("bulge", 0.0))
        for one in entity.vertices
    ]
    return _polyline(entity, vertices, closed=bool(entity.is_closed))


def _line(entity: Any) -> Shape:  # noqa: ANN401 - as above
    start, end = entity.dxf.start, entity.dxf.end
    return Shape(((start.x, start.y), (end.x, end.y)), closed=False)


def _circle(entity: Any) -> Shape:  # noqa: ANN401 - as above
    centre = entity.dxf.center
    points = curves.circle((centre.x, centre.y), _radius(entity))
    return Shape(_on_plan(entity, points), closed=True)


def _radius(entity: Any) -> float:  # noqa: ANN401 - as above
    radius = float(entity.dxf.radius)
    if not 0 < radius < inf:
        raise Skipped("its radius is not more than zero")
    return radius


def _arc(entity: Any) -> Shape:  # noqa: ANN401 - as above
    centre, radius = entity.dxf.center, _radius(entity)
    start = radians(entity.dxf.start_angle)
    sweep = (radians(entity.dxf.end_angle) - start) % tau or tau
    points = curves.open_arc((centre.x, centre.y), (radius, 0.0), (0.0, radius), start, sweep)
    return Shape(_on_plan(entity, points), closed=False)


def _ellipse(entity: Any) -> Shape:  # noqa: ANN401 - as above
    centre, major, minor = entity.dxf.center, entity.dxf.major_axis, entity.minor_axis
    start = entity.dxf.start_param
    sweep = (entity.dxf.end_param - start) % tau
    axes = ((centre.x, centre.y), (major.x, major.y), (minor.x, minor.y))
    if min(sweep, tau - sweep) < WHOLE_TURN_WITHIN:
        return Shape(curves.ellipse(*axes), closed=True)
    return Shape(tuple(curves.open_arc(*axes, start, sweep)), closed=False)


def _spline(entity: Any) -> Shape:  # noqa: ANN401 - as above
    controls = len(entity.control_points) or len(entity.fit_points)
    if not 2 <= controls <= MOST_CONTROL_POINTS:  # noqa: PLR2004 - a curve has two ends
        raise Skipped(f"it has {controls} control points")
    curve = entity.construction_tool()
    corners = list(curve.control_points)
    extent = max(
        max(point[axis] for point in corners) - min(point[axis] for point in corners)
        for axis in (0, 1)
    )
    if not 0 < extent < inf:
        raise Skipped("its coordinates are not finite numbers")
    chain: list[Point] = []
    for point in curve.flattening(SPLINE_FINENESS * extent):
        chain.append((point.x, point.y))
        if len(chain) > MOST_POINTS:
            raise Skipped(f"it has more than {MOST_POINTS} vertices")
    closed = _ends_meet(chain)
    return Shape(tuple(chain[:-1] if closed else chain), closed)


def _hatch(entity: Any) -> Shape:  # noqa: ANN401 - as above
    """The largest boundary, and the others as holes in it."""
    rings = [_on_plan(entity, _boundary(path)) for path in entity.paths]
    rings = [ring for ring in rings if len(ring) > 2]  # noqa: PLR2004 - a ring has three corners
    if not rings:
        raise Skipped("it has no boundary")
    rings.sort(key=ring_area, reverse=True)
    return Shape(rings[0], closed=True, holes=tuple(rings[1:]))


def _boundary(path: Any) -> Iterator[Point]:  # noqa: ANN401 - as above
    if hasattr(path, "vertices"):
        vertices = [(float(x), float(y), float(bulge)) for x, y, bulge in path.vertices]
        yield from _chain(vertices, closed=True)
        return
    for edge in path.edges:
        kind = type(edge).__name__
        if kind == "LineEdge":
            yield (edge.start.x, edge.start.y)
        elif kind in {"ArcEdge", "EllipseEdge"}:
            yield from _curved_edge(edge, kind)
        else:
            raise Skipped("its boundary has a spline")


def _curved_edge(edge: Any, kind: str) -> Iterator[Point]:  # noqa: ANN401 - as above
    centre = (edge.center.x, edge.center.y)
    if kind == "ArcEdge":
        major, minor = (edge.radius, 0.0), (0.0, edge.radius)
        start, end = radians(edge.start_angle), radians(edge.end_angle)
    else:
        axis = edge.major_axis
        major, minor = (axis.x, axis.y), (-axis.y * edge.ratio, axis.x * edge.ratio)
        start, end = edge.start_param, edge.end_param
    sweep = (end - start) % tau
    if sweep < WHOLE_TURN_WITHIN:
        sweep = 2 * pi
    if edge.ccw:
        return curves.elliptic_arc(centre, major, minor, start, sweep)
    return curves.elliptic_arc(centre, major, minor, start + sweep, -sweep)


_READERS: dict[str, Callable[[Any], Shape]] = {
    "LWPOLYLINE": _lwpolyline,
    "POLYLINE": _old_polyline,
    "LINE": _line,
    "CIRCLE": _circle,
    "ARC": _arc,
    "ELLIPSE": _ellipse,
    "SPLINE": _spline,
    "HATCH": _hatch,
}
