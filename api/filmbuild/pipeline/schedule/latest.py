"""How late each activity may start."""

from collections.abc import Sequence

from filmbuild.pipeline.results import Activity
from filmbuild.pipeline.schedule.placing import Placed, is_coat
from filmbuild.pipeline.timetable import TOLERANCE
from filmbuild.pipeline.workdays import NoWorkingTimeError


def latest_starts(placed: Placed) -> dict[str, float]:
    """Latest starts that also keep every recoat window, given where the coats below lie.

    What stands between two coats must be done before the upper one's window closes.
    """
    latest = {one.id: one.latest_start for one in placed.timetable.placements}
    finishes = {one.id: one.finish for one in placed.timetable.placements}
    order = {one.id: place for place, one in enumerate(placed.activities)}
    for one in placed.activities:
        if not is_coat(one):
            continue
        for name in one.after:
            below = placed.activities[order[name]]
            until = _closes(below, one, finishes[name], placed)
            if until is not None and latest[one.id] > until:
                between = placed.activities[order[name] + 1 : order[one.id] + 1]
                _pull_back(latest, between, until, placed)
    return latest


def _closes(below: Activity, coat: Activity, finish: float, placed: Placed) -> float | None:
    """When the recoat window between two coats closes, if it does."""
    if not is_coat(below) or below.cure is None:
        return None
    if placed.weathered is not None:
        course = placed.weathered.course(below, coat, 0.0)
        if course is not None:
            return course.closes(finish)
    closes = below.cure.recoat_before
    return None if closes is None else finish + closes


def _open_at(activity: Activity, start: float, placed: Placed) -> bool:
    gate = None if placed.weathered is None else placed.weathered.gate(activity.id)
    if gate is None:
        return True
    finish = start + activity.duration
    if not activity.one_shift:
        finish = placed.calendar.add_working_time(start, activity.duration)
    allowed = gate(start, finish - start)
    return allowed is not None and allowed <= start + TOLERANCE


def _pull_back(
    latest: dict[str, float], activities: Sequence[Activity], until: float, placed: Placed
) -> None:
    starts = {one.id: one.start for one in placed.timetable.placements}
    working = placed.calendar
    for one in reversed(activities):
        earliest = starts[one.id]
        late: float | None
        try:
            if one is activities[-1]:
                late = working.latest_start_fitting(until + one.duration, one.duration)
            elif one.one_shift:
                late = working.latest_start_fitting(until, one.duration)
            else:
                late = working.subtract_working_time(until, one.duration)
        except NoWorkingTimeError:
            late = None
        if late is not None and not _open_at(one, late, placed):
            late = None
        until = earliest if late is None else max(min(latest[one.id], late), earliest)
        latest[one.id] = until
