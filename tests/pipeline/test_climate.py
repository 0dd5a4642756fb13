import psychrolib
import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.pipeline.climate import (
    MARGIN_3_CELSIUS,
    MARGIN_5_FAHRENHEIT,
    ApplicationLimits,
    Conditions,
    dew_point,
    dew_point_margin,
    earliest_open,
    gate,
    humidity_at_dew_point,
    open_windows,
)

airs = st.floats(-20, 50)
humidities = st.floats(1, 100)

# Printed German dew point table ("Taupunkttabelle"), as tabulated in DIN 4108-3.
TABLE_HUMIDITIES = (50, 55, 60, 65, 70, 75, 80, 85, 90, 95)
TABLE = {
    10: (0.0, 1.3, 2.5, 3.7, 4.8, 5.8, 6.8, 7.7, 8.5, 9.3),
    20: (9.3, 10.7, 12.0, 13.2, 14.4, 15.5, 16.5, 17.4, 18.4, 19.2),
    25: (13.8, 15.4, 16.7, 18.0, 19.1, 20.2, 21.4, 22.3, 23.3, 24.2),
}


@pytest.mark.parametrize(
    ("air", "humidity", "printed"),
    [
        (air, humidity, printed)
        for air, row in TABLE.items()
        for humidity, printed in zip(TABLE_HUMIDITIES, row, strict=True)
    ],
)
def test_dew_point_agrees_with_a_printed_table(air: float, humidity: float, printed: float) -> None:
    assert dew_point(air, humidity) == pytest.approx(printed, abs=0.2)


@pytest.mark.parametrize(
    ("air", "humidity", "expected"), [(23, 50, 12.020), (18, 85, 15.440), (35, 40, 19.392)]
)
def test_dew_point_by_magnus(air: float, humidity: float, expected: float) -> None:
    # Magnus with a = 17.625, b = 243.04 degC: Alduchov & Eskridge, J. Appl. Meteorol. 35:601 (1996).
    assert dew_point(air, humidity) == pytest.approx(expected, abs=0.0005)


def test_dew_point_of_a_published_example() -> None:
    # doerken.de glossary, "dew point": 30 degC at 55 % gives 20 degC.
    assert dew_point(30, 55) == pytest.approx(20, abs=0.5)


def test_dew_point_is_near_the_rule_of_thumb_in_moist_air() -> None:
    # Lawrence, BAMS 86:225 (2005), equation 1: Td is about T - (100 - RH)/5 above 50 % RH.
    assert dew_point(20, 80) == pytest.approx(20 - (100 - 80) / 5, abs=1)


def test_dew_point_agrees_with_psychrolib_over_water() -> None:
    psychrolib.SetUnitSystem(psychrolib.SI)
    compared = 0
    for air in range(5, 41):
        for humidity in range(30, 96, 5):
            expected = psychrolib.GetTDewPointFromRelHum(air, humidity / 100)
            if expected >= 0:
                compared += 1
                assert dew_point(air, humidity) == pytest.approx(expected, abs=0.03)
    assert compared > 300


@given(airs)
def test_saturated_air_is_at_its_dew_point(air: float) -> None:
    assert dew_point(air, 100) == pytest.approx(air, abs=1e-9)


@given(airs, st.floats(1, 99))
def test_dew_point_rises_with_humidity_and_with_air_temperature(
    air: float, humidity: float
) -> None:
    assert dew_point(air, humidity + 1) > dew_point(air, humidity)
    assert dew_point(air + 0.5, humidity) > dew_point(air, humidity)


@given(airs, humidities)
def test_humidity_at_dew_point_undoes_dew_point(air: float, humidity: float) -> None:
    assert humidity_at_dew_point(air, dew_point(air, humidity)) == pytest.approx(humidity)


@pytest.mark.parametrize(
    ("surface", "margin", "open_"),
    [
        # ISO 8502-4 (3 K) and the 5 degF rule of United States practice are not the same rule.
        (17.3, MARGIN_3_CELSIUS, False),
        (17.3, MARGIN_5_FAHRENHEIT, True),
        (17.4, MARGIN_3_CELSIUS, True),
        (17.4, MARGIN_5_FAHRENHEIT, True),
    ],
)
def test_the_two_dew_point_margins_decide_differently(
    surface: float, margin: float, open_: bool
) -> None:
    conditions = Conditions(20, surface, 70)
    breaches = gate(conditions, ApplicationLimits(dew_point_margin=margin))
    assert (not breaches) is open_
    if surface == 17.3:
        assert dew_point_margin(conditions) == pytest.approx(2.94, abs=0.005)


def test_every_broken_limit_is_named_with_its_figures() -> None:
    limits = ApplicationLimits(
        air_minimum=10, surface_minimum=12, humidity_maximum=85, air_maximum=30, surface_maximum=30
    )
    breaches = gate(Conditions(8, 7, 90), limits)
    assert [(breach.condition, breach.actual, breach.limit) for breach in breaches[:3]] == [
        ("air_too_cold", 8, 10),
        ("surface_too_cold", 7, 12),
        ("humidity_too_high", 90, 85),
    ]
    assert breaches[3].condition == "surface_too_near_dew_point"
    assert len(breaches) == 4
    hot = gate(Conditions(35, 36, 30), limits)
    assert [breach.condition for breach in hot] == ["air_too_warm", "surface_too_warm"]


@pytest.mark.parametrize("humidity", [0, 5e-324])
def test_dry_air_cannot_condense(humidity: float) -> None:
    assert gate(Conditions(20, 5, humidity), ApplicationLimits()) == ()


limit_sets = st.builds(
    ApplicationLimits,
    air_minimum=st.floats(0, 15),
    air_maximum=st.floats(20, 40),
    surface_minimum=st.floats(0, 15),
    surface_maximum=st.floats(20, 40),
    humidity_maximum=st.floats(40, 95),
    dew_point_margin=st.sampled_from([MARGIN_3_CELSIUS, MARGIN_5_FAHRENHEIT]),
)


@given(st.builds(Conditions, airs, airs, humidities), limit_sets)
def test_each_opening_meets_the_limit_it_belongs_to(
    conditions: Conditions, limits: ApplicationLimits
) -> None:
    for breach in gate(conditions, limits):
        for opening in breach.opens:
            nudge = 1e-6 if opening.bound == "at_least" else -1e-6
            value = opening.value + nudge
            mended = {
                "air_temperature": Conditions(
                    value, conditions.surface, conditions.relative_humidity
                ),
                "surface_temperature": Conditions(
                    conditions.air, value, conditions.relative_humidity
                ),
                "relative_humidity": Conditions(conditions.air, conditions.surface, value),
            }[opening.measure]
            left = {each.condition for each in gate(mended, limits)}
            assert breach.condition not in left


def test_windows_join_open_steps_and_a_task_waits_for_one_long_enough() -> None:
    limits = ApplicationLimits(air_minimum=10)
    airs_of_day = (12.0, 8.0, 11.0, 12.0, 9.0)
    forecast = [Conditions(air, 30, 50) for air in airs_of_day]
    windows = open_windows([hour * 3_600.0 for hour in range(6)], forecast, limits)
    assert windows == ((0.0, 3_600.0), (7_200.0, 14_400.0))
    assert earliest_open(windows, 0, 3_600) == 0
    assert earliest_open(windows, 1, 3_600) == 7_200
    assert earliest_open(windows, 8_000, 6_400) == 8_000
    assert earliest_open(windows, 8_000, 6_401) is None
    assert earliest_open((), 0, 1) is None
