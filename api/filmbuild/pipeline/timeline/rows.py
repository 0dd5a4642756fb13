"""What a schedule's calendar, chart and table all show: work, cure, waiting and opening again."""

from collections.abc import Iterator, Mapping
from datetime import UTC, datetime

import msgspec

from filmbuild.pipeline.results import Activity, CoatReady, Schedule, Scheduled, ScheduleDocument
from filmbuild.pipeline.schedule.working_rules import YEARS_AHEAD, working_rules
from filmbuild.pipeline.workdays import DAY, WorkingCalendar, working_calendar

Stretch = tuple[float, float]
"""From one moment to another, in seconds since 1970-01-01T00:00Z."""
_SECOND = 1.0


class Rest(msgspec.Struct, frozen=True):
    """Elapsed time after an activity in which nothing may be laid on it."""

    until: float
    is_drying: bool


class Row(msgspec.Struct, frozen=True):
    """One activity. `work` holds a stretch for each day; `waits_from` is when what it follows ended."""

    found: Scheduled
    work: tuple[Stretch, ...]
    waits_from: float | None
    rest: Rest | None
    on_path: bool

    @property
    def start(self) -> float:
        return self.found.start.timestamp()

    @property
    def finish(self) -> float:
        return self.found.finish.timestamp()


class Opening(msgspec.Struct, frozen=True):
    """The site is closed to this use until a moment."""

    id: str
    name: str
    moment: float


class Timeline(msgspec.Struct, frozen=True):
    site: str
    system: str
    rows: tuple[Row, ...]
    coats: tuple[CoatReady, ...]
    openings: tuple[Opening, ...]
    calendar: WorkingCalendar
    document: ScheduleDocument

    @property
    def start(self) -> float:
        return min(row.start for row in self.rows)

    @property
    def finish(self) -> float:
        return max(row.finish for row in self.rows)

    def local(self, moment: float) -> datetime:
        return self.calendar.local_time(moment)


def timeline_of(document: ScheduleDocument) -> Timeline:
    schedule = document.schedule
    calendar = _calendar(document)
    activities = {one.id: one for one in document.labour.activities}
    return Timeline(
        site=document.takeoff.site,
        system=document.basis.system,
        rows=tuple(_rows(document, activities, calendar)),
        coats=schedule.coats,
        openings=(
            Opening("foot", "foot traffic", schedule.foot_traffic_from.timestamp()),
            Opening("vehicles", "vehicle traffic", schedule.vehicle_traffic_from.timestamp()),
            Opening("cured", "full use: fully cured", schedule.full_cure_at.timestamp()),
        ),
        calendar=calendar,
        document=document,
    )


def second_near(moment: float) -> float:
    return float(round(moment))


def second_after(moment: float) -> float:
    """The next whole second: what opens at a moment is not said to open before it."""
    return -(-(moment - 1e-6) // _SECOND)


def minute_after(moment: float) -> float:
    return 60 * second_after(moment / 60)


def utc(moment: float) -> datetime:
    return datetime.fromtimestamp(moment, UTC)


def _calendar(document: ScheduleDocument) -> WorkingCalendar:
    schedule = document.schedule
    years = (schedule.first_day.year, schedule.last_day.year + YEARS_AHEAD)
    return working_calendar(working_rules(document.basis.calendar, *years))


def _rows(
    document: ScheduleDocument, activities: Mapping[str, Activity], calendar: WorkingCalendar
) -> Iterator[Row]:
    schedule = document.schedule
    on_path = frozenset(schedule.critical_path)
    finishes = {one.activity: one.finish.timestamp() for one in schedule.activities}
    for one in schedule.activities:
        activity = activities.get(one.activity)
        yield Row(
            found=one,
            work=_work(one, activity, calendar),
            waits_from=_waits_from(one, finishes),
            rest=None if activity is None else _rest(one, activity, schedule),
            on_path=one.activity in on_path,
        )


def _work(
    one: Scheduled, activity: Activity | None, calendar: WorkingCalendar
) -> tuple[Stretch, ...]:
    """A stretch for each day. A coat goes on through breaks; other work of a day is shown as one."""
    start, finish = one.start.timestamp(), one.finish.timestamp()
    if activity is not None and activity.one_shift:
        return ((start, finish),)
    found: list[Stretch] = []
    moment = start
    while moment < finish - _SECOND / 2:
        opens, closes = calendar.shift_from(moment)
        begin, end = max(moment, opens), min(closes, finish)
        if begin >= finish:
            break
        if found and _same_day(found[-1][0], begin, calendar):
            found[-1] = (found[-1][0], end)
        else:
            found.append((begin, end))
        moment = closes
    return tuple(found) or ((start, finish),)


def _same_day(one: float, other: float, calendar: WorkingCalendar) -> bool:
    near = other - one < DAY
    return near and calendar.local_time(one).date() == calendar.local_time(other).date()


def _waits_from(one: Scheduled, finishes: Mapping[str, float]) -> float | None:
    """None where it begins as soon as what holds it back has ended."""
    predecessor = one.trace.inputs.get("predecessor")
    ended = finishes.get(predecessor) if isinstance(predecessor, str) else None
    waits = ended is not None and ended < one.start.timestamp() - _SECOND
    return ended if waits else None


def _rest(one: Scheduled, activity: Activity, schedule: Schedule) -> Rest | None:
    """Cure until it may be recoated, or walked on where it is the last coat; or longer drying."""
    finish = one.finish.timestamp()
    cured = None
    if activity.cure is not None:
        cured = _through_weather(one, schedule) or finish + activity.cure.recoat_after
        coats = schedule.coats
        coat = next((each for each in coats if _is_of(each, activity, finish)), None)
        if coat is not None:
            cured = coat.recoat_from.timestamp()
            if coat.layer == coats[-1].layer:
                cured = max(cured, coat.foot_traffic.timestamp())
    dried = None if activity.dry_for is None else finish + activity.dry_for
    if dried is not None and (cured is None or dried > cured):
        return Rest(dried, is_drying=True)
    return None if cured is None else Rest(cured, is_drying=False)


def _through_weather(one: Scheduled, schedule: Schedule) -> float | None:
    """The moment to which it cures, where it does so in weather that is not the same throughout."""
    trace = schedule.traces.get(f"cure:{one.activity}")
    until = None if trace is None else trace.inputs.get("recoat_from")
    return until.timestamp() if isinstance(until, datetime) else None


def _is_of(coat: CoatReady, activity: Activity, finish: float) -> bool:
    """A layer has more than one coat where the floor is done in sections."""
    placed = coat.trace.inputs.get("end_of_placing")
    near = isinstance(placed, datetime) and abs(placed.timestamp() - finish) < _SECOND
    return near and coat.layer == activity.layer
