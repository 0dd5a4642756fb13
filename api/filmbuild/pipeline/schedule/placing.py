"""Activities on the calendar, and what is done where a recoat window would be missed."""

import math
from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime
from typing import NamedTuple

import msgspec

from filmbuild.errors import Faults, Infeasible
from filmbuild.pipeline.job import WorkCalendar
from filmbuild.pipeline.labour.tasks import Planned
from filmbuild.pipeline.network import CycleError, LagViolation, Link, NetworkError
from filmbuild.pipeline.results import Activity
from filmbuild.pipeline.schedule.blocked import add_gate_fault
from filmbuild.pipeline.schedule.weathered import Weathered
from filmbuild.pipeline.schedule.working_rules import YEARS_AHEAD, working_rules
from filmbuild.pipeline.timetable import (
    Begun,
    BlockedError,
    Timetable,
    Work,
    calendar_schedule,
    earliest_finish,
)
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
MOST_HOLDING = 100
"""How often coats are held back before it is given up."""
_LEAST_HOLD = 60.0
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


class Asked(NamedTuple):
    """What a plan is made for. `weathered` is there where the weather changes."""

    calendar: WorkCalendar
    start: date
    remedy: Remedy
    hold_back: bool = False
    weathered: Weathered | None = None


class Placed(msgspec.Struct, frozen=True):
    """`activities` includes what was put in where windows were `missed`.

    `held` are the windows for which the coat below was held back, and `least` the earliest finish
    that the links, the shifts and the weather leave to any order of work.
    """

    activities: tuple[Activity, ...]
    timetable: Timetable
    calendar: WorkingCalendar
    missed: tuple[Missed, ...]
    held: tuple[LagViolation, ...]
    weathered: Weathered | None
    begin: float
    least: float


def is_coat(activity: Activity) -> bool:
    return activity.layer is not None and activity.cure is not None


def place(
    activities: tuple[Activity, ...],
    asked: Asked,
    faults: Faults,
    at_activities: Faults,
) -> Placed:
    """Raises InvalidInput for activities that make no network, and Infeasible.

    `at_activities` is rooted at them, where a caller handed them in.
    """
    coats = len({one.layer for one in activities if is_coat(one)})
    if coats > MOST_COATS:
        detail = f"a plan has at most {MOST_COATS} coats; this has {coats}"
        at_activities.add("too-many-coats", detail)
    if len(activities) > MOST_ACTIVITIES:
        detail = f"a plan has at most {MOST_ACTIVITIES} activities; this has {len(activities)}"
        at_activities.add("too-many-activities", detail)
    faults.raise_if_any()
    return _Placing(activities, asked, faults, at_activities).placed()


class _Placing:
    """A plan that is made again until every recoat window holds or is answered."""

    def __init__(
        self,
        activities: tuple[Activity, ...],
        asked: Asked,
        faults: Faults,
        at_activities: Faults,
    ) -> None:
        self.given = self.activities = activities
        self.asked = asked
        self.faults = faults
        self.at_activities = at_activities
        self.missed: list[Missed] = []
        self.held: dict[str, LagViolation] = {}
        self.releases: dict[str, float] = {}
        self.holding = 0

    def placed(self) -> Placed:
        begun: Mapping[str, Begun] = {}
        while True:
            timetable, working = self._scheduled(begun)
            if not timetable.violations:
                return self._finished(timetable, working)
            window = timetable.violations[0]
            if self.asked.hold_back:
                self._hold_back(window, timetable)
                begun = {}
            else:
                self._abrade(window)
                begun = timetable.placed

    def _finished(self, timetable: Timetable, working: WorkingCalendar) -> Placed:
        works = [
            msgspec.structs.replace(one, crew=None, release=None) for one in self._works(self.given)
        ]
        least = earliest_finish(works, self._links(self.given), working, timetable.start)
        return Placed(
            self.activities,
            timetable,
            working,
            tuple(self.missed),
            tuple(self.held.values()),
            self.asked.weathered,
            timetable.start,
            min(least, timetable.finish),
        )

    def _abrade(self, window: LagViolation) -> None:
        place = next(n for n, one in enumerate(self.activities) if one.id == window.successor)
        coat = self.activities[place]
        added = self.asked.remedy(coat)
        if not added:
            _refuse(coat, window, self.faults)
        self.missed.append(Missed(window, added))
        self.activities = (
            *self.activities[:place],
            *_after_abrasion(coat, added),
            *self.activities[place + 1 :],
        )

    def _hold_back(self, window: LagViolation, timetable: Timetable) -> None:
        """The coat below ends no sooner than lets the coat above come in time.

        As the plan stands; if that moves the coat above too, this is done again.
        """
        self.holding += 1
        below = next(one for one in self.activities if one.id == window.predecessor)
        if self.holding > MOST_HOLDING:
            self._refuse_holding(window)
        above = next(one for one in self.activities if one.id == window.successor)
        before = timetable.placed[below.id]
        begin = before.finish + window.actual
        course = None
        if self.asked.weathered is not None:
            course = self.asked.weathered.course(below, above, 0.0)
        finish = begin - window.limit if course is None else course.finish_from(begin)
        release = max(finish - (before.finish - before.start), before.start + _LEAST_HOLD)
        self.releases[below.id] = math.ceil(release)
        self.held[below.id] = window

    def _refuse_holding(self, window: LagViolation) -> None:
        above = next(one for one in self.activities if one.id == window.successor)
        _refuse(above, window, self.faults, hold_back=True)

    def _works(self, activities: Sequence[Activity]) -> list[Work]:
        weathered = self.asked.weathered
        return [
            Work(
                one.id,
                to_millisecond(one.duration),
                one.one_shift,
                _CREW,
                self.releases.get(one.id),
                None if weathered is None else weathered.gate(one.id),
            )
            for one in activities
        ]

    def _links(self, activities: Sequence[Activity]) -> list[Link]:
        return _links(activities, self.asked.weathered)

    def _scheduled(self, begun: Mapping[str, Begun]) -> tuple[Timetable, WorkingCalendar]:
        """On a calendar with the holidays of every year that the work reaches.

        Times are read to the millisecond, as they are written: the plan is the same from what a
        caller hands in.
        """
        works, links = self._works(self.activities), self._links(self.activities)
        start, faults = self.asked.start, self.faults
        last_year = start.year + YEARS_AHEAD
        while True:
            rules = working_rules(self.asked.calendar, start.year, last_year)
            working = working_calendar(rules)
            moment = datetime.combine(start, rules.shift_start, working.local_time(0.0).tzinfo)
            begin = moment.timestamp()
            try:
                timetable = self._timetable(works, links, working, begin, begun)
            except NetworkError as error:
                _add_network_faults(error, self.activities, self.at_activities)
                faults.raise_if_any()
                raise
            if timetable.finish - begin > HORIZON_DAYS * DAY:
                faults.add("work-too-long", "the plan would take more than ten years", "calendar")
                faults.raise_if_any(_INFEASIBLE, Infeasible)
            reached = working.local_time(timetable.finish).year + 1
            if reached <= last_year or self.asked.calendar.holidays is None:
                return timetable, working
            last_year = reached

    def _timetable(
        self,
        works: Sequence[Work],
        links: Sequence[Link],
        working: WorkingCalendar,
        begin: float,
        begun: Mapping[str, Begun],
    ) -> Timetable:
        """Raises NetworkError where the activities make none."""
        faults = self.faults
        try:
            return calendar_schedule(works, links, working, begin, only_sound=True, begun=begun)
        except BlockedError as error:
            if self.held:
                self._refuse_holding(list(self.held.values())[-1])
            for blocked in error.blocked:
                if blocked.since is not None and self.asked.weathered is not None:
                    activity = next(one for one in self.activities if one.id == blocked.id)
                    gate = self.asked.weathered.gate(blocked.id)
                    add_gate_fault(activity, gate, blocked.since, working, faults)
                else:
                    _add_too_long(blocked.id, faults)
        except NoWorkingTimeError:
            detail = (
                "there is no working time for the plan within ten years of one of its activities"
            )
            faults.add("no-working-time", detail, "calendar")
        faults.raise_if_any(_INFEASIBLE, Infeasible)
        msg = "a network that is not scheduled has a fault"
        raise AssertionError(msg)


def _add_too_long(activity: str, faults: Faults) -> None:
    faults.add(
        "longer-than-shift",
        f"{activity} is done without a break, and no shift is long enough for it: lengthen the "
        "shift, or compute the labour again for this calendar",
        "calendar",
        "shift_end",
    )


def _refuse(coat: Activity, window: LagViolation, faults: Faults, hold_back: bool = False) -> None:
    faults.raise_if_any()
    ways = "give the rate book an abrade production that this crew can do"
    if hold_back:
        ways = "have the floor abraded instead: no day to which the coat below was held back fits"
    faults.add(
        "recoat-window-missed",
        f"{coat.name} would begin {window.actual / 3600:.1f} h after the coat below it, which "
        f"takes another for {window.limit / 3600:.1f} h: start on another day, work on more "
        f"days or longer, or {ways}",
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


def _links(activities: Sequence[Activity], weathered: Weathered | None) -> list[Link]:
    by_id = {one.id: one for one in activities}
    links = []
    for one in activities:
        for name in one.after:
            before = by_id.get(name)
            links.append(Link(name, one.id) if before is None else _link(before, one, weathered))
    return links


def _link(before: Activity, after: Activity, weathered: Weathered | None) -> Link:
    lag = drying = 0.0
    maximum = None
    if after.waits_for_drying and before.dry_for is not None:
        lag = drying = to_millisecond(before.dry_for)
    if after.waits_for_cure and before.cure is not None:
        lag = max(lag, to_millisecond(before.cure.recoat_after))
        if is_coat(before) and is_coat(after) and before.cure.recoat_before is not None:
            maximum = to_millisecond(before.cure.recoat_before)
    if weathered is not None:
        course = weathered.course(before, after, drying)
        if course is not None:
            return Link(before.id, after.id, course=course)
    return Link(before.id, after.id, lag, maximum)


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
