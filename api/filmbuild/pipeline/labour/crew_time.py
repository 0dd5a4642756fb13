"""How long the crew is paid for: by days of work, or packed into full shifts where there are none."""

import math
from collections.abc import Iterable

import msgspec

from filmbuild.pipeline.specification import RateBook
from filmbuild.pipeline.trace import Trace
from filmbuild.pipeline.workdays import to_millisecond
from filmbuild.quantities import Duration

ROUNDING = 1e-9
"""How far above a whole number of shifts work may lie and still take that number."""


class CrewTime(msgspec.Struct, frozen=True):
    """Crew time [s] of all days: worked, paid, and how much of what is paid is overtime.

    `call_out` is what is paid beyond that where a visit falls short of the least paid for one.
    """

    worked: float
    paid: float
    overtime: float
    days: int
    visits: int
    call_out: float = 0.0


def paid_day(worked: float, book: RateBook) -> tuple[float, float]:
    """What is paid of a day on which so much is worked [s], and how much of that is overtime."""
    return max(worked, book.minimum_paid_day), max(worked - book.standard_day, 0.0)


def packed(total: float, shift: float, book: RateBook) -> CrewTime:
    """Whole shifts and a rest, in one visit."""
    days = math.ceil(total / shift - ROUNDING)
    whole = math.floor(total / shift + ROUNDING)
    rest = max(total - whole * shift, 0.0)
    full_paid, full_overtime = paid_day(shift, book)
    paid, overtime = paid_day(rest, book) if days > whole else (rest, 0.0)
    paid += whole * full_paid
    call_out = missing_call_out([paid], book)
    return CrewTime(total, paid, whole * full_overtime + overtime, days, 1, call_out)


def missing_call_out(visits: Iterable[float], book: RateBook) -> float:
    """What the paid time of each visit [s] falls short of the least that is paid for one."""
    least = book.travel.minimum_call_out
    return sum([max(least - paid, 0.0) for paid in visits])


def summed(
    days: Iterable[tuple[float, float, float]], visits: int, call_out: float = 0.0
) -> CrewTime:
    """Days as worked, paid and overtime [s]; each a whole number of milliseconds, and so the sums."""
    found = list(days)
    worked, paid, overtime = (
        to_millisecond(sum([day[place] for day in found])) for place in range(3)
    )
    return CrewTime(worked, paid, overtime, len(found), visits, to_millisecond(call_out))


def travel_per_worker(time: CrewTime, book: RateBook) -> float:
    """[s] For all days."""
    travel = book.travel
    return travel.hours_per_worker * (time.days if travel.per == "day" else time.visits)


def packing_trace(time: CrewTime, shift: float, book: RateBook, revision: int) -> Trace:
    return Trace(
        "labour.shifts",
        {
            "crew_time": Duration(time.worked),
            "shift": Duration(shift),
            "standard_day": book.standard_day,
            "minimum_paid_day": book.minimum_paid_day,
            "paid_time": Duration(time.paid),
            "overtime": Duration(time.overtime),
        },
        revision,
    )
