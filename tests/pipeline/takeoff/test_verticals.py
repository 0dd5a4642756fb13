"""Base walls, coves, flights of steps: against drawings, published stairs and hand figures."""

from itertools import accumulate
from math import hypot, pi
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from takeoff_cases import FOOT, INCH, faults_of, rectangle, room

DOORWAY = [{"side": 0, "kind": "open", "offset": "1 m", "length": "2 m"}]


@pytest.mark.parametrize(
    ("wall", "run"),
    [
        ({}, 30.0),
        ({"length": "7 m"}, 7.0),
        ({"side": 0}, 8.0),
        ({"side": 0, "offset": "2 m"}, 7.0),
        ({"side": 0, "offset": "500 mm", "length": "4 m"}, 0.5 + 1.5),
        ({"side": 1}, 6.0),
    ],
)
def test_a_base_wall_follows_the_walls_it_names(wall: dict[str, Any], run: float) -> None:
    area = room(edges=DOORWAY, base_walls=[{"height": "150 mm", **wall}])
    assert area.base_walls == pytest.approx(run * 0.15)
    # Walls, the open edge and the foot of the base wall.
    assert area.tape_length == pytest.approx(30 + 2 + run)


@given(offset=st.floats(0, 9), length=st.floats(0.1, 1), sides=st.permutations(range(4)))
@settings(max_examples=40, deadline=None)
def test_base_walls_side_by_side_are_those_of_the_whole_room(
    offset: float, length: float, sides: list[int]
) -> None:
    edges = [
        {"side": 0, "kind": "joined", "offset": f"{offset:.6f} m", "length": f"{length:.6f} m"}
    ]
    whole = room(edges=edges, base_walls=[{"height": "4 in"}])
    each = room(edges=edges, base_walls=[{"height": "4 in", "side": side} for side in sides])
    assert each.base_walls == pytest.approx(whole.base_walls, rel=1e-12)
    assert each.tape_length == pytest.approx(whole.tape_length, rel=1e-12)


def test_openings_are_taken_off_as_far_as_they_reach() -> None:
    openings = [
        {"width": "500 mm", "height": "100 mm", "count": 2},
        {"width": "1 m", "height": "2 m"},
        {"width": "250 mm"},
    ]
    wall = {"height": "150 mm", "side": 1, "openings": openings}
    area = room(base_walls=[wall])
    assert area.base_walls == pytest.approx(6 * 0.15 - 2 * 0.5 * 0.1 - 0.15 - 0.25 * 0.15)
    assert area.traces["base_walls"].inputs["openings"] == [pytest.approx(0.2875)]


def test_a_cove_with_a_straight_face_above_its_radius() -> None:
    cove = {"radius": "1 in", "height": "6 in"}
    area = room(coves=[cove, {"radius": "25 mm", "side": 1}])
    high = 32 * (pi / 2 * INCH + 5 * INCH)
    assert area.cove_face == pytest.approx(high + 6 * pi / 2 * 0.025)
    assert area.cove_length == pytest.approx(38)
    # The mortar is that of the fillet: r^2 (1 - pi/4), 0.214602 in2 for 1 in.
    fillet = 0.214602 * INCH**2 * 32 + 0.025**2 * (1 - pi / 4) * 6
    assert area.cove_volume == pytest.approx(fillet, rel=1e-5)


def stepped(risers: int, rise: float, going: float) -> list[tuple[float, float]]:
    """The line of a flight seen from the side, from its foot to the nose of its last riser."""
    line = [(0.0, 0.0)]
    for _ in range(risers - 1):
        x, y = line[-1]
        line += [(x, y + rise), (x + going, y + rise)]
    return line


@given(risers=st.integers(2, 30), rise=st.integers(100, 220), going=st.integers(220, 400))
@settings(max_examples=40, deadline=None)
def test_open_sides_agree_with_their_drawing(risers: int, rise: int, going: int) -> None:
    flight = {
        "risers": risers,
        "width": "1 m",
        "rise": f"{rise} mm",
        "going": f"{going} mm",
        "open_sides": 1,
        "coat_open_sides": True,
    }
    line = stepped(risers, rise / 1000, going / 1000)
    end = line[-1][0]
    solid = shapely.Polygon([*line, (end, 0.0)])
    assert room(steps=[flight]).step_sides == pytest.approx(solid.area, rel=1e-9)
    assert room(steps=[{**flight, "open_sides": 2}]).step_sides == pytest.approx(2 * solid.area)
    waist, slope = 0.15, hypot(rise, going) / going
    below = [(end, line[-1][1] - waist * slope), (0.0, -waist * slope)]
    slab = shapely.Polygon([*line, *below])
    area = room(steps=[{**flight, "waist": "150 mm"}])
    assert area.step_sides == pytest.approx(slab.area, rel=1e-9)
    assert area.vertical == pytest.approx(area.risers + area.step_sides)


def test_the_stair_of_the_army_course_with_both_sides_open() -> None:
    # US Army correspondence course EN5156, fig. 2-38: 13 risers of 7 1/4 in and 12 treads of
    # 10 1/2 in; coated per step: width x (tread + riser + nosing).
    flight = {
        "risers": 13,
        "width": "3 ft",
        "rise": "7 1/4 in",
        "going": "10 1/2 in",
        "nosing": "1 in",
        "treads": "added",
        "open_sides": 2,
    }
    area = room(steps=[flight])
    width = 3 * FOOT
    assert area.added_treads == pytest.approx((126 + 12) * INCH * width)
    assert area.risers == pytest.approx(94.25 * INCH * width)
    assert not area.step_sides
    # Walls; head and foot of each riser; on both sides the ends of risers and of added treads.
    sides = 2 * (94.25 + 126) * INCH
    assert area.tape_length == pytest.approx(32 + 26 * width + sides)
    coated = room(steps=[{**flight, "coat_open_sides": True}])
    heights = sum(accumulate([7.25] * 12)) * INCH
    assert coated.step_sides == pytest.approx(2 * heights * 10.5 * INCH)
    assert coated.tape_length == pytest.approx(32 + 26 * width + 2 * 126 * INCH)


@pytest.mark.parametrize(
    ("details", "expected"),
    [
        (
            {"base_walls": [{"height": "1 m", "offset": "1 m"}]},
            {"/areas/0/base_walls/0/offset": "offset-needs-side"},
        ),
        (
            {"base_walls": [{"height": "1 m", "side": 4}]},
            {"/areas/0/base_walls/0/side": "no-such-side"},
        ),
        (
            {"coves": [{"radius": "1 in", "side": 1, "offset": "6 m"}]},
            {"/areas/0/coves/0/offset": "past-end-of-side"},
        ),
        (
            {"coves": [{"radius": "1 in", "side": 1, "offset": "3 m", "length": "4 m"}]},
            {"/areas/0/coves/0/length": "past-end-of-side"},
        ),
        (
            {"base_walls": [{"height": "1 m", "side": 0, "offset": "1 m", "length": "2 m"}]},
            {"/areas/0/base_walls/0/side": "no-wall-there"},
        ),
        (
            {"base_walls": [{"height": "1 m", "side": 1, "openings": [{"width": "7 m"}]}]},
            {"/areas/0/base_walls/0/openings": "openings-exceed-wall"},
        ),
        (
            {"coves": [{"radius": "50 mm", "height": "40 mm"}]},
            {"/areas/0/coves/0/height": "height-below-radius"},
        ),
        (
            {
                "steps": [
                    {"risers": 3, "width": "1 m", "rise": "17 cm", "coat_open_sides": True},
                    {"risers": 3, "width": "1 m", "rise": "17 cm", "treads": "added"},
                ]
            },
            {
                "/areas/0/steps/0/going": "missing-field",
                "/areas/0/steps/0/open_sides": "no-open-side",
                "/areas/0/steps/1/going": "missing-field",
            },
        ),
        (
            {"base_walls": [{"height": "40 m"}]},
            {"/areas/0/base_walls/0/height": "too-large"},
        ),
        (
            {"cracks": [{"length": "1 m", "width": "3 m", "depth": "5 mm"}]},
            {"/areas/0/cracks/0/width": "too-large"},
        ),
    ],
)
def test_verticals_that_cannot_be_are_refused(
    details: dict[str, Any], expected: dict[str, str]
) -> None:
    assert faults_of(rectangle(edges=DOORWAY, **details)) == expected
