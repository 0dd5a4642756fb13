"""The schedule stage: when each activity is done, and when each coat is ready."""

from collections.abc import Iterator, Mapping
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from filmbuild.errors import Faults, Infeasible
from filmbuild.pipeline.climate import Conditions
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.labour import abrasion_before
from filmbuild.pipeline.labour.tasks import Planned, task_of
from filmbuild.pipeline.results import (
    Activity,
    Labour,
    Materials,
    Schedule,
    Takeoff,
)
from filmbuild.pipeline.schedule.costs import Plan, dated_costs
from filmbuild.pipeline.schedule.dates import coats_ready, plan_traces, scheduled
from filmbuild.pipeline.schedule.days import days_of, people_of, worked_days
from filmbuild.pipeline.schedule.forecast import Weather, check_forecast, varies
from filmbuild.pipeline.schedule.opening import areas_open, bound_of
from filmbuild.pipeline.schedule.placing import Asked, Placed, is_coat, place
from filmbuild.pipeline.schedule.weather import check_weather, conditions_of
from filmbuild.pipeline.schedule.weathered import Weathered, products_placed
from filmbuild.pipeline.schedule.working_rules import check_calendar
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, Layer, Product
from filmbuild.pipeline.timetable import TOLERANCE
from filmbuild.pipeline.trace import Note


def plan_schedule(
    takeoff: Takeoff,
    materials: Materials,
    labour: Labour,
    job: Job,
    selection: Selection,
    catalogue: Catalogue,
    faults: Faults,
    at_labour: Faults,
    notes: list[Note],
) -> Schedule:
    """Dates of the work, and what it costs on them. Raises InvalidInput and Infeasible.

    `faults` is rooted at the job, and `at_labour` at the labour where a caller handed it in.
    Activities come out in working order, with any abrasion that a missed recoat window calls for.
    """
    layers = {layer.id: layer for layer in selection.system.layers}
    at_activities = at_labour.at("activities")
    start = _checked_start(job, faults)
    conditions = conditions_of(selection, faults)
    _check_coats(labour, layers, at_activities)
    faults.raise_if_any()
    weathered = None
    if varies(job):
        weathered = _weathered(
            job, start, conditions, products_placed(labour, selection, catalogue)
        )
    check_weather(labour, conditions, selection, catalogue, faults, notes, weathered is None)
    faults.raise_if_any("The floor cannot be laid in these conditions.", Infeasible)

    def remedy(coat: Activity) -> tuple[Planned, ...]:
        layer = layers[coat.layer or ""]
        section = next((one for one in labour.sections if one.number == coat.section), None)
        return abrasion_before(
            coat.id, layer, takeoff, materials, selection, catalogue, faults, section
        )

    asked = Asked(job.calendar, start, remedy, job.missed_recoat == "hold_back", weathered)
    placed = place(labour.activities, asked, faults, at_activities)
    added = [one for missed in placed.missed for one in missed.added]
    plan = Plan(
        takeoff,
        materials,
        labour,
        tuple(task_of(one, catalogue.revision) for one in added),
        tuple(one.step.code for one in added),
    )
    days = days_of(placed)
    people = people_of((*labour.tasks, *plan.added))
    worked, crew_time = worked_days(days, people, selection.rate_book, catalogue.revision)
    costs = dated_costs(plan, days, worked, crew_time, selection, catalogue, faults)
    faults.raise_if_any()
    notes.extend(_notes(placed))
    activities = scheduled(placed)
    coats = coats_ready(placed, conditions)
    return Schedule(
        labour=costs.labour,
        equipment=costs.equipment,
        travel=costs.travel,
        consumables=costs.consumables,
        productive=costs.productive,
        paid=costs.paid,
        shifts=costs.shifts,
        visits=costs.visits,
        traces=costs.traces | plan_traces(placed, coats),
        tasks=plan.added,
        days=worked,
        time_zone=job.calendar.time_zone,
        areas=areas_open(placed, takeoff, labour),
        bound=bound_of(placed, labour),
        first_day=worked[0].date if worked else min(one.start for one in activities).date(),
        last_day=max(one.finish for one in activities).date(),
        activities=activities,
        coats=coats,
        critical_path=placed.timetable.driving_path,
        foot_traffic_from=max((one.foot_traffic for one in coats), key=datetime.timestamp),
        vehicle_traffic_from=max((one.vehicle_traffic for one in coats), key=datetime.timestamp),
        full_cure_at=max((one.full_cure for one in coats), key=datetime.timestamp),
    )


def _weathered(
    job: Job, start: date, conditions: Conditions, products: Mapping[str, Product]
) -> Weathered:
    zone = ZoneInfo(job.calendar.time_zone)
    begin = datetime.combine(start, time.fromisoformat(job.calendar.shift_start), zone)
    return Weathered(Weather(job, conditions, begin.timestamp(), zone), products)


def _checked_start(job: Job, faults: Faults) -> date:
    check_calendar(job, faults)
    check_forecast(job, faults)
    if job.start is None:
        faults.raise_if_any()
        msg = "a job without faults has a start"
        raise AssertionError(msg)
    return job.start


def _check_coats(labour: Labour, layers: Mapping[str, Layer], at_activities: Faults) -> None:
    coats = [(index, one) for index, one in enumerate(labour.activities) if is_coat(one)]
    if not coats:
        at_activities.add("no-coats", "there is no coat to schedule")
    for index, one in coats:
        if one.layer not in layers:
            detail = f"{one.id} is of a layer {one.layer}; the system has {', '.join(layers)}"
            at_activities.add("unknown-layer", detail, index, "layer")


def _notes(placed: Placed) -> Iterator[Note]:
    activities = {one.id: one for one in placed.activities}
    for missed in placed.missed:
        window = missed.window
        done = ", ".join(one.step.name for one in missed.added)
        time = sum(one.duration for one in missed.added)
        yield Note(
            "recoat-window-missed-abraded",
            f"{activities[window.successor].name} would begin {window.actual / 3600:.1f} h after "
            f"{activities[window.predecessor].name}, which takes another coat for "
            f"{window.limit / 3600:.1f} h: the floor is abraded and cleaned first ({done}), "
            f"{time / 3600:.2f} h of the crew. The schedule's costs, and the price, contain it.",
        )
    for window in placed.held:
        yield Note(
            "recoat-window-held-back",
            f"{activities[window.predecessor].name} is held back: placed as early as it could be, "
            f"{activities[window.successor].name} would begin {window.actual / 3600:.1f} h after it, "
            f"and it takes another coat for {window.limit / 3600:.1f} h.",
        )
    yield from _outside_tables(placed)
    yield from _worked_through(placed)


def _outside_tables(placed: Placed) -> Iterator[Note]:
    """Where a coat's surface, until it takes another, is colder or warmer than its table."""
    outside: dict[str, float] = {}
    for one in placed.timetable.placements:
        gate = None if placed.weathered is None else placed.weathered.gate(one.id)
        if gate is not None:
            rate = gate.cure.minimum.rate
            for step in gate.weather.between(one.start, gate.until(one.finish)):
                if not rate.covers(step.conditions.surface):
                    outside.setdefault(gate.product.id, step.conditions.surface)
    for name, surface in outside.items():
        yield Note(
            "cure-outside-table-in-forecast",
            f"At {surface:.1f} degC and other times of the forecast the surface lies outside the "
            f"temperatures for which {name} states its recoat time: there it follows the product's "
            "rule from the nearest stated time.",
        )


def _worked_through(placed: Placed) -> Iterator[Note]:
    activities = {one.id: one for one in placed.activities}
    calendar = placed.calendar
    for one in placed.timetable.placements:
        activity = activities[one.id]
        if activity.one_shift and calendar.rules.breaks:
            missed = activity.duration - calendar.working_time_between(one.start, one.finish)
            if missed > TOLERANCE:
                yield Note(
                    "worked-through-break",
                    f"{activity.name} goes on through {missed / 60:.0f} min of breaks, which are "
                    "paid: a coat is not left wet at its edge. The crew pauses in turn or later.",
                )
