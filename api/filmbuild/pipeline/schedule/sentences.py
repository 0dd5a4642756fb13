"""Why an activity starts when it does, in words for the site."""

import math
from collections.abc import Mapping
from typing import NamedTuple

from filmbuild.pipeline.climate import Breach
from filmbuild.pipeline.results import Activity
from filmbuild.pipeline.schedule.weather import STATES, UNITS
from filmbuild.pipeline.timetable import Placement
from filmbuild.pipeline.workdays import WorkingCalendar

_MINUTE = 60.0
_ROUNDING = 1e-3


class Closed(NamedTuple):
    """A limit that is not met at a moment."""

    moment: float
    breach: Breach


class Reasons(NamedTuple):
    """`held_for` is the coat above that must come before a recoat window closes."""

    held_for: str | None
    closed: Closed | None


def bound_by(
    placement: Placement,
    activities: Mapping[str, Activity],
    calendar: WorkingCalendar,
    reasons: Reasons,
) -> str:
    binding = placement.binding
    if binding.cause == "release":
        above = "the next coat" if reasons.held_for is None else activities[reasons.held_for].name
        words = (
            f"held back until {clock(binding.ready, calendar)}, so that {above} can go on before "
            "the recoat window closes"
        )
    elif binding.predecessor is None:
        words = "starts the job"
    elif binding.lag:
        before = activities[binding.predecessor]
        what = f"{before.name} to dry" if dries(before) else f"recoat of {before.name}"
        words = f"waits for {what} until {clock(binding.ready, calendar)}"
    else:
        words = f"follows {activities[binding.predecessor].name}"
    if "gate" in binding.moved:
        words += f", then for the weather until {clock(placement.start, calendar)}"
        if reasons.closed is not None:
            moment, breach = reasons.closed
            words += f" ({state(breach)} at {clock(moment, calendar)})"
    elif "calendar" in binding.moved:
        whole = activities[placement.id].one_shift
        shift = "a shift with enough time left" if whole else "the next shift"
        words += f", then for {shift}: {clock(placement.start, calendar)}"
    return words


def state(breach: Breach) -> str:
    unit = UNITS.get(breach.condition, "degC")
    return (
        f"{STATES[breach.condition]}, {breach.actual:.1f} {unit} where the limit is "
        f"{breach.limit:.1f}"
    )


def dries(activity: Activity) -> bool:
    """Whether what follows waits for drying rather than for a cure."""
    drying, cure = activity.dry_for, activity.cure
    return drying is not None and (cure is None or drying > cure.recoat_after)


def clock(moment: float, calendar: WorkingCalendar) -> str:
    """Local date and time to the minute, never too early."""
    minutes = math.ceil(moment / _MINUTE - _ROUNDING)
    return calendar.local_time(minutes * _MINUTE).isoformat(" ", "minutes")[:16]
