"""Quantities: what is read, what is refused, and that both unit systems tell the same."""

import math
from contextlib import suppress

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.quantities import (
    Area,
    AreaRate,
    Coordinate,
    Density,
    Dimension,
    Duration,
    Hours,
    Length,
    Mass,
    MassPerArea,
    MoistureEmission,
    PositiveLength,
    Quantity,
    QuantityError,
    SmallVolume,
    SpreadRate,
    Temperature,
    TemperatureDifference,
    Thickness,
    UnitSystem,
    Volume,
    VolumeRate,
    all_kinds,
    dec_hook,
    encoder,
    format_text,
    iso_duration,
    parse,
    schema_hook,
    to_unit,
    units,
    warm,
)

warm()

SYSTEMS: tuple[UnitSystem, ...] = ("us", "si")


class Holder(msgspec.Struct, frozen=True):
    value: Length
    time: Duration


@pytest.mark.parametrize(
    ("kind", "text", "si"),
    [
        # 1 in = 25.4 mm exactly: NIST Special Publication 811 appendix B
        (Length, "24 ft 6 in", 7.4676),
        (Length, "24' 6\"", 7.4676),
        (Length, "24'-6 1/2\"", 7.4803),
        (Length, "24 ft 6 1/2 in", 7.4803),
        (Length, "24 feet 6 inches", 7.4676),
        (Length, "12 yd", 10.9728),
        (Length, "7.5 m", 7.5),
        (Coordinate, "-2 ft 6 in", -0.762),
        (Dimension, "1/2 in", 0.0127),
        (Dimension, '3/8"', 0.009525),
        # 1 mil = 25.4 um exactly: NIST Special Publication 811 appendix B
        (Thickness, "12 mil", 304.8e-6),
        (Thickness, "12 mils", 304.8e-6),
        (Thickness, "350 um", 350e-6),
        (Thickness, "350 \N{MICRO SIGN}m", 350e-6),
        (Thickness, "350 \N{GREEK SMALL LETTER MU}m", 350e-6),
        (Thickness, "350 microns", 350e-6),
        # 1 ft2 = 0.09290304 m2 exactly: NIST Special Publication 811 appendix B
        (Area, "100 ft2", 9.290304),
        (Area, "100 sq ft", 9.290304),
        (Area, "100 ft^2", 9.290304),
        (Area, "100 ft²", 9.290304),
        # 1 US gallon = 231 in3 exactly: NIST Handbook 44 appendix C, from memory
        (Volume, "1 gal", 3.785411784e-3),
        (Volume, "1 gal 2 qt", 1.5 * 3.785411784e-3),
        (SmallVolume, "128 fl oz", 3.785411784e-3),
        # 9/5 and 32 exactly: NIST Special Publication 811 appendix B
        (Temperature, "212 degF", 100.0),
        (Temperature, "-40 °F", -40.0),
        (Temperature, "0 K", -273.15),
        (TemperatureDifference, "9 degF", 5.0),
        (Hours, "1 h 30 min", 5400.0),
        (Duration, "PT4H30M", 16_200.0),
        (Duration, "P7D", 604_800.0),
        (Duration, "P1W", 604_800.0),
        (Duration, "P1DT0.5S", 86_400.5),
    ],
)
def test_text_is_read_exactly(kind: type[Quantity], text: str, si: float) -> None:
    assert parse(kind, text) == pytest.approx(si, rel=2e-16, abs=0)


@pytest.mark.parametrize(
    ("kind", "text", "si", "digits"),
    [
        # ASTM F1869 prints 1 lb/(1000 ft2 24 h) = 56.51 ug/(s m2), from memory
        (MoistureEmission, "1 lb/1000ft2/24h", 56.51e-9, 4),
        (MoistureEmission, "1 lb/1000 ft2/24 h", 56.51e-9, 4),
        # NIST Special Publication 811 appendix B.8, to the digits of that table, from memory
        (Density, "1 lb/gal", 119.8264, 7),
        (MassPerArea, "1 lb/ft2", 4.882428, 7),
        (MassPerArea, "1 lb/yd2", 0.542492, 6),
        # Ohio DOT CMS 2010 item 512.03 G prints 2.9 m2/L, truncated, for 120 ft2/gal
        (SpreadRate, "120 ft2/gal", 2945.0, 4),
        # 0.3048^2 m2 in 3600 s
        (AreaRate, "400 sq ft/hr", 400 * 0.09290304 / 3600, 15),
        (VolumeRate, "1 gal/min", 6.309020e-5, 7),
    ],
)
def test_compound_units_agree_with_published_factors(
    kind: type[Quantity], text: str, si: float, digits: int
) -> None:
    assert parse(kind, text) == pytest.approx(si, rel=0.5 * 10 ** (1 - digits))


@pytest.mark.parametrize(
    ("kind", "value", "code"),
    [
        (Length, 12, "missing-unit"),
        (Length, 12.5, "missing-unit"),
        (Length, "12", "missing-unit"),
        (Length, True, "not-a-quantity"),
        (Length, None, "not-a-quantity"),
        (Length, [], "not-a-quantity"),
        (Length, "", "not-a-quantity"),
        (Length, " ", "not-a-quantity"),
        (Length, "ft", "not-a-quantity"),
        (Length, "12,5 m", "decimal-comma"),
        (Length, "1,200 ft", "decimal-comma"),
        (Length, "3 kg", "wrong-dimension"),
        (Length, "3 furlongs", "unknown-unit"),
        (Length, "1 m**9**9**9", "unknown-unit"),
        (Length, "1 ft 2 kg", "wrong-dimension"),
        (Length, "24 ft 12 in", "part-too-large"),
        (Length, "24 ft 13 in", "part-too-large"),
        (Length, "24 ft 12 1/2 in", "part-too-large"),
        (Length, "2 m 150 cm", "part-too-large"),
        (Mass, "3 lb 16 oz", "part-too-large"),
        (Length, "6 in 24 ft", "not-a-quantity"),
        (Length, "1 ft 2 ft", "not-a-quantity"),
        (Length, "24.5 ft 6 in", "not-a-quantity"),
        (Length, "24 ft -6 in", "not-a-quantity"),
        (Length, "1/0 in", "not-a-quantity"),
        (Length, "-1 m", "negative"),
        (PositiveLength, "0 m", "not-positive"),
        (PositiveLength, "-0 m", "not-positive"),
        (PositiveLength, "1e-300 m", "too-small"),
        (Length, "1e300 m", "too-large"),
        (Length, "1e999 m", "too-large"),
        (Length, "9" * 70 + " m", "too-long"),
        (Thickness, "2 m", "too-large"),
        (SmallVolume, "12 oz", "wrong-dimension"),
        (Temperature, "-500 degF", "too-small"),
        (Temperature, "1 degF 2 degF", "not-a-quantity"),
        (Temperature, "5 delta_degF", "wrong-dimension"),
        (Length, {"value": 1}, "not-a-quantity"),
        (Length, {"value": 1, "unit": "ft", "note": ""}, "not-a-quantity"),
        (Length, {"value": 1, "units": "ft"}, "not-a-quantity"),
        (Length, {"value": True, "unit": "ft"}, "not-a-number"),
        (Length, {"value": "1", "unit": "ft"}, "not-a-number"),
        (Length, {"value": None, "unit": "ft"}, "not-a-number"),
        (Length, {"value": 1, "unit": 1}, "unknown-unit"),
        (Length, {"value": 1, "unit": ""}, "unknown-unit"),
        (Length, {"value": 1, "unit": "kg"}, "wrong-dimension"),
        (Length, {"value": math.nan, "unit": "ft"}, "not-finite"),
        (Length, {"value": -math.inf, "unit": "ft"}, "not-finite"),
        (Length, {"value": 1.7e308, "unit": "ft"}, "too-large"),
        (Length, {"value": 10**400, "unit": "ft"}, "too-large"),
        (Duration, "4 h", "not-a-duration"),
        (Duration, "P1Y", "not-a-duration"),
        (Duration, "P1M", "not-a-duration"),
        (Duration, "P", "not-a-duration"),
        (Duration, "PT", "not-a-duration"),
        (Duration, "-P1D", "not-a-duration"),
        (Duration, {"value": 4, "unit": "h"}, "not-a-quantity"),
        (Duration, 3600, "missing-unit"),
    ],
)
def test_what_is_not_clear_is_refused(kind: type[Quantity], value: object, code: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse(kind, value)
    assert caught.value.code == code


def test_a_refusal_says_what_would_be_accepted() -> None:
    with pytest.raises(QuantityError, match=r'"kg" is a unit of mass, not length; .*ft, in, yd'):
        parse(Length, "3 kg")
    with pytest.raises(QuantityError, match="24 ft 6 in"):
        parse(Length, 3)


def test_minus_zero_is_read_as_zero() -> None:
    assert math.copysign(1, parse(Length, "-0 m")) == 1
    assert math.copysign(1, parse(Coordinate, {"value": -0.0, "unit": "m"})) == 1


def _sizes(kind: type[Quantity]) -> st.SearchStrategy[float]:
    """Inside the limits, by more than the rounding of what is written."""
    measure = kind.measure
    lower = measure.minimum * 0.999 if measure.minimum < 0 else max(measure.smallest * 1.001, 1e-14)
    return st.floats(lower, measure.maximum * 0.999)


@pytest.mark.parametrize("kind", all_kinds())
@given(data=st.data())
def test_what_is_written_is_read_back_in_either_system(
    kind: type[Quantity], data: st.DataObject
) -> None:
    quantity = kind(data.draw(_sizes(kind)))
    for system in SYSTEMS:
        written = msgspec.json.decode(encoder(system).encode(quantity))
        read = parse(kind, written)
        tolerance = 5.1e-4 if issubclass(kind, Duration) else 1e-9
        assert read == pytest.approx(quantity, rel=1e-9, abs=tolerance)


@given(st.integers(0, 3000), st.integers(0, 11), st.integers(1, 64), st.sampled_from([2, 8, 64]))
def test_feet_and_inches_are_the_sum_of_their_parts(
    feet: int, inches: int, over: int, under: int
) -> None:
    text = f"{feet} ft {inches} {over}/{under} in"
    if inches + over / under >= 12:
        with pytest.raises(QuantityError):
            parse(Length, text)
        return
    expected = (feet * 12 + inches + over / under) * 0.0254
    assert parse(Length, text) == pytest.approx(expected, rel=1e-14)


@given(st.floats(0, 30_000))
def test_a_length_for_reading_is_within_a_sixteenth_of_an_inch(meters: float) -> None:
    assert parse(Length, format_text(Length(meters), "us")) == pytest.approx(
        meters, abs=0.0254 / 16 + 1e-9
    )


@pytest.mark.parametrize(
    ("quantity", "system", "text"),
    [
        (Length(7.4676), "us", "24 ft 6 in"),
        (Length(0.1524), "us", "6 in"),
        (Length(0.003175), "us", "1/8 in"),
        (Length(0.0), "us", "0 in"),
        (Length(7.3152), "us", "24 ft"),
        (Length(7.315199999), "us", "24 ft"),
        (Coordinate(-0.762), "us", "-2 ft 6 in"),
        (Area(212.4), "si", "212.4 m2"),
        (Thickness(304.8e-6), "us", "12 mil"),
        (Temperature(21.111111), "us", "70 degF"),
        (TemperatureDifference(3.0), "si", "3 degC"),
        (Duration(93_600.0), "si", "1 d 2 h"),
        (Duration(0.0), "us", "0 min"),
    ],
)
def test_text_for_reading(quantity: Quantity, system: UnitSystem, text: str) -> None:
    assert format_text(quantity, system) == text


@pytest.mark.parametrize(
    ("seconds", "text"),
    [
        (0, "PT0S"),
        (93_600, "P1DT2H"),
        (604_800, "P7D"),
        (5_400, "PT1H30M"),
        (59.9996, "PT1M"),
        (1.25, "PT1.25S"),
    ],
)
def test_durations_are_written_one_way(seconds: float, text: str) -> None:
    assert iso_duration(seconds) == text


@given(st.integers(0, 10**12))
def test_durations_come_back_to_the_millisecond(milliseconds: int) -> None:
    seconds = milliseconds / 1000
    assert parse(Duration, iso_duration(seconds)) == pytest.approx(seconds, rel=1e-12)


def test_an_answer_carries_no_float_noise() -> None:
    holder = Holder(Length(24 * 0.3048), Duration(3600.0))
    assert encoder("us").encode(holder) == b'{"value":{"value":24.0,"unit":"ft"},"time":"PT1H"}'
    assert to_unit(Length(-0.0), "si") == (0.0, "m")
    assert b"-0.0" not in encoder("us").encode(Coordinate(-0.0))
    assert to_unit(Temperature(-160 / 9), "us") == (0.0, "degF")
    assert to_unit(Coordinate(0.1 + 0.2 - 0.3), "us") == (0.0, "ft")


@pytest.mark.parametrize("size", [math.nan, math.inf])
@pytest.mark.parametrize("kind", [Area, Temperature, Duration])
def test_what_is_not_finite_is_never_written(kind: type[Quantity], size: float) -> None:
    with pytest.raises((ValueError, OverflowError)):
        encoder("si").encode(kind(size))


READ_BACK = [
    kind
    for kind in all_kinds()
    if kind.measure.smallest and not kind.measure.positive and not issubclass(kind, Duration)
]


@pytest.mark.parametrize("system", ["us", "si"])
@pytest.mark.parametrize("kind", READ_BACK)
@pytest.mark.parametrize("part", [1e-3, 0.999, 1.001])
def test_what_is_too_small_to_be_read_back_is_written_as_nothing(
    kind: type[Quantity], part: float, system: UnitSystem
) -> None:
    """Differences of figures leave such remainders."""
    size = kind.measure.smallest * part
    read = dec_hook(kind, msgspec.json.decode(encoder(system).encode(kind(size))))
    assert read == pytest.approx(size if part > 1 else 0.0, abs=size / 1000)


def test_msgspec_reads_quantities_in_structs() -> None:
    body = b'{"value": "24 ft 6 in", "time": "P1D"}'
    holder = msgspec.json.decode(body, type=Holder, dec_hook=dec_hook)
    assert type(holder.value) is Length
    assert holder == Holder(Length(7.4676), Duration(86_400.0))


def test_building_from_a_float_checks_nothing_and_arithmetic_gives_floats() -> None:
    assert type(Area(2.0) * 3) is float
    assert Length(-1.0) == -1.0


@given(st.text(max_size=80))
def test_no_text_does_more_than_be_refused(text: str) -> None:
    for kind in (Length, Temperature, MoistureEmission, Duration):
        with suppress(QuantityError):
            assert math.isfinite(parse(kind, text))


@given(st.text(alphabet="0123456789 ./-+'\"eftinmlygcu,2", max_size=24))
def test_no_number_and_unit_like_text_does_more_than_be_refused(text: str) -> None:
    with suppress(QuantityError):
        assert parse(Length, text) >= 0


@pytest.mark.parametrize("kind", all_kinds())
def test_schema_examples_are_accepted(kind: type[Quantity]) -> None:
    schema = schema_hook(kind)
    if issubclass(kind, Duration):
        assert all(parse(kind, example) for example in schema["examples"])
        return
    pair, text = schema["anyOf"]
    assert all(parse(kind, example) for example in text["examples"])
    for unit in pair["properties"]["unit"]["enum"]:
        size = 1.0 if unit in {"um", "mil", "kg/m3"} else 0.001
        assert parse(kind, {"value": size, "unit": unit})


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("kind", [Length, Dimension, Thickness, Area, Volume, Hours, Temperature])
def test_the_base_of_all_kinds_reads_what_answers_write(
    kind: type[Quantity], system: UnitSystem
) -> None:
    written = msgspec.json.decode(encoder(system).encode(kind(0.125)))
    read = dec_hook(Quantity, written)
    assert type(read) is kind
    assert read == pytest.approx(0.125, rel=1e-9)


@pytest.mark.parametrize("value", ["12 ft", 3, None, {"value": 1}, {"value": 1, "unit": "acre"}])
def test_the_base_of_all_kinds_reads_nothing_else(value: object) -> None:
    with pytest.raises(QuantityError) as caught:
        dec_hook(Quantity, value)
    assert caught.value.code == "unknown-unit"


def test_spellings_that_are_no_units_are_not_kept_for_good() -> None:
    for number in range(2 * units.MOST_SPELLINGS):
        assert units.find("length", f"made-up-{number}") is None
    assert units.find.cache_info().currsize <= units.MOST_SPELLINGS
