"""The whole sheet: heading, plans, scale bar, legend and tables."""

from collections.abc import Sequence
from xml.etree.ElementTree import Element, tostring

import msgspec

from filmbuild.pipeline.drawing.amounts import listed, shown
from filmbuild.pipeline.drawing.labels import Line, draw_line
from filmbuild.pipeline.drawing.layout import MARGIN, SHEET_WIDTH, WIDTH, Layout, lay_out
from filmbuild.pipeline.drawing.legend import draw_legend, draw_scale_bar, entries_of
from filmbuild.pipeline.drawing.lettering import shortened, width_of
from filmbuild.pipeline.drawing.linework import bands_of, define_patterns
from filmbuild.pipeline.drawing.paper import Paper
from filmbuild.pipeline.drawing.plan import Plan, draw_panel
from filmbuild.pipeline.drawing.rooms import Room, rooms_of
from filmbuild.pipeline.drawing.svg import child, number, root
from filmbuild.pipeline.drawing.tables import area_table, detail_table, draw_table
from filmbuild.pipeline.results import Takeoff
from filmbuild.pipeline.site import Site
from filmbuild.quantities import UnitSystem

_FRAME = 6.0
_FIRST_LINE = 14.0
_TOTALS = 20.0
_LINE = 4.2
_AFTER_TOTALS = 3.0
_NAME = 5.0
_TEXT = 2.8
_UNNUMBERED = "Areas without room for their number on the plan are in the table alone."
_UNHATCHED = "Bands along walls that are too narrow or too many to draw at this scale are left out."


class _Words(msgspec.Struct, frozen=True):
    """What the sheet says of the whole site."""

    name: str
    totals: list[str]

    @property
    def lines(self) -> list[str]:
        """The totals in lines that fit the sheet."""
        lines: list[str] = []
        for part in self.totals:
            longer = listed([lines[-1], part]) if lines else part
            if lines and width_of(longer, _TEXT) <= WIDTH:
                lines[-1] = longer
            else:
                lines.append(part)
        return lines


def takeoff_drawing(site: Site, takeoff: Takeoff, units: UnitSystem, prefix: str = "") -> str:
    """An SVG 1.1 document as wide as A4 paper; the takeoff is that of this site.

    The same site is always the same text. `prefix` begins its ids, so that several drawings can
    stand in one page; it is a letter, with letters, digits and hyphens after it.
    """
    rooms = rooms_of(site, takeoff)
    words = _words(takeoff, units)
    layout = lay_out(rooms, units, _TOTALS + len(words.lines) * _LINE + _AFTER_TOTALS)
    title, description = f"{prefix}takeoff-title", f"{prefix}takeoff-description"
    svg = root(role="img", aria_labelledby=f"{title} {description}")
    child(svg, "title", f"Takeoff of {words.name}", id=title)
    child(svg, "desc", _described(rooms, words), id=description)
    definitions = child(svg, "defs")
    sheet = child(svg, "g", font_family="sans-serif", fill="#000", stroke="none")
    background = child(sheet, "rect", x=0.0, y=0.0, width=SHEET_WIDTH, fill="#fff")
    _draw_heading(sheet, words)
    bottom = _draw_body(sheet, definitions, site, takeoff, rooms, layout, units, prefix)
    height = bottom + _FRAME
    background.set("height", number(height))
    _draw_frame(sheet, height)
    svg.set("width", f"{number(SHEET_WIDTH)}mm")
    svg.set("height", f"{number(height)}mm")
    svg.set("viewBox", f"0 0 {number(SHEET_WIDTH)} {number(height)}")
    return tostring(svg, encoding="unicode")


def _words(takeoff: Takeoff, units: UnitSystem) -> _Words:
    totals = takeoff.totals
    parts = [f"Floor {shown(totals.floor, units)}"]
    for name, length in (
        ("wall", totals.wall_length),
        ("open edge", totals.open_length),
        ("joined", totals.joined_length),
    ):
        if length:
            parts.append(f"{name} {shown(length, units)}")
    parts.append(f"ground by hand {shown(totals.hand_grind, units)}")
    parts.append(f"cut in {shown(totals.cut_in, units)}")
    if totals.vertical:
        parts.append(f"verticals {shown(totals.vertical, units)}")
    return _Words(takeoff.site, parts)


def _described(rooms: Sequence[Room], words: _Words) -> str:
    count = f"{len(rooms)} areas" if len(rooms) > 1 else "one area"
    return f"Plan of {count}. {listed(words.totals)}."


def _draw_heading(sheet: Element, words: _Words) -> None:
    name = Line(shortened(words.name, _NAME, WIDTH, bold=True), _NAME, bold=True)
    draw_line(sheet, name, (MARGIN, _FIRST_LINE), "start")
    for index, text in enumerate(words.lines):
        draw_line(sheet, Line(text, _TEXT), (MARGIN, _TOTALS + index * _LINE), "start")


def _draw_body(
    sheet: Element,
    definitions: Element,
    site: Site,
    takeoff: Takeoff,
    rooms: Sequence[Room],
    layout: Layout,
    units: UnitSystem,
    prefix: str,
) -> float:
    bands = bands_of(site, layout.scale)
    if bands.widest:
        define_patterns(definitions, prefix)
    plan = Plan(definitions, Paper(), bands, units, prefix)
    for panel in layout.panels:
        draw_panel(sheet, panel, plan)
    y = layout.bottom + 6.0
    y = draw_scale_bar(sheet, layout.scale, layout.denominator, units, y)
    y = draw_legend(sheet, entries_of(site, rooms, bands, units), y + 1.0, prefix)
    for note, applies in (
        (_UNHATCHED, not (bands.hand_grind and bands.cut_in)),
        (_UNNUMBERED, bool(plan.unnumbered)),
    ):
        if applies:
            draw_line(sheet, Line(note, _TEXT), (MARGIN, y), "start")
            y += _LINE
    y = draw_table(sheet, area_table(rooms, plan.unlettered, units), y + 2.0)
    details = detail_table(rooms, takeoff, units)
    if details.rows:
        y = draw_table(sheet, details, y + 2.0)
    return y


def _draw_frame(sheet: Element, height: float) -> None:
    child(
        sheet,
        "rect",
        x=_FRAME,
        y=_FRAME,
        width=SHEET_WIDTH - 2 * _FRAME,
        height=height - 2 * _FRAME,
        fill="none",
        stroke="#000",
        stroke_width=0.3,
    )
