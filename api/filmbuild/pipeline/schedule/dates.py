"""The plan in the site's own time: each activity, each coat, and when the site opens again."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from filmbuild.pipeline.climate import Conditions, dew_point
from filmbuild.pipeline.results import Activity, CoatReady, CureTimes, Scheduled
from filmbuild.pipeline.schedule.placing import Placed, latest_starts
from filmbuild.pipeline.schedule.sentences import bound_by, dries
from filmbuild.pipeline.timetable import Placement
from filmbuild.pipeline.trace import Trace
from filmbuild.pipeline.workdays import WorkingCalendar, to_millisecond
from filmbuild.quantities import Duration, Temperature, TemperatureDifference

ABSOLUTE_ZERO = -273.15
"""[degC] Written as the dew point of air without any water, which has none."""
_CRITICAL = 2e-3  # s: the timetable's own tolerance
_OPEN_AGAIN = {
    "foot_traffic_from": "foot_traffic",
    "vehicle_traffic_from": "vehicle_traffic",
    "full_cure_at": "full_cure",
}


def local(moment: float, calendar: WorkingCalendar) -> datetime:
    """To the millisecond, as durations are written; aware, in the site's time zone."""
    return calendar.local_time(to_millisecond(moment))


def scheduled(placed: Placed) -> tuple[Scheduled, ...]:
    calendar = placed.calendar
    latest = latest_starts(placed)
    activities = {one.id: one for one in placed.activities}
    placements = placed.timetable.placements
    moments = [_moments(one, latest[one.id], placed) for one in placements]
    clock = {each: local(each, calendar) for each in {each for some in moments for each in some}}
    finishes = {one.id: clock[one.finish] for one in placements}
    found = []
    for one, (start, finish, late, latest_finish, ready) in zip(placements, moments, strict=True):
        spare = one.float_time
        if late < one.latest_start:
            spare = calendar.working_time_between(start, late)
        found.append(
            Scheduled(
                activity=one.id,
                name=activities[one.id].name,
                start=clock[start],
                finish=clock[finish],
                latest_start=clock[late],
                float_time=Duration(spare),
                critical=spare <= _CRITICAL,
                bound_by=bound_by(one, activities, calendar),
                trace=_trace(one, activities, finishes, clock[ready], clock[latest_finish]),
            )
        )
    return tuple(found)


def _moments(placement: Placement, late: float, placed: Placed) -> tuple[float, ...]:
    """Start, finish, latest start, latest finish and when it was ready."""
    latest_finish = placement.latest_finish
    if late < placement.latest_start:
        one = next(one for one in placed.activities if one.id == placement.id)
        latest_finish = late + one.duration
        if not one.one_shift:
            latest_finish = placed.calendar.add_working_time(late, one.duration)
    return placement.start, placement.finish, late, latest_finish, placement.binding.ready


def _trace(
    placement: Placement,
    activities: Mapping[str, Activity],
    finishes: Mapping[str, datetime],
    ready: datetime,
    latest_finish: datetime,
) -> Trace:
    binding, predecessor = placement.binding, placement.binding.predecessor
    inputs: dict[str, object] = {"cause": binding.cause}
    if predecessor is not None:
        inputs["predecessor"] = predecessor
        inputs["predecessor_finish"] = finishes[predecessor]
        if binding.lag:
            drying = dries(activities[predecessor])
            inputs["drying" if drying else "recoat_minimum"] = Duration(binding.lag)
    inputs["ready"] = ready
    if binding.moved:
        inputs["moved_by"] = binding.moved
    inputs["latest_finish"] = latest_finish
    return Trace("schedule.placement", inputs)


def coats_ready(placed: Placed, conditions: Conditions) -> tuple[CoatReady, ...]:
    dew = max(dew_point(conditions.air, conditions.relative_humidity), ABSOLUTE_ZERO)
    finishes = {one.id: one.finish for one in placed.timetable.placements}
    return tuple(
        _ready(one.layer, finishes[one.id], one.cure, dew, conditions, placed.calendar)
        for one in placed.activities
        if one.layer is not None and one.cure is not None
    )


def _ready(
    layer: str,
    finish: float,
    cure: CureTimes,
    dew: float,
    conditions: Conditions,
    calendar: WorkingCalendar,
) -> CoatReady:
    before = cure.recoat_before
    inputs: dict[str, object] = {
        "end_of_placing": local(finish, calendar),
        "recoat_after": cure.recoat_after,
        "recoat_before": before,
        "foot_traffic": cure.foot_traffic,
        "vehicle_traffic": cure.vehicle_traffic,
        "full_cure": cure.full_cure,
        "air_temperature": Temperature(conditions.air),
        "surface_temperature": Temperature(conditions.surface),
        "relative_humidity_percent": conditions.relative_humidity,
    }
    return CoatReady(
        layer=layer,
        recoat_from=local(finish + cure.recoat_after, calendar),
        recoat_until=None if before is None else local(finish + before, calendar),
        foot_traffic=local(finish + cure.foot_traffic, calendar),
        vehicle_traffic=local(finish + cure.vehicle_traffic, calendar),
        full_cure=local(finish + cure.full_cure, calendar),
        dew_point=Temperature(dew),
        surface_above_dew_point=TemperatureDifference(conditions.surface - dew),
        trace=Trace("schedule.coat-ready", inputs, cure.trace.catalogue_revision),
    )


def plan_traces(placed: Placed, coats: Sequence[CoatReady]) -> dict[str, Trace]:
    """Of the days on which the site opens again, and of each abrasion that was put in."""
    found = {}
    for name, field in _OPEN_AGAIN.items():
        inputs: dict[str, object] = {"coats": {one.layer: getattr(one, field) for one in coats}}
        found[name] = Trace("schedule.open-again", inputs)
    for missed in placed.missed:
        window = missed.window
        inputs = {
            "coat": window.successor,
            "coat_below": window.predecessor,
            "recoat_maximum": Duration(window.limit),
            "without_abrasion": Duration(window.actual),
        }
        for one in missed.added:
            found[one.step.id] = Trace("schedule.abrasion", inputs)
    return found
