"""Wages, overtime and what a shift holds."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from labour_cases import HOUR, REVISION, Case, floors_only, labour_class
from materials_cases import USD

from filmbuild.money import Percent
from filmbuild.pipeline.job import WorkCalendar
from filmbuild.pipeline.labour.costs import Worked, labour_costs, packed


def test_the_annual_wage_is_2080_hours_of_the_hourly_one_as_published() -> None:
    """BLS, OEWS May 2022, NAICS 238100, all occupations: mean 28.29 an hour and 58,840 a year.

    The year is printed to ten dollars and the hour to a cent, so they agree to
    5 + 2080 x 0.005 = 15.4.
    """
    trade = labour_class(wage="28.29", burden_percent=Percent("0"))
    case = Case(crew=((trade, 1),), travel=0.0)
    worked = Worked(2080 * HOUR, 0.0, 260)
    (line,) = labour_costs(worked, case.selection(), USD, REVISION)
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


@given(st.floats(0.1, 500.0), st.floats(1.0, 22.0), st.floats(1.0, 24.0))
def test_shifts_hold_the_work_and_overtime_is_part_of_it(
    total: float, shift: float, standard: float
) -> None:
    worked = packed(total, shift, standard)
    assert (worked.shifts - 1) * shift < total * (1 + 1e-9)
    assert worked.shifts * shift >= total * (1 - 1e-8)
    assert 0 <= worked.overtime <= max(worked.shifts * (shift - standard), 0.0) + 1e-6
    straight = total - worked.overtime
    assert straight <= worked.shifts * min(shift, standard) * (1 + 1e-8)


@given(st.floats(1.0, 100.0), st.floats(0.0, 20.0), st.floats(1.0, 22.0), st.floats(1.0, 24.0))
def test_more_work_is_never_less_overtime(
    total: float, more: float, shift: float, standard: float
) -> None:
    before, after = packed(total, shift, standard), packed(total + more, shift, standard)
    assert after.overtime >= before.overtime - 1e-6
    assert after.total - after.overtime >= before.total - before.overtime - 1e-6
