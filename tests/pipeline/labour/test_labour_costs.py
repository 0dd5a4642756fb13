"""Wages, overtime and what a shift holds."""

import math
from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from labour_cases import HOUR, REVISION, Case, floors_only, labour_class

from filmbuild.money import Percent
from filmbuild.pipeline.job import ShiftBreak, WorkCalendar
from filmbuild.pipeline.labour.costs import labour_costs, paid_hours
from filmbuild.pipeline.labour.crew_time import CrewTime, packed
from filmbuild.pipeline.results import CrewCosts
from filmbuild.pipeline.specification import RateBook
from filmbuild.pipeline.trace import Note


def test_the_annual_wage_is_2080_hours_of_the_hourly_one_as_published() -> None:
    """BLS, OEWS May 2022, NAICS 238100, all occupations: mean 28.29 an hour and 58,840 a year.

    The year is printed to ten dollars and the hour to a cent, so they agree to
    5 + 2080 x 0.005 = 15.4.
    """
    trade = labour_class(wage="28.29", burden_percent=Percent("0"))
    case = Case(crew=((trade, 1),), travel=0.0)
    time = CrewTime(2080 * HOUR, 2080 * HOUR, 0.0, 260, 1)
    (line,) = labour_costs(time, case.selection(), REVISION)
    assert line.amount.amount == Decimal("58843.20")
    assert float(line.amount.amount) == pytest.approx(58_840, abs=15.4)


def test_overtime_is_what_shifts_hold_beyond_the_standard_day() -> None:
    """18 h in shifts of 10 with a standard day of 8: 2 h of the first and none of the second.

    Two people: 2 x (18 - 2 + 0.5) = 33 h at 25 = 825.00, and 2 x 2 = 4 h at 37.50 = 150.00.
    """
    labour = Case(calendar=WorkCalendar(shift_end="18:00")).labour()
    regular, overtime = labour.labour
    assert (regular.overtime, overtime.overtime) == (False, True)
    assert regular.paid / HOUR == pytest.approx(33.0)
    assert regular.amount.amount == Decimal("825.00")
    assert overtime.paid / HOUR == pytest.approx(4.0)
    assert overtime.rate_per_hour.amount == Decimal("37.5")
    assert overtime.amount.amount == Decimal("150.00")
    assert labour.shifts == 2
    assert labour.paid / HOUR == pytest.approx(37.0)


def test_each_class_is_paid_by_its_heads_at_its_own_rate() -> None:
    """4 h of floors_only(50) and 0.5 h of travel for each of three people of two classes."""
    fine = labour_class("fine", "28.50", burden_percent=Percent("32.5"))
    plain = labour_class("plain", "20", burden_percent=Percent("0"))
    case = floors_only(50.0, crew=((fine, 1), (plain, 1), (fine, 1)))
    found = {one.labour_class: one for one in case.labour().labour}
    assert found["fine"].paid / HOUR == pytest.approx(9.0)
    assert found["fine"].rate_per_hour.amount == Decimal("37.7625")
    assert found["fine"].amount.amount == Decimal("339.86")  # 339.8625
    assert found["plain"].amount.amount == Decimal("90.00")


def book(standard: float, minimum: float = 0.0) -> RateBook:
    """Both in hours."""
    return Case(standard_day=standard, minimum_paid_day=minimum).selection().rate_book


@given(st.floats(0.1, 500.0), st.floats(1.0, 22.0), st.floats(1.0, 24.0), st.floats(0.0, 1.0))
def test_shifts_hold_the_work_and_overtime_is_part_of_it(
    total: float, shift: float, standard: float, share: float
) -> None:
    least = standard * share
    time = packed(total * HOUR, shift * HOUR, book(standard, least))
    assert (time.days - 1) * shift < total * (1 + 1e-9)
    assert time.days * shift >= total * (1 - 1e-8)
    assert 0 <= time.overtime <= max(time.days * (shift - standard), 0.0) * HOUR + 1e-3
    straight = time.worked - time.overtime
    assert straight <= time.days * min(shift, standard) * HOUR * (1 + 1e-8)
    assert time.paid >= time.worked * (1 - 1e-12)
    assert time.paid <= time.worked + time.days * least * HOUR + 1e-6


@given(st.floats(1.0, 100.0), st.floats(0.0, 20.0), st.floats(1.0, 22.0), st.floats(1.0, 24.0))
def test_more_work_is_never_less_overtime(
    total: float, more: float, shift: float, standard: float
) -> None:
    rates = book(standard)
    before = packed(total * HOUR, shift * HOUR, rates)
    after = packed((total + more) * HOUR, shift * HOUR, rates)
    assert after.overtime >= before.overtime - 1e-3
    assert after.paid - after.overtime >= before.paid - before.overtime - 1e-3


@given(st.floats(0.1, 100.0), st.floats(1.0, 22.0), st.floats(0.0, 12.0))
def test_a_longer_shift_never_fills_more_days(total: float, shift: float, longer: float) -> None:
    rates = book(8.0)
    short = packed(total * HOUR, shift * HOUR, rates)
    assert packed(total * HOUR, (shift + longer) * HOUR, rates).days <= short.days


def test_a_short_day_is_paid_for_the_least_that_the_rate_book_pays() -> None:
    """18 h in shifts of 8 leave 2 h, paid as 4: 2 x (8 + 8 + 4 + 0.5) = 41 h."""
    labour = Case(minimum_paid_day=4.0).labour()
    assert labour.paid / HOUR == pytest.approx(41.0)
    assert labour.productive / HOUR == pytest.approx(26.0)
    assert Case().labour().paid / HOUR == pytest.approx(37.0)


def test_travel_is_paid_by_the_visit_or_by_the_day() -> None:
    """Three shifts of 0.5 h of travel for two people are 2 h more than one visit of it."""
    by_day = Case(travel_per="day").labour()
    assert by_day.paid / HOUR == pytest.approx(39.0)
    assert by_day.travel.amount == Decimal("80.00")
    assert by_day.visits == 1


def test_breaks_are_not_paid() -> None:
    """18 h in shifts of 8 less one hour are 3; in shifts of 8 less three they are 4."""
    short = WorkCalendar(breaks=(ShiftBreak(start="12:00", end="13:00"),))
    assert Case(calendar=short).labour().shifts == 3
    long = WorkCalendar(breaks=(ShiftBreak(start="11:00", end="14:00"),))
    labour = Case(calendar=long).labour()
    assert labour.shifts == 4
    assert labour.paid == Case().labour().paid


def test_labour_without_dates_says_so() -> None:
    notes: list[Note] = []
    Case().labour(notes)
    assert [one.code for one in notes] == ["labour-undated"]


def amounts_of_traces(costs: CrewCosts) -> list[tuple[Decimal, Decimal]]:
    """What each line of wages and of machines is, and what its trace comes to."""
    found: list[tuple[Decimal, Decimal]] = []
    for line in costs.labour:
        given = line.trace.inputs
        rate = given["wage"] * (1 + given["burden_percent"] / 100)
        time = given["overtime"]
        if line.overtime:
            rate *= Decimal(repr(given["multiplier"]))
        else:
            time = given["paid_time"] - given["overtime"] + given["travel_per_worker"]
        amount = paid_hours(type(line.paid)(time * given["workers"])) * rate
        found.append((line.amount.amount, amount.quantize(Decimal("0.01"), ROUND_HALF_UP)))
    for machine in costs.equipment:
        given = machine.trace.inputs
        used = given.get("days_used")
        if used is None:
            used = math.ceil(given["used"] / given["shift"] - 1e-9)
        days = given["machines"] * max(used, given["minimum_days"])
        found.append((machine.amount.amount, days * given["day_rate"]))
    given = costs.traces["travel"].inputs
    found.append((costs.travel.amount, given["visits"] * given["mobilisation"]))
    return found


@pytest.mark.parametrize("end", ["16:00", "18:30"])
def test_every_amount_follows_from_the_inputs_of_its_trace(end: str) -> None:
    case = Case(calendar=WorkCalendar(shift_end=end), minimum_paid_day=4.0, travel_per="day")
    for costs in (case.labour(), case.schedule()):
        for amount, traced in amounts_of_traces(costs):
            assert amount == traced
        given = costs.traces["paid"].inputs
        each = given["paid_time"] + given["hours_per_worker"] * given["days"]
        assert costs.paid == pytest.approx(given["workers"] * each)


def test_a_visit_is_paid_for_its_minimum_call_out_and_its_travel() -> None:
    """4 h of work, 6 h at least, and 0.5 h of travel: two people at 25 for 6.5 h each."""
    labour = floors_only(50.0, call_out=6.0).labour()
    (line,) = labour.labour
    assert line.paid / HOUR == pytest.approx(13.0)
    assert line.amount.amount == Decimal("325.00")
    assert labour.paid / HOUR == pytest.approx(13.0)
    assert labour.productive / HOUR == pytest.approx(8.0)
    assert floors_only(50.0, call_out=3.0).labour().paid == floors_only(50.0).labour().paid


def test_each_visit_has_a_call_out_of_its_own() -> None:
    """Days apart are visits of their own where one idle day ends one: each is made up to 6 h."""
    case = floors_only(50.0, idle_days=1, call_out=6.0)
    case = case.but(calendar=WorkCalendar(working_days=("mon", "thu")))
    schedule = case.schedule()
    paid: dict[int, float] = {}
    for day in schedule.days:
        paid[day.visit] = paid.get(day.visit, 0.0) + day.paid
    assert schedule.visits == len(paid) > 1
    each = sum(max(time, 6 * HOUR) + 0.5 * HOUR for time in paid.values())
    assert schedule.paid == pytest.approx(2 * each)
    assert sum(paid.values()) < schedule.visits * 6 * HOUR


@given(st.floats(1.0, 390.0), st.floats(0.0, 12.0))
def test_a_call_out_never_pays_less_than_the_work_or_itself(size: float, least: float) -> None:
    labour = floors_only(size, call_out=least, travel=0.0).labour()
    plain = floors_only(size, travel=0.0).labour()
    assert labour.paid >= plain.paid
    assert labour.paid >= 2 * least * HOUR - 1e-6
    assert labour.paid <= max(plain.paid, 2 * least * HOUR) + 1e-6
