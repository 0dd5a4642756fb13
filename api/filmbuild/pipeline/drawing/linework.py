"""The lines of a plan: floors, bands, islands, edges of each kind, doorways and exits."""

from collections.abc import Iterable
from math import hypot
from typing import TypeAlias
from xml.etree.ElementTree import Element

import msgspec

from filmbuild.pipeline.boxes import bounding_box
from filmbuild.pipeline.drawing.labels import Line, draw_line
from filmbuild.pipeline.drawing.layout import View
from filmbuild.pipeline.drawing.lettering import width_of
from filmbuild.pipeline.drawing.paper import Paper, box_at
from filmbuild.pipeline.drawing.rooms import Room, Stretch, island_rings, wall_lines
from filmbuild.pipeline.drawing.svg import child, path
from filmbuild.pipeline.geometry import Point
from filmbuild.pipeline.site import Site

Style: TypeAlias = dict[str, str | float]

WALL: Style = {"fill": "none", "stroke": "#000", "stroke_width": 0.6, "stroke_linejoin": "miter"}
OPEN: Style = {"fill": "none", "stroke": "#000", "stroke_width": 0.4, "stroke_dasharray": "2.4 1.2"}
JOINED: Style = {
    "fill": "none",
    "stroke": "#000",
    "stroke_width": 0.45,
    "stroke_dasharray": "0.01 1.1",
    "stroke_linecap": "round",
}
STYLES: dict[str, Style] = {"open": OPEN, "joined": JOINED}
THINNEST_BAND = 0.7
"""[mm] On paper; narrower bands cannot be told from the wall."""
MOST_HATCHED = 2_000
_MITRE_LIMIT = 1.4143
"""Mitres reach to the square root of two band widths."""
_INSIDE = 2.5
_OUTSIDE = 6.0
_HEAD = (2.6, 1.3)
_BESIDE = 1.1
_EXIT = Line("EXIT", 2.4, bold=True)


class Bands(msgspec.Struct, frozen=True):
    """Widths on paper [mm], 0 for a band that is too narrow to be drawn."""

    hand_grind: float
    cut_in: float

    @property
    def widest(self) -> float:
        return max(self.hand_grind, self.cut_in)


def bands_of(site: Site, scale: float) -> Bands:
    """None on large sites, which would be mostly hatching."""
    if len(site.areas) > MOST_HATCHED:
        return Bands(0.0, 0.0)
    widths = (site.hand_grind_width * scale, site.cut_in_width * scale)
    hand_grind, cut_in = (one if one >= THINNEST_BAND else 0.0 for one in widths)
    return Bands(hand_grind, cut_in)


def define_patterns(definitions: Element, prefix: str) -> None:
    """The hatch of each band: crossed lines are ground by hand, single ones cut in."""
    lines = {"hand-grind": ("M0 0L0.9 0.9M0 0.9L0.9 0", 0.9), "cut-in": ("M0 1.2L1.2 0", 1.2)}
    for name, (strokes, pitch) in lines.items():
        pattern = child(
            definitions,
            "pattern",
            id=prefix + name,
            patternUnits="userSpaceOnUse",
            width=pitch,
            height=pitch,
            patternTransform="rotate(-8)",
        )
        child(pattern, "path", d=strokes, fill="none", stroke="#555", stroke_width=0.12)


def draw_floor(parent: Element, room: Room, view: View, title: str) -> str:
    """The floor's outline and islands as one figure; returns its path."""
    rings = [room.shape.outline, *room.shape.islands]
    figure = "".join(path(map(view.place, ring), closed=True) for ring in rings)
    element = child(parent, "path", class_="floor", d=figure)
    child(element, "title", title)
    return figure


def draw_bands(
    parent: Element,
    definitions: Element,
    room: Room,
    view: View,
    bands: Bands,
    figure: str,
    prefix: str = "",
) -> None:
    """Strokes of twice the width along the walls, cut to the floor."""
    lines = [
        path(map(view.place, line), closed=closed)
        for ring in room.rings
        for line, closed in wall_lines(ring)
    ]
    if not lines:
        return
    name = f"{prefix}floor-{len(definitions)}"
    clip = child(definitions, "clipPath", id=name)
    child(clip, "path", d=figure, clip_rule="evenodd")
    for pattern, width in (("cut-in", bands.cut_in), ("hand-grind", bands.hand_grind)):
        if width:
            child(
                parent,
                "path",
                class_=pattern,
                d="".join(lines),
                stroke=f"url(#{prefix}{pattern})",
                stroke_width=2 * width,
                stroke_miterlimit=_MITRE_LIMIT,
                clip_path=f"url(#{name})",
            )


def draw_islands(parent: Element, room: Room, view: View) -> None:
    for ring, _, name in island_rings(room):
        figure = path(map(view.place, ring), closed=True)
        element = child(parent, "path", class_="island", d=figure, fill="#ddd")
        if name:
            child(element, "title", name)


def draw_walls(parent: Element, room: Room, view: View) -> None:
    lines = [
        path(map(view.place, line), closed=closed)
        for ring in room.rings
        for line, closed in wall_lines(ring)
    ]
    if lines:
        child(parent, "path", class_="wall", d="".join(lines))


def draw_stretches(parents: dict[str, Element], room: Room, view: View) -> None:
    """What is open or joined. Each runs the same way from both sides, so that dashes coincide."""
    found: dict[str, list[str]] = {"open": [], "joined": []}
    for stretch in room.stretches:
        if stretch.kind in found:
            ends = sorted((view.place(stretch.start), view.place(stretch.end)))
            found[stretch.kind].append(path(ends))
    for ring, edge, _ in island_rings(room):
        if edge == "open":
            found["open"].append(path(map(view.place, ring), closed=True))
    for kind, lines in found.items():
        if lines:
            child(parents[kind], "path", class_=kind, d="".join(lines))


def draw_exits(parent: Element, rooms: Iterable[Room], view: View, paper: Paper) -> None:
    for room in rooms:
        for stretch in room.exits:
            _draw_exit(parent, stretch, view, paper)


def _draw_exit(parent: Element, stretch: Stretch, view: View, paper: Paper) -> None:
    """An arrow out of the floor through the middle of the stretch, and beside it the word."""
    (x1, y1), (x2, y2) = view.place(stretch.start), view.place(stretch.end)
    x, y = (x1 + x2) / 2, (y1 + y2) / 2
    size = hypot(*stretch.out)
    out_x, out_y = stretch.out[0] / size, -stretch.out[1] / size

    def at(onward: float, aside: float) -> Point:
        return x + out_x * onward - out_y * aside, y + out_y * onward + out_x * aside

    length, half = _HEAD
    shaft = [at(-_INSIDE, 0.0), at(_OUTSIDE - length, 0.0)]
    head = [at(_OUTSIDE, 0.0), at(_OUTSIDE - length, half), at(_OUTSIDE - length, -half)]
    child(
        parent, "path", class_="exit", d=path(shaft), fill="none", stroke="#000", stroke_width=0.9
    )
    child(parent, "path", class_="exit", d=path(head, closed=True), fill="#000")
    paper.take(bounding_box((shaft[0], *head)))
    wide, tall = width_of(_EXIT.text, _EXIT.size, bold=True) / 2, _EXIT.size / 2
    onward = wide * abs(out_x) + tall * abs(out_y) + _BESIDE
    aside = wide * abs(out_y) + tall * abs(out_x) + half + _BESIDE
    for spot in (at(onward, aside), at(onward, -aside)):
        box = box_at(spot, 2 * wide, 2 * tall)
        if paper.is_free(box):
            draw_line(parent, _EXIT, spot, "middle")
            paper.take(box)
            return
