"""Where on the sheet each level is drawn, and at which scale. Lengths on paper are in mm."""

from collections import defaultdict
from collections.abc import Sequence
from itertools import chain
from statistics import median_low

import msgspec

from filmbuild.pipeline.boxes import Box
from filmbuild.pipeline.drawing.rooms import Room
from filmbuild.pipeline.geometry import Point
from filmbuild.quantities import UnitSystem

SHEET_WIDTH = 210.0
MARGIN = 12.0
WIDTH = SHEET_WIDTH - 2 * MARGIN
TITLE = 7.0
_GAP = 5.0
_BORDER = 3.0
_BORDER_WITH_EXIT = 11.0
_TALLEST = 190.0
_PAGE = 200.0
_READABLE = 24.0
_NARROWEST = 45.0
_MILLIMETRES = 1000.0
_SCALES: dict[UnitSystem, tuple[float, ...]] = {
    "si": (
        *(5, 10, 15, 20, 25, 30, 40, 50, 75),
        *(step * 10.0**n for n in range(1, 7) for step in (10, 12.5, 15, 20, 25, 30, 40, 50, 75)),
    ),
    "us": (
        *(4, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192),
        *(12.0 * step * 10**n for n in range(6) for step in (20, 30, 40, 50, 60, 80, 100, 150)),
    ),
}
"""Of feet and inches, the customary fractions of an inch to the foot, then tens of feet to one."""


class Cell(msgspec.Struct, frozen=True):
    """Rooms that lie as they are drawn to one another."""

    rooms: list[Room]
    box: Box


class Group(msgspec.Struct, frozen=True):
    """What stands under one title: a level's plan, or its rooms that are not on the plan."""

    title: str
    cells: list[Cell]
    border: float


class View(msgspec.Struct, frozen=True):
    """A cell on paper: `place` of a point in metres is in mm, y downward."""

    cell: Cell
    scale: float
    left: float
    top: float

    def place(self, point: Point) -> Point:
        x, y = point
        low_x, _, _, high_y = self.cell.box
        return self.left + (x - low_x) * self.scale, self.top + (high_y - y) * self.scale


class Panel(msgspec.Struct, frozen=True):
    """A group on paper."""

    title: str
    left: float
    top: float
    width: float
    height: float
    views: list[View]


class Layout(msgspec.Struct, frozen=True):
    """`scale` is in mm of paper to the metre, `denominator` the n of 1 to n."""

    denominator: float
    panels: list[Panel]
    bottom: float

    @property
    def scale(self) -> float:
        return _MILLIMETRES / self.denominator


def lay_out(rooms: Sequence[Room], system: UnitSystem, top: float) -> Layout:
    """The largest customary scale at which the plans fit, from `top` [mm] down the sheet."""
    groups = groups_of(rooms)
    denominator = _denominator(groups, system)
    panels, height = _arranged(groups, _MILLIMETRES / denominator, top)
    return Layout(denominator, panels, top + height)


def groups_of(rooms: Sequence[Room]) -> list[Group]:
    levels: dict[str, tuple[list[Room], list[Room]]] = defaultdict(lambda: ([], []))
    for room in rooms:
        levels[room.area.level][0 if room.is_placed else 1].append(room)
    groups = []
    for level, (placed, loose) in levels.items():
        if placed:
            groups.append(_group(f"Level: {level}", [Cell(placed, _around(placed))]))
        if loose:
            title = f"Level: {level}, not to position"
            loose.sort(key=lambda room: room.box[1] - room.box[3])
            groups.append(_group(title, [Cell([room], room.box) for room in loose]))
    return groups


def _group(title: str, cells: list[Cell]) -> Group:
    exits = any(room.exits for cell in cells for room in cell.rooms)
    return Group(title, cells, _BORDER_WITH_EXIT if exits else _BORDER)


def _around(rooms: Sequence[Room]) -> Box:
    lefts, bottoms, rights, tops = zip(*(room.box for room in rooms), strict=True)
    return min(lefts), min(bottoms), max(rights), max(tops)


def _denominator(groups: Sequence[Group], system: UnitSystem) -> float:
    boxes = [(cell.box, group.border) for group in groups for cell in group.cells]
    rooms = chain.from_iterable(cell.rooms for group in groups for cell in group.cells)
    usual = median_low([room.takeoff.floor**0.5 for room in rooms])
    least = max(
        max((right - left) / (WIDTH - 2 * border), (top - bottom) / (_TALLEST - 2 * border))
        for (left, bottom, right, top), border in boxes
    )
    for denominator in _SCALES[system]:
        if denominator < least * _MILLIMETRES:
            continue
        scale = _MILLIMETRES / denominator
        if usual * scale <= _READABLE or _arranged(groups, scale, 0.0)[1] <= _PAGE:
            return denominator
    return least * _MILLIMETRES


def _arranged(groups: Sequence[Group], scale: float, top: float) -> tuple[list[Panel], float]:
    inner = [_cells(group, scale) for group in groups]
    sizes = [(max(width, _NARROWEST), height + TITLE) for _, (width, height) in inner]
    places, height = _shelved(sizes, WIDTH)
    panels = []
    for group, (cells, _), (x, y), (width, tall) in zip(groups, inner, places, sizes, strict=True):
        left, upper = MARGIN + x, top + y
        views = [
            View(cell, scale, left + cell_x + group.border, upper + TITLE + cell_y + group.border)
            for cell, (cell_x, cell_y) in zip(group.cells, cells, strict=True)
        ]
        panels.append(Panel(group.title, left, upper, width, tall, views))
    return panels, height


def _cells(group: Group, scale: float) -> tuple[list[Point], Point]:
    sizes = [
        (
            (right - left) * scale + 2 * group.border,
            (top - bottom) * scale + 2 * group.border,
        )
        for left, bottom, right, top in (cell.box for cell in group.cells)
    ]
    places, height = _shelved(sizes, WIDTH)
    across = max(x + width for (x, _), (width, _) in zip(places, sizes, strict=True))
    return places, (across, height)


def _shelved(sizes: Sequence[Point], width: float) -> tuple[list[Point], float]:
    """Boxes in rows from left to right, in their order, and the height of all rows."""
    places: list[Point] = []
    x = y = tallest = 0.0
    for wide, tall in sizes:
        if x and x + wide > width + 1e-9:
            x, y, tallest = 0.0, y + tallest + _GAP, 0.0
        places.append((x, y))
        x += wide + _GAP
        tallest = max(tallest, tall)
    return places, y + tallest
