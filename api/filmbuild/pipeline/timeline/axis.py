"""The days across a chart: where a moment is, and how the days above it are lettered."""

from collections.abc import Callable, Iterator, Sequence
from datetime import date, timedelta
from xml.etree.ElementTree import Element

import msgspec

from filmbuild.pipeline.drawing.labels import Line, draw_line
from filmbuild.pipeline.drawing.lettering import width_of
from filmbuild.pipeline.drawing.svg import child, path
from filmbuild.pipeline.timeline.rows import Stretch, Timeline, minute_after
from filmbuild.pipeline.workdays import DAY, NoWorkingTimeError, WorkingCalendar

LEFT, RIGHT = 119.0, 285.0
HEADING = 12.0
_TEXT = 2.4
_LINE = 3.8
_CLEAR = 0.8
_FARTHEST = 1.5
"""Openings are on the chart that come within so many times the length of the work."""
_HOURS_FROM = 3.0
"""[mm] Days at least so wide show their closed hours; narrower ones, only whole closed days."""
_LINES_APART = 1.5
_DAYS_OF_MONTH = 31
_MONDAY = 0
_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


class Axis(msgspec.Struct, frozen=True):
    """`days` are whole days, and `starts` their local midnights, with that after the last."""

    days: tuple[date, ...]
    starts: tuple[float, ...]

    @property
    def pitch(self) -> float:
        """[mm] The width of a day, but for those on which clocks change."""
        return (RIGHT - LEFT) / len(self.days)

    def place(self, moment: float) -> float:
        first, last = self.starts[0], self.starts[-1]
        share = (moment - first) / (last - first)
        return LEFT + min(max(share, 0.0), 1.0) * (RIGHT - LEFT)

    def holds(self, moment: float) -> bool:
        return moment <= self.starts[-1]


def axis_of(timeline: Timeline) -> Axis:
    """From the first day to the last that shows an end of work, a cure, or an early opening."""
    start, finish = timeline.start, timeline.finish
    reach = start + _FARTHEST * max(finish - start, DAY)
    shown = [finish, *(row.rest.until for row in timeline.rows if row.rest is not None)]
    shown += [one.moment for one in timeline.openings]
    end = max(moment for moment in shown if moment <= max(finish, reach))
    first, last = timeline.local(start).date(), timeline.local(end).date()
    days = tuple(first + timedelta(one) for one in range((last - first).days + 1))
    following = (*days, last + timedelta(1))
    return Axis(days, tuple(timeline.calendar.day_start(day) for day in following))


def closed(axis: Axis, calendar: WorkingCalendar) -> Iterator[Stretch]:
    """Out of working hours, as far as the chart shows it."""
    if axis.pitch < _HOURS_FROM:
        for day, start, end in zip(axis.days, axis.starts, axis.starts[1:], strict=False):
            if not calendar.is_working_day(day):
                yield start, end
        return
    moment, end = axis.starts[0], axis.starts[-1]
    while moment < end:
        try:
            opens, closes = calendar.shift_from(moment)
        except NoWorkingTimeError:
            opens, closes = end, end
        if opens > moment:
            yield moment, min(opens, end)
        moment = closes


def draw_days(parent: Element, axis: Axis, top: float, bottom: float) -> None:
    """The lettering above the chart, and lines where days, weeks, months or years begin."""
    _draw_spans(parent, axis, top + _LINE / 2)
    weekday, number = _letterings(axis)
    heavy, light = _lines(axis)
    for index, day in enumerate(axis.days):
        left, right = axis.place(axis.starts[index]), axis.place(axis.starts[index + 1])
        middle = (left + right) / 2
        if weekday is not None:
            name = _WEEKDAYS[day.weekday()][:weekday]
            draw_line(parent, Line(name, _TEXT), (middle, top + 1.5 * _LINE), "middle")
        if number(day):
            draw_line(parent, Line(str(day.day), _TEXT), (middle, top + 2.5 * _LINE), "middle")
        if heavy(day) or light(day):
            line = path([(left, top + 2.1 * _LINE), (left, bottom)])
            width = 0.3 if heavy(day) else 0.12
            child(parent, "path", d=line, fill="none", stroke="#777", stroke_width=width)


def _lines(axis: Axis) -> tuple[Callable[[date], bool], Callable[[date], bool]]:
    """Where heavy and light lines stand: the finest that are not too close to one another."""
    starts: tuple[tuple[int, Callable[[date], bool]], ...] = (
        (1, lambda _: True),
        (7, lambda day: day.weekday() == _MONDAY),
        (30, lambda day: day.day == 1),
        (365, lambda day: (day.month, day.day) == (1, 1)),
    )
    fitting = [begins for days, begins in starts if days * axis.pitch >= _LINES_APART]
    return (fitting[1] if len(fitting) > 1 else _never), (fitting[0] if fitting else _never)


def _never(_: date) -> bool:
    return False


class _Numbers(msgspec.Struct, frozen=True):
    """Which days have room for their number."""

    weekdays: Sequence[int]
    of_month: Sequence[int]

    def __call__(self, day: date) -> bool:
        return day.weekday() in self.weekdays and day.day in self.of_month


def _letterings(axis: Axis) -> tuple[int | None, _Numbers]:
    """How many letters of the weekdays there is room for, and which days are numbered."""
    pitch, every = axis.pitch - _CLEAR, range(1, 32)
    width = width_of("30", _TEXT)
    letters = next((n for n in (3, 1) if width_of("Wed"[:n], _TEXT) <= pitch), None)
    if width <= pitch:
        return letters, _Numbers(range(7), every)
    if width <= 7 * axis.pitch - _CLEAR:
        return letters, _Numbers((_MONDAY,), every)
    return letters, _Numbers((), every)


def _draw_spans(parent: Element, axis: Axis, y: float) -> None:
    """Months, or years where months are too narrow, each over its days."""
    by_month = width_of("May", _TEXT, bold=True) + _CLEAR <= _DAYS_OF_MONTH * axis.pitch
    begin = 0
    for index, day in enumerate(axis.days):
        following = axis.days[index + 1] if index + 1 < len(axis.days) else None
        if following and _span(following, by_month=by_month) == _span(day, by_month=by_month):
            continue
        left, right = axis.place(axis.starts[begin]), axis.place(axis.starts[index + 1])
        month = _MONTHS[day.month - 1]
        for text in (f"{month} {day.year}", month) if by_month else (str(day.year),):
            if width_of(text, _TEXT, bold=True) <= right - left - _CLEAR:
                draw_line(parent, Line(text, _TEXT, bold=True), (left + 0.4, y), "start")
                break
        begin = index + 1


def _span(day: date, *, by_month: bool) -> tuple[int, int]:
    return day.year, day.month if by_month else 0


def dated(timeline: Timeline, moment: float) -> str:
    """A date and time as they are lettered beside a bar: to the minute, never too early."""
    local = timeline.local(minute_after(moment))
    day = f"{_WEEKDAYS[local.weekday()]} {local.day} {_MONTHS[local.month - 1]}"
    return f"{day} {local:%H:%M}"
