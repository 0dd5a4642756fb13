"""The lettering of a room: its place in the order of work, its name, its size and its area."""

from collections.abc import Iterator
from itertools import product
from textwrap import wrap
from xml.etree.ElementTree import Element

import msgspec

from filmbuild.pipeline.drawing.amounts import shown
from filmbuild.pipeline.drawing.lettering import BASELINE, LINE, width_of
from filmbuild.pipeline.drawing.paper import Floor, Paper, box_at
from filmbuild.pipeline.drawing.rooms import Room
from filmbuild.pipeline.drawing.svg import child, number
from filmbuild.pipeline.geometry import Point
from filmbuild.pipeline.site import Rectangle
from filmbuild.pipeline.site_work import Slope
from filmbuild.quantities import Length, UnitSystem

_NAME = 3.2
_SIZE = 2.7
_RADIUS = 2.5
_REDUCTIONS = (1.0, 0.85, 0.7)
_SPACE = 1.0
_MOST_LINES = 4
_SHORTEST_LINE = 8
_TIMES = " \u00d7 "
_SIDES_FROM = 30.0
"""[mm] A rectangle at least so long and wide has its sides lettered along its walls."""


class Line(msgspec.Struct, frozen=True):
    text: str
    size: float
    bold: bool = False

    @property
    def width(self) -> float:
        return width_of(self.text, self.size, bold=self.bold)


class Block(msgspec.Struct, frozen=True):
    """A numbered circle with lines below it, or beside it, read along or up the sheet."""

    order: str
    lines: list[Line]
    radius: float
    is_beside: bool
    is_upright: bool

    @property
    def _of_lines(self) -> Point:
        width = max([line.width for line in self.lines])
        return width, sum([line.size * LINE for line in self.lines])

    @property
    def size(self) -> Point:
        """Width and height on the sheet."""
        width, height = self._of_lines
        if self.is_beside:
            width, height = width + 2 * self.radius + _SPACE, max(height, 2 * self.radius)
        else:
            width, height = max(width, 2 * self.radius), height + 2 * self.radius
        return (height, width) if self.is_upright else (width, height)

    def draw(self, parent: Element, middle: Point) -> None:
        x, y = middle
        width, height = self.size
        child(
            parent,
            "rect",
            x=x - width / 2,
            y=y - height / 2,
            width=width,
            height=height,
            fill="#fff",
            fill_opacity=0.85,
        )
        if self.is_upright:
            turned = f"rotate(-90 {number(x)} {number(y)})"
            parent = child(parent, "g", transform=turned)
        if self.is_beside:
            self._draw_beside(parent, middle)
        else:
            self._draw_below(parent, middle)

    def _draw_below(self, parent: Element, middle: Point) -> None:
        x, y = middle
        _, height = self._of_lines
        top = y - height / 2 - self.radius
        draw_order(parent, self.order, (x, top + self.radius), self.radius)
        self._draw_lines(parent, x, top + 2 * self.radius, "middle")

    def _draw_beside(self, parent: Element, middle: Point) -> None:
        x, y = middle
        wide, height = self._of_lines
        left = x - (wide + 2 * self.radius + _SPACE) / 2
        draw_order(parent, self.order, (left + self.radius, y), self.radius)
        self._draw_lines(parent, left + 2 * self.radius + _SPACE, y - height / 2, "start")

    def _draw_lines(self, parent: Element, x: float, top: float, anchor: str) -> None:
        for line in self.lines:
            middle = top + line.size * LINE / 2
            draw_line(parent, line, (x, middle), anchor)
            top += line.size * LINE


def draw_line(parent: Element, line: Line, middle: Point, anchor: str) -> Element:
    x, y = middle
    weight = {"font_weight": "bold"} if line.bold else {}
    return child(
        parent,
        "text",
        line.text,
        x=x,
        y=y + BASELINE * line.size,
        font_size=line.size,
        text_anchor=anchor,
        **weight,
    )


def draw_order(parent: Element, order: str, middle: Point, radius: float) -> None:
    """The place in the order of work, in a circle."""
    x, y = middle
    child(parent, "circle", class_="order", cx=x, cy=y, r=radius - 0.1, fill="#fff", stroke="#000")
    size = min(1.2 * radius, 1.7 * radius / width_of(order, 1.0, bold=True))
    draw_line(parent, Line(order, size, bold=True), middle, "middle")


def draw_label(parent: Element, floor: Floor, paper: Paper, system: UnitSystem) -> bool:
    """Whether the room's name and area had room on its floor."""
    room = floor.room
    least = _SIZE * _REDUCTIONS[-1]
    longest = width_of(shown(room.takeoff.floor, system), least)
    sides = sorted((floor.width, floor.height))
    if sides[0] < least * LINE or sides[1] < longest:
        return False
    for clear, with_size in product(
        (True, False) if room.has_lines else (False,),
        (True, False) if has_size_in_label(floor) else (False,),
    ):
        for block in _blocks(room, system, with_size=with_size):
            width, height = block.size
            spot = floor.spot_for(width, height, paper, clear=clear)
            if spot is not None:
                block.draw(parent, spot)
                paper.take(box_at(spot, width, height))
                return True
    return False


def has_size_in_label(floor: Floor) -> bool:
    return floor.room.is_rectangle and min(floor.width, floor.height) < _SIDES_FROM


def draw_number(parent: Element, floor: Floor, paper: Paper, smallest: float) -> bool:
    """The circle alone, on the floor, as large as it can be but not below a radius [mm]."""
    order = str(floor.room.takeoff.placing_order)
    radius = _RADIUS
    while radius >= smallest:
        spot = floor.spot_for(2 * radius, 2 * radius, paper)
        if spot is not None:
            draw_order(parent, order, spot, radius)
            paper.take(box_at(spot, 2 * radius, 2 * radius))
            return True
        radius *= 0.7
    return False


def _blocks(room: Room, system: UnitSystem, *, with_size: bool) -> Iterator[Block]:
    order = str(room.takeoff.placing_order)
    size = size_of(room, system)
    sizes = [[size], size.replace(_TIMES, f"{_TIMES}\n").split("\n")] if with_size else [[]]
    names = _names(room.takeoff.name)
    floor = [shown(room.takeoff.floor, system), *slopes_of(room, system)]
    for is_upright, factor, name, below in product((False, True), _REDUCTIONS, names, sizes):
        lines = [Line(text, _NAME * factor, bold=True) for text in name]
        lines += [Line(text.strip(), _SIZE * factor) for text in (*below, *floor)]
        for is_beside in (False, True):
            yield Block(order, lines, _RADIUS * factor, is_beside, is_upright)


def _names(name: str) -> list[list[str]]:
    """The name in one line, and broken between its words into as many more as make it narrower."""
    broken = [[name]]
    for parts in range(2, _MOST_LINES + 1):
        lines = wrap(name, max(-(-len(name) // parts) + 1, _SHORTEST_LINE), break_long_words=False)
        if len(lines) > len(broken[-1]):
            broken.append(lines[:_MOST_LINES])
            if len(lines) > _MOST_LINES:
                broken[-1][-1] += "\u2026"
    return broken


def size_of(room: Room, system: UnitSystem) -> str:
    """Of a rectangle, along and across as it was given or else across the sheet first."""
    if not room.is_rectangle:
        return f"{len(room.shape.outline)} sides"
    ring = room.rings[0]
    sides = [Length(ring.lengths[0]), Length(ring.lengths[3])]
    along_x, along_y = ring.direction(0)
    if not isinstance(room.area.outline, Rectangle) and abs(along_y) > abs(along_x):
        sides.reverse()
    return _TIMES.join(shown(side, system) for side in sides)


def extent_of(room: Room, system: UnitSystem) -> str:
    """The size of the box round it."""
    left, bottom, right, top = room.box
    sides = (Length(right - left), Length(top - bottom))
    return f"{_TIMES.join(shown(side, system) for side in sides)} overall"


def slopes_of(room: Room, system: UnitSystem) -> list[str]:
    """Of floors that slope as a whole; which way is not known."""
    return [f"slope {_slope(one, system)}" for one in room.area.slopes if one.plan_area is None]


def _slope(slope: Slope, system: UnitSystem) -> str:
    if slope.percent is not None:
        return f"{number(slope.percent)} %"
    if slope.rise is not None and slope.run is not None:
        return f"{shown(Length(slope.rise), system)} in {shown(Length(slope.run), system)}"
    return f"1 in {number(slope.ratio or 1.0)}"
