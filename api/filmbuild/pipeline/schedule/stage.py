"""The schedule stage: when each activity is done, and when each coat is ready."""

from collections.abc import Sequence
from datetime import datetime

from filmbuild.errors import Faults, Infeasible
from filmbuild.pipeline.climate import Conditions, dew_point
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.results import CoatReady, CureTimes, Labour, Schedule, Scheduled
from filmbuild.pipeline.schedule.placing import (
    Placed,
    abrasion_id,
    is_coat,
    latest_starts,
    place,
)
from filmbuild.pipeline.schedule.sentences import bound_by
from filmbuild.pipeline.schedule.weather import check_weather, conditions_of
from filmbuild.pipeline.schedule.working_rules import check_calendar
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.timetable import Placement
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.pipeline.workdays import WorkingCalendar
from filmbuild.quantities import Duration, Temperature, TemperatureDifference

ABSOLUTE_ZERO = -273.15
"""[degC] Written as the dew point of air without any water, which has none."""
_CRITICAL = 2e-3  # s: the timetable's own tolerance


def plan_schedule(
    labour: Labour,
    job: Job,
    selection: Selection,
    catalogue: Catalogue,
    faults: Faults,
    notes: list[Note],
) -> Schedule:
    """Dates of the work; `faults` is rooted at the job. Raises InvalidInput and Infeasible.

    Activities come out in working order, with any abrasion that a missed recoat window calls for.
    """
    check_calendar(job, faults)
    conditions = conditions_of(selection, faults)
    if not any(is_coat(one) for one in labour.activities):
        faults.add("no-coats", "the labour document has no coat to schedule")
    layers = {layer.id for layer in selection.system.layers}
    for one in labour.activities:
        if is_coat(one) and one.layer not in layers:
            detail = f"system {selection.system.id} has no layer {one.layer} for {one.id}"
            faults.add("unknown-layer", detail, "system")
    faults.raise_if_any()
    check_weather(labour, conditions, selection, catalogue, faults, notes)
    faults.raise_if_any("The floor cannot be laid in these conditions.", Infeasible)
    if job.start is None:
        msg = "a job without faults has a start"
        raise AssertionError(msg)
    placed = place(labour.activities, job.calendar, job.start, faults)
    notes.extend(_missed_windows(placed))
    activities = _scheduled(placed)
    coats = _coats(placed, conditions)
    return Schedule(
        time_zone=job.calendar.time_zone,
        first_day=min(one.start for one in activities).date(),
        last_day=max(one.finish for one in activities).date(),
        activities=activities,
        coats=coats,
        critical_path=placed.timetable.driving_path,
        foot_traffic_from=max(one.foot_traffic for one in coats),
        vehicle_traffic_from=max(one.vehicle_traffic for one in coats),
        full_cure_at=max(one.full_cure for one in coats),
    )


def local(moment: float, calendar: WorkingCalendar) -> datetime:
    """To the millisecond, as durations are written; aware, in the site's time zone."""
    return calendar.local_time(round(moment, 3))


def _scheduled(placed: Placed) -> tuple[Scheduled, ...]:
    calendar = placed.calendar
    latest = latest_starts(placed)
    activities = {one.id: one for one in placed.activities}
    placements = placed.timetable.placements
    moments = {moment for one in placements for moment in (one.start, one.finish, latest[one.id])}
    clock = {moment: local(moment, calendar) for moment in moments}
    found = []
    for one in placements:
        late = latest[one.id]
        spare = one.float_time
        if late < one.latest_start:
            spare = calendar.working_time_between(one.start, late)
        found.append(
            Scheduled(
                activity=one.id,
                name=activities[one.id].name,
                start=clock[one.start],
                finish=clock[one.finish],
                latest_start=clock[late],
                float_time=Duration(spare),
                critical=spare <= _CRITICAL,
                bound_by=bound_by(one, activities, calendar),
                trace=_trace(one, placed),
            )
        )
    return tuple(found)


def _trace(placement: Placement, placed: Placed) -> Trace:
    binding = placement.binding
    missed = next(
        (one for one in placed.missed if abrasion_id(one.successor) == placement.id), None
    )
    if missed is not None:
        return Trace(
            "schedule.abrasion",
            {
                "coat_below": missed.predecessor,
                "recoat_maximum": Duration(missed.limit),
                "without_abrasion": Duration(missed.actual),
            },
        )
    inputs: dict[str, object] = {"cause": binding.cause}
    if binding.predecessor is not None:
        inputs["predecessor"] = binding.predecessor
    if binding.lag:
        inputs["recoat_minimum"] = Duration(binding.lag)
    if binding.moved:
        inputs["moved_by"] = binding.moved
    return Trace("schedule.placement", inputs)


def _coats(placed: Placed, conditions: Conditions) -> tuple[CoatReady, ...]:
    dew = max(dew_point(conditions.air, conditions.relative_humidity), ABSOLUTE_ZERO)
    finishes = {one.id: one.finish for one in placed.timetable.placements}
    return tuple(
        _ready(one.layer, finishes[one.id], one.cure, dew, conditions.surface, placed.calendar)
        for one in placed.activities
        if one.layer is not None and one.cure is not None
    )


def _ready(
    layer: str,
    finish: float,
    cure: CureTimes,
    dew: float,
    surface: float,
    calendar: WorkingCalendar,
) -> CoatReady:
    before = cure.recoat_before
    return CoatReady(
        layer=layer,
        recoat_from=local(finish + cure.recoat_after, calendar),
        recoat_until=None if before is None else local(finish + before, calendar),
        foot_traffic=local(finish + cure.foot_traffic, calendar),
        vehicle_traffic=local(finish + cure.vehicle_traffic, calendar),
        full_cure=local(finish + cure.full_cure, calendar),
        dew_point=Temperature(dew),
        surface_above_dew_point=TemperatureDifference(surface - dew),
        trace=Trace(
            "schedule.coat-ready",
            {"end_of_placing": local(finish, calendar), "cure": cure.how},
            cure.trace.catalogue_revision,
        ),
    )


def _missed_windows(placed: Placed) -> Sequence[Note]:
    activities = {one.id: one for one in placed.activities}
    return [
        Note(
            "recoat-window-missed-abraded",
            f"{activities[one.successor].name} would begin {one.actual / 3600:.1f} h after "
            f"{activities[one.predecessor].name}, which takes another coat for "
            f"{one.limit / 3600:.1f} h: the floor is abraded first, "
            f"{activities[abrasion_id(one.successor)].duration / 3600:.2f} h of the crew. These "
            "hours are in the schedule; the labour cost and the price do not contain them.",
        )
        for one in placed.missed
    ]
