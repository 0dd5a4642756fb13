"""Coats that do not fit into a shift, and mixes that do not fit into their working life."""

import math

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from labour_cases import BODY, HOUR, PRODUCTIONS, TOP, Case, area_rate, floors_only, replaced
from materials_cases import production

from filmbuild.errors import Infeasible, InvalidInput
from filmbuild.pipeline.job import Conditions, WorkCalendar
from filmbuild.pipeline.results import Coat, Mix
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Area, Duration, Temperature, Volume


def refused(case: Case) -> list[tuple[str, str, str]]:
    with pytest.raises(Infeasible) as raised:
        case.labour()
    return [(one.code, one.pointer, one.detail) for one in raised.value.faults]


@given(st.floats(401.0, 1_200.0))
def test_the_smallest_crew_that_places_the_coat_in_a_shift_is_named(size: float) -> None:
    """Two people place 50 m2 an hour and a shift has 8 hours; three gangs at most."""
    gangs = math.ceil(size / 400.0)
    faults = refused(floors_only(size))
    assert [(code, pointer) for code, pointer, _ in faults] == [
        ("coat-longer-than-shift", "/job/crew")
    ] * 2
    assert all(detail.endswith(f"is {2 * gangs}") for _, _, detail in faults)
    assert floors_only(size).people(2 * gangs).labour().crew == 2 * gangs
    assert refused(floors_only(size).people(2 * gangs - 1))


def test_where_no_crew_is_enough_the_floor_is_to_be_divided() -> None:
    (_, _, detail), _ = refused(floors_only(1_300.0).people(20))
    assert "divide the floor" in detail


def test_a_longer_shift_helps_as_well() -> None:
    assert floors_only(450.0, calendar=WorkCalendar(shift_end="17:00")).labour().shifts == 3


@pytest.mark.parametrize(
    ("calendar", "code"),
    [
        (WorkCalendar(shift_start="16:00", shift_end="15:00"), "shift-too-long"),
        (WorkCalendar(shift_start="08:00", shift_end="08:00"), "shift-end-not-after-start"),
        (WorkCalendar(shift_start="00:00", shift_end="23:30"), "shift-too-long"),
    ],
)
def test_a_shift_ends_within_22_hours(calendar: WorkCalendar, code: str) -> None:
    with pytest.raises(InvalidInput) as raised:
        Case(calendar=calendar).labour()
    assert [(one.code, one.pointer) for one in raised.value.faults] == [
        (code, "/job/calendar/shift_end")
    ]


def mixed_for(gangs: int, life: float) -> Coat:
    """One mix of a working life [h] for 100 m2, planned for so many gangs at 50 m2/h each."""
    mix = Mix(
        number=1,
        whole_kit=None,
        volume=Volume(0.02),
        parts=(),
        mixing_time=Duration(0.0),
        starts_at=Duration(0.0),
        down_by=Duration(0.0),
        working_life=Duration(life * HOUR),
        placing_time=Duration(2 * HOUR / gangs),
        covers=Area(100.0),
        areas=("bay",),
    )
    volume = Volume(0.02)
    return Coat(
        layer="body",
        name="Body",
        product=BODY.id,
        kind="body_coat",
        dry_film=None,
        wet_film=None,
        spread_rate=None,
        floor=Area(100.0),
        vertical=Area(0.0),
        film_volume=volume,
        texture_volume=Volume(0.0),
        absorption_volume=Volume(0.0),
        grain_volume=Volume(0.0),
        void_volume=Volume(0.0),
        net_volume=volume,
        loss_fraction=0.0,
        residue=Volume(0.0),
        soak=Volume(0.0),
        ordered_volume=volume,
        parts=(),
        mixes=(mix,),
        traces={"mixes": Trace("materials.mix-plan", {"gangs": gangs})},
    )


def test_mixes_planned_for_more_people_would_set_before_they_are_placed() -> None:
    case = floors_only(100.0, coats=(mixed_for(2, life=1.0),))
    ((code, pointer, detail),) = refused(case)
    assert (code, pointer) == ("mix-outlives-working-life", "/job/crew")
    assert detail.endswith("is 4")
    assert case.people(4).labour().crew == 4


def test_a_factor_that_makes_mixes_too_slow_is_noted() -> None:
    slow = production("place_field", workers=2, area_rate=area_rate(50), factors={"cold": 1.2})
    case = floors_only(
        100.0,
        coats=(mixed_for(1, life=2.0),),
        productions=replaced(PRODUCTIONS, slow),
        conditions=Conditions(surface_temperature=Temperature(10.0)),
    )
    notes: list[Note] = []
    case.labour(notes)
    assert "mixes-too-large-for-conditions" in {note.code for note in notes}


def test_a_surface_on_which_nothing_cures_is_refused() -> None:
    case = floors_only(50.0, conditions=Conditions(surface_temperature=Temperature(-150.0)))
    found = refused(case)
    assert {code for code, _, _ in found} == {"cures-too-slowly"}
    assert {pointer for _, pointer, _ in found} == {"/job/conditions/surface_temperature"}
    assert all(product.id in str(found) for product in (BODY, TOP))


def test_times_outside_the_table_follow_the_product_s_rule_and_say_so() -> None:
    """Halving for each 10 K warmer (common practice, no source): 12 h at 20 degC are 6 at 30."""
    notes: list[Note] = []
    case = floors_only(50.0, conditions=Conditions(surface_temperature=Temperature(30.0)))
    labour = case.labour(notes)
    cure = next(one.cure for one in labour.activities if one.id == "coat:body")
    assert cure is not None
    assert cure.recoat_after / HOUR == pytest.approx(6.0)
    assert cure.recoat_before is not None
    assert cure.recoat_before / HOUR == pytest.approx(36.0)
    assert cure.how == "halving"
    outside = [note.detail for note in notes if note.code == "cure-outside-table"]
    assert [detail for detail in outside if "quay-body" in detail]


def test_a_time_that_is_not_stated_comes_from_the_next_later_stage() -> None:
    silent = msgspec.structs.replace(BODY, recoat=(), foot_traffic=())
    notes: list[Note] = []
    labour = floors_only(50.0, products=(silent, TOP)).labour(notes)
    cure = next(one.cure for one in labour.activities if one.id == "coat:body")
    assert cure is not None
    assert (cure.recoat_after / HOUR, cure.recoat_before) == (48.0, None)
    assert "cure-time-not-stated" in {note.code for note in notes}


def test_mixes_that_the_shift_limits_are_not_said_to_outlive_their_product() -> None:
    coat = mixed_for(2, life=1.0)
    trace = Trace("materials.mix-plan", {"working_life_rule": "shift"})
    capped = msgspec.structs.replace(coat, traces={"mixes": trace})
    ((_, _, detail),) = refused(floors_only(100.0, coats=(capped,)))
    assert "within the shift" in detail
    assert "working life" not in detail
    ((_, _, detail),) = refused(floors_only(100.0, coats=(coat,)))
    assert "within their working life" in detail
