"""A washed floor dries in elapsed time before anything is placed on it."""

from datetime import UTC, datetime

import msgspec
import pytest
from labour_cases import HOUR, PRODUCTIONS, Case, area_rate, floor, floors_only, replaced
from materials_cases import production

from filmbuild.pipeline.results import Schedule, Scheduled
from filmbuild.quantities import Duration


def washed(hours: float, square_metres: float = 100.0, **measured: float) -> Case:
    """Set up 1 h, wash 1 h each 100 m2 and dry, mask if there is tape, coat 1 h each 50 m2."""
    case = floors_only(square_metres)
    system = msgspec.structs.replace(
        case.system, preparation=("set_up", "wash", "mask"), layers=case.system.layers[:1]
    )
    wash = production("wash", area_rate=area_rate(100), dry_for=Duration(hours * HOUR))
    return case.but(
        system=system,
        areas=(floor(square_metres, **measured),),
        productions=replaced(PRODUCTIONS, wash),
    )


def one_of(schedule: Schedule, activity: str) -> Scheduled:
    return next(one for one in schedule.activities if one.activity == activity)


def june(day: int, hour: int, minute: int = 0) -> datetime:
    return datetime(2026, 6, day, hour, minute, tzinfo=UTC)


def test_a_coat_waits_until_the_floor_is_dry() -> None:
    # by hand: set up 8 to 9, wash 9 to 10, dry at 14, coat 14 to 16.
    schedule = washed(4.0).schedule()
    coat = one_of(schedule, "coat:body")
    assert one_of(schedule, "wash").finish == june(15, 10)
    assert (coat.start, coat.finish) == (june(15, 14), june(15, 16))
    assert coat.bound_by == "waits for Wash to dry until 2026-06-15 14:00"
    assert coat.trace.inputs["drying"] == pytest.approx(4 * HOUR)


def test_drying_goes_on_overnight() -> None:
    # by hand: dry at 22, so that the coat begins with the next shift.
    assert one_of(washed(12.0).schedule(), "coat:body").start == june(16, 8)


def test_masking_goes_on_while_the_floor_dries() -> None:
    # by hand: 40 m at 40 m/h by two gangs take half an hour, from 10.
    schedule = washed(4.0, tape_length=40.0).schedule()
    mask = one_of(schedule, "mask")
    assert (mask.start, mask.finish) == (june(15, 10), june(15, 10, 30))
    assert one_of(schedule, "coat:body").start == june(15, 14)


def test_crew_hours_are_those_of_the_work_alone() -> None:
    assert washed(4.0).labour().paid == washed(0.0).labour().paid


def test_a_wash_that_dries_at_once_holds_nothing_up() -> None:
    schedule = washed(0.0).schedule()
    assert one_of(schedule, "coat:body").start == june(15, 10)
