"""Whether islands lie where islands of a floor can lie, and if not, where they go wrong."""

from collections.abc import Iterator, Sequence
from itertools import islice

import msgspec
import shapely

from filmbuild.pipeline.boxes import Box, bounding_box, meeting_boxes
from filmbuild.pipeline.geometry import FloorShape, Point, Ring, encloses
from filmbuild.pipeline.outlines import place_of
from filmbuild.pipeline.overlay import intersection

PLAIN_CHECKS = 1_000
CHUNK = 256
MOST_FAULTS = 100


class IslandFault(msgspec.Struct, frozen=True):
    """What is wrong with an island, by index, with the other island it meets if it does."""

    code: str
    detail: str
    island: int
    point: Point
    other: int | None = None


def island_faults(shape: FloorShape) -> list[IslandFault]:
    """Islands not strictly inside the outline, and islands that meet one another.

    The outline and every island must be simple rings. At most a hundred faults of each of the
    two kinds are returned.
    """
    if not shape.islands:
        return []
    boxes = [bounding_box(island) for island in shape.islands]
    faults = [] if _plainly_inside(shape, boxes) else _outline_faults(shape)
    faults.extend(islice(_meeting_islands(shape.islands, boxes), MOST_FAULTS))
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


def _outline_faults(shape: FloorShape) -> list[IslandFault]:
    floor = shapely.Polygon(shape.outline)
    shapely.prepare(floor)
    islands = [shapely.Polygon(island) for island in shape.islands]
    inside = shapely.contains_properly(floor, islands).tolist()
    outside = (index for index, fine in enumerate(inside) if not fine)
    return [_outline_fault(floor, islands[index], index) for index in islice(outside, MOST_FAULTS)]


def _outline_fault(floor: shapely.Polygon, island: shapely.Polygon, index: int) -> IslandFault:
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
    detail = f"island {index} {verb} at {place_of(point)}; an island lies wholly inside the outline"
    return IslandFault(code, detail, index, point)


def _meeting_islands(islands: Sequence[Ring], boxes: Sequence[Box]) -> Iterator[IslandFault]:
    for first, second, figure, other in _touching(islands, meeting_boxes(boxes)):
        shared = intersection(figure, other)
        overlapping = shared.area > 0
        verb = "overlap" if overlapping else "touch"
        point = _point_of(shared)
        detail = f"islands {first} and {second} {verb} at {place_of(point)}"
        yield IslandFault(f"islands-{verb}", detail, first, point, second)


def _touching(
    islands: Sequence[Ring], pairs: Iterator[tuple[int, int]]
) -> Iterator[tuple[int, int, shapely.Polygon, shapely.Polygon]]:
    """Those pairs that share a point. Figures are made once, and compared many at a time."""
    figures: dict[int, shapely.Polygon] = {}
    while some := list(islice(pairs, CHUNK)):
        for index in {index for pair in some for index in pair} - figures.keys():
            figures[index] = shapely.Polygon(islands[index])
            shapely.prepare(figures[index])
        touching = shapely.intersects(
            [figures[first] for first, _ in some], [figures[second] for _, second in some]
        )
        for place in touching.nonzero()[0].tolist():
            first, second = some[place]
            yield first, second, figures[first], figures[second]


def _point_of(figure: shapely.Geometry) -> Point:
    inside = shapely.point_on_surface(figure)
    return inside.x, inside.y
