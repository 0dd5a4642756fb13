"""The equations of the rules of labour and schedule, written anew."""

import itertools
import math
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from trace_arithmetic import HOUR, Check, Figures, Inputs, kept_in, money, percent

CHECKS: dict[str, Check] = {}
of = kept_in(CHECKS)


@of("labour.task")
def _task(given: Inputs, record: Any, _: str) -> Figures:
    time = given["set_up"]
    rate = given["rate"]
    if rate is not None:
        in_seconds = rate if record.quantity is not None else rate / HOUR
        time += given["quantity"] / (in_seconds * given["gangs"]) * given["factor"]
    duration = round(max(time, given["minimum"]), 3)
    yield record.duration, duration
    yield record.labour, duration * given["gangs"] * given["workers_per_gang"]
    yield record.workers, given["gangs"] * given["workers_per_gang"]
    if "over_areas" in given["factors"]:
        yield given["factor"], math.prod(given["factors"].values())


@of("labour.wages", "labour.overtime")
def _wages(given: Inputs, record: Any, _: str) -> Figures:
    rate = given["wage"] * (1 + percent(given["burden_percent"]))
    rate *= Decimal(repr(given.get("multiplier", 1)))
    paid = given["overtime"]
    if "paid_time" in given:
        paid = given["paid_time"] - paid + given["call_out"] + given["travel_per_worker"]
    yield record.rate_per_hour.amount, rate
    yield record.paid, paid * given["workers"]
    hours = Decimal(str(round(record.paid / HOUR, 6)))
    yield record.amount.amount, money(hours * record.rate_per_hour.amount)


@of("labour.paid")
def _paid(given: Inputs, record: Any, _: str) -> Figures:
    times = given["days"] if given["per"] == "day" else given["visits"]
    each = given["paid_time"] + given["call_out"] + given["hours_per_worker"] * times
    yield record.paid, given["workers"] * each


@of("labour.travel")
def _travel(given: Inputs, record: Any, _: str) -> Figures:
    yield record.travel.amount, money(given["visits"] * given["mobilisation"])
    yield record.visits, given["visits"]


@of("labour.sections")
def _section(given: Inputs, record: Any, _: str) -> Figures:
    yield (
        record.floor,
        sum(given["floors"][name] * share for name, share in given["shares"].items()),
    )
    yield record.longest <= given["shift"] * (1 + 1e-9), True


@of("labour.productive")
def _productive(given: Inputs, record: Any, _: str) -> Figures:
    yield record.productive, sum(given["tasks"].values())


@of("schedule.productive")
def _scheduled_work(given: Inputs, record: Any, _: str) -> Figures:
    yield record.productive, given["labour"] + sum(given["added"].values())


@of("labour.shifts")
def _packed(given: Inputs, record: Any, _: str) -> Figures:
    time, shift = given["crew_time"], given["shift"]
    least, standard = given["minimum_paid_day"], given["standard_day"]
    whole = math.floor(time / shift + 1e-9)
    rest = max(time - whole * shift, 0.0)
    yield record.shifts, math.ceil(time / shift - 1e-9)
    yield given["paid_time"], whole * max(shift, least) + (max(rest, least) if rest else 0.0)
    beyond = whole * max(shift - standard, 0.0) + max(rest - standard, 0.0)
    yield given["overtime"], beyond


@of("labour.equipment", "schedule.equipment")
def _machines(given: Inputs, record: Any, _: str) -> Figures:
    used = given.get("days_used")
    if used is None:
        used = math.ceil(given["used"] / given["shift"] - 1e-9)
    yield record.days, given["machines"] * max(used, given["minimum_days"])
    yield record.amount.amount, money(record.days * given["day_rate"])


@of("labour.cure-times")
def _cure_times(given: Inputs, record: Any, _: str) -> Figures:
    figures = {"recoat_minimum": "recoat_after", "recoat_maximum": "recoat_before"}
    for name, stated in given["stated"].items():
        if given["rules"][name] == "interpolated":
            (cool, warm), (longer, shorter) = stated["temperatures"], stated["times"]
            share = (given["surface_temperature"] - cool) / (warm - cool)
            time = longer * (shorter / longer) ** share
            yield getattr(record, figures.get(name, name)), time


@of("schedule.shifts")
def _days(given: Inputs, record: Any, _: str) -> Figures:
    yield record.shifts, len(given["days"])


@of("schedule.visits")
def _visits(given: Inputs, record: Any, _: str) -> Figures:
    days = [one.date for one in record.days]
    idle = [(after - before).days - 1 for before, after in itertools.pairwise(days)]
    ends = given["idle_days"]
    yield record.visits, 1 + (0 if ends is None else sum(one >= ends for one in idle))


@of("schedule.worked-day")
def _worked_day(given: Inputs, record: Any, _: str) -> Figures:
    yield record.worked, given["worked"]
    yield record.paid, max(given["worked"], given["minimum_paid_day"])
    yield record.overtime, max(given["worked"] - given["standard_day"], 0.0)
    yield record.labour, sum(given["labour"].values())
    yield record.people, max(given["people"].values(), default=0)


@of("schedule.coat-ready")
def _ready(given: Inputs, record: Any, _: str) -> Figures:
    for figure, time in (
        ("recoat_from", "recoat_after"),
        ("foot_traffic", "foot_traffic"),
        ("vehicle_traffic", "vehicle_traffic"),
        ("full_cure", "full_cure"),
    ):
        yield getattr(record, figure), moment(given["end_of_placing"], given[time])
    air, humidity = given["air_temperature"], given["relative_humidity_percent"]
    g = math.log(humidity / 100) + 17.625 * air / (243.04 + air)
    dew = 243.04 * g / (17.625 - g)
    yield record.dew_point, dew
    yield record.surface_above_dew_point, given["surface_temperature"] - dew


def moment(start: datetime | str, seconds: float) -> datetime:
    begun = datetime.fromisoformat(start) if isinstance(start, str) else start
    return begun + timedelta(seconds=seconds)


@of("schedule.window")
def _window(given: Inputs, *_: Any) -> Figures:
    for limit, least in (("air_minimum", "air_least"), ("surface_minimum", "surface_least")):
        yield given.get(limit, -100.0) <= given[least], True
    for limit, most in (("air_maximum", "air_most"), ("surface_maximum", "surface_most")):
        yield given.get(limit, 100.0) >= given[most], True
    yield given["humidity_most_percent"] <= given.get("humidity_maximum_percent", 100.0), True
    yield given["dew_point_margin_least"] >= given["dew_point_margin"], True


@of("schedule.cure-through-weather")
def _through_weather(given: Inputs, *_: Any) -> Figures:
    steps = zip(given["lasting"], given["recoat_at_temperature"], strict=True)
    made = math.fsum(time / whole for time, whole in steps if whole is not None)
    yield math.isclose(made, 1.0, abs_tol=1e-6), True
    yield given["recoat_from"], moment(given["end_of_placing"], sum(given["lasting"]))


@of("schedule.area-open")
def _area_open(given: Inputs, record: Any, _: str) -> Figures:
    placing = (given["coat_finish"] - given["coat_start"]).total_seconds()
    yield record.placed, moment(given["coat_start"], given["share_placed"] * placing)
    for figure in ("foot_traffic", "vehicle_traffic", "full_cure"):
        yield getattr(record, figure), moment(record.placed, given[figure])
    yield record.return_to_service, max(record.vehicle_traffic, given["crew_leaves"])


@of("schedule.bound")
def _bound(given: Inputs, record: Any, _: str) -> Figures:
    least = max(given["by_network"], given["by_crew"])
    yield record.finish_no_sooner_than, least
    yield record.gap, (given["finish"] - least).total_seconds()


@of("schedule.open-again")
def _open(given: Inputs, record: Any, field: str) -> Figures:
    yield getattr(record, field), max(given["coats"].values())


@of("schedule.placement")
def _placement(given: Inputs, record: Any, _: str) -> Figures:
    """On the calendar: later than it was ready only where it was moved."""
    yield record.start >= given["ready"], True
    if "moved_by" not in given:
        yield record.start, given["ready"]


@of("schedule.abrasion")
def _abrasion(given: Inputs, *_: Any) -> Figures:
    yield given["without_abrasion"] > given["recoat_maximum"], True
