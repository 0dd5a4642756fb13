import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.pipeline.cure import (
    GAS_CONSTANT,
    Arrhenius,
    Halving,
    TemperatureStep,
    TimePoint,
    arrhenius_factor,
    cure_progress,
    equivalent_age,
    halving_factor,
    nurse_saul_maturity,
    table_faults,
    temperature_adjusted_age,
    time_at,
)

HOUR, DAYS = 3_600.0, 86_400.0
ENERGY_OF_5000_KELVIN = 5_000 * GAS_CONSTANT
ENERGY_OF_SUMMARY = 33_500 * GAS_CONSTANT / 8.314  # 33.5 kJ/mol where R is rounded to 8.314
HISTORY = (
    TemperatureStep(12 * HOUR, 20),
    TemperatureStep(12 * HOUR, 30),
    TemperatureStep(24 * HOUR, 15),
)
# Invented demo product.
RECOAT = (TimePoint(10, 24 * HOUR), TimePoint(20, 12 * HOUR), TimePoint(30, 6 * HOUR))

temperatures = st.floats(-30, 60)
series = st.lists(st.builds(TemperatureStep, st.floats(0, 1e6), temperatures), max_size=6)
outside_rules = st.one_of(
    st.builds(Arrhenius, st.floats(20_000, 80_000)), st.builds(Halving, st.floats(5, 20))
)


@st.composite
def tables(draw: st.DrawFn) -> tuple[TimePoint, ...]:
    degrees = sorted(draw(st.sets(st.integers(-5, 40), min_size=1, max_size=4)))
    times = sorted(
        draw(st.lists(st.floats(60, 1e6), min_size=len(degrees), max_size=len(degrees))),
        reverse=True,
    )
    return tuple(TimePoint(*point) for point in zip(degrees, times, strict=True))


@pytest.mark.parametrize(
    ("temperature", "classic", "summary", "concrete", "doubling"),
    [
        # Each column by its own equation: Arrhenius with Ea/R = 5000 K and with 33.5 kJ/mol
        # (both ASTM C1074 practice), EN 1992-1-1 equation B.10, and 2^((T - 20)/10).
        (5, 0.3986, 0.4765, 0.4778, 0.3536),
        (10, 0.5475, 0.6154, 0.6161, 0.5000),
        (15, 0.7438, 0.7878, 0.7875, 0.7071),
        (20, 1, 1, 0.9981, 1),
        (25, 1.3311, 1.2592, 1.2551, 1.4142),
        (30, 1.7553, 1.5737, 1.5662, 2.0000),
        (35, 2.2939, 1.9524, 1.9406, 2.8284),
    ],
)
def test_rate_factors_relative_to_20_celsius(
    temperature: float, classic: float, summary: float, concrete: float, doubling: float
) -> None:
    half_digit = 0.5e-4 + 1e-9
    assert abs(arrhenius_factor(temperature, 20, ENERGY_OF_5000_KELVIN) - classic) < half_digit
    assert abs(arrhenius_factor(temperature, 20, ENERGY_OF_SUMMARY) - summary) < half_digit
    assert abs(temperature_adjusted_age([TemperatureStep(1, temperature)]) - concrete) < half_digit
    assert abs(halving_factor(temperature, 20) - doubling) < half_digit


@pytest.mark.parametrize(("temperature", "days", "expected"), [(10, 7, 4.313), (30, 2, 3.132)])
def test_temperature_adjusted_age(temperature: float, days: float, expected: float) -> None:
    # EN 1992-1-1:2004 Annex B, equation B.10.
    age = temperature_adjusted_age([TemperatureStep(days * DAYS, temperature)])
    assert age / DAYS == pytest.approx(expected, abs=0.0005)


def test_nurse_saul_maturity() -> None:
    # ASTM C1074: sum of (T - datum) dt, with datum 0 and -10 degC.
    maturity = nurse_saul_maturity(HISTORY) / HOUR
    assert maturity == pytest.approx(960)
    assert maturity / 20 == pytest.approx(48.0)
    assert nurse_saul_maturity(HISTORY, datum=-10) / HOUR == pytest.approx(1_440)


def test_equivalent_age() -> None:
    # ASTM C1074: sum of exp(-Q (1/T - 1/Ts)) dt with Q = 5000 K, Ts = 20 degC.
    age = equivalent_age(HISTORY, ENERGY_OF_5000_KELVIN, 20)
    assert age / HOUR == pytest.approx(50.915, abs=0.0005)


@pytest.mark.parametrize(("temperature", "hours"), [(33.8, 2.80), (12.8, 12.0)])
def test_pot_life_by_halving(temperature: float, hours: float) -> None:
    # NAVFAC MO-124: pot life 6 h at 73 degF (22.8 degC); halving per 10 K is common practice.
    life = time_at([TimePoint(22.8, 6 * HOUR)], temperature, Halving())
    assert life.duration / HOUR == pytest.approx(hours, abs=0.005)
    assert life.rule == "halving"


@given(series, series)
def test_equivalent_age_adds_up_over_steps(
    first: list[TemperatureStep], second: list[TemperatureStep]
) -> None:
    whole = equivalent_age([*first, *second], 40_000)
    assert whole == pytest.approx(equivalent_age(first, 40_000) + equivalent_age(second, 40_000))


@given(st.floats(1, 1e6), temperatures, st.floats(20_000, 80_000))
def test_equivalent_age_is_real_age_at_the_reference_and_grows_with_warmth(
    duration: float, temperature: float, energy: float
) -> None:
    step = TemperatureStep(duration, temperature)
    assert equivalent_age([step], energy, temperature) == pytest.approx(duration)
    warmer = TemperatureStep(duration, temperature + 1)
    assert equivalent_age([warmer], energy) > equivalent_age([step], energy)


def test_below_its_datum_nurse_saul_stands_still_and_arrhenius_does_not() -> None:
    cold = [TemperatureStep(HOUR, -5)]
    assert nurse_saul_maturity(cold) == 0
    assert equivalent_age(cold, 40_000) > 0


@given(tables(), outside_rules)
def test_stated_times_are_given_back_exactly(
    points: tuple[TimePoint, ...], outside: Arrhenius | Halving
) -> None:
    for point in points:
        stated = time_at(points, point.temperature, outside)
        assert (stated.duration, stated.rule) == (point.duration, "table")


@given(tables(), outside_rules, temperatures, st.floats(0.01, 20))
def test_warmer_is_never_slower(
    points: tuple[TimePoint, ...], outside: Arrhenius | Halving, cool: float, warming: float
) -> None:
    cooler = time_at(points, cool, outside).duration
    warmer = time_at(points, cool + warming, outside).duration
    assert warmer <= cooler * (1 + 1e-12)


def test_between_stated_times_the_logarithm_is_straight() -> None:
    between = time_at(RECOAT, 15, Arrhenius(50_000))
    assert between.rule == "interpolated"
    assert between.duration == pytest.approx(12 * HOUR * math.sqrt(2))
    assert between.stated == RECOAT[:2]


def test_outside_the_table_the_products_rule_starts_from_the_nearest_time() -> None:
    colder = time_at(RECOAT, 0, Halving())
    assert (colder.duration, colder.rule, colder.stated) == (48 * HOUR, "halving", RECOAT[:1])
    warmer = time_at(RECOAT, 35, Arrhenius(ENERGY_OF_5000_KELVIN))
    assert warmer.rule == "arrhenius"
    assert warmer.duration == pytest.approx(
        6 * HOUR / arrhenius_factor(35, 30, ENERGY_OF_5000_KELVIN)
    )
    assert warmer.stated == RECOAT[2:]


def test_the_order_of_the_stated_times_does_not_matter() -> None:
    assert time_at(RECOAT[::-1], 17, Halving()) == time_at(RECOAT, 17, Halving())


def test_no_temperature_however_absurd_breaks_the_arithmetic() -> None:
    for outside in (Halving(), Arrhenius(80_000)):
        assert time_at(RECOAT, -1e6, outside).duration > 1e12
        assert time_at(RECOAT, -273.15, outside).duration > 1e12
        assert time_at(RECOAT, -270, outside).duration > 1e12
        assert 0 <= time_at(RECOAT, 1e6, outside).duration < 6 * HOUR


def test_doubling_between_20_and_30_celsius_needs_51_kilojoules() -> None:
    # Ea = R ln 2 / (1/293.15 - 1/303.15) = 51.2 kJ/mol.
    assert arrhenius_factor(30, 20, 51_200) == pytest.approx(2, abs=0.002)


@pytest.mark.parametrize(
    ("points", "fault"),
    [
        ((), "at least one"),
        ((TimePoint(-300, 60),), "absolute zero"),
        ((TimePoint(math.nan, 60),), "absolute zero"),
        ((TimePoint(20, 0),), "more than nothing"),
        ((TimePoint(20, math.inf),), "more than nothing"),
        ((TimePoint(20, 60), TimePoint(20, 50)), "more than once"),
        ((TimePoint(30, 70), TimePoint(20, 60)), "at 30 degC is longer than at 20 degC"),
    ],
)
def test_unusable_tables_are_refused(points: tuple[TimePoint, ...], fault: str) -> None:
    faults = table_faults(points)
    assert len(faults) == 1
    assert fault in faults[0]


@given(tables())
def test_falling_tables_are_accepted(points: tuple[TimePoint, ...]) -> None:
    assert table_faults(points) == []


@given(tables(), outside_rules, temperatures)
def test_at_a_steady_temperature_the_cure_takes_the_stated_time(
    points: tuple[TimePoint, ...], outside: Arrhenius | Halving, temperature: float
) -> None:
    needed = time_at(points, temperature, outside).duration
    halves = [TemperatureStep(0.6 * needed, temperature)] * 2
    progress = cure_progress(points, outside, halves)
    assert progress.elapsed == pytest.approx(needed)
    assert progress.fraction == 1.0


def test_a_cure_follows_the_temperature() -> None:
    night_and_day = [TemperatureStep(12 * HOUR, 10), TemperatureStep(12 * HOUR, 20)]
    progress = cure_progress(RECOAT, Halving(), night_and_day)
    assert progress.elapsed == pytest.approx(18 * HOUR)
    unfinished = cure_progress(RECOAT, Halving(), night_and_day[:1])
    assert (unfinished.fraction, unfinished.elapsed) == (0.5, None)
