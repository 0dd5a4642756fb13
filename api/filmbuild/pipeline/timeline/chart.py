"""The schedule as a bar chart: SVG 1.1, as wide as A4 paper on its side."""

from xml.etree.ElementTree import Element, tostring

from filmbuild.pipeline.drawing.amounts import listed
from filmbuild.pipeline.drawing.labels import Line, draw_line
from filmbuild.pipeline.drawing.lettering import shortened
from filmbuild.pipeline.drawing.svg import child, number, path, root
from filmbuild.pipeline.results import ScheduleDocument
from filmbuild.pipeline.timeline.axis import (
    HEADING,
    LEFT,
    RIGHT,
    Axis,
    axis_of,
    closed,
    dated,
    draw_days,
)
from filmbuild.pipeline.timeline.bars import define_patterns, draw_opening, draw_path, draw_row
from filmbuild.pipeline.timeline.key import draw_key, signs_of
from filmbuild.pipeline.timeline.rows import Timeline, timeline_of

_WIDTH = 297.0
_FRAME = 6.0
_MARGIN = 12.0
_FIRST_LINE, _SECOND_LINE = 14.0, 20.0
_TOP = 24.0
_ROW = 4.8
_NAME, _TEXT, _DATE = 5.0, 2.8, 2.4
_REDUCTIONS = (1.0, 0.9, 0.8)
_START, _FINISH = 66.0, 92.5
_LONGEST_NAME = _START - _MARGIN - 2.0


def schedule_chart(document: ScheduleDocument, prefix: str = "") -> str:
    """A row for each activity, and one for each use that the site is closed to.

    The same document is always the same text. `prefix` begins its ids, so that several charts can
    stand in one page; it is a letter, with letters, digits and hyphens after it.
    """
    timeline = timeline_of(document)
    title, description = f"{prefix}schedule-title", f"{prefix}schedule-description"
    svg = root(role="img", aria_labelledby=f"{title} {description}")
    child(svg, "title", f"Schedule of {timeline.site}", id=title)
    child(svg, "desc", _described(timeline), id=description)
    define_patterns(child(svg, "defs"), prefix)
    sheet = child(svg, "g", font_family="sans-serif", fill="#000", stroke="none")
    background = child(sheet, "rect", x=0.0, y=0.0, width=_WIDTH, fill="#fff")
    _draw_heading(sheet, timeline)
    height = _draw_body(sheet, timeline, prefix) + 2.0 + _FRAME
    background.set("height", number(height))
    _draw_frame(sheet, height)
    svg.set("width", f"{number(_WIDTH)}mm")
    svg.set("height", f"{number(height)}mm")
    svg.set("viewBox", f"0 0 {number(_WIDTH)} {number(height)}")
    return tostring(svg, encoding="unicode")


def _described(timeline: Timeline) -> str:
    schedule = timeline.document.schedule
    parts = [f"Work from {schedule.first_day} to {schedule.last_day}"]
    parts += [f"open to {one.name} {dated(timeline, one.moment)}" for one in timeline.openings]
    return f"{listed(parts)}."


def _draw_heading(sheet: Element, timeline: Timeline) -> None:
    schedule = timeline.document.schedule
    width = RIGHT - _MARGIN
    name = shortened(timeline.site, _NAME, width, bold=True)
    draw_line(sheet, Line(name, _NAME, bold=True), (_MARGIN, _FIRST_LINE), "start")
    parts = [
        f"System {timeline.system}",
        f"work from {schedule.first_day} to {schedule.last_day}",
        f"times by the clock of {schedule.time_zone}",
    ]
    text = shortened(listed(parts), _TEXT, width)
    draw_line(sheet, Line(text, _TEXT), (_MARGIN, _SECOND_LINE), "start")


def _draw_body(sheet: Element, timeline: Timeline, prefix: str) -> float:
    axis = axis_of(timeline)
    top = _TOP + HEADING
    bottom = top + _ROW * (len(timeline.rows) + len(timeline.openings))
    has_closed = _draw_closed(sheet, timeline, axis, top, bottom, prefix)
    draw_days(sheet, axis, _TOP, bottom)
    for x, text in ((_MARGIN, "Activity"), (_START, "Start"), (_FINISH, "Finish")):
        draw_line(sheet, Line(text, _DATE, bold=True), (x, top - 2.0), "start")
    middles = {}
    for index, row in enumerate(timeline.rows):
        y = top + (index + 0.5) * _ROW
        middles[row.found.activity] = y
        words = Line(row.found.name, _DATE, bold=row.found.critical)
        _draw_words(sheet, words, (row.start, row.finish), timeline, y)
        draw_row(sheet, row, axis, y, prefix)
    draw_path(sheet, timeline, axis, middles)
    for index, one in enumerate(timeline.openings, len(timeline.rows)):
        y = top + (index + 0.5) * _ROW
        words = Line(f"Closed to {one.name}", _DATE)
        _draw_words(sheet, words, (timeline.start, one.moment), timeline, y)
        draw_opening(sheet, one, timeline, axis, y, prefix)
    _draw_rules(sheet, [top, bottom - _ROW * len(timeline.openings), bottom])
    return draw_key(sheet, signs_of(timeline, has_closed=has_closed), _MARGIN, bottom + 2.0, prefix)


def _draw_closed(
    sheet: Element, timeline: Timeline, axis: Axis, top: float, bottom: float, prefix: str
) -> bool:
    """Whether there is any."""
    boxes = []
    for start, end in closed(axis, timeline.calendar):
        left, right = axis.place(start), axis.place(end)
        corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
        boxes.append(path(corners, closed=True))
    if boxes:
        child(sheet, "path", class_="closed", d="".join(boxes), fill="#eee")
        child(sheet, "path", d="".join(boxes), fill=f"url(#{prefix}closed)")
    return bool(boxes)


def _draw_words(
    sheet: Element, name: Line, times: tuple[float, float], timeline: Timeline, y: float
) -> None:
    lines = (Line(name.text, name.size * factor, name.bold) for factor in _REDUCTIONS)
    line = next((one for one in lines if one.width <= _LONGEST_NAME), None)
    if line is None:
        size = name.size * _REDUCTIONS[-1]
        line = Line(shortened(name.text, size, _LONGEST_NAME, bold=name.bold), size, name.bold)
    draw_line(sheet, line, (_MARGIN, y), "start")
    for x, moment in zip((_START, _FINISH), times, strict=True):
        draw_line(sheet, Line(dated(timeline, moment), _DATE), (x, y), "start")


def _draw_rules(sheet: Element, heights: list[float]) -> None:
    for y in heights:
        line = path([(_MARGIN, y), (RIGHT, y)])
        child(sheet, "path", d=line, fill="none", stroke="#000", stroke_width=0.25)
    line = path([(LEFT, heights[0]), (LEFT, heights[-1])])
    child(sheet, "path", d=line, fill="none", stroke="#000", stroke_width=0.25)


def _draw_frame(sheet: Element, height: float) -> None:
    child(
        sheet,
        "rect",
        x=_FRAME,
        y=_FRAME,
        width=_WIDTH - 2 * _FRAME,
        height=height - 2 * _FRAME,
        fill="none",
        stroke="#000",
        stroke_width=0.3,
    )
