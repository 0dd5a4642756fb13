"""Whether a ring can bound a floor, and if not, where it goes wrong."""

import re
from collections.abc import Sequence
from math import hypot, inf, isfinite

import msgspec
import shapely

from filmbuild.pipeline.boxes import Box
from filmbuild.pipeline.geometry import FOUR_CORNERS, SMALLEST_AREA, Point, Ring, ring_area

FEWEST_VERTICES = 3
SAME_POINT = 1e-6
"""[m] Vertices closer than this in x and in y are the same point."""
STRAIGHT_BACK = 1e-9
"""[rad] Edges that turn round to within this angle lie on one another."""
PAIRWISE_EDGES = 12
_PLACE = re.compile(r"\[(\S+) (\S+)\]")


class Ruler(msgspec.Struct, frozen=True):
    """The unit in which places are told to whoever gave them, and its length [m]."""

    unit: str = "m"
    metres: float = 1.0

    def place(self, point: Point) -> str:
        x, y = point[0] / self.metres, point[1] / self.metres
        return f"({x + 0.0:.6g} {self.unit}, {y + 0.0:.6g} {self.unit})"


METRE_RULER = Ruler()


class RingFault(msgspec.Struct, frozen=True):
    """What is wrong with a ring, at which of its edges and at which point [m]."""

    code: str
    detail: str
    edges: tuple[int, ...] = ()
    point: Point | None = None


def ring_faults(ring: Ring, ruler: Ruler = METRE_RULER) -> list[RingFault]:
    """Nothing for a simple ring; otherwise what is wrong with it, told by `ruler`.

    Every repeated vertex and spike is reported; of the places where an otherwise sound ring
    meets itself, one.
    """
    if len(ring) < FEWEST_VERTICES:
        detail = f"a ring has at least {FEWEST_VERTICES} vertices; this one has {len(ring)}"
        return [RingFault("too-few-vertices", detail)]
    area = ring_area(ring)
    if SMALLEST_AREA < area < inf and (
        _is_box(ring) or _is_convex(ring) or _is_small_and_square(ring)
    ):
        return []
    if not isfinite(area):
        return [RingFault("coordinate-range", "coordinates are finite and of a building's size")]
    return (
        _vertex_faults(ring, ruler) or _crossing(ring, ruler) or _nothing_inside(ring, area, ruler)
    )


def _is_box(ring: Ring) -> bool:
    """Whether four vertices go round an upright rectangle from its least corner."""
    if len(ring) != FOUR_CORNERS:
        return False
    (left, bottom), (x1, y1), (right, top), (x3, y3) = ring
    square = x1 == right and y1 == bottom and x3 == left and y3 == top
    return square and right - left > SAME_POINT and top - bottom > SAME_POINT


def _is_convex(ring: Ring) -> bool:
    """Turns one way only and goes round once; a plain no where rounding leaves it in doubt."""
    x_before, y_before = ring[-1]
    x, y = ring[0]
    in_x = x - x_before
    in_y = y - y_before
    left = right = False
    heading_east = in_x > 0
    swings = 0
    for next_x, next_y in (*ring[1:], ring[0]):
        out_x = next_x - x
        out_y = next_y - y
        if -SAME_POINT < out_x < SAME_POINT and -SAME_POINT < out_y < SAME_POINT:
            return False
        turn = in_x * out_y - in_y * out_x
        onward = in_x * out_x + in_y * out_y
        if turn > 0:
            left = True
        elif turn < 0:
            right = True
        if (left and right) or not abs(turn) > -STRAIGHT_BACK * onward:
            return False
        if out_x and (out_x > 0) != heading_east:
            heading_east = not heading_east
            swings += 1
        x, y, in_x, in_y = next_x, next_y, out_x, out_y
    return swings <= 2  # noqa: PLR2004 - a convex ring goes east once and west once


def _is_small_and_square(ring: Ring) -> bool:
    """A few edges, each along x or along y, of which only neighbours meet."""
    count = len(ring)
    if count > PAIRWISE_EDGES:
        return False
    boxes: list[Box] = []
    x, y = ring[-1]
    for next_x, next_y in ring:
        if x != next_x and y != next_y:
            return False
        if -SAME_POINT < next_x - x < SAME_POINT and -SAME_POINT < next_y - y < SAME_POINT:
            return False
        left, right = (x, next_x) if x < next_x else (next_x, x)
        bottom, top = (y, next_y) if y < next_y else (next_y, y)
        boxes.append((left, bottom, right, top))
        x, y = next_x, next_y
    return not _folds_back(boxes) and not _strangers_meet(boxes)


def _folds_back(boxes: Sequence[Box]) -> bool:
    """Whether two successive upright edges share more than an end."""
    left, bottom, right, top = boxes[-1]
    for next_left, next_bottom, next_right, next_top in boxes:
        if (left < next_right and next_left < right) or (bottom < next_top and next_bottom < top):
            return True
        left, bottom, right, top = next_left, next_bottom, next_right, next_top
    return False


def _strangers_meet(boxes: Sequence[Box]) -> bool:
    last = len(boxes) - 1
    for index, (left, bottom, right, top) in enumerate(boxes):
        for other_left, other_bottom, other_right, other_top in boxes[
            index + 2 : last if index == 0 else None
        ]:
            if (
                other_left <= right
                and left <= other_right
                and other_bottom <= top
                and bottom <= other_top
            ):
                return True
    return False


def _vertex_faults(ring: Ring, ruler: Ruler) -> list[RingFault]:
    faults = []
    count = len(ring)
    for index, (x, y) in enumerate(ring):
        after = (index + 1) % count
        in_x = x - ring[index - 1][0]
        in_y = y - ring[index - 1][1]
        out_x = ring[after][0] - x
        out_y = ring[after][1] - y
        turn = in_x * out_y - in_y * out_x
        onward = in_x * out_x + in_y * out_y
        if abs(out_x) < SAME_POINT and abs(out_y) < SAME_POINT:
            faults.append(_repeated(index, after, ring[index], ruler))
        elif onward < 0 and abs(turn) <= -STRAIGHT_BACK * onward:
            edges = ((index - 1) % count, index)
            detail = (
                f"the outline turns straight back at vertex {index}, {ruler.place(ring[index])}"
            )
            faults.append(RingFault("spike", detail, edges, ring[index]))
    if faults and _is_one_line(ring):
        detail = f"the vertices from {ruler.place(ring[0])} lie on one line and enclose nothing"
        return [RingFault("zero-area", detail)]
    return faults


def _repeated(index: int, after: int, point: Point, ruler: Ruler) -> RingFault:
    detail = f"vertices {index} and {after} are the same point, {ruler.place(point)}"
    if after == 0:
        detail += "; the first vertex is not given again at the end"
    return RingFault("repeated-vertex", detail, (index,), point)


def _is_one_line(ring: Ring) -> bool:
    start_x, start_y = ring[0]
    far_x, far_y = max(ring, key=lambda point: hypot(point[0] - start_x, point[1] - start_y))
    along_x, along_y = far_x - start_x, far_y - start_y
    reach = hypot(along_x, along_y)
    return all(
        abs(along_x * (y - start_y) - along_y * (x - start_x)) <= SAME_POINT * reach
        for x, y in ring
    )


def _crossing(ring: Ring, ruler: Ruler) -> list[RingFault]:
    figure = shapely.Polygon(ring)
    if figure.is_valid:
        return []
    place = _PLACE.search(shapely.is_valid_reason(figure))
    if place is None:
        return [RingFault("not-simple", "the outline does not enclose one piece of floor")]
    point = (float(place[1]), float(place[2]))
    edges = _edges_at(ring, point)
    ends = {vertex for edge in edges for vertex in (edge, (edge + 1) % len(ring))}
    if any(_apart(ring[vertex], point) < SAME_POINT for vertex in ends):
        detail = f"the outline touches or runs over itself at {ruler.place(point)}"
        return [RingFault("self-touching", detail, edges, point)]
    detail = f"the outline crosses itself at {ruler.place(point)}"
    return [RingFault("self-crossing", detail, edges, point)]


def _edges_at(ring: Ring, point: Point) -> tuple[int, ...]:
    ends = (*ring[1:], ring[0])
    lines = shapely.linestrings(list(zip(ring, ends, strict=True)))
    gaps = shapely.distance(lines, shapely.Point(point)).tolist()
    reach = max(SAME_POINT, 1e-12 * max(map(abs, point)))
    return tuple(index for index, gap in enumerate(gaps) if gap <= reach)


def _nothing_inside(ring: Ring, area: float, ruler: Ruler) -> list[RingFault]:
    if area > SMALLEST_AREA:
        return []
    detail = f"the outline encloses {area:.3g} m2 at {ruler.place(ring[0])}"
    return [RingFault("zero-area", detail, point=ring[0])]


def _apart(first: Point, second: Point) -> float:
    return hypot(first[0] - second[0], first[1] - second[1])
