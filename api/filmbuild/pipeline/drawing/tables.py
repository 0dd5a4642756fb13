"""What stands in tables under the plans: the areas, and all that has no place on a plan."""

from collections.abc import Callable, Sequence
from math import fsum
from typing import Any
from xml.etree.ElementTree import Element

import msgspec

from filmbuild.pipeline.drawing.amounts import listed, shown
from filmbuild.pipeline.drawing.labels import Line, draw_line, extent_of, size_of, slopes_of
from filmbuild.pipeline.drawing.layout import MARGIN, WIDTH
from filmbuild.pipeline.drawing.lettering import shortened
from filmbuild.pipeline.drawing.rooms import Room
from filmbuild.pipeline.drawing.svg import child, path
from filmbuild.pipeline.results import Takeoff
from filmbuild.pipeline.site_places import FloorLine
from filmbuild.pipeline.site_work import Footprint
from filmbuild.pipeline.takeoff.footprints import perimeter, plan_area
from filmbuild.quantities import Area, Length, Quantity, UnitSystem

_TEXT = 2.5
_ROW = 4.4
_AFTER_TITLE = 5.6
MOST_ROWS = 200
_LISTED_SIDES = 8
_MOST_CORNERS = 24
"""Outlines with more are curved, and their corners say nothing."""


class Column(msgspec.Struct, frozen=True):
    title: str
    share: float
    is_number: bool = False


class Table(msgspec.Struct, frozen=True):
    title: str
    columns: tuple[Column, ...]
    rows: Sequence[tuple[str, ...]]
    note: str = ""


_AREAS = (
    Column("No.", 0.07),
    Column("Area", 0.28),
    Column("Sides", 0.31),
    Column("Floor", 0.17, is_number=True),
    Column("Walls", 0.17, is_number=True),
)
_DETAILS = (
    Column("What", 0.55),
    Column("Count", 0.15, is_number=True),
    Column("In all", 0.30, is_number=True),
)


def area_table(
    rooms: Sequence[Room], unlettered: dict[str, list[int]], system: UnitSystem
) -> Table:
    """In the order of work. `unlettered` has the sides by area that are not on the plan."""
    ordered = sorted(rooms, key=lambda room: room.takeoff.placing_order)
    rows = [
        (
            str(room.takeoff.placing_order),
            room.takeoff.name,
            _sides(room, unlettered.get(room.area.id, []), system),
            shown(room.takeoff.floor, system),
            shown(room.takeoff.wall_length, system),
        )
        for room in ordered[:MOST_ROWS]
    ]
    left = len(ordered) - len(rows)
    note = f"and {left} more, which the takeoff's own table has" if left else ""
    return Table("Areas in the order of work", _AREAS, rows, note)


def _sides(room: Room, unlettered: Sequence[int], system: UnitSystem) -> str:
    slopes = slopes_of(room, system)
    lengths = room.rings[0].lengths
    if room.is_rectangle:
        return listed([size_of(room, system), *slopes])
    if len(lengths) > _MOST_CORNERS or len(unlettered) > _LISTED_SIDES:
        return listed([extent_of(room, system), *slopes])
    parts = [f"side {side}: {shown(Length(lengths[side]), system)}" for side in unlettered]
    return listed([*(parts or [size_of(room, system)]), *slopes])


def detail_table(rooms: Sequence[Room], takeoff: Takeoff, system: UnitSystem) -> Table:
    """Counts and sums of what the site gives without a place."""
    counted = [(title, sum([found(room) for room in rooms]), of) for title, found, of in _KINDS]
    barriers = sum([bool(one.barrier) for one in takeoff.doorways])
    rows = []
    for title, found, of in counted:
        count = found + barriers if title == _BARRIERS else found
        if count:
            amount = getattr(takeoff.totals, of) if isinstance(of, str) else of(rooms)
            rows.append((title, str(count), shown(amount, system) if amount else ""))
    return Table("Not drawn", _DETAILS, rows)


def _joints_of(treatment: str, kind: str) -> Callable[[Room], list[FloorLine]]:
    return lambda room: [
        one
        for one in room.area.joints
        if one.path is None and one.treatment == treatment and one.kind == kind
    ]


def _cracks_of(room: Room) -> list[FloorLine]:
    return [one for one in room.area.cracks if one.path is None]


def _lines(
    title: str, found: Callable[[Room], list[FloorLine]]
) -> tuple[str, Callable[[Room], int], Callable[[Sequence[Room]], Length]]:
    def length(rooms: Sequence[Room]) -> Length:
        return Length(fsum([one.length or 0.0 for room in rooms for one in found(room)]))

    return title, lambda room: len(found(room)), length


def _count(field: str) -> Callable[[Room], int]:
    return lambda room: len(getattr(room.area, field))


def _pieces(field: str) -> Callable[[Room], int]:
    """Of things that are given once for several of a kind."""
    return lambda room: sum([one.count for one in getattr(room.area, field)])


def _unplaced(field: str) -> Callable[[Room], int]:
    return lambda room: sum([one.count for one in getattr(room.area, field) if one.at is None])


def _rims(rooms: Sequence[Room]) -> Length:
    return Length(
        fsum(
            [
                one.count * perimeter(one)
                for room in rooms
                for one in room.area.drains
                if one.at is None
            ]
        )
    )


def _area_of(field: str) -> Callable[[Sequence[Room]], Area]:
    """Of a field of the areas' takeoffs."""
    return lambda rooms: Area(fsum([getattr(room.takeoff, field) for room in rooms]))


def _summed(
    field: str, each: Callable[[Any], float], kind: type[Area] | type[Length] = Area
) -> Callable[[Sequence[Room]], Quantity]:
    """Over those of the things of a field that have no place."""
    return lambda rooms: kind(
        fsum(
            [
                each(one)
                for room in rooms
                for one in getattr(room.area, field)
                if getattr(one, "at", None) is None
            ]
        )
    )


def _plan_area(one: Footprint) -> float:
    return one.count * plan_area(one)


def _fills(rooms: Sequence[Room]) -> Area:
    """What the patching mortar covers beside the spalls."""
    spalls = [one.area for room in rooms for one in room.area.spalls]
    return Area(fsum([room.takeoff.spall_area for room in rooms]) - fsum(spalls))


_BARRIERS = "Openings to close against dust"
_KINDS: tuple[
    tuple[str, Callable[[Room], int], str | Callable[[Sequence[Room]], Quantity]], ...
] = (
    ("Runs of cove base", _count("coves"), "cove_length"),
    ("Base walls", _count("base_walls"), _area_of("base_walls")),
    (
        "Flights of steps, their risers",
        lambda room: sum([one.at is None for one in room.area.steps]),
        _summed("steps", lambda one: one.risers * one.width * one.rise),
    ),
    ("Curbs", _count("curbs"), _area_of("curbs")),
    (
        "Slopes of part of a floor, in plan",
        lambda room: sum([one.plan_area is not None for one in room.area.slopes]),
        _summed("slopes", lambda one: one.plan_area or 0.0),
    ),
    ("Pits and trenches, in plan", _unplaced("pits"), _summed("pits", _plan_area)),
    ("Drains", _unplaced("drains"), _rims),
    (
        "Collars of pipes and posts",
        _unplaced("collars"),
        _summed("collars", lambda one: one.count * perimeter(one) * one.height),
    ),
    _lines("Cracks", _cracks_of),
    ("Spalls", _count("spalls"), _summed("spalls", lambda one: one.area)),
    ("Surface fills", _count("fills"), _fills),
    _lines("Joints to fill", _joints_of("fill", "control")),
    _lines("Joints to honour", _joints_of("honour", "control")),
    _lines("Joints to coat over", _joints_of("coat_over", "control")),
    _lines("Expansion joints to fill", _joints_of("fill", "expansion")),
    _lines("Expansion joints to honour", _joints_of("honour", "expansion")),
    _lines("Expansion joints to coat over", _joints_of("coat_over", "expansion")),
    (_BARRIERS, _count("openings"), "dust_barrier"),
    ("Things to cover", _pieces("covers"), "sheeting"),
)


def draw_table(parent: Element, table: Table, top: float) -> float:
    """Returns where it ends."""
    y = top + _AFTER_TITLE / 2
    draw_line(parent, Line(table.title, 3.0, bold=True), (MARGIN, y), "start")
    y += _AFTER_TITLE
    _draw_row(parent, table.columns, tuple(one.title for one in table.columns), y, bold=True)
    _draw_rule(parent, y + _ROW / 2)
    for row in table.rows:
        y += _ROW
        _draw_row(parent, table.columns, row, y)
    if table.note:
        y += _ROW
        draw_line(parent, Line(table.note, _TEXT), (MARGIN, y), "start")
    return y + _ROW


def _draw_row(
    parent: Element,
    columns: Sequence[Column],
    cells: Sequence[str],
    y: float,
    *,
    bold: bool = False,
) -> None:
    x = MARGIN
    for column, cell in zip(columns, cells, strict=True):
        width = column.share * WIDTH
        text = shortened(cell, _TEXT, width - 2.0, bold=bold)
        if text:
            at = (x + width if column.is_number else x, y)
            draw_line(parent, Line(text, _TEXT, bold), at, "end" if column.is_number else "start")
        x += width


def _draw_rule(parent: Element, y: float) -> None:
    line = path([(MARGIN, y), (MARGIN + WIDTH, y)])
    child(parent, "path", d=line, fill="none", stroke="#000", stroke_width=0.2)
