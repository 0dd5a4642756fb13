"""Lengths lettered along the sides of outlines."""

from itertools import product
from math import atan2, degrees, hypot, pi, sin
from xml.etree.ElementTree import Element

from filmbuild.pipeline.boxes import Box, bounding_box
from filmbuild.pipeline.drawing.amounts import shown
from filmbuild.pipeline.drawing.labels import Line, draw_line
from filmbuild.pipeline.drawing.paper import Floor, Paper, box_at
from filmbuild.pipeline.drawing.svg import child, number
from filmbuild.pipeline.geometry import Point
from filmbuild.quantities import Length, UnitSystem

_SIZES = (2.4, 2.0, 1.7)
_OFF_WALL = 0.9
_ALONG = (0.5, 0.35, 0.65, 0.2, 0.8)
_OPPOSITE = {0: 2, 3: 1}


def letter_sides(
    parent: Element, floor: Floor, paper: Paper, band: float, system: UnitSystem
) -> list[int]:
    """Letters each side clear of the band along it; the sides that had no room are returned.

    Of a rectangle two sides say all, wherever the room is on either of them.
    """
    if floor.room.is_rectangle:
        return [
            side
            for side, other in _OPPOSITE.items()
            if not _letter(parent, floor, paper, band, side, system)
            and not _letter(parent, floor, paper, band, other, system)
        ]
    sides = range(len(floor.outline))
    return [side for side in sides if not _letter(parent, floor, paper, band, side, system)]


def _letter(
    parent: Element, floor: Floor, paper: Paper, band: float, side: int, system: UnitSystem
) -> bool:
    ring = floor.room.rings[0]
    text = shown(Length(ring.lengths[side]), system)
    (x1, y1), (x2, y2) = (
        floor.outline[side],
        floor.outline[(side + 1) % len(floor.outline)],
    )
    length = hypot(x2 - x1, y2 - y1)
    in_x, in_y = ring.inward(side, 1.0)
    for size in _SIZES:
        line = Line(text, size)
        if line.width > length:
            continue
        off = band + _OFF_WALL + size / 2
        has_lines = floor.room.has_lines
        for clear, share in product((True, False) if has_lines else (False,), _ALONG):
            middle = (
                x1 + (x2 - x1) * share + in_x * off,
                y1 + (y2 - y1) * share - in_y * off,
            )
            corners = _corners(middle, (x2 - x1) / length, (y2 - y1) / length, line.width, size)
            box = bounding_box(corners)
            if _is_free(paper, box, clear=clear) and _is_held(floor, corners, paper):
                angle = atan2(y2 - y1, x2 - x1)
                _draw(parent, line, middle, angle, over_lines=has_lines)
                paper.take(box)
                return True
    return False


def _is_free(paper: Paper, box: Box, *, clear: bool) -> bool:
    return paper.is_free(box) and (not clear or paper.is_clear(box))


def _is_held(floor: Floor, corners: tuple[Point, ...], paper: Paper) -> bool:
    if floor.room.is_plain:
        return floor.holds([bounding_box(corners)])[0]
    return floor.holds_figure(corners, paper)


def _corners(
    middle: Point, along_x: float, along_y: float, width: float, height: float
) -> tuple[Point, ...]:
    x, y = middle
    half, rise = width / 2, height / 2
    return tuple(
        (x + along_x * right - along_y * down, y + along_y * right + along_x * down)
        for right, down in ((-half, -rise), (half, -rise), (half, rise), (-half, rise))
    )


def _draw(parent: Element, line: Line, middle: Point, angle: float, *, over_lines: bool) -> None:
    """Read from below or from the right; on white where it may stand over joints and cracks."""
    if not -pi / 2 - 1e-6 <= angle < pi / 2 - 1e-6:
        angle -= pi if angle > 0 else -pi
    x, y = middle
    if abs(sin(angle)) >= 1e-9:  # noqa: PLR2004 - level, and so without a turn
        turned = f"rotate({number(degrees(angle))} {number(x)} {number(y)})"
        parent = child(parent, "g", transform=turned)
    if over_lines:
        left, top, _, _ = box_at(middle, line.width, line.size)
        child(parent, "rect", x=left, y=top, width=line.width, height=line.size, fill="#fff")
    draw_line(parent, line, middle, "middle")
