"""One level's plan, drawn layer by layer: floors, bands, islands, edges, exits, lettering."""

from collections.abc import Sequence
from itertools import pairwise
from math import cos, pi, sin
from xml.etree.ElementTree import Element

import msgspec
import shapely

from filmbuild.pipeline.boxes import Box, bounding_box
from filmbuild.pipeline.drawing.amounts import listed, shown
from filmbuild.pipeline.drawing.doors import draw_doors
from filmbuild.pipeline.drawing.labels import (
    Line,
    draw_label,
    draw_line,
    draw_number,
    draw_order,
    has_size_in_label,
)
from filmbuild.pipeline.drawing.layout import Panel, View
from filmbuild.pipeline.drawing.lettering import shortened
from filmbuild.pipeline.drawing.linework import (
    JOINED,
    OPEN,
    WALL,
    Bands,
    draw_bands,
    draw_exits,
    draw_floor,
    draw_islands,
    draw_stretches,
    draw_walls,
)
from filmbuild.pipeline.drawing.marks import Marks
from filmbuild.pipeline.drawing.paper import Floor, Paper, box_at
from filmbuild.pipeline.drawing.rooms import Room, island_rings, wall_lines
from filmbuild.pipeline.drawing.sides import letter_sides
from filmbuild.pipeline.drawing.svg import child, path
from filmbuild.pipeline.geometry import Point
from filmbuild.quantities import UnitSystem

_TITLE = 3.4
_ISLAND = 2.0
_LEADER_RADIUS = 2.0
_LEADER_LENGTHS = (5.0, 7.0, 9.0, 12.0, 16.0)
_DIRECTIONS = 16
_FEW_ROOMS = 300
_LEGIBLE_RADIUS = 1.5
_SMALLEST_RADIUS = 0.3


class Plan(msgspec.Struct, frozen=True):
    """What all plans of a sheet share.

    `unlettered` has by area the sides without their length, `unnumbered` the areas without a place
    for their number. `prefix` begins every id in the document.
    """

    definitions: Element
    paper: Paper
    bands: Bands
    units: UnitSystem
    prefix: str = ""
    unlettered: dict[str, list[int]] = {}
    unnumbered: list[str] = []


def draw_panel(sheet: Element, panel: Panel, plan: Plan) -> None:
    group = child(sheet, "g", class_="level")
    title = Line(shortened(panel.title, _TITLE, panel.width, bold=True), _TITLE, bold=True)
    draw_line(group, title, (panel.left, panel.top + _TITLE / 2), "start")
    for view in panel.views:
        _draw_view(group, view, plan)


def _draw_view(group: Element, view: View, plan: Plan) -> None:
    rooms = view.cell.rooms
    floors = child(group, "g", fill="#fff", fill_rule="evenodd")
    bands = child(group, "g", fill="none")
    signs = child(group, "g")
    islands = child(group, "g")
    lines = {"wall": WALL, "open": OPEN, "joined": JOINED}
    layers = {kind: child(group, "g", **style) for kind, style in lines.items()}
    for room in rooms:
        figure = draw_floor(floors, room, view, _said(room, plan.units))
        if plan.bands.widest:
            draw_bands(bands, plan.definitions, room, view, plan.bands, figure, plan.prefix)
        draw_islands(islands, room, view)
        draw_walls(layers["wall"], room, view)
        draw_stretches(layers, room, view)
    if any(room.doors for room in rooms):
        _keep_doorways_clear(rooms, view, plan.paper)
    draw_exits(group, rooms, view, plan.paper)
    draw_doors(child(group, "g"), rooms, view, plan.paper)
    lettering = child(group, "g", stroke_width=0.25)
    marks = Marks(signs, lettering, view, plan.paper)
    for room in rooms:
        marks.draw(room)
    for room in rooms:
        _letter_islands(lettering, room, view, plan.paper)
    floors_on_paper = [Floor(room, view) for room in rooms]
    numbered = [_letter(lettering, floor, plan) for floor in floors_on_paper]
    others = [floor.box for floor in floors_on_paper] if len(rooms) <= _FEW_ROOMS else []
    for floor, is_numbered in zip(floors_on_paper, numbered, strict=True):
        if not (
            is_numbered
            or (others and _draw_leader(lettering, floor, plan.paper, others))
            or draw_number(lettering, floor, plan.paper, _SMALLEST_RADIUS)
        ):
            plan.unnumbered.append(floor.room.area.id)


def _keep_doorways_clear(rooms: Sequence[Room], view: View, paper: Paper) -> None:
    """Their ids stand off the edges of both rooms."""
    for room in rooms:
        for stretch in room.stretches:
            paper.draw(view.place(stretch.start), view.place(stretch.end))
        for ring in room.rings:
            for line, closed in wall_lines(ring):
                placed = list(map(view.place, line))
                for start, end in pairwise([*placed, placed[0]] if closed else placed):
                    paper.draw(start, end)


def _said(room: Room, units: UnitSystem) -> str:
    found = room.takeoff
    return listed([found.name, f"floor {shown(found.floor, units)}"])


def _letter_islands(parent: Element, room: Room, view: View, paper: Paper) -> None:
    for ring, _, name in island_rings(room):
        if not name:
            continue
        left, top, right, bottom = bounding_box(tuple(map(view.place, ring)))
        text = Line(shortened(name, _ISLAND, right - left - 1.0), _ISLAND)
        middle = ((left + right) / 2, (top + bottom) / 2)
        box = box_at(middle, text.width, _ISLAND)
        if text.text and bottom - top > _ISLAND and paper.is_free(box):
            draw_line(parent, text, middle, "middle")
            paper.take(box)


def _letter(parent: Element, floor: Floor, plan: Plan) -> bool:
    """Whether the room could be numbered legibly at least."""
    paper, units = plan.paper, plan.units
    is_labelled = draw_label(parent, floor, paper, units)
    is_numbered = is_labelled or draw_number(parent, floor, paper, _LEGIBLE_RADIUS)
    if not has_size_in_label(floor):
        left = letter_sides(parent, floor, paper, plan.bands.widest, units)
        if left:
            plan.unlettered[floor.room.area.id] = left
    return is_numbered


def _draw_leader(parent: Element, floor: Floor, paper: Paper, others: Sequence[Box]) -> bool:
    """A number beside a room that is too small to hold it, with a line into the room.

    It stands where no other room is, or else in one.
    """
    inner = shapely.point_on_surface(floor.figure)
    x, y = inner.x, inner.y
    boxes = [
        (spot, box_at(spot, 2 * _LEADER_RADIUS, 2 * _LEADER_RADIUS))
        for length in _LEADER_LENGTHS
        for turn in range(_DIRECTIONS)
        for spot in [_onward((x, y), length, 2 * pi * turn / _DIRECTIONS)]
    ]
    free = [(spot, box) for spot, box in boxes if paper.is_free(box)]
    free = [one for one in free if paper.can_draw((x, y), one[0])] or free
    outside = [(spot, box) for spot, box in free if not any(_meet(box, other) for other in others)]
    for spot, box in (outside or free)[:1]:
        line = path([(x, y), spot])
        child(parent, "path", class_="leader", d=line, fill="none", stroke="#000", stroke_width=0.2)
        child(parent, "circle", cx=x, cy=y, r=0.4, fill="#000")
        draw_order(parent, str(floor.room.takeoff.placing_order), spot, _LEADER_RADIUS)
        paper.take(box)
    return bool(free)


def _onward(point: Point, length: float, angle: float) -> Point:
    return point[0] + length * cos(angle), point[1] - length * sin(angle)


def _meet(box: Box, other: Box) -> bool:
    return box[0] < other[2] and other[0] < box[2] and box[1] < other[3] and other[1] < box[3]
