"""How long a shift is."""

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
    return length


def _minutes(clock: str) -> int:
    return 60 * int(clock[:2]) + int(clock[3:])
