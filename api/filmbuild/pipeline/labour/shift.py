"""How long a shift is."""

from itertools import pairwise

from filmbuild.errors import Faults
from filmbuild.pipeline.job import WorkCalendar
from filmbuild.pipeline.workdays import LONGEST_SHIFT


def shift_length(calendar: WorkCalendar, faults: Faults) -> float | None:
    """By the clock [s]; None with the reason among the faults, which are rooted at the job."""
    length = 60.0 * (_minutes(calendar.shift_end) - _minutes(calendar.shift_start))
    if length <= 0:
        faults.add(
            "shift-end-not-after-start",
            f"a shift ends later on the day on which it starts; {calendar.shift_end} is not after "
            f"{calendar.shift_start}",
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
    minutes = _minutes(calendar.shift_end) - _minutes(calendar.shift_start)
    return 60.0 * (
        minutes - sum(_minutes(one.end) - _minutes(one.start) for one in calendar.breaks)
    )


def _breaks_fit(calendar: WorkCalendar) -> bool:
    times = [calendar.shift_start]
    for one in calendar.breaks:
        times += [one.start, one.end]
    return all(sooner < later for sooner, later in pairwise([*times, calendar.shift_end]))


def _minutes(clock: str) -> int:
    return 60 * int(clock[:2]) + int(clock[3:])
