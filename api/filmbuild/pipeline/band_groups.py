"""Rings of a floor sorted into groups whose bands cannot meet, so that each is found alone."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from math import sqrt

import shapely

from filmbuild.pipeline.boxes import Box, bounding_box, meeting_boxes
from filmbuild.pipeline.geometry import FloorShape
from filmbuild.pipeline.walls import RingWalls

MITRE_REACH = sqrt(2)
"""In band widths: how far a mitre reaches from its corner at most."""
_ROOM = 1.0
"""[m] Between a group of islands and the frame that stands for the outline around them."""


class _Sets:
    """Numbers joined into disjoint sets, each named by its least member."""

    def __init__(self, count: int) -> None:
        self._above = list(range(count))

    def name(self, one: int) -> int:
        while self._above[one] != one:
            self._above[one] = self._above[self._above[one]]
            one = self._above[one]
        return one

    def join(self, first: int, second: int) -> None:
        low, high = sorted((self.name(first), self.name(second)))
        self._above[high] = low


def groups_of(rings: Sequence[RingWalls], width: float) -> list[list[RingWalls]]:
    """The outline's group first. Bands of this width [m] or less stay within their group's floor."""
    if len(rings) == 1:
        return [list(rings)]
    reach = MITRE_REACH * width
    boxes = [_grown(bounding_box(ring.points), reach) for ring in rings[1:]]
    sets = _Sets(len(rings))
    for island in _near_outline(rings[0], boxes, reach):
        sets.join(0, island + 1)
    for first, second in meeting_boxes(boxes):
        sets.join(first + 1, second + 1)
    members: defaultdict[int, list[RingWalls]] = defaultdict(list)
    for number, ring in enumerate(rings):
        members[sets.name(number)].append(ring)
    return list(members.values())


def around(islands: Sequence[RingWalls], width: float) -> FloorShape:
    """A floor in which the bands of these islands lie as they do in their own."""
    boxes = [bounding_box(ring.points) for ring in islands]
    whole = bounding_box(tuple([corner for box in boxes for corner in (box[:2], box[2:])]))
    left, bottom, right, top = _grown(whole, MITRE_REACH * width + _ROOM)
    frame = ((left, bottom), (right, bottom), (right, top), (left, top))
    return FloorShape(frame, tuple([ring.points for ring in islands]))


def _grown(box: Box, reach: float) -> Box:
    left, bottom, right, top = box
    return left - reach, bottom - reach, right + reach, top + reach


def _near_outline(outline: RingWalls, boxes: Sequence[Box], reach: float) -> Iterator[int]:
    edges = zip(outline.points, outline.ends, strict=True)
    grown = [_grown(bounding_box(edge), reach) for edge in edges]
    tree = shapely.STRtree(shapely.box(*zip(*grown, strict=True)))
    near = tree.query(shapely.box(*zip(*boxes, strict=True)))[0]
    yield from sorted(set(near.tolist()))
