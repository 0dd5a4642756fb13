"""What the bars of a chart mean, in rows below it."""

from collections.abc import Sequence
from xml.etree.ElementTree import Element

from filmbuild.pipeline.drawing.labels import Line, draw_line
from filmbuild.pipeline.drawing.lettering import width_of
from filmbuild.pipeline.drawing.svg import child
from filmbuild.pipeline.timeline.axis import RIGHT
from filmbuild.pipeline.timeline.bars import (
    SIGNS,
    TALL,
    draw_arrow,
    draw_box,
    draw_night,
    draw_waiting,
)
from filmbuild.pipeline.timeline.rows import Timeline

_TEXT = 2.4
_ROW = 5.4
_SAMPLE = 9.0
_AFTER_SAMPLE = 1.6
_AFTER_ENTRY = 6.0


def signs_of(timeline: Timeline, *, has_closed: bool) -> list[str]:
    """Those that the chart shows."""
    rows = timeline.rows
    used = {
        "critical": any(row.found.critical for row in rows),
        "work": any(not row.found.critical for row in rows),
        "night": any(len(row.work) > 1 for row in rows),
        "rest": any(row.rest is not None for row in rows),
        "waiting": any(row.waits_from is not None for row in rows),
        "path": sum(row.on_path for row in rows) > 1,
        "closed": has_closed,
        "barred": True,
    }
    return [sign for sign in SIGNS if used[sign]]


def draw_key(parent: Element, signs: Sequence[str], left: float, top: float, prefix: str) -> float:
    """Returns where it ends."""
    x, y = left, top + _ROW / 2
    for sign in signs:
        text = SIGNS[sign]
        width = _SAMPLE + _AFTER_SAMPLE + width_of(text, _TEXT)
        if x > left and x + width > RIGHT:
            x, y = left, y + _ROW
        _draw_sample(child(parent, "g", class_="key"), sign, x, y, prefix)
        draw_line(parent, Line(text, _TEXT), (x + _SAMPLE + _AFTER_SAMPLE, y), "start")
        x += width + _AFTER_ENTRY
    return y + _ROW / 2


def _draw_sample(parent: Element, sign: str, x: float, y: float, prefix: str) -> None:
    right = x + _SAMPLE
    if sign == "path":
        draw_arrow(parent, x + _SAMPLE / 2, y - 2.0, y + 2.0)
    elif sign == "waiting":
        draw_waiting(parent, x, right, y)
    elif sign == "night":
        draw_night(parent, x, right, y)
        for side in (x, right - 2.0):
            draw_box(parent, side, side + 2.0, y, "#fff", TALL)
    else:
        fills = {"critical": "#000", "work": "#fff"}
        draw_box(parent, x, right, y, fills.get(sign, f"url(#{prefix}{sign})"), TALL)
