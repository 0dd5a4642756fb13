"""The bars of a chart and what they mean, told apart by line and hatch rather than by colour."""

from collections.abc import Mapping
from itertools import pairwise
from xml.etree.ElementTree import Element

from filmbuild.pipeline.drawing.svg import child, path
from filmbuild.pipeline.timeline.axis import RIGHT, Axis
from filmbuild.pipeline.timeline.rows import Opening, Row, Timeline

TALL = 3.0
_THIN = 2.0
NARROWEST = 0.6
_TIP = (1.5, 0.9)
_LINE = "#000"
SIGNS: Mapping[str, str] = {
    "critical": "work without float (name in bold)",
    "work": "work that may begin later",
    "night": "interrupted until the next shift",
    "rest": "cures or dries: keep off",
    "waiting": "waits",
    "path": "critical path: what sets the end of the work",
    "closed": "out of working hours",
    "barred": "closed to this use",
}


def define_patterns(definitions: Element, prefix: str) -> None:
    """Dots are closed hours, slanted lines cure, crossed lines a floor that is closed to a use."""
    patterns = {
        "closed": ("M0.7 0.7h0.01", 1.4, 0.35, "#888"),
        "rest": ("M-0.3 0.3L0.3 -0.3M0 1.2L1.2 0M0.9 1.5L1.5 0.9", 1.2, 0.22, "#222"),
        "barred": ("M0 0L1.6 1.6M0 1.6L1.6 0", 1.6, 0.16, "#333"),
    }
    for name, (strokes, pitch, width, ink) in patterns.items():
        pattern = child(
            definitions,
            "pattern",
            id=prefix + name,
            patternUnits="userSpaceOnUse",
            width=pitch,
            height=pitch,
        )
        child(
            pattern,
            "path",
            d=strokes,
            fill="none",
            stroke=ink,
            stroke_width=width,
            stroke_linecap="round",
        )


def draw_row(parent: Element, row: Row, axis: Axis, y: float, prefix: str) -> None:
    """The bars of one activity; `y` is the middle of its row."""
    group = child(parent, "g", class_="activity")
    child(group, "title", f"{row.found.name}: {row.found.bound_by}")
    if row.waits_from is not None:
        draw_waiting(group, axis.place(row.waits_from), axis.place(row.start), y)
    if row.rest is not None:
        left = axis.place(row.finish)
        draw_box(group, left, axis.place(row.rest.until), y, f"url(#{prefix}rest)", _THIN)
    ends = [(axis.place(start), axis.place(finish)) for start, finish in row.work]
    if len(ends) > 1:
        draw_night(group, ends[0][1], ends[-1][0], y)
    for left, right in ends:
        fill = _LINE if row.found.critical else "#fff"
        draw_box(group, left, max(right, left + NARROWEST), y, fill, TALL)


def draw_opening(
    parent: Element, one: Opening, timeline: Timeline, axis: Axis, y: float, prefix: str
) -> None:
    """A bar until the site opens, with an arrow where that is beyond the chart."""
    group = child(parent, "g", class_="opening")
    left, right = axis.place(timeline.start), axis.place(one.moment)
    beyond = not axis.holds(one.moment)
    length, half = _TIP
    draw_box(group, left, right - length if beyond else right, y, f"url(#{prefix}barred)", _THIN)
    if beyond:
        tip = [(RIGHT, y), (RIGHT - length, y - 1.6 * half), (RIGHT - length, y + 1.6 * half)]
        child(group, "path", d=path(tip, closed=True), fill=_LINE)
    else:
        mark = path([(right, y - TALL / 2), (right, y + TALL / 2)])
        child(group, "path", d=mark, fill="none", stroke=_LINE, stroke_width=0.6)


def draw_path(
    parent: Element, timeline: Timeline, axis: Axis, middles: Mapping[str, float]
) -> None:
    """An arrow down from each activity of the critical path to the row of the next one."""
    rows = {row.found.activity: row for row in timeline.rows}
    group = child(parent, "g", class_="critical-path")
    ids = [one for one in timeline.document.schedule.critical_path if one in rows]
    for one, other in pairwise(ids):
        x = min(axis.place(rows[one].finish), axis.place(rows[other].start))
        above, below = middles[one], middles[other]
        side = TALL / 2 if below > above else -TALL / 2
        waits = axis.place(rows[other].start) > x + NARROWEST
        draw_arrow(group, x, above + side, below if waits else below - side)


def draw_box(parent: Element, left: float, right: float, y: float, fill: str, tall: float) -> None:
    child(
        parent,
        "rect",
        x=left,
        y=y - tall / 2,
        width=max(right - left, 0.0),
        height=tall,
        fill=fill,
        stroke=_LINE,
        stroke_width=0.25,
    )


def draw_waiting(parent: Element, left: float, right: float, y: float) -> None:
    line = path([(left, y), (right, y)])
    child(
        parent,
        "path",
        d=line,
        fill="none",
        stroke=_LINE,
        stroke_width=0.5,
        stroke_dasharray="0.01 1.1",
        stroke_linecap="round",
    )


def draw_night(parent: Element, left: float, right: float, y: float) -> None:
    line = path([(left, y), (right, y)])
    child(parent, "path", d=line, fill="none", stroke=_LINE, stroke_width=0.3)


def draw_arrow(parent: Element, x: float, top: float, bottom: float) -> None:
    length, half = _TIP
    back = bottom - length if bottom > top else bottom + length
    child(
        parent,
        "path",
        d=path([(x, top), (x, back)]),
        fill="none",
        stroke=_LINE,
        stroke_width=0.3,
    )
    tip = [(x, bottom), (x - half / 2, back), (x + half / 2, back)]
    child(parent, "path", d=path(tip, closed=True), fill=_LINE)
