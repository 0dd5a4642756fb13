"""Why an activity starts when it does, in words for the site."""

import math
from collections.abc import Mapping

from filmbuild.pipeline.results import Activity
from filmbuild.pipeline.timetable import Placement
from filmbuild.pipeline.workdays import WorkingCalendar

_MINUTE = 60.0
_ROUNDING = 1e-3


def bound_by(
    placement: Placement, activities: Mapping[str, Activity], calendar: WorkingCalendar
) -> str:
    binding = placement.binding
    if binding.predecessor is None:
        words = "starts the job"
    elif binding.lag:
        before = activities[binding.predecessor]
        what = f"{before.name} to dry" if dries(before) else f"recoat of {before.name}"
        words = f"waits for {what} until {clock(binding.ready, calendar)}"
    else:
        words = f"follows {activities[binding.predecessor].name}"
    if "calendar" in binding.moved:
        whole = activities[placement.id].one_shift
        shift = "a shift with enough time left" if whole else "the next shift"
        words += f", then for {shift}: {clock(placement.start, calendar)}"
    return words


def dries(activity: Activity) -> bool:
    """Whether what follows waits for drying rather than for a cure."""
    drying, cure = activity.dry_for, activity.cure
    return drying is not None and (cure is None or drying > cure.recoat_after)


def clock(moment: float, calendar: WorkingCalendar) -> str:
    """Local date and time to the minute, never too early."""
    minutes = math.ceil(moment / _MINUTE - _ROUNDING)
    return calendar.local_time(minutes * _MINUTE).isoformat(" ", "minutes")[:16]
