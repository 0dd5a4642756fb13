"""Moisture readings judged by the limits of a system."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.pipeline.readings import exceeds, judged, judgements
from filmbuild.pipeline.specification import MoistureLimits
from filmbuild.pipeline.substrate import MoistureReading
from filmbuild.quantities import MoistureEmission, parse

# 3 lb/(1000 ft2 24 h) is common practice and 75 % relative humidity a public bid specification's
# limit; ASTM F1869 prints 56.51 ug/(s m2) for each pound (from memory).
LIMITS = MoistureLimits(
    emission=parse(MoistureEmission, "3 lb/1000ft2/24h"), relative_humidity_percent=75
)


def emission(pounds: float) -> MoistureReading:
    return MoistureReading(emission=parse(MoistureEmission, f"{pounds} lb/1000ft2/24h"))


def humidity(percent: float) -> MoistureReading:
    return MoistureReading(relative_humidity_percent=percent)


def test_one_reading_above_the_limit_fails_a_floor_whose_mean_is_below() -> None:
    readings = [emission(2), emission(4), emission(2.4), humidity(70), humidity(74)]
    by_emission, by_humidity = judgements(readings, LIMITS)
    assert by_emission.method == "ASTM F1869"
    assert (by_emission.count, by_emission.over) == (3, (1,))
    assert by_emission.mean == pytest.approx(2.8 * 56.51e-9, rel=1e-4)
    assert (by_emission.exceeds, by_emission.mean_exceeds) == (True, False)
    assert by_humidity.method == "ASTM F2170"
    assert (by_humidity.mean, by_humidity.highest, by_humidity.exceeds) == (72, 74, False)
    assert exceeds(readings, LIMITS)


def test_a_reading_at_the_limit_is_within_it() -> None:
    assert not exceeds([emission(3), humidity(75)], LIMITS)
    assert exceeds([humidity(75.1)], LIMITS)


def test_a_limit_that_is_not_stated_is_never_exceeded() -> None:
    (judged,) = judgements([humidity(99)], MoistureLimits())
    assert (judged.limit, judged.exceeds, judged.mean_exceeds) == (None, False, False)
    assert judgements([], LIMITS) == ()


@given(st.lists(st.floats(0, 100), min_size=1, max_size=20))
def test_a_mean_above_the_limit_never_goes_without_a_reading_above_it(
    percents: list[float],
) -> None:
    (judged,) = judgements([humidity(one) for one in percents], LIMITS)
    assert judged.exceeds == (max(percents) > 75)
    if judged.mean > 75 * (1 + 1e-12):
        assert judged.exceeds


def test_the_judgement_is_told_once_for_areas_that_share_their_readings() -> None:
    wet, dry = (emission(1), emission(4), humidity(70)), (humidity(70),)
    notes = list(
        judged([("hall", wet), ("store", dry), ("lobby", wet), ("porch", ())], LIMITS, "us")
    )
    assert [one.detail for one in notes] == [
        (
            "hall, lobby: ASTM F1869, 2 read, mean 2.5 lb/1000ft2/24h, highest 4 lb/1000ft2/24h; "
            "1 above the system's limit of 3 lb/1000ft2/24h, the mean is not, but each one counts."
        ),
        (
            "hall, lobby: ASTM F2170, 1 read, mean 70 %, highest 70 %; none is above the system's "
            "limit of 75 %."
        ),
        (
            "store: ASTM F2170, 1 read, mean 70 %, highest 70 %; none is above the system's limit of "
            "75 %."
        ),
    ]
    unlimited = MoistureLimits()
    (note,) = judged([("store", dry)], unlimited, "us")
    assert "states no limit" in note.detail
