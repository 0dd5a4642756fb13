"""What the schedule finds."""

from datetime import date

from filmbuild.pipeline.results.base import Moment, Result
from filmbuild.pipeline.results.labour import CrewCosts, Task
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Duration, Temperature, TemperatureDifference


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


class CoatReady(Result, frozen=True, kw_only=True):
    """When a coat may be recoated, walked on and driven on."""

    layer: str
    recoat_from: Moment
    recoat_until: Moment | None
    foot_traffic: Moment
    vehicle_traffic: Moment
    full_cure: Moment
    dew_point: Temperature
    surface_above_dew_point: TemperatureDifference
    trace: Trace


class WorkedDay(Result, frozen=True, kw_only=True):
    """A day on which the crew works, with the activities that it works on.

    `worked` is crew time, of which `paid` and `overtime` follow for each of its people; travel is
    not among them.
    """

    date: date
    visit: int
    activities: tuple[str, ...]
    worked: Duration
    paid: Duration
    overtime: Duration
    trace: Trace


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
