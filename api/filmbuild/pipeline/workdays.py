"""Working time: when a crew works, as stretches of absolute time.

Moments are seconds since 1970-01-01T00:00Z and durations are seconds of elapsed time. Shifts follow
the local clock, so a shift starts at the same local hour on both sides of a change of clocks.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta
from functools import cache, lru_cache
from itertools import pairwise
from typing import NamedTuple
from zoneinfo import ZoneInfo, available_timezones

import msgspec
from msgspec.structs import replace

DAY = 86_400.0
TOLERANCE = 1e-3  # s: far below a clock minute, far above the float spacing of a moment
HORIZON_DAYS = 3_653
LONGEST_SHIFT = 22 * 3_600.0  # leaves room for a change of clocks before the next shift
DAYS_IN_WEEK = 7
_FIRST_PADDING = (7, 92)
_WIDEST_TABLE_DAYS = 4 * HORIZON_DAYS
_UNIX_EPOCH = date(1970, 1, 1).toordinal()
_NO_PLACE = frozenset(("Factory", "localtime", "posixrules"))
"""Files among the zones that name none: what a machine has before, or instead of, its own zone."""


def to_millisecond(seconds: float) -> float:
    """Moments and durations as they are written; several times as fast as rounding by digits."""
    return round(seconds * 1_000) / 1_000


class NoWorkingTimeError(ValueError):
    """No working time within ten years of a moment, or none that the calendar can express."""

    def __init__(self, moment: float) -> None:
        super().__init__(f"no working time within {HORIZON_DAYS} days of moment {moment:.0f}")
        self.moment = moment


class WorkingRules(msgspec.Struct, frozen=True, kw_only=True):
    """When work is done. Weekdays count from Monday = 0.

    A shift whose end is not after its start ends on the following day and belongs to the day on
    which it starts. `breaks` are unpaid pauses (from, to) inside the shift, in order and apart. `timezone` is an IANA name.
    """

    timezone: str = "UTC"
    shift_start: time = time(8)
    shift_end: time = time(16)
    breaks: tuple[tuple[time, time], ...] = ()
    weekdays: frozenset[int] = frozenset(range(5))
    holidays: frozenset[date] = frozenset()
    blackouts: frozenset[date] = frozenset()


class _Table(NamedTuple):
    """Shifts of the days `first`..`last`; complete for moments from `low` until before `high`.

    A break divides a shift in two. `worked` holds the working time before each shift, with the
    total of all shifts at its end, and `days` the days to which they belong.
    """

    first: int
    last: int
    low: float
    high: float
    starts: list[float]
    ends: list[float]
    worked: list[float]
    days: list[int]

    def worked_until(self, moment: float) -> float:
        index = bisect_right(self.starts, moment) - 1
        if index < 0:
            return 0.0
        return self.worked[index] + min(moment, self.ends[index]) - self.starts[index]


_EMPTY = _Table(0, 0, 0.0, 0.0, [], [], [0.0], [])


def zone_named(name: str) -> ZoneInfo | None:
    """The time zone of an IANA name, or None if there is none."""
    return ZoneInfo(name) if name in _zone_names() else None


@cache
def _zone_names() -> frozenset[str]:
    return frozenset(available_timezones()) - _NO_PLACE


def shift_length(rules: WorkingRules) -> float:
    """Length of a shift by the clock [s]."""
    start, end = _clock(rules.shift_start), _clock(rules.shift_end)
    return end - start if end > start else end - start + DAY


class _Clock(NamedTuple):
    """A time on the day of the shift, or on the day after it."""

    at: time
    days: timedelta


def _stretches(rules: WorkingRules) -> list[tuple[_Clock, _Clock]]:
    """A shift without its breaks."""
    starts = [rules.shift_start, *(end for _, end in rules.breaks)]
    ends = [*(start for start, _ in rules.breaks), rules.shift_end]
    begin = rules.shift_start
    return [
        (
            _Clock(start, timedelta(start < begin)),
            _Clock(end, timedelta(end <= begin)),
        )
        for start, end in zip(starts, ends, strict=True)
    ]


def _clock(moment: time) -> float:
    return moment.hour * 3_600 + moment.minute * 60 + moment.second + moment.microsecond / 1e6


def rule_faults(rules: WorkingRules) -> list[tuple[str, str]]:
    """What keeps the rules from making a calendar, as (field name, what would be accepted)."""
    faults = []
    if zone_named(rules.timezone) is None:
        faults.append(("timezone", "name a time zone of the IANA database, such as Europe/Lisbon"))
    if not rules.weekdays or not rules.weekdays <= set(range(DAYS_IN_WEEK)):
        faults.append(("weekdays", "name at least one day, from 0 (Monday) to 6 (Sunday)"))
    if shift_length(rules) > LONGEST_SHIFT:
        faults.append(("shift_end", "a shift lasts at most 22 h"))
    begin = _clock(rules.shift_start)
    times = [(_clock(each) - begin) % DAY for pause in rules.breaks for each in pause]
    if any(later <= sooner for sooner, later in pairwise([0.0, *times, shift_length(rules)])):
        detail = "breaks lie inside the shift, in order and apart"
        faults.append(("breaks", detail))
    return faults


class WorkingCalendar:
    """Arithmetic in working time; the rules are free of `rule_faults`, moments are finite.

    Operations raise NoWorkingTimeError rather than look further than ten years.
    """

    def __init__(self, rules: WorkingRules) -> None:
        self.rules = rules
        self.shift_length = shift_length(rules)
        self._zone = ZoneInfo(rules.timezone)
        self._closed = rules.holidays | rules.blackouts
        self._table = _EMPTY
        self._stretches = _stretches(rules)
        self._whole = self if not rules.breaks else WorkingCalendar(replace(rules, breaks=()))

    def is_working_day(self, day: date) -> bool:
        return day.weekday() in self.rules.weekdays and day not in self._closed

    def local_time(self, moment: float) -> datetime:
        return datetime.fromtimestamp(moment, self._zone)

    def day_start(self, day: date) -> float:
        """The moment of local midnight at which a day starts."""
        return datetime.combine(day, time(), self._zone).timestamp()

    def next_working_moment(self, moment: float) -> float:
        """The moment itself inside a shift, else the start of the next one."""
        return max(moment, self.shift_from(moment)[0])

    def previous_working_moment(self, moment: float) -> float:
        """The moment itself inside a shift or at its end, else the end of the one before."""
        return min(moment, self.shift_until(moment)[1])

    def add_working_time(self, start: float, duration: float) -> float:
        """When work of a duration [s] ends that may be split over shifts; at once if it is none."""
        if duration <= TOLERANCE:
            return start
        table = self._table
        target = table.worked_until(start) + duration
        if not (table.low <= start < table.high and target <= table.worked[-1] + TOLERANCE):
            table, target = self._table_after(start, duration)
        index = bisect_left(table.worked, target - TOLERANCE) - 1
        end = min(table.starts[index] + target - table.worked[index], table.ends[index])
        return _within_horizon(start, end)

    def end_of_work_through_breaks(self, start: float, duration: float) -> float:
        """The earliest end of work [s] by people who need no breaks."""
        return self._whole.add_working_time(start, duration)

    def subtract_working_time(self, end: float, duration: float) -> float:
        """The latest start of work of a duration [s] that is done by `end`."""
        if duration <= TOLERANCE:
            return end
        table = self._table
        target = table.worked_until(end) - duration
        if not (table.low <= end < table.high and target >= -TOLERANCE):
            table, target = self._table_before(end, duration)
        index = bisect_right(table.worked, target + TOLERANCE) - 1
        start = table.starts[index] + max(target - table.worked[index], 0.0)
        return _within_horizon(end, start)

    def working_time_between(self, start: float, end: float) -> float:
        """Working time [s] from `start` to `end`; negative if `end` is the earlier."""
        _within_horizon(start, end)
        table = self._table_over(*((start, end) if start < end else (end, start)))
        return table.worked_until(end) - table.worked_until(start)

    def shift_holds(self, duration: float) -> bool:
        """Whether a shift of the length on the clock has room for unbroken work [s]."""
        return duration <= self.shift_length + TOLERANCE

    def fits_in_shift(self, start: float, duration: float) -> bool:
        """Whether unbroken work of a duration [s] can be done from `start`."""
        begin, end = self.shift_from(start)[0], self._whole.shift_from(start)[1]
        return begin <= start + TOLERANCE and start + duration <= end + TOLERANCE

    def days_worked(self, start: float, finish: float) -> list[tuple[date, float]]:
        """Working time [s] of each day from `start` to `finish`; days with none are left out."""
        table = self._table_over(start, finish)
        index = bisect_right(table.ends, start + TOLERANCE)
        if index < len(table.ends) and table.starts[index] <= start and finish <= table.ends[index]:
            return [(date.fromordinal(table.days[index]), finish - start)]
        found: list[tuple[date, float]] = []
        while index < len(table.starts) and table.starts[index] < finish - TOLERANCE:
            time = min(table.ends[index], finish) - max(table.starts[index], start)
            day = date.fromordinal(table.days[index])
            if found and found[-1][0] == day:
                time += found.pop()[1]
            found.append((day, time))
            index += 1
        return found

    def shift_day(self, moment: float) -> date:
        """The day to which the shift belongs that a moment is in, or before."""
        table = self._table_for_shift(moment)
        return date.fromordinal(table.days[bisect_right(table.ends, moment + TOLERANCE)])

    def next_start_fitting(self, moment: float, duration: float) -> float | None:
        """Earliest start from `moment` on of unbroken work [s]; None if it is longer than a shift.

        It begins in working time and then goes on through breaks.
        """
        if not self.shift_holds(duration):
            return None
        begin = max(moment, self.shift_from(moment)[0])
        end = self._whole.shift_from(begin)[1]
        while begin + duration > end + TOLERANCE:
            begin, end = self._whole.shift_from(end)
        return begin

    def latest_start_fitting(self, finish_by: float, duration: float) -> float | None:
        """Latest start of unbroken work [s] done by a moment; None if it is longer than a shift."""
        if not self.shift_holds(duration):
            return None
        begin, end = self._whole.shift_until(finish_by)
        while min(finish_by, end) - duration < begin - TOLERANCE:
            begin, end = self._whole.shift_until(begin)
        late = max(begin, min(finish_by, end) - duration)
        return late if self._whole is self or late <= begin else self.previous_working_moment(late)

    def _table_after(self, start: float, duration: float) -> tuple[_Table, float]:
        """A table with so much work [s] after a moment, and its working time at the end of it."""
        for reach in _reaches(start, duration):
            table = self._table_over(start, start + reach)
            target = table.worked_until(start) + duration
            if target <= table.worked[-1] + TOLERANCE:
                return table, target
        raise NoWorkingTimeError(start)

    def _table_before(self, end: float, duration: float) -> tuple[_Table, float]:
        """A table with so much work [s] before a moment, and its working time at the start of it."""
        for reach in _reaches(end, duration):
            table = self._table_over(end - reach, end)
            target = table.worked_until(end) - duration
            if target >= -TOLERANCE:
                return table, target
        raise NoWorkingTimeError(end)

    def shift_from(self, moment: float) -> tuple[float, float]:
        """Start and end of the shift, or the part of it between breaks, that a moment is before."""
        table = self._table_for_shift(moment)
        index = bisect_right(table.ends, moment + TOLERANCE)
        return _within_horizon(moment, table.starts[index]), table.ends[index]

    def _table_for_shift(self, moment: float) -> _Table:
        """A table with a shift that ends after the moment."""
        for reach in (0, 100, HORIZON_DAYS):
            table = self._table_over(moment, moment + reach * DAY)
            if table.ends and table.ends[-1] > moment + TOLERANCE:
                return table
        raise NoWorkingTimeError(moment)

    def shift_until(self, moment: float) -> tuple[float, float]:
        """Start and end of the one that a moment is after."""
        for reach in (0, 100, HORIZON_DAYS):
            table = self._table_over(moment - reach * DAY, moment)
            index = bisect_left(table.starts, moment - TOLERANCE) - 1
            if index >= 0:
                _within_horizon(moment, table.ends[index])
                return table.starts[index], table.ends[index]
        raise NoWorkingTimeError(moment)

    def _table_over(self, low: float, high: float) -> _Table:
        table = self._table
        if table.low <= low and high < table.high:
            return table
        first, last = _day_number(low) - 2, _day_number(high) + 2
        if min(first, table.first) + _WIDEST_TABLE_DAYS < max(last, table.last):
            table = _EMPTY
        before, after = _FIRST_PADDING
        if table.last:
            grown = table.last - table.first
            before = grown if first < table.first else 0
            after = grown if last > table.last else 0
            first, last = min(first, table.first), max(last, table.last)
        self._table = self._built(
            max(first - before, date.min.toordinal() + 2),
            min(last + after, date.max.toordinal() - 2),
        )
        return self._table

    def _built(self, first: int, last: int) -> _Table:
        rules, zone = self.rules, self._zone
        starts, ends, worked, days = [], [], [0.0], []
        for number in range(first, last + 1):
            day = date.fromordinal(number)
            if (number - 1) % DAYS_IN_WEEK not in rules.weekdays or day in self._closed:
                continue
            for begin, until in self._stretches:
                start = datetime.combine(day + begin.days, begin.at, zone).timestamp()
                end = datetime.combine(day + until.days, until.at, zone).timestamp()
                if start < end:
                    starts.append(start)
                    ends.append(end)
                    worked.append(worked[-1] + end - start)
                    days.append(number)
        low = self.day_start(date.fromordinal(first + 1))
        high = self.day_start(date.fromordinal(last + 1))
        return _Table(first, last, low, high, starts, ends, worked, days)


@lru_cache(maxsize=64)
def working_calendar(rules: WorkingRules) -> WorkingCalendar:
    """One calendar for equal rules, so that its table of shifts is built once."""
    return WorkingCalendar(rules)


def _reaches(moment: float, duration: float) -> Iterable[float]:
    """Ever longer stretches of calendar [s] in which to look for an amount of working time."""
    if duration > HORIZON_DAYS * DAY:
        raise NoWorkingTimeError(moment)
    reach = min(5 * duration + 4 * DAY, HORIZON_DAYS * DAY)
    while reach < HORIZON_DAYS * DAY:
        yield reach
        reach *= 2
    yield HORIZON_DAYS * DAY


def _within_horizon(moment: float, result: float) -> float:
    if abs(result - moment) > HORIZON_DAYS * DAY:
        raise NoWorkingTimeError(moment)
    return result


def _day_number(moment: float) -> int:
    number = int(moment // DAY) + _UNIX_EPOCH
    if not date.min.toordinal() + HORIZON_DAYS < number < date.max.toordinal() - HORIZON_DAYS:
        raise NoWorkingTimeError(moment)
    return number


def to_moment(instant: datetime) -> float:
    """Seconds since 1970-01-01T00:00Z of a datetime that has an offset."""
    return instant.timestamp()


def to_instant(moment: float) -> datetime:
    return datetime.fromtimestamp(moment, UTC)
