"""The scale bar, and what the lines and hatches of this drawing mean."""

from collections.abc import Sequence
from math import floor, log10
from xml.etree.ElementTree import Element

import msgspec

from filmbuild.pipeline.drawing.amounts import shown
from filmbuild.pipeline.drawing.doors import draw_door
from filmbuild.pipeline.drawing.labels import Line, draw_line, draw_order
from filmbuild.pipeline.drawing.layout import MARGIN, WIDTH
from filmbuild.pipeline.drawing.lettering import width_of
from filmbuild.pipeline.drawing.linework import STYLES, WALL, Bands
from filmbuild.pipeline.drawing.marks import draw_sample, signs_of
from filmbuild.pipeline.drawing.rooms import Room
from filmbuild.pipeline.drawing.svg import child, path
from filmbuild.pipeline.site import Site
from filmbuild.quantities import UnitSystem

_TEXT = 2.6
_ROW = 6.0
_SAMPLE = 11.0
_AFTER_SAMPLE = 2.0
_AFTER_ENTRY = 6.0
_LONGEST_BAR = 64.0
_BAR = 1.6
_PARTS = 4
_STEPS = (5, 2, 1)
_METRES = {"si": ("m", 1.0), "us": ("ft", 0.3048)}


class Entry(msgspec.Struct, frozen=True):
    sign: str
    text: str
    is_mark: bool = False


def draw_scale_bar(
    parent: Element, scale: float, denominator: float, system: UnitSystem, top: float
) -> float:
    """Returns where it ends."""
    unit, metres = _METRES[system]
    length = _round_length(_LONGEST_BAR / (metres * scale))
    part = length * metres * scale / _PARTS
    bar = child(parent, "g", stroke="#000", stroke_width=0.2)
    for index in range(_PARTS):
        child(
            bar,
            "rect",
            class_="scale",
            x=MARGIN + index * part,
            y=top,
            width=part,
            height=_BAR,
            fill="#fff" if index % 2 else "#000",
        )
    for share, text in ((0.0, "0"), (0.5, f"{length / 2:g}"), (1.0, f"{length:g} {unit}")):
        at = (MARGIN + share * _PARTS * part, top + _BAR + 2.4)
        draw_line(parent, Line(text, _TEXT), at, "start" if share == 0.0 else "middle")
    ratio = f"1 : {denominator:,.0f} at a sheet width of 210 mm".replace(",", "\u202f")
    at = (MARGIN + _PARTS * part + 12.0, top + _BAR / 2)
    draw_line(parent, Line(ratio, _TEXT), at, "start")
    return top + _BAR + 5.5


def _round_length(longest: float) -> float:
    """The largest 1, 2 or 5 times a power of ten that is not longer."""
    decade = 10.0 ** floor(log10(longest))
    return next((step * decade for step in _STEPS if step * decade <= longest), decade)


def entries_of(site: Site, rooms: Sequence[Room], bands: Bands, system: UnitSystem) -> list[Entry]:
    """Of what is drawn."""
    kinds = {stretch.kind for room in rooms for stretch in room.stretches}
    kinds |= {island.edge for room in rooms for island in room.area.islands}
    used = {
        "wall": any(room.takeoff.wall_length for room in rooms),
        "open": "open" in kinds,
        "joined": "joined" in kinds,
        "island": any(room.area.islands for room in rooms),
        "doorway": any(room.doors for room in rooms),
        "door": any(door.has_leaf for room in rooms for door in room.doors),
        "exit": any(room.exits for room in rooms),
        "hand-grind": bands.hand_grind > 0,
        "cut-in": bands.cut_in > 0,
        "order": True,
    }
    texts = {
        "wall": "wall",
        "open": "open edge: the coating stops",
        "joined": "joined: the coating runs on",
        "island": "island, not coated",
        "doorway": "doorway",
        "door": "doorway with a door",
        "exit": "exit",
        "hand-grind": f"ground by hand, {shown(site.hand_grind_width, system)} wide",
        "cut-in": f"cut in by brush and small roller, {shown(site.cut_in_width, system)} wide",
        "order": "place in the order of work",
    }
    entries = [Entry(sign, text) for sign, text in texts.items() if used[sign]]
    return entries + [Entry(one.name, one.text, is_mark=True) for one in signs_of(rooms)]


def draw_legend(parent: Element, entries: Sequence[Entry], top: float, prefix: str = "") -> float:
    """In rows as wide as the sheet; returns where it ends."""
    x, y = MARGIN, top + _ROW / 2
    for entry in entries:
        width = _SAMPLE + _AFTER_SAMPLE + width_of(entry.text, _TEXT)
        if x > MARGIN and x + width > MARGIN + WIDTH:
            x, y = MARGIN, y + _ROW
        sample = child(parent, "g", class_="legend", stroke_width=0.25)
        if entry.is_mark:
            draw_sample(sample, entry.sign, (x + _SAMPLE / 2, y), _SAMPLE)
        else:
            _draw_sample(sample, entry.sign, x, y, prefix)
        at = (x + _SAMPLE + _AFTER_SAMPLE, y)
        draw_line(parent, Line(entry.text, _TEXT), at, "start")
        x += width + _AFTER_ENTRY
    return y + _ROW


def _draw_doorway(parent: Element, x: float, y: float, *, has_leaf: bool) -> None:
    """A gap in a piece of wall."""
    side, gap = 3.5, _SAMPLE - 7.0
    y += 1.2 if has_leaf else 0.0
    for start in (x, x + side + gap):
        child(parent, "path", d=path([(start, y), (start + side, y)]), **WALL)
    draw_door(parent, (x + side, y), (x + side + gap, y), (0.0, 1.0), has_leaf=has_leaf)


def _draw_sample(parent: Element, sign: str, x: float, y: float, prefix: str) -> None:
    across = path([(x, y), (x + _SAMPLE, y)])
    if sign == "wall":
        child(parent, "path", d=across, **WALL)
    elif sign in STYLES:
        child(parent, "path", d=across, **STYLES[sign])
    elif sign == "order":
        draw_order(parent, "1", (x + _SAMPLE / 2, y), 1.9)
    elif sign in ("doorway", "door"):
        _draw_doorway(parent, x, y, has_leaf=sign == "door")
    elif sign == "exit":
        shaft = path([(x + 1.0, y), (x + _SAMPLE - 3.6, y)])
        child(parent, "path", d=shaft, fill="none", stroke="#000", stroke_width=0.9)
        tip = [(x + _SAMPLE - 1.0, y), (x + _SAMPLE - 3.6, y - 1.3), (x + _SAMPLE - 3.6, y + 1.3)]
        child(parent, "path", d=path(tip, closed=True), fill="#000")
    else:
        fill = "#ddd" if sign == "island" else f"url(#{prefix}{sign})"
        child(
            parent,
            "rect",
            x=x,
            y=y - 1.8,
            width=_SAMPLE,
            height=3.6,
            fill=fill,
            stroke="#000",
            stroke_width=0.2,
        )
