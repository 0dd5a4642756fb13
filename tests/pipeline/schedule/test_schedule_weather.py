"""Plans through a forecast: windows that are waited for, cure as warm as it is, and missed windows."""

from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from labour_cases import Case, floors_only
from many_plans import examined
from materials_cases import area
from msgspec.structs import replace
from weather_cases import hourly, in_weather, step

from filmbuild.errors import Infeasible, InvalidInput
from filmbuild.pipeline.climate import ApplicationLimits, gate, is_open
from filmbuild.pipeline.climate import Conditions as Air
from filmbuild.pipeline.cure import Arrhenius, CureRate, Halving, NotStated, TimePoint, time_at
from filmbuild.pipeline.job import (
    ClosedPeriod,
    Conditions,
    ForecastStep,
    MonthConditions,
    WorkCalendar,
)
from filmbuild.pipeline.results import Schedule
from filmbuild.pipeline.specification import OutsideTable
from filmbuild.quantities import Duration, Temperature

MONDAY = datetime(2026, 1, 12, tzinfo=UTC)
DRY = Conditions(relative_humidity_percent=40.0)


def moments(schedule: Schedule) -> dict[str, tuple[datetime, datetime]]:
    return {one.activity: (one.start, one.finish) for one in schedule.activities}


def steady(days: int, surface: float, humidity: float = 40.0) -> tuple[ForecastStep, ...]:
    return hourly(MONDAY, days, surface, 0.0, humidity)


def test_a_coat_waits_for_the_first_window_of_the_forecast() -> None:
    """The floor is below the limit of 8 degC until Wednesday at 10."""
    cold = [step(MONDAY + timedelta(hours=n), 10.0, 40.0, 5.0) for n in range(58)]
    warm = [step(MONDAY + timedelta(hours=n), 20.0, 40.0, 20.0) for n in range(58, 300)]
    schedule = in_weather((*cold, *warm)).schedule()
    first = next(one for one in schedule.activities if one.activity == "coat:first")
    assert first.start == datetime(2026, 1, 14, 10, tzinfo=UTC)
    assert first.bound_by == (
        "follows Set up, then for the weather until 2026-01-14 10:00 "
        "(the surface is too cold, 5.0 degC where the limit is 8.0 at 2026-01-14 09:00)"
    )


def test_the_window_stays_open_until_the_coat_takes_another() -> None:
    """A cold night ten hours after a coat that takes 8 h at 20 degC: begin early, or tomorrow."""
    hours = [20.0] * 300
    hours[22:24] = [5.0, 5.0]
    forecast = tuple(
        step(MONDAY + timedelta(hours=n), 20.0, 40.0, one) for n, one in enumerate(hours)
    )
    small = moments(in_weather(forecast, size=50.0).schedule())
    large = moments(in_weather(forecast, size=300.0).schedule())
    assert small["coat:first"][0].day == 12
    assert large["coat:first"][0].day == 13


def test_no_window_says_what_would_open_one_and_that_does() -> None:
    damp = in_weather(hourly(MONDAY, 10, 12.0, 0.0, 90.0), stated=None)
    with pytest.raises(Infeasible) as raised:
        damp.schedule()
    (fault,) = raised.value.faults
    assert (fault.code, fault.pointer) == ("no-climate-window", "/job/forecast")
    for words in ("dehumidify to at most 85.0 %", "heat the floor to at least", "other limits"):
        assert words in fault.detail
    heated = tuple(
        replace(one, surface_temperature=Temperature(15.0), relative_humidity_percent=80.0)
        for one in damp.forecast
    )
    assert damp.but(forecast=heated).schedule().coats


def test_after_the_forecast_nothing_is_placed_in_weather_that_nobody_stated() -> None:
    short = in_weather(hourly(MONDAY, 1, 18.0, 0.0))
    with pytest.raises(Infeasible, match="No schedule"):
        short.schedule()
    assert short.but(stated=DRY, conditions=DRY).schedule().coats
    month = MonthConditions(
        month=1, air_temperature=Temperature(18.0), relative_humidity_percent=50.0
    )
    assert short.but(months=(month,)).schedule().coats


def test_work_waits_for_a_month_that_is_warm_enough() -> None:
    months = tuple(
        MonthConditions(
            month=number,
            air_temperature=Temperature(5.0 if number < 4 else 15.0),
            relative_humidity_percent=50.0,
        )
        for number in range(1, 13)
    )
    schedule = in_weather((), stated=None).but(months=months).schedule()
    assert moments(schedule)["coat:first"][0] == datetime(2026, 4, 1, 8, tzinfo=UTC)


def test_a_cure_adds_up_its_shares_of_warm_and_cold() -> None:
    """8 h at 20 degC and 16 h at 10: after 4 h at 20 the other half takes 8 h (ASTM C1074's form)."""
    plain = in_weather(steady(20, 20.0), size=50.0)
    done = moments(plain.schedule())["coat:first"][1]
    turns = int((done - MONDAY).total_seconds() // 3600) + 4
    forecast = tuple(
        step(MONDAY + timedelta(hours=n), 20.0, 30.0, 20.0 if n < turns else 10.0)
        for n in range(480)
    )
    case = in_weather(forecast, size=50.0)
    coat = case.schedule().coats[0]
    warm = (MONDAY + timedelta(hours=turns) - done).total_seconds() / 3600
    expected = warm + (1 - warm / 8) * 16
    assert (coat.recoat_from - done).total_seconds() / 3600 == pytest.approx(expected, abs=1e-5)


def test_a_coat_is_held_back_over_a_weekend_where_the_job_asks_for_it() -> None:
    """A window of 8 to 30 h on Friday closes before Monday; placed on Monday it holds."""
    friday = date(2026, 1, 16)
    narrow = in_weather(
        steady(30, 20.0), windows=((8.0, 30.0), (8.0, None)), start=friday, size=150.0
    )
    abraded = narrow.schedule()
    assert any(one.code == "abrade" for one in abraded.tasks)
    held = narrow.but(missed_recoat="hold_back").schedule()
    assert held.tasks == ()
    assert moments(held)["coat:first"][0].date() == date(2026, 1, 19)
    assert "so that second can go on before" in next(
        one.bound_by for one in held.activities if one.activity == "coat:first"
    )


def test_a_window_that_no_day_fits_is_refused() -> None:
    """From 8 to 10 h after a coat nobody is at work."""
    never = in_weather(steady(60, 20.0), windows=((8.0, 10.0), (8.0, None)), missed="hold_back")
    with pytest.raises(Infeasible) as raised:
        never.schedule()
    assert "held back" in raised.value.faults[0].detail


def test_faults_of_a_forecast_are_told_at_once() -> None:
    steps = (step(MONDAY, 90.0, 50.0), step(MONDAY, 10.0, 50.0))
    with pytest.raises(InvalidInput) as raised:
        in_weather(steps).schedule()
    assert [(one.code, one.pointer) for one in raised.value.faults] == [
        ("conditions-out-of-range", "/job/forecast/0/air_temperature"),
        ("forecast-out-of-order", "/job/forecast/1/at"),
    ]


@settings(max_examples=25, deadline=None)
@given(st.floats(14.0, 20.0), st.floats(0.5, 6.0), st.floats(0.0, 4.0))
def test_warmer_never_ends_later(mean: float, warmer: float, swing: float) -> None:
    windows = ((8.0, None), (8.0, None))
    cool, warm = (
        in_weather(hourly(MONDAY, 20, each, swing, 30.0), windows=windows, stated=DRY).schedule()
        for each in (mean, mean + warmer)
    )
    for one, other in zip(warm.coats, cool.coats, strict=True):
        assert one.full_cure <= other.full_cure
    assert warm.last_day <= cool.last_day


def test_a_year_with_the_same_calendar_moves_everything_by_as_much() -> None:
    """2037 has the weekdays of 2026."""
    later = date(2037, 1, 12) - date(2026, 1, 12)
    now = in_weather(hourly(MONDAY, 10, 12.0, 6.0)).schedule()
    then = in_weather(hourly(MONDAY + later, 10, 12.0, 6.0), start=date(2037, 1, 12)).schedule()
    for one, other in zip(now.activities, then.activities, strict=True):
        assert (other.start - one.start, other.finish - one.finish) == (later, later)
    assert then.full_cure_at - now.full_cure_at == later


def test_plans_of_random_jobs_in_any_weather_keep_every_rule() -> None:
    seen, wrong = examined(seed=5, count=60)
    assert wrong == []
    assert seen["planned"] > 20
    assert seen["waits for the weather"] > 5


@given(st.floats(-20.0, 60.0), st.floats(-20.0, 60.0), st.floats(1.0, 100.0), st.floats(20.0, 90.0))
def test_the_short_answer_of_the_gate_is_that_of_the_long_one(
    air: float, surface: float, humidity: float, most: float
) -> None:
    limits = ApplicationLimits(
        air_minimum=5.0,
        air_maximum=35.0,
        surface_minimum=8.0,
        surface_maximum=30.0,
        humidity_maximum=most,
    )
    conditions = Air(air, surface, humidity)
    assert is_open(conditions, limits) == (not gate(conditions, limits))


@given(st.floats(-30.0, 70.0), st.sampled_from((Halving(), Arrhenius(50_000.0))))
def test_the_rate_of_a_table_is_one_over_its_time(degree: float, rule: Halving | Arrhenius) -> None:
    points = (TimePoint(10.0, 57_600.0), TimePoint(20.0, 28_800.0), TimePoint(30.0, 20_000.0))
    expected = 1 / time_at(points, degree, rule).duration
    assert CureRate(points, rule).at(degree) == pytest.approx(expected, rel=1e-12)


def test_beyond_a_table_that_says_nothing_of_it_the_safe_side_is_taken() -> None:
    """No progress in more cold, no faster in more heat; a window goes on closing in the cold."""
    points = (TimePoint(10.0, 57_600.0), TimePoint(30.0, 14_400.0))
    cure, window = CureRate(points, NotStated()), CureRate(points, NotStated(goes_on=True))
    assert cure.at(9.9) == 0.0
    assert window.at(9.9) == pytest.approx(1 / 57_600)
    assert cure.at(30.1) == window.at(30.1) == pytest.approx(1 / 14_400)
    assert cure.at(20.0) == pytest.approx(1 / time_at(points, 20.0, Halving()).duration)


def test_a_product_that_says_nothing_of_the_cold_does_not_cure_in_it() -> None:
    """Six hours at 9 degC, where the table begins at 10: as if they had not been."""
    floor = [20.0] * 13 + [9.0] * 6 + [20.0] * 300
    forecast = tuple(
        step(MONDAY + timedelta(hours=n), 20.0, 40.0, one) for n, one in enumerate(floor)
    )
    stated = in_weather(forecast, size=50.0)
    silent = stated.but(
        products=tuple(replace(one, outside_table=OutsideTable()) for one in stated.products)
    )
    warm = in_weather(steady(14, 20.0), size=50.0).schedule().coats[0].recoat_from
    by_rule, by_none = (one.schedule().coats[0].recoat_from for one in (stated, silent))
    assert warm < by_rule < by_none
    assert by_none == warm + timedelta(hours=6)


def many_areas() -> Case:
    return floors_only(10.0).but(areas=tuple(area(f"bay-{n}", 20.0) for n in range(5)))


def test_areas_open_in_the_order_in_which_they_are_placed() -> None:
    schedule = many_areas().schedule()
    begin, end = moments(schedule)["coat:top"]
    assert max(one.placed for one in schedule.areas) == end
    assert all(begin < one.placed <= end for one in schedule.areas)
    assert max(one.vehicle_traffic for one in schedule.areas) == schedule.vehicle_traffic_from
    left = max(one.finish for one in schedule.activities)
    assert all(one.return_to_service >= max(one.vehicle_traffic, left) for one in schedule.areas)


def test_the_people_of_the_days_spend_all_of_the_productive_time() -> None:
    schedule = Case().schedule()
    assert sum(one.labour for one in schedule.days) == pytest.approx(schedule.productive, abs=0.1)
    assert {one.people for one in schedule.days} <= {1, 2}
    assert max(one.people for one in schedule.days) == 2


def test_the_bound_is_met_by_a_plain_job_and_missed_by_what_abrasion_adds() -> None:
    plain = floors_only(100.0).schedule().bound
    assert plain is not None
    assert plain.finish == plain.finish_no_sooner_than
    assert plain.gap == Duration(0.0)
    narrow = in_weather(
        steady(30, 20.0), windows=((8.0, 30.0), (8.0, None)), start=date(2026, 1, 16), size=300.0
    )
    bound = narrow.schedule().bound
    assert bound is not None
    assert bound.finish > bound.finish_no_sooner_than
    assert bound.gap > 0


def test_nights_only_and_closed_periods() -> None:
    """A coat past midnight belongs to the day on which its shift began."""
    nights = WorkCalendar(
        shift_start="22:00",
        shift_end="05:00",
        closed_periods=(ClosedPeriod(first=date(2026, 6, 16), last=date(2026, 6, 18)),),
    )
    schedule = floors_only(150.0, calendar=nights).schedule()
    for one in schedule.activities:
        assert one.start.hour >= 22 or one.start.hour < 5
    worked = [one.date for one in schedule.days]
    assert worked == [date(2026, 6, 15), date(2026, 6, 19), date(2026, 6, 22)]
    with pytest.raises(InvalidInput) as raised:
        floors_only(
            50.0,
            calendar=WorkCalendar(
                closed_periods=(ClosedPeriod(first=date(2026, 6, 16), last=date(2026, 6, 15)),)
            ),
        ).schedule()
    assert [one.code for one in raised.value.faults] == ["closed-period-unusable"]
