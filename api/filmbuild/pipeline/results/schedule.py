"""What the schedule finds."""

from datetime import date

from filmbuild.pipeline.results.base import Moment, Result
from filmbuild.pipeline.results.labour import CrewCosts, Task
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Duration, Hours, Temperature, TemperatureDifference


class Scheduled(Result, frozen=True, kw_only=True):
    """One activity on the calendar, in the site's time zone."""

    activity: str
    name: str
    start: Moment
    finish: Moment
    latest_start: Moment
    float_time: Duration
    critical: bool
    bound_by: str
    trace: Trace
    latest_finish: Moment | None = None


class CoatReady(Result, frozen=True, kw_only=True):
    """When a coat may be recoated, walked on and driven on.

    The dew point is that of the moment, from the start of placing until the coat takes another, at
    which the surface is least above it.
    """

    layer: str
    recoat_from: Moment
    recoat_until: Moment | None
    foot_traffic: Moment
    vehicle_traffic: Moment
    full_cure: Moment
    dew_point: Temperature
    surface_above_dew_point: TemperatureDifference
    trace: Trace
    section: int | None = None


class AreaOpen(Result, frozen=True, kw_only=True):
    """When an area opens again: `placed` is the end of its last coat.

    `return_to_service` is when it takes vehicles and the crew has left.
    """

    area: str
    placed: Moment
    foot_traffic: Moment
    vehicle_traffic: Moment
    full_cure: Moment
    return_to_service: Moment
    trace: Trace


class PlanBound(Result, frozen=True, kw_only=True):
    """How good the plan is: no order of the same work ends before `finish_no_sooner_than`.

    `by_network` is the end by links, cures, shifts and weather with as many crews as it takes,
    and `by_crew` with one crew that never waits. `gap` is what the plan ends later, and is zero
    where it is the shortest there is.
    """

    by_network: Moment
    by_crew: Moment
    finish_no_sooner_than: Moment
    finish: Moment
    gap: Duration
    trace: Trace


class WorkedDay(Result, frozen=True, kw_only=True):
    """A day on which the crew works, with the activities that it works on.

    `worked` is crew time, of which `paid` and `overtime` follow for each of its people; travel is
    not among them. `labour` is the time that people spend on tasks, and `people` the most that are
    at work at once.
    """

    date: date
    visit: int
    activities: tuple[str, ...]
    worked: Duration
    paid: Duration
    overtime: Duration
    trace: Trace
    people: int = 0
    labour: Hours = Hours(0.0)


class Schedule(CrewCosts, frozen=True, kw_only=True):
    """Dates, and what people and machines cost on the days on which the work falls.

    `tasks` are those that the dates call for, beyond the tasks of the labour: the floor is abraded
    and cleaned where a recoat window is missed. Their hours, machines and consumables are among the
    costs.
    """

    tasks: tuple[Task, ...]
    days: tuple[WorkedDay, ...]
    time_zone: str
    first_day: date
    last_day: date
    activities: tuple[Scheduled, ...]
    coats: tuple[CoatReady, ...]
    critical_path: tuple[str, ...]
    foot_traffic_from: Moment
    vehicle_traffic_from: Moment
    full_cure_at: Moment
    areas: tuple[AreaOpen, ...] = ()
    bound: PlanBound | None = None
