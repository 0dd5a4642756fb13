"""Whether islands lie where islands of a floor can lie, and if not, where they go wrong."""

from collections.abc import Iterator, Sequence
from itertools import islice

import msgspec
import shapely

from filmbuild.pipeline.boxes import Box, bounding_box, meeting_boxes
from filmbuild.pipeline.effort import Effort
from filmbuild.pipeline.geometry import FloorShape, Point, Ring, encloses
from filmbuild.pipeline.outlines import METRE_RULER, Ruler
from filmbuild.pipeline.overlay import intersection

PLAIN_CHECKS = 1_000
CHUNK = 256
MOST_FAULTS = 100
EFFORT_OF_PAIR = 3
VERTICES_FOR_EFFORT = 150


class IslandFault(msgspec.Struct, frozen=True):
    """What is wrong with an island, by index, with the other island it meets if it does."""

    code: str
    detail: str
    island: int
    point: Point
    other: int | None = None


class _Names(msgspec.Struct, frozen=True):
    given: int

    def of(self, index: int) -> str:
        return f"island {index}" if index < self.given else f"interior ring {index - self.given}"


def island_faults(
    shape: FloorShape,
    ruler: Ruler = METRE_RULER,
    given: int | None = None,
    effort: Effort | None = None,
) -> list[IslandFault]:
    """Islands not strictly inside the outline, and islands that meet one another.

    The outline and every island must be simple rings. Islands from number `given` on are told as
    interior rings of the outline. At most a hundred faults of each of the two kinds are returned. Raises TooMuchWorkError where too many islands lie round one another.
    """
    if not shape.islands:
        return []
    boxes = [bounding_box(island) for island in shape.islands]
    names = _Names(len(shape.islands) if given is None else given)
    faults = [] if _plainly_inside(shape, boxes) else _outline_faults(shape, names, ruler)
    faults.extend(islice(_meeting_islands(shape.islands, boxes, names, ruler, effort), MOST_FAULTS))
    return faults


def _plainly_inside(shape: FloorShape, boxes: Sequence[Box]) -> bool:
    """Whether no edge of the outline comes near an island's box, and each island is inside."""
    if len(shape.outline) * len(boxes) > PLAIN_CHECKS:
        return False
    x, y = shape.outline[-1]
    for next_x, next_y in shape.outline:
        left, right = (x, next_x) if x < next_x else (next_x, x)
        bottom, top = (y, next_y) if y < next_y else (next_y, y)
        for box_left, box_bottom, box_right, box_top in boxes:
            if left <= box_right and box_left <= right and bottom <= box_top and box_bottom <= top:
                return False
        x, y = next_x, next_y
    return all(encloses(shape.outline, island[0]) for island in shape.islands)


def _outline_faults(shape: FloorShape, names: "_Names", ruler: Ruler) -> list[IslandFault]:
    floor = shapely.Polygon(shape.outline)
    shapely.prepare(floor)
    islands = [shapely.Polygon(island) for island in shape.islands]
    inside = shapely.contains_properly(floor, islands).tolist()
    outside = (index for index, fine in enumerate(inside) if not fine)
    return [
        _outline_fault(floor, islands[index], index, names.of(index), ruler)
        for index in islice(outside, MOST_FAULTS)
    ]


def _outline_fault(
    floor: shapely.Polygon, island: shapely.Polygon, index: int, name: str, ruler: Ruler
) -> IslandFault:
    shared = shapely.intersection(floor.exterior, island.exterior)
    point = _point_of(island if shared.is_empty else shared)
    if shared.is_empty:
        code, verb = "island-outside", "lies outside the outline"
    elif shapely.covers(floor, island):
        code, verb = "island-touches-outline", "touches the outline"
    elif intersection(floor, island).area > 0:
        code, verb = "island-crosses-outline", "crosses the outline"
    else:
        code, verb = "island-outside", "lies outside the outline and touches it"
    detail = f"{name} {verb} at {ruler.place(point)}; an island lies wholly inside the outline"
    return IslandFault(code, detail, index, point)


def _meeting_islands(
    islands: Sequence[Ring],
    boxes: Sequence[Box],
    names: "_Names",
    ruler: Ruler,
    effort: Effort | None,
) -> Iterator[IslandFault]:
    for first, second, figure, other in _touching(islands, meeting_boxes(boxes), effort):
        shared = intersection(figure, other)
        overlapping = shared.area > 0
        verb = "overlap" if overlapping else "touch"
        point = _point_of(shared)
        detail = f"{names.of(first)} and {names.of(second)} {verb} at {ruler.place(point)}"
        yield IslandFault(f"islands-{verb}", detail, first, point, second)


def _touching(
    islands: Sequence[Ring], pairs: Iterator[tuple[int, int]], effort: Effort | None
) -> Iterator[tuple[int, int, shapely.Polygon, shapely.Polygon]]:
    """Those pairs that share a point. Figures are made once, and compared many at a time."""
    figures: dict[int, shapely.Polygon] = {}
    while some := list(islice(pairs, CHUNK)):
        if effort is not None:
            effort.spend(sum([_effort(islands[pair[0]], islands[pair[1]]) for pair in some]))
        for index in {index for pair in some for index in pair} - figures.keys():
            figures[index] = shapely.Polygon(islands[index])
            shapely.prepare(figures[index])
        touching = shapely.intersects(
            [figures[first] for first, _ in some], [figures[second] for _, second in some]
        )
        for place in touching.nonzero()[0].tolist():
            first, second = some[place]
            yield first, second, figures[first], figures[second]


def _effort(first: Ring, second: Ring) -> int:
    return EFFORT_OF_PAIR + (len(first) + len(second)) // VERTICES_FOR_EFFORT


def _point_of(figure: shapely.Geometry) -> Point:
    inside = shapely.point_on_surface(figure)
    return inside.x, inside.y
