"""The plan in the site's own time: each activity, each coat, and when the site opens again."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import NamedTuple

from filmbuild.pipeline.climate import Conditions, dew_point, dew_point_margin
from filmbuild.pipeline.results import Activity, CoatReady, CureTimes, Scheduled
from filmbuild.pipeline.schedule.courses import CureClock
from filmbuild.pipeline.schedule.latest import latest_starts
from filmbuild.pipeline.schedule.placing import Placed
from filmbuild.pipeline.schedule.sentences import Reasons, bound_by, dries
from filmbuild.pipeline.schedule.weathered import PlacingGate, Weathered
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


class Times(NamedTuple):
    """Of one coat, from the end of its placing."""

    recoat_after: Duration
    recoat_before: Duration | None
    foot_traffic: Duration
    vehicle_traffic: Duration
    full_cure: Duration


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
                latest_finish=clock[latest_finish],
                float_time=Duration(spare),
                critical=spare <= _CRITICAL,
                bound_by=bound_by(one, activities, calendar, reasons(one, placed)),
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
    placements = {one.id: one for one in placed.timetable.placements}
    return tuple(
        _ready(one, one.cure, placements[one.id], placed, conditions)
        for one in placed.activities
        if one.layer is not None and one.cure is not None
    )


def _ready(
    coat: Activity,
    cure: CureTimes,
    placement: Placement,
    placed: Placed,
    steady: Conditions,
) -> CoatReady:
    calendar, finish = placed.calendar, placement.finish
    times = cure_times(coat, cure, finish, placed.weathered)
    gate = None if placed.weathered is None else placed.weathered.gate(coat.id)
    conditions = steady if gate is None else gate.tightest(placement.start, finish)
    dew = max(dew_point(conditions.air, conditions.relative_humidity), ABSOLUTE_ZERO)
    before = times.recoat_before
    inputs: dict[str, object] = {
        "end_of_placing": local(finish, calendar),
        "recoat_after": times.recoat_after,
        "recoat_before": before,
        "foot_traffic": times.foot_traffic,
        "vehicle_traffic": times.vehicle_traffic,
        "full_cure": times.full_cure,
        "air_temperature": Temperature(conditions.air),
        "surface_temperature": Temperature(conditions.surface),
        "relative_humidity_percent": conditions.relative_humidity,
    }
    return CoatReady(
        layer=coat.layer or "",
        section=coat.section,
        recoat_from=local(finish + times.recoat_after, calendar),
        recoat_until=None if before is None else local(finish + before, calendar),
        foot_traffic=local(finish + times.foot_traffic, calendar),
        vehicle_traffic=local(finish + times.vehicle_traffic, calendar),
        full_cure=local(finish + times.full_cure, calendar),
        dew_point=Temperature(dew),
        surface_above_dew_point=TemperatureDifference(conditions.surface - dew),
        trace=Trace("schedule.coat-ready", inputs, cure.trace.catalogue_revision),
    )


def cure_times(
    coat: Activity, cure: CureTimes, finish: float, weathered: Weathered | None
) -> Times:
    """As the labour found them, or through the weather from when the coat was placed."""
    gate = None if weathered is None else weathered.gate(coat.id)
    if gate is None:
        return Times(
            cure.recoat_after,
            cure.recoat_before,
            cure.foot_traffic,
            cure.vehicle_traffic,
            cure.full_cure,
        )
    found, maximum = gate.cure, gate.cure.maximum
    return Times(
        _lasts(found.minimum, finish),
        None if maximum is None else _lasts(maximum, finish),
        _lasts(found.foot, finish),
        _lasts(found.vehicle, finish),
        _lasts(found.full, finish),
    )


def _lasts(clock: CureClock, finish: float) -> Duration:
    return Duration(to_millisecond(clock.done(finish) - finish))


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
    for placement in placed.timetable.placements:
        gate = None if placed.weathered is None else placed.weathered.gate(placement.id)
        if gate is not None:
            found[f"window:{placement.id}"] = _window(placement, gate, placed.calendar)
            found[f"cure:{placement.id}"] = _course(placement, gate, placed.calendar)
    return found


def reasons(placement: Placement, placed: Placed) -> Reasons:
    """Of what no link tells: the weather, and the coat above that must come in time."""
    held = next((one for one in placed.held if one.predecessor == placement.id), None)
    gate = None if placed.weathered is None else placed.weathered.gate(placement.id)
    closed = None
    if gate is not None and "gate" in placement.binding.moved:
        closed = gate.closed_before(placement.binding.ready, placement.start)
    return Reasons(None if held is None else held.successor, closed)


def _window(placement: Placement, gate: PlacingGate, calendar: WorkingCalendar) -> Trace:
    start, until = placement.start, gate.until(placement.finish)
    found = [one.conditions for one in gate.weather.between(start, until)]
    limits = gate.limits
    inputs: dict[str, object] = {
        "product": gate.product.id,
        "from": local(start, calendar),
        "until": local(until, calendar),
        "air_least": Temperature(min(one.air for one in found)),
        "air_most": Temperature(max(one.air for one in found)),
        "surface_least": Temperature(min(one.surface for one in found)),
        "surface_most": Temperature(max(one.surface for one in found)),
        "humidity_most_percent": max(one.relative_humidity for one in found),
        "dew_point_margin_least": TemperatureDifference(min(map(dew_point_margin, found))),
        "dew_point_margin": TemperatureDifference(limits.dew_point_margin),
    }
    stated = {
        "air_minimum": limits.air_minimum,
        "air_maximum": limits.air_maximum,
        "surface_minimum": limits.surface_minimum,
        "surface_maximum": limits.surface_maximum,
    }
    inputs |= {name: Temperature(one) for name, one in stated.items() if one is not None}
    if limits.humidity_maximum is not None:
        inputs["humidity_maximum_percent"] = limits.humidity_maximum
    return Trace("schedule.window", inputs)


def _course(placement: Placement, gate: PlacingGate, calendar: WorkingCalendar) -> Trace:
    """The steps up to the recoat minimum; later stages follow the same rule."""
    finish = placement.finish
    until = gate.cure.minimum.done(finish)
    steps = gate.weather.between(finish, until)
    rates = [gate.cure.minimum.rate.at(one.conditions.surface) for one in steps]
    inputs: dict[str, object] = {
        "product": gate.product.id,
        "end_of_placing": local(finish, calendar),
        "recoat_from": local(until, calendar),
        "lasting": [Duration(min(one.end, until) - max(one.start, finish)) for one in steps],
        "surface_temperatures": [Temperature(one.conditions.surface) for one in steps],
        "recoat_at_temperature": [Duration(1 / one) if one else None for one in rates],
    }
    return Trace("schedule.cure-through-weather", inputs)
