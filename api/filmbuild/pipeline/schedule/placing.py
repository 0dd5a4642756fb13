"""Activities on the calendar, with abrasion put in where a recoat window is missed."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime

import msgspec

from filmbuild.errors import Faults, Infeasible
from filmbuild.pipeline.job import WorkCalendar
from filmbuild.pipeline.labour.tasks import Planned
from filmbuild.pipeline.network import CycleError, LagViolation, Link, NetworkError
from filmbuild.pipeline.results import Activity
from filmbuild.pipeline.schedule.working_rules import YEARS_AHEAD, working_rules
from filmbuild.pipeline.timetable import Begun, BlockedError, Timetable, Work, calendar_schedule
from filmbuild.pipeline.workdays import (
    DAY,
    HORIZON_DAYS,
    NoWorkingTimeError,
    WorkingCalendar,
    to_millisecond,
    working_calendar,
)
from filmbuild.quantities import Duration

MOST_ACTIVITIES = 500
MOST_COATS = 12
"""As many as a system has layers; each may need another pass over the plan."""
Remedy = Callable[[Activity], tuple[Planned, ...]]
"""What is done before a coat whose window is missed; nothing where it cannot be done."""
_CREW = "crew"
_INFEASIBLE = "No schedule satisfies the job as it stands."


class Missed(msgspec.Struct, frozen=True):
    """A recoat window that the plan misses, and what is put in before the coat to answer it."""

    window: LagViolation
    added: tuple[Planned, ...]


class Placed(msgspec.Struct, frozen=True):
    """`activities` includes what was put in where windows were `missed`."""

    activities: tuple[Activity, ...]
    timetable: Timetable
    calendar: WorkingCalendar
    missed: tuple[Missed, ...]


def is_coat(activity: Activity) -> bool:
    return activity.layer is not None and activity.cure is not None


def place(
    activities: tuple[Activity, ...],
    calendar: WorkCalendar,
    start: date,
    remedy: Remedy,
    faults: Faults,
    at_activities: Faults,
) -> Placed:
    """Raises InvalidInput for activities that make no network, and Infeasible.

    `at_activities` is rooted at them, where a caller handed them in.
    """
    coats = sum(map(is_coat, activities))
    if coats > MOST_COATS:
        detail = f"a plan has at most {MOST_COATS} coats; this has {coats}"
        at_activities.add("too-many-coats", detail)
    if len(activities) > MOST_ACTIVITIES:
        detail = f"a plan has at most {MOST_ACTIVITIES} activities; this has {len(activities)}"
        at_activities.add("too-many-activities", detail)
    faults.raise_if_any()
    missed: list[Missed] = []
    begun: Mapping[str, Begun] = {}
    while True:
        timetable, working = _scheduled(activities, calendar, start, begun, faults, at_activities)
        if not timetable.violations:
            return Placed(activities, timetable, working, tuple(missed))
        begun = timetable.placed
        window = timetable.violations[0]
        place = next(n for n, one in enumerate(activities) if one.id == window.successor)
        coat = activities[place]
        added = remedy(coat)
        if not added:
            _refuse(coat, window, faults)
        missed.append(Missed(window, added))
        activities = (*activities[:place], *_after_abrasion(coat, added), *activities[place + 1 :])


def _refuse(coat: Activity, window: LagViolation, faults: Faults) -> None:
    faults.raise_if_any()
    faults.add(
        "recoat-window-missed",
        f"{coat.name} would begin {window.actual / 3600:.1f} h after the coat below it, which "
        f"takes another for {window.limit / 3600:.1f} h: start on another day, work on more "
        "days or longer, or give the rate book an abrade production that this crew can do",
        "calendar",
    )
    faults.raise_if_any(_INFEASIBLE, Infeasible)


def _after_abrasion(coat: Activity, added: Sequence[Planned]) -> list[Activity]:
    """What is put in follows all that the coat did; the coat follows it."""
    found = []
    after = coat.after
    for one in added:
        dry_for = one.effort.production.dry_for
        found.append(
            Activity(
                id=one.step.activity,
                name=one.step.activity_name,
                layer=coat.layer,
                duration=Duration(one.duration),
                one_shift=False,
                after=after,
                cure=None,
                dry_for=dry_for if dry_for > 0 else None,
            )
        )
        after = (one.step.activity,)
    return [*found, msgspec.structs.replace(coat, after=after)]


def _scheduled(
    activities: Sequence[Activity],
    calendar: WorkCalendar,
    start: date,
    begun: Mapping[str, Begun],
    faults: Faults,
    at_activities: Faults,
) -> tuple[Timetable, WorkingCalendar]:
    """On a calendar with the holidays of every year that the work reaches.

    Times are read to the millisecond, as they are written: the plan is the same from what a caller
    hands in.
    """
    works = [Work(one.id, to_millisecond(one.duration), one.one_shift, _CREW) for one in activities]
    links = _links(activities)
    last_year = start.year + YEARS_AHEAD
    while True:
        rules = working_rules(calendar, start.year, last_year)
        working = working_calendar(rules)
        moment = datetime.combine(start, rules.shift_start, working.local_time(0.0).tzinfo)
        begin = moment.timestamp()
        try:
            timetable = _timetable(works, links, working, begin, begun, faults)
        except NetworkError as error:
            _add_network_faults(error, activities, at_activities)
            faults.raise_if_any()
            raise
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
            links.append(Link(name, one.id) if before is None else _link(before, one))
    return links


def _link(before: Activity, after: Activity) -> Link:
    lag = 0.0
    maximum = None
    if after.waits_for_drying and before.dry_for is not None:
        lag = to_millisecond(before.dry_for)
    if after.waits_for_cure and before.cure is not None:
        lag = max(lag, to_millisecond(before.cure.recoat_after))
        if is_coat(before) and is_coat(after) and before.cure.recoat_before is not None:
            maximum = to_millisecond(before.cure.recoat_before)
    return Link(before.id, after.id, lag, maximum)


def _timetable(
    works: Sequence[Work],
    links: Sequence[Link],
    working: WorkingCalendar,
    begin: float,
    begun: Mapping[str, Begun],
    faults: Faults,
) -> Timetable:
    """Raises NetworkError where the activities make none."""
    try:
        return calendar_schedule(works, links, working, begin, only_sound=True, begun=begun)
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
    faults.raise_if_any(_INFEASIBLE, Infeasible)
    msg = "a network that is not scheduled has a fault"
    raise AssertionError(msg)


def _add_network_faults(
    error: NetworkError, activities: Sequence[Activity], at_activities: Faults
) -> None:
    """Each at the activity that it is about."""
    places: dict[str, int] = {}
    code = "activity-network"
    for index, one in enumerate(activities):
        if places.setdefault(one.id, index) != index:
            detail = f"activity {one.id} is named more than once; each has an id of its own"
            at_activities.add(code, detail, index, "id")
    for index, one in enumerate(activities):
        for name in one.after:
            if name not in places:
                detail = f"there is no activity {name}; name those that it follows"
                at_activities.add(code, detail, index, "after")
        cure = one.cure
        closes = None if cure is None else cure.recoat_before
        if cure is not None and closes is not None and closes < cure.recoat_after:
            detail = "the recoat window closes before it opens"
            at_activities.add(code, detail, index, "cure", "recoat_before")
    if isinstance(error, CycleError):
        at_activities.add(code, str(error), places[error.members[0]], "after")
    if not len(at_activities):
        at_activities.add(code, f"the activities do not hang together: {error}")


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
