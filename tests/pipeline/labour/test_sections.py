"""A floor that is too large to be coated in one shift: where it is divided, and what follows."""

from datetime import timedelta
from itertools import pairwise

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from labour_cases import BODY, HOUR, MONDAY, Case, floors_only
from materials_cases import area, layer
from schedule_verifier import faults_of

from filmbuild.errors import Infeasible
from filmbuild.pipeline.job import Weekday, WorkCalendar
from filmbuild.pipeline.labour.sections import crossing_joints
from filmbuild.pipeline.results import AreaTakeoff, EdgeRun, Labour
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import Length


def rooms(*sizes: float) -> Case:
    """A row of rooms; two people place 50 m2 an hour, and a shift has 8 hours: 400 m2."""
    found = tuple(area(f"room-{n}", size, order=n) for n, size in enumerate(sizes, 1))
    return floors_only(1.0).but(areas=found)


def divided(labour: Labour) -> list[tuple[str, ...]]:
    return [one.areas for one in labour.sections]


def test_a_floor_that_fits_a_shift_is_not_divided() -> None:
    labour = rooms(200.0, 200.0).labour()
    assert labour.sections == ()
    assert [one.id for one in labour.activities if one.cure] == ["coat:body", "coat:top"]


def test_consecutive_areas_are_coated_as_far_as_a_shift_goes() -> None:
    labour = rooms(200.0, 150.0, 100.0, 300.0).labour()
    assert divided(labour) == [("room-1", "room-2"), ("room-3", "room-4")]
    assert [one.floor for one in labour.sections] == [350.0, 400.0]
    assert [one.longest / HOUR for one in labour.sections] == pytest.approx([7.0, 8.0])
    coats = {one.id: one for one in labour.activities if one.cure}
    assert list(coats) == ["coat:body/1", "coat:body/2", "coat:top/1", "coat:top/2"]
    assert coats["coat:body/2"].duration / HOUR == pytest.approx(8.0)


def test_areas_are_taken_in_placing_order() -> None:
    case = rooms(300.0, 300.0, 100.0)
    last_first = tuple(
        msgspec.structs.replace(one, placing_order=order)
        for one, order in zip(case.areas, (3, 1, 2), strict=True)
    )
    assert divided(case.but(areas=last_first).labour()) == [("room-2", "room-3"), ("room-1",)]


def test_a_section_waits_for_its_own_coat_below_and_not_for_its_neighbour() -> None:
    coats = {one.id: one for one in rooms(400.0, 400.0).labour().activities if one.cure}
    assert coats["coat:body/2"].after == coats["coat:body/1"].after == ("set_up",)
    assert coats["coat:top/1"].after == ("coat:body/1",)
    assert coats["coat:top/2"].after == ("coat:body/2",)


def test_the_sections_of_a_coat_come_on_days_that_follow_one_another() -> None:
    """An hour of set-up leaves no whole shift on Monday; each coat then fills one."""
    case = rooms(400.0, 400.0)
    days = {one.activity: one.start.date() for one in case.schedule().activities}
    coats = ["coat:body/1", "coat:body/2", "coat:top/1", "coat:top/2"]
    assert [(days[one] - MONDAY).days for one in coats] == [1, 2, 3, 4]


def connected(*sizes: float) -> Case:
    case = rooms(*sizes)
    first, second, *others = case.areas
    doorway = EdgeRun(
        side=0,
        kind="joined",
        offset=Length(0.0),
        length=Length(1.0),
        into=second.id,
        doorway="hatch",
    )
    edge = EdgeRun(side=1, kind="joined", offset=Length(0.0), length=Length(4.0), into=others[0].id)
    return case.but(
        areas=(
            msgspec.structs.replace(first, runs=(doorway,)),
            msgspec.structs.replace(second, runs=(edge,)),
            *others,
        )
    )


def test_it_is_said_where_a_section_ends() -> None:
    sections = connected(400.0, 400.0, 400.0, 400.0).people(2).labour().sections
    assert [one.ends_at for one in sections] == [
        "doorway hatch between room-1 and room-2",
        "the edge between room-2 and room-3",
        "the walls of room-3: no floor runs on from here",
        "the end of the floor",
    ]


def jointed(floor: float, joints: float) -> AreaTakeoff:
    """A square bay with joints."""
    side = floor**0.5
    return area("bay", floor, wall_length=4 * side, honoured_joint_length=joints * side)


def test_one_area_is_divided_along_joints_that_run_across_it() -> None:
    notes: list[Note] = []
    labour = floors_only(1.0).but(areas=(jointed(900.0, 2.0),)).labour(notes)
    assert divided(labour) == [("bay",)] * 3
    assert [one.shares for one in labour.sections] == [(1 / 3,)] * 3
    assert "a joint across bay" in labour.sections[0].ends_at
    said = {note.code: note.detail for note in notes}
    assert "smallest crew that does without sections is 6" in said["floor-in-sections"]
    assert "section-joints-to-be-found" in said


def test_an_area_without_joints_is_not_divided() -> None:
    with pytest.raises(Infeasible) as raised:
        floors_only(1.0).but(areas=(jointed(900.0, 1.9),)).labour()
    assert {fault.code for fault in raised.value.faults} == {"coat-longer-than-shift"}


@pytest.mark.parametrize(("length", "width"), [(30.0, 10.0), (10.0, 10.0), (40.0, 2.5)])
def test_joints_cross_a_rectangle_at_its_narrow_side(length: float, width: float) -> None:
    bay = area("bay", length * width, wall_length=2 * (length + width), joint_length=3.5 * width)
    assert crossing_joints(bay) == 3


def test_set_up_is_spent_in_each_section() -> None:
    field = next(one for one in floors_only(1.0).productions if one.task == "place_field")
    slow = msgspec.structs.replace(field, set_up=type(field.set_up)(HOUR))
    case = rooms(300.0, 300.0)
    case = case.but(
        productions=(*(one for one in case.productions if one.task != "place_field"), slow)
    )
    coats = [one for one in case.labour().activities if one.cure]
    assert [one.duration / HOUR for one in coats] == pytest.approx([7.0] * 4)


def test_a_section_that_misses_its_recoat_window_is_abraded_alone() -> None:
    """On a week of Mondays and Thursdays, 72 h after Monday's coat, but not after Thursday's."""
    calendar = WorkCalendar(working_days=("mon", "thu"))
    case = rooms(400.0, 400.0).but(calendar=calendar)
    case = case.layers(layer(BODY, "body"), layer(BODY, "second"))
    schedule = case.schedule()
    abraded = [one for one in schedule.tasks if one.code == "abrade"]
    assert {one.id for one in abraded} <= {"abrade:coat:second/1", "abrade:coat:second/2"}
    assert abraded
    assert {one.quantity for one in abraded} == {400.0}


sizes = st.lists(st.floats(20.0, 390.0), min_size=2, max_size=12)


@settings(max_examples=60, deadline=None)
@given(sizes, st.integers(1, 3))
def test_every_section_fits_and_no_division_has_fewer(floors: list[float], gangs: int) -> None:
    """Against the fewest groups of all divisions, found by trying each end in turn."""
    labour = rooms(*floors).people(2 * gangs).labour()
    room = 400.0 * gangs
    fewest = [0]
    for end in range(1, len(floors) + 1):
        starts = [s for s in range(end) if sum(floors[s:end]) <= room * (1 + 1e-9)]
        fewest.append(1 + min(fewest[start] for start in starts))
    assert max(len(labour.sections), 1) == fewest[-1]
    assert all(one.duration <= 8 * HOUR + 1e-3 for one in labour.activities if one.one_shift)
    if labour.sections:
        assert [name for one in labour.sections for name in one.areas] == [
            f"room-{n}" for n in range(1, len(floors) + 1)
        ]
        assert sum(one.floor for one in labour.sections) == pytest.approx(sum(floors))
        assert labour.productive == pytest.approx(sum(one.labour for one in labour.tasks), abs=1e-3)


@settings(max_examples=60, deadline=None)
@given(sizes, st.integers(1, 4), st.integers(8, 12))
def test_more_people_and_longer_shifts_never_need_more_sections(
    floors: list[float], gangs: int, hours: int
) -> None:
    def count(people: int, shift: int) -> int:
        calendar = WorkCalendar(shift_start="06:00", shift_end=f"{6 + shift:02}:00")
        return max(len(rooms(*floors).but(calendar=calendar).people(people).labour().sections), 1)

    plain = count(2 * gangs, hours)
    assert count(2 * gangs + 2, hours) <= plain
    assert count(2 * gangs, hours + 1) <= plain


@settings(max_examples=25, deadline=None)
@given(sizes, st.integers(1, 2), st.sampled_from([("mon", "tue", "wed", "thu", "fri"), ("tue",)]))
def test_dates_of_sections_keep_crew_shifts_and_cure(
    floors: list[float], gangs: int, days: tuple[Weekday, ...]
) -> None:
    """One crew, one place at a time; each section's coat on a cured one, in a shift of its own."""
    calendar = WorkCalendar(working_days=days)
    case = rooms(*floors).people(2 * gangs).but(calendar=calendar)
    labour = case.labour()
    schedule = case.schedule(labour)
    assert faults_of(case, labour, schedule) == []
    moments = {one.activity: one for one in schedule.activities}
    ordered = sorted(schedule.activities, key=lambda one: one.start)
    assert all(
        before.finish <= after.start + timedelta(milliseconds=2)
        for before, after in pairwise(ordered)
    )
    for one in labour.activities:
        if one.cure and one.layer == "top":
            below = moments[one.id.replace("top", "body")]
            waited = moments[one.id].start - below.finish
            assert waited >= timedelta(hours=12) - timedelta(milliseconds=2)
            assert moments[one.id].start.date() == moments[one.id].finish.date()


@settings(max_examples=40, deadline=None)
@given(sizes, st.integers(1, 3))
def test_with_the_same_sections_more_people_never_end_later(
    floors: list[float], gangs: int
) -> None:
    few, more = (rooms(*floors).people(2 * count) for count in (gangs, gangs + 1))
    one, other = few.labour(), more.labour()
    if divided(one) == divided(other):
        assert more.schedule(other).last_day <= few.schedule(one).last_day
        ends = [
            max(act.finish for act in plan.activities) for plan in (more.schedule(), few.schedule())
        ]
        assert ends[0] <= ends[1] + timedelta(milliseconds=2)


def test_a_floor_of_too_many_sections_is_refused() -> None:
    """Two coats in 61 sections each are more than 120."""
    assert len(rooms(*[390.0] * 60).labour().sections) == 60
    with pytest.raises(Infeasible) as raised:
        rooms(*[390.0] * 61).labour()
    assert {fault.code for fault in raised.value.faults} == {"coat-longer-than-shift"}
