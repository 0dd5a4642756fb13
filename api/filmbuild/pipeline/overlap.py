"""Floors placed on one plan that cover the same ground."""

from collections.abc import Iterator, Sequence
from itertools import islice

import msgspec
import shapely

from filmbuild.pipeline.boxes import Box, bounding_box, is_box, meeting_boxes
from filmbuild.pipeline.geometry import SMALLEST_AREA, FloorShape, Point
from filmbuild.pipeline.overlay import intersection

MOST_OVERLAPS = 1_000
CHUNK = 256


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
    ``most`` pairs are returned: thousands of floors laid on one spot are one mistake.
    """
    boxes = [bounding_box(shape.outline) for shape in shapes]
    plain = [
        not shape.islands and is_box(shape.outline, box)
        for shape, box in zip(shapes, boxes, strict=True)
    ]
    found: list[Overlap] = []
    unsettled: list[_Meeting] = []
    for meeting in _shared_boxes(boxes):
        if plain[meeting.first] and plain[meeting.second]:
            found.append(_of_rectangles(meeting))
        else:
            unsettled.append(meeting)
            if len(unsettled) == CHUNK:
                found.extend(_of_figures(shapes, unsettled))
                unsettled.clear()
        if len(found) >= most:
            break
    if len(found) < most:
        found.extend(_of_figures(shapes, unsettled))
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


def _of_figures(shapes: Sequence[FloorShape], meetings: Sequence[_Meeting]) -> Iterator[Overlap]:
    if not meetings:
        return
    used = {index for meeting in meetings for index in (meeting.first, meeting.second)}
    figures = {
        index: shapely.Polygon(shapes[index].outline, shapes[index].islands) for index in used
    }
    shared = intersection(
        [figures[meeting.first] for meeting in meetings],
        [figures[meeting.second] for meeting in meetings],
    )
    for meeting, figure, area in zip(meetings, shared, shapely.area(shared).tolist(), strict=True):
        if area > SMALLEST_AREA:
            inside = figure.representative_point()
            yield Overlap(meeting.first, meeting.second, area, (inside.x, inside.y))
