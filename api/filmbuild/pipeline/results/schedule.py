"""What the schedule finds."""

from datetime import date

from filmbuild.pipeline.results.base import Moment, Result
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


class Schedule(Result, frozen=True, kw_only=True):
    time_zone: str
    first_day: date
    last_day: date
    activities: tuple[Scheduled, ...]
    coats: tuple[CoatReady, ...]
    critical_path: tuple[str, ...]
    foot_traffic_from: Moment
    vehicle_traffic_from: Moment
    full_cure_at: Moment
