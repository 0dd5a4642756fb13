"""Floors placed on one plan that cover the same ground."""

from collections.abc import Iterator, Sequence
from itertools import islice

import msgspec
import shapely

from filmbuild.pipeline.boxes import Box, bounding_box, is_box, meeting_boxes
from filmbuild.pipeline.geometry import SMALLEST_AREA, FloorShape, Point
from filmbuild.pipeline.overlay import intersection

MOST_OVERLAPS = 1_000
MOST_EFFORT = 100_000_000
"""A few seconds' work, counted in vertices looked at; a row of neighbours needs a hundredth."""
EFFORT_OF_PAIR = 32
EFFORT_OF_INTERSECTION = 50
CHUNK = 256


class EntangledError(Exception):
    """More bounding boxes meet than figures can be compared in a reasonable time."""


class Overlap(msgspec.Struct, frozen=True, order=True):
    """Two floors, by index, the area [m2] both cover and a point inside it [m]."""

    first: int
    second: int
    area: float
    point: Point


class _Meeting(msgspec.Struct, frozen=True):
    first: int
    second: int
    shared: Box


def overlaps(shapes: Sequence[FloorShape], most: int = MOST_OVERLAPS) -> list[Overlap]:
    """Each pair of valid floors that share more than a square millimetre, in order of index.

    Floors may share a boundary, and a floor may lie inside another's island. No more than
    ``most`` pairs are returned: thousands of floors laid on one spot are one mistake. Fewer are
    where comparing them all would take too long; raises EntangledError where none was found then.
    """
    boxes = [bounding_box(shape.outline) for shape in shapes]
    plain = [
        not shape.islands and is_box(shape.outline, box)
        for shape, box in zip(shapes, boxes, strict=True)
    ]
    found: list[Overlap] = []
    unsettled: list[_Meeting] = []
    figures = _Figures(shapes)
    for meeting in _shared_boxes(boxes):
        if plain[meeting.first] and plain[meeting.second]:
            found.append(_of_rectangles(meeting))
        else:
            unsettled.append(meeting)
            if len(unsettled) == CHUNK:
                found.extend(figures.overlaps(unsettled))
                unsettled.clear()
        if len(found) >= most or (found and figures.effort > MOST_EFFORT):
            break
        if figures.effort > MOST_EFFORT:
            raise EntangledError
    if len(found) < most:
        found.extend(figures.overlaps(unsettled))
    return sorted(islice(found, most))


def _shared_boxes(boxes: Sequence[Box]) -> Iterator[_Meeting]:
    for first, second in meeting_boxes(boxes):
        left, bottom, right, top = boxes[first]
        other_left, other_bottom, other_right, other_top = boxes[second]
        left = max(left, other_left)
        right = min(right, other_right)
        if right <= left:
            continue
        bottom = max(bottom, other_bottom)
        top = min(top, other_top)
        if (right - left) * (top - bottom) > SMALLEST_AREA:
            yield _Meeting(first, second, (left, bottom, right, top))


def _of_rectangles(meeting: _Meeting) -> Overlap:
    left, bottom, right, top = meeting.shared
    return Overlap(
        meeting.first,
        meeting.second,
        (right - left) * (top - bottom),
        ((left + right) / 2, (bottom + top) / 2),
    )


class _Figures:
    """Floors as shapely's polygons, each made once, and the effort spent on comparing them."""

    def __init__(self, shapes: Sequence[FloorShape]) -> None:
        self._shapes = shapes
        self._made: dict[int, shapely.Polygon] = {}
        self.effort = 0

    def _figure(self, index: int) -> shapely.Polygon:
        figure = self._made.get(index)
        if figure is None:
            shape = self._shapes[index]
            figure = self._made[index] = shapely.Polygon(shape.outline, shape.islands)
            shapely.prepare(figure)
        return figure

    def overlaps(self, meetings: Sequence[_Meeting]) -> Iterator[Overlap]:
        """Figures that do not so much as touch are set aside first: that is many times faster."""
        first = [self._figure(meeting.first) for meeting in meetings]
        second = [self._figure(meeting.second) for meeting in meetings]
        touching = shapely.intersects(first, second).nonzero()[0].tolist()
        self.effort += EFFORT_OF_PAIR * len(meetings) + _vertices(second)
        if not touching:
            return
        first, second = [first[place] for place in touching], [second[place] for place in touching]
        self.effort += EFFORT_OF_INTERSECTION * (_vertices(first) + _vertices(second))
        shared = intersection(first, second)
        areas = shapely.area(shared).tolist()
        for place, figure, area in zip(touching, shared, areas, strict=True):
            if area > SMALLEST_AREA:
                inside = figure.representative_point()
                meeting = meetings[place]
                yield Overlap(meeting.first, meeting.second, area, (inside.x, inside.y))


def _vertices(figures: Sequence[shapely.Polygon]) -> int:
    return int(shapely.get_num_coordinates(figures).sum())
