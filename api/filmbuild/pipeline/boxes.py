"""Upright bounding boxes, and the pairs of them that meet."""

from collections.abc import Iterator, Sequence
from typing import TypeAlias

import shapely

from filmbuild.pipeline.geometry import Ring

Box: TypeAlias = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y [m]."""

SWEEP_LIMIT = 64
CHUNK = 256


def bounding_box(ring: Ring) -> Box:
    least_x, least_y = greatest_x, greatest_y = ring[0]
    for x, y in ring:
        if x < least_x:
            least_x = x
        elif x > greatest_x:
            greatest_x = x
        if y < least_y:
            least_y = y
        elif y > greatest_y:
            greatest_y = y
    return least_x, least_y, greatest_x, greatest_y


def is_box(ring: Ring, box: Box) -> bool:
    """Whether a valid ring is its own bounding box: an upright rectangle of four vertices."""
    if len(ring) != 4:  # noqa: PLR2004 - a rectangle has four corners
        return False
    least_x, least_y, greatest_x, greatest_y = box
    return all((x in (least_x, greatest_x)) and (y in (least_y, greatest_y)) for x, y in ring)


def meeting_boxes(boxes: Sequence[Box]) -> Iterator[tuple[int, int]]:
    """Each pair of boxes that share at least a point, lower index first.

    Pairs are found as they are asked for, so that a caller who has seen enough may stop: boxes
    all lying on one another make as many pairs as their number squared.
    """
    return _swept(boxes) if len(boxes) <= SWEEP_LIMIT else _indexed(boxes)


def _swept(boxes: Sequence[Box]) -> Iterator[tuple[int, int]]:
    by_left = sorted(range(len(boxes)), key=boxes.__getitem__)
    for place, index in enumerate(by_left):
        _, bottom, right, top = boxes[index]
        for other in by_left[place + 1 :]:
            other_left, other_bottom, _, other_top = boxes[other]
            if other_left > right:
                break
            if other_bottom <= top and bottom <= other_top:
                yield (index, other) if index < other else (other, index)


def _indexed(boxes: Sequence[Box]) -> Iterator[tuple[int, int]]:
    figures = shapely.box(*zip(*boxes, strict=True))
    tree = shapely.STRtree(figures)
    for start in range(0, len(boxes), CHUNK):
        asked, found = tree.query(figures[start : start + CHUNK])
        asked = asked + start
        later = found > asked
        yield from zip(asked[later].tolist(), found[later].tolist(), strict=True)
