"""Doorways: the ends of the gap in the wall, the leaf with its swing, and the doorway's id."""

from collections.abc import Iterable
from math import hypot
from xml.etree.ElementTree import Element

from filmbuild.pipeline.boxes import bounding_box
from filmbuild.pipeline.drawing.labels import Line, draw_line
from filmbuild.pipeline.drawing.layout import View
from filmbuild.pipeline.drawing.paper import Paper, box_at
from filmbuild.pipeline.drawing.rooms import Door, Room
from filmbuild.pipeline.drawing.svg import child, number, path
from filmbuild.pipeline.geometry import Point

_WIDEST_LEAF = 1.5
"""[m] Wider doors fold, roll or slide, and so have no swing."""
_JAMB = 0.9
_LEAF = 0.3
_NAME = 1.9
_AWAY = (0.0, 2.2)
_ASIDE = (0.0, 3.5, -3.5, 5.5, -5.5)
"""[mm] From the middle of the doorway, past an exit's arrow or a leaf."""


def draw_doors(parent: Element, rooms: Iterable[Room], view: View, paper: Paper) -> None:
    for room in rooms:
        for door in room.doors:
            _draw(parent, door, view, paper)


def _draw(parent: Element, door: Door, view: View, paper: Paper) -> None:
    start, end = view.place(door.start), view.place(door.end)
    size = hypot(*door.out)
    out = (door.out[0] / size, -door.out[1] / size)
    swings = door.has_leaf and hypot(door.end[0] - door.start[0], door.end[1] - door.start[1]) <= (
        _WIDEST_LEAF
    )
    draw_door(parent, start, end, out, has_leaf=door.has_leaf, swings=swings)
    width = hypot(end[0] - start[0], end[1] - start[1])
    reach = width if swings else _JAMB
    paper.take(bounding_box((start, end, _step(start, out, -reach), _step(end, out, _JAMB))))
    _letter(parent, door.name, ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), out, paper)


def draw_door(
    parent: Element,
    start: Point,
    end: Point,
    out: Point,
    *,
    has_leaf: bool,
    swings: bool = True,
) -> None:
    """The leaf hangs at `start` and opens away from `out`, a unit step on paper."""
    jambs = "".join(
        path([_step(point, out, -_JAMB), _step(point, out, _JAMB)]) for point in (start, end)
    )
    child(parent, "path", class_="doorway", d=jambs, fill="none", stroke="#000", stroke_width=_LEAF)
    if not has_leaf:
        return
    if swings:
        width = hypot(end[0] - start[0], end[1] - start[1])
        tip = _step(start, out, -width)
        turn = (end[0] - start[0]) * out[1] - (end[1] - start[1]) * out[0]
        radius, sweep = number(width), 1 if turn > 0 else 0
        arc = f"A{radius} {radius} 0 0 {sweep} {number(end[0])} {number(end[1])}"
        leaf = path([start, tip]) + arc
    else:
        leaf = path([_step(start, out, -_JAMB / 2), _step(end, out, -_JAMB / 2)])
    child(parent, "path", class_="door", d=leaf, fill="none", stroke="#000", stroke_width=_LEAF)


def _step(point: Point, out: Point, distance: float) -> Point:
    return point[0] + out[0] * distance, point[1] + out[1] * distance


def _letter(parent: Element, name: str, middle: Point, out: Point, paper: Paper) -> None:
    """The id, on whichever side of the wall it has room, clear of lines wherever it can be."""
    line = Line(name, _NAME)
    half = line.width / 2 * abs(out[0]) + _NAME / 2 * abs(out[1])
    spots = [
        _step(_step(middle, out, side * (half + _JAMB + 0.3 + away)), (-out[1], out[0]), aside)
        for away in _AWAY
        for aside in _ASIDE
        for side in (1, -1)
    ]
    boxes = [(spot, box_at(spot, line.width, _NAME)) for spot in spots]
    free = [(spot, box) for spot, box in boxes if paper.is_free(box)]
    clear = (one for one in free if paper.is_clear(one[1]))
    found = next(clear, free[0] if free else None)
    if found is not None:
        spot, box = found
        draw_line(parent, line, spot, "middle")
        paper.take(box)
