"""Activities on the calendar, with abrasion put in where a recoat window is missed."""

from collections.abc import Sequence
from datetime import date, datetime

import msgspec

from filmbuild.errors import Faults, Infeasible
from filmbuild.pipeline.job import WorkCalendar
from filmbuild.pipeline.network import LagViolation, Link, NetworkError
from filmbuild.pipeline.results import Activity
from filmbuild.pipeline.schedule.working_rules import YEARS_AHEAD, working_rules
from filmbuild.pipeline.timetable import BlockedError, Timetable, Work, calendar_schedule
from filmbuild.pipeline.workdays import (
    DAY,
    HORIZON_DAYS,
    NoWorkingTimeError,
    WorkingCalendar,
    working_calendar,
)
from filmbuild.quantities import Duration

MOST_ACTIVITIES = 500
MOST_COATS = 12
"""As many as a system has layers; each may need another pass over the plan."""
_CREW = "crew"
_INFEASIBLE = "No schedule satisfies the job as it stands."


class Placed(msgspec.Struct, frozen=True):
    """`activities` includes the abrasions that were put in; `missed` are the windows they answer."""

    activities: tuple[Activity, ...]
    timetable: Timetable
    calendar: WorkingCalendar
    missed: tuple[LagViolation, ...]


def is_coat(activity: Activity) -> bool:
    return activity.layer is not None and activity.cure is not None


def abrasion_id(coat: str) -> str:
    """The activity that is put in before a coat whose window is missed."""
    return f"abrade:{coat}"


def place(
    activities: tuple[Activity, ...], calendar: WorkCalendar, start: date, faults: Faults
) -> Placed:
    """Raises InvalidInput for activities that make no network, and Infeasible."""
    coats = sum(map(is_coat, activities))
    if coats > MOST_COATS:
        faults.add("too-many-coats", f"a plan has at most {MOST_COATS} coats; this has {coats}")
    if len(activities) > MOST_ACTIVITIES:
        detail = f"a plan has at most {MOST_ACTIVITIES} activities; this has {len(activities)}"
        faults.add("too-many-activities", detail)
    faults.raise_if_any()
    missed: list[LagViolation] = []
    while True:
        timetable, working = _scheduled(activities, calendar, start, faults)
        if not timetable.violations:
            return Placed(activities, timetable, working, tuple(missed))
        order = {one.id: place for place, one in enumerate(activities)}
        first = min(timetable.violations, key=lambda one: order[one.successor])
        missed.append(first)
        activities = _with_abrasion(activities, first, faults)


def _with_abrasion(
    activities: tuple[Activity, ...], missed: LagViolation, faults: Faults
) -> tuple[Activity, ...]:
    """The coat then follows the abrasion, which follows all that the coat did."""
    place = next(n for n, one in enumerate(activities) if one.id == missed.successor)
    coat = activities[place]
    if coat.abrasion is None:
        faults.add(
            "recoat-window-missed",
            f"{coat.name} would begin {missed.actual / 3600:.1f} h after the coat below it, which "
            f"takes another for {missed.limit / 3600:.1f} h: start on another day, work on more "
            "days or longer, or give the rate book an abrade production that this crew can do",
            "calendar",
        )
        faults.raise_if_any(_INFEASIBLE, Infeasible)
    abrasion = Activity(
        id=abrasion_id(coat.id),
        name=f"Abrade, {coat.name}",
        layer=coat.layer,
        duration=coat.abrasion or Duration(0.0),
        one_shift=False,
        after=coat.after,
        cure=None,
    )
    coat = msgspec.structs.replace(coat, after=(abrasion.id,))
    return (*activities[:place], abrasion, coat, *activities[place + 1 :])


def _scheduled(
    activities: Sequence[Activity], calendar: WorkCalendar, start: date, faults: Faults
) -> tuple[Timetable, WorkingCalendar]:
    """On a calendar with the holidays of every year that the work reaches."""
    works = [Work(one.id, one.duration, one.one_shift, _CREW) for one in activities]
    links = _links(activities)
    last_year = start.year + YEARS_AHEAD
    while True:
        rules = working_rules(calendar, start.year, last_year)
        working = working_calendar(rules)
        moment = datetime.combine(start, rules.shift_start, working.local_time(0.0).tzinfo)
        begin = moment.timestamp()
        timetable = _timetable(works, links, working, begin, faults)
        if timetable.finish - begin > HORIZON_DAYS * DAY:
            faults.add("work-too-long", "the plan would take more than ten years", "calendar")
            faults.raise_if_any(_INFEASIBLE, Infeasible)
        reached = working.local_time(timetable.finish).year + 1
        if reached <= last_year or calendar.holidays is None:
            return timetable, working
        last_year = reached


def _links(activities: Sequence[Activity]) -> list[Link]:
    by_id = {one.id: one for one in activities}
    links = []
    for one in activities:
        for name in one.after:
            before = by_id.get(name)
            cure = None if before is None or not one.waits_for_cure else before.cure
            if before is None or cure is None:
                links.append(Link(name, one.id))
            else:
                coats = is_coat(before) and is_coat(one)
                maximum = cure.recoat_before if coats else None
                links.append(Link(name, one.id, cure.recoat_after, maximum))
    return links


def _timetable(
    works: Sequence[Work],
    links: Sequence[Link],
    working: WorkingCalendar,
    begin: float,
    faults: Faults,
) -> Timetable:
    try:
        return calendar_schedule(works, links, working, begin, only_sound=True)
    except BlockedError as error:
        for blocked in error.blocked:
            faults.add(
                "longer-than-shift",
                f"{blocked.id} is done without a break, and no shift is long enough for it: "
                "lengthen the shift, or compute the labour again for this calendar",
                "calendar",
                "shift_end",
            )
    except NoWorkingTimeError:
        detail = "there is no working time for the plan within ten years of one of its activities"
        faults.add("no-working-time", detail, "calendar")
    except NetworkError as error:
        for fault in error.faults:
            faults.add("activity-network", f"the labour document does not hang together: {fault}")
        faults.raise_if_any()
    faults.raise_if_any(_INFEASIBLE, Infeasible)
    msg = "a network that is not scheduled has a fault"
    raise AssertionError(msg)


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
            if is_coat(below) and below.cure is not None and below.cure.recoat_before is not None:
                until = finishes[name] + below.cure.recoat_before
                if latest[one.id] > until:
                    between = placed.activities[order[name] + 1 : order[one.id] + 1]
                    _pull_back(latest, between, until, placed)
    return latest


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
            else:
                late = working.subtract_working_time(until, one.duration)
        except NoWorkingTimeError:
            late = None
        until = earliest if late is None else max(min(latest[one.id], late), earliest)
        latest[one.id] = until
