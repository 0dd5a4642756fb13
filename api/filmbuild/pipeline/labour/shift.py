"""How long a shift is."""

from itertools import pairwise

from filmbuild.errors import Faults
from filmbuild.pipeline.job import WorkCalendar
from filmbuild.pipeline.workdays import LONGEST_SHIFT

_DAY = 24 * 60


def shift_length(calendar: WorkCalendar, faults: Faults) -> float | None:
    """By the clock [s]; None with the reason among the faults, which are rooted at the job."""
    length = 60.0 * _after_start(calendar, calendar.shift_end)
    if length <= 0:
        faults.add(
            "shift-end-not-after-start",
            f"a shift ends at another time than it starts; {calendar.shift_end} is both",
            "calendar",
            "shift_end",
        )
        return None
    if length > LONGEST_SHIFT:
        faults.add(
            "shift-too-long",
            f"a shift lasts at most {LONGEST_SHIFT / 3600:g} h",
            "calendar",
            "shift_end",
        )
        return None
    if not _breaks_fit(calendar):
        faults.add(
            "breaks-not-inside-shift",
            "breaks begin after the shift does and end before it ends, in order and apart, each "
            "longer than nothing",
            "calendar",
            "breaks",
        )
        return None
    return length


def working_length(calendar: WorkCalendar) -> float:
    """[s] By the clock, without the breaks of a calendar that `shift_length` passed."""
    pauses = sum(
        _after_start(calendar, one.end) - _after_start(calendar, one.start)
        for one in calendar.breaks
    )
    return 60.0 * (_after_start(calendar, calendar.shift_end) - pauses)


def _breaks_fit(calendar: WorkCalendar) -> bool:
    times = [calendar.shift_start]
    for one in calendar.breaks:
        times += [one.start, one.end]
    minutes = [_after_start(calendar, one) for one in (*times, calendar.shift_end)]
    return all(sooner < later for sooner, later in pairwise(minutes))


def _after_start(calendar: WorkCalendar, clock: str) -> int:
    """Minutes from the start of the shift, past midnight where it works through the night."""
    return (_minutes(clock) - _minutes(calendar.shift_start)) % _DAY


def _minutes(clock: str) -> int:
    return 60 * int(clock[:2]) + int(clock[3:])
