"""Ramps, pits, drains, pipes and posts: against islands, triangles and hand figures."""

from math import pi
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from takeoff_cases import box, faults_of, measured, rectangle, room

FLOOR = ("floor", "machine_grind", "hand_grind", "field", "cut_in")


@pytest.mark.parametrize(
    "slope",
    [{"percent": 75}, {"rise": "3 m", "run": "4 m"}, {"ratio": 4 / 3}],
)
def test_a_slope_of_3_in_4_is_a_quarter_larger_than_its_plan(slope: dict[str, Any]) -> None:
    # Plane geometry: the 3-4-5 triangle.
    level = room()
    whole = room(slopes=[slope])
    for field in FLOOR:
        assert getattr(whole, field) == pytest.approx(1.25 * getattr(level, field), rel=1e-12)
    part = room(slopes=[{**slope, "plan_area": "20 m2"}])
    assert part.floor == pytest.approx(65)
    assert part.added_by_slope == pytest.approx(5)
    assert part.hand_grind / part.floor == pytest.approx(level.hand_grind / level.floor)


def test_a_ramp_of_1_in_12() -> None:
    # 1:12 is the steepest ramp of the 2010 ADA Standards, section 405.2 (from memory):
    # 12 ft of run take sqrt(145) = 12.0416 ft of floor.
    ramp = {"id": "ramp", "outline": {"kind": "rectangle", "length": "12 ft", "width": "4 ft"}}
    area = measured({**ramp, "slopes": [{"ratio": 12}]}).areas[0]
    assert area.floor == pytest.approx(12.0416 * 4 * 0.3048**2, rel=1e-5)


def test_a_workshop_pit_replaces_its_opening() -> None:
    """A pit of 4 x 1 m and 1.4 m deep with a rebate of 40 mm, and a trench across the room."""
    pits: list[dict[str, Any]] = [
        {"length": "4 m", "width": "1 m", "depth": "1.4 m", "rebate": "40 mm"},
        {"length": "6 m", "width": "200 mm", "depth": "150 mm", "ends": 0},
    ]
    plain, area = room(), room(pits=pits)
    assert area.floor == pytest.approx(60)
    assert area.pit_floor == pytest.approx(4 + 1.2)
    assert area.pit_sides == pytest.approx(10 * 1.36 + 12 * 0.15)
    assert area.vertical == area.pit_sides
    assert area.hand_grind == pytest.approx(plain.hand_grind + 5.2)
    assert area.cut_in == pytest.approx(plain.cut_in + 5.2)
    # Walls, and the heads and feet of the sides.
    assert area.tape_length == pytest.approx(32 + 2 * (10 + 12))
    sides = room(pits=[{**pits[0], "floor_coated": False}])
    assert sides.floor == pytest.approx(56)
    assert sides.hand_grind == pytest.approx(plain.hand_grind)
    assert sides.pit_sides == pytest.approx(13.6)


def test_round_things_by_hand() -> None:
    area = room(
        drains=[{"diameter": "200 mm", "count": 3}],
        collars=[{"diameter": "100 mm", "height": "150 mm", "count": 4}],
        pits=[{"diameter": "600 mm", "depth": "500 mm"}],
    )
    drains, feet = 3 * pi * 0.1**2, 4 * pi * 0.05**2
    assert area.drain_area == pytest.approx(drains)
    assert area.collar_footprint == pytest.approx(feet)
    assert area.floor == pytest.approx(60 - drains - feet)
    assert area.drain_length == pytest.approx(3 * pi * 0.2)
    assert area.open_length == pytest.approx(3 * pi * 0.2)
    assert area.collars == pytest.approx(4 * pi * 0.1 * 0.15)
    assert area.pit_sides == pytest.approx(pi * 0.6 * 0.5)
    # Round each pipe the machine leaves a ring of 100 mm: pi (0.15^2 - 0.05^2).
    rings = 4 * pi * (0.15**2 - 0.05**2)
    assert area.hand_grind == pytest.approx(60 - 9.8 * 5.8 + rings + pi * 0.3**2)
    tape = 32 + 3 * pi * 0.2 + 2 * pi * 0.6 + 2 * 4 * pi * 0.1
    assert area.tape_length == pytest.approx(tape)


@given(width=st.floats(0.05, 1.5), length=st.floats(0.05, 3))
@settings(max_examples=40, deadline=None)
def test_a_drain_is_an_island_whose_edge_is_open(width: float, length: float) -> None:
    size = {"width": f"{width:.9f} m", "length": f"{length:.9f} m"}
    by_size = room(drains=[size])
    drawn = room(islands=[{"outline": box(length, width, 3, 2), "edge": "open"}])
    for field in (*FLOOR, "wall_length", "open_length", "tape_length", "vertical"):
        assert getattr(by_size, field) == pytest.approx(getattr(drawn, field), rel=1e-9), field


@given(side=st.floats(0.05, 1.5))
@settings(max_examples=40, deadline=None)
def test_a_post_is_an_island_with_a_base_wall(side: float) -> None:
    by_size = room(collars=[{"width": f"{side:.9f} m", "height": "150 mm"}])
    drawn = room(
        islands=[{"outline": box(side, side, 3, 2)}],
        base_walls=[{"height": "150 mm", "length": f"{4 * side:.9f} m"}],
    )
    for field in (*FLOOR, "vertical", "tape_length"):
        assert getattr(by_size, field) == pytest.approx(getattr(drawn, field), rel=1e-8), field


@given(data=st.data())
@settings(max_examples=80, deadline=None)
def test_machine_and_hand_make_up_any_floor(data: st.DataObject) -> None:
    def some(**one: st.SearchStrategy[object]) -> list[dict[str, object]]:
        return data.draw(st.lists(st.fixed_dictionaries(one), max_size=3))

    centimetres = st.integers(5, 120).map(lambda size: f"{size} cm")
    area = room(
        drains=some(diameter=centimetres, count=st.integers(1, 3)),
        collars=some(width=centimetres, height=centimetres),
        pits=some(
            width=centimetres,
            length=centimetres,
            depth=centimetres,
            floor_coated=st.booleans(),
        ),
        slopes=some(percent=st.floats(0.1, 100), plan_area=st.just("5 m2")),
        steps=some(
            risers=st.integers(1, 9),
            width=centimetres,
            rise=centimetres,
            going=centimetres,
            treads=st.sampled_from(["added", "in_outline"]),
        ),
    )
    assert area.machine_grind + area.hand_grind == pytest.approx(area.floor, rel=1e-15)
    assert area.field + area.cut_in == pytest.approx(area.floor, rel=1e-15)
    assert min(area.machine_grind, area.hand_grind, area.field, area.cut_in) >= 0
    plan = 60 - area.drain_area - area.collar_footprint
    uncoated = area.traces["floor"].inputs.get("uncoated", 0.0)
    assert uncoated >= 60 - plan - 1e-9
    assert area.floor == pytest.approx(60 - uncoated + area.added_by_slope + area.added_treads)


@example(percent=79.0, length=0.7, drained=False)
@given(percent=st.floats(0.1, 100), length=st.floats(0.5, 9), drained=st.booleans())
@settings(max_examples=100, deadline=None)
def test_a_floor_that_is_all_worked_by_hand_leaves_no_machine(
    percent: float, length: float, drained: bool
) -> None:
    narrow = rectangle(
        f"{length:.6f} m",
        "200 mm",
        slopes=[{"percent": percent}],
        drains=[{"width": "90 mm"}] if drained else [],
    )
    area = measured(narrow).areas[0]
    assert not area.machine_grind
    assert area.hand_grind == area.floor
    assert area.floor > 0


@pytest.mark.parametrize(
    ("details", "expected"),
    [
        ({"slopes": [{}]}, {"/areas/0/slopes/0": "slope-not-stated"}),
        ({"slopes": [{"percent": 2, "ratio": 50}]}, {"/areas/0/slopes/0": "slope-not-stated"}),
        ({"slopes": [{"rise": "1 m"}]}, {"/areas/0/slopes/0/run": "missing-field"}),
        ({"slopes": [{"rise": "2 m", "run": "1 m"}]}, {"/areas/0/slopes/0/rise": "too-steep"}),
        (
            {"slopes": [{"percent": 2}, {"percent": 2, "plan_area": "1 m2"}]},
            {"/areas/0/slopes": "exceeds-floor"},
        ),
        ({"drains": [{}]}, {"/areas/0/drains/0": "shape-not-stated"}),
        (
            {"drains": [{"width": "1 m", "diameter": "1 m"}]},
            {"/areas/0/drains/0": "shape-not-stated"},
        ),
        (
            {"collars": [{"length": "1 m", "diameter": "1 m", "height": "1 m"}]},
            {"/areas/0/collars/0/length": "shape-not-stated"},
        ),
        (
            {"pits": [{"width": "1 m", "depth": "50 mm", "rebate": "50 mm"}]},
            {"/areas/0/pits/0/rebate": "rebate-too-deep"},
        ),
        ({"pits": [{"width": "8 m", "depth": "1 m"}]}, {"/areas/0": "exceeds-floor"}),
        ({"drains": [{"width": "6 m", "length": "10 m"}]}, {"/areas/0": "no-floor-left"}),
    ],
)
def test_floor_parts_that_cannot_be_are_refused(
    details: dict[str, Any], expected: dict[str, str]
) -> None:
    assert faults_of(rectangle(**details)) == expected
