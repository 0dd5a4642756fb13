"""Floor that runs on between areas: what they share, and that cutting a floor changes nothing."""

from math import cos, radians, sin
from typing import Any

import pytest
import shapely
from doorway_cases import Measured, doorway, faults_of, polygon, room
from hypothesis import given, settings
from hypothesis import strategies as st

Point = tuple[float, float]


def cut(*rings: list[Point], angle: float = 0.0, **rest: Any) -> Measured:
    """Areas of these outlines, turned by an angle [degrees], all that touch joined."""
    turn_x, turn_y = cos(radians(angle)), sin(radians(angle))
    areas = [
        polygon(
            f"part-{number}", *[(x * turn_x - y * turn_y, x * turn_y + y * turn_x) for x, y in ring]
        )
        for number, ring in enumerate(rings)
    ]
    joins = [
        {"between": [f"part-{first}", f"part-{second}"]}
        for second in range(len(rings))
        for first in range(second)
        if shapely.intersection(
            shapely.Polygon(rings[first]), shapely.Polygon(rings[second])
        ).length
        > 0.01
    ]
    return Measured(*areas, joins=joins, **rest)


def same_but_for_what_is_joined(parts: Measured, whole: Measured) -> None:
    found = parts.sums
    joined = found.pop("joined_length")
    expected = whole.sums
    del expected["joined_length"]
    assert found == pytest.approx(expected, rel=1e-9, abs=1e-9)
    assert joined > 0


def test_two_halves_of_a_hall_share_one_stretch() -> None:
    parts = [room("west", "6 m", "5 m", "0 m"), room("east", "4 m", "5 m", "6 m")]
    found = Measured(*parts, joins=[{"between": ["east", "west"]}])
    assert found.area("west").joined_length == found.area("east").joined_length == pytest.approx(5)
    assert found.area("west").wall_length == pytest.approx(17)
    (run,) = found.area("west").runs
    assert (run.side, run.kind, run.into) == (1, "joined", "east")
    assert (run.offset, run.length) == pytest.approx((0, 5))
    same_but_for_what_is_joined(found, Measured(room("hall", "10 m", "5 m", "0 m")))


def test_only_the_part_that_both_sides_share_is_joined() -> None:
    # The bay's side of 3 m lies from 1 to 4 m on the hall's side of 6 m.
    areas = [room("hall", "8 m", "6 m", "0 m"), room("bay", "2 m", "3 m", "8 m", "1 m")]
    found = Measured(*areas, joins=[{"between": ["hall", "bay"]}])
    assert found.area("hall").wall_length == pytest.approx(28 - 3)
    assert found.area("bay").wall_length == pytest.approx(10 - 3)
    outlines = [shapely.box(0, 0, 8, 6), shapely.box(8, 1, 10, 4)]
    assert found.takeoff.totals.wall_length == pytest.approx(shapely.unary_union(outlines).length)


def test_a_bay_inside_an_island_joins_the_hall_all_round() -> None:
    pad = {"kind": "rectangle", "length": "2 m", "width": "2 m", "origin": {"x": "4 m", "y": "3 m"}}
    hall = room("hall", "10 m", "8 m", "0 m", islands=[{"outline": pad}])
    found = Measured(hall, {"id": "pad", "outline": pad}, joins=[{"between": ["hall", "pad"]}])
    assert found.area("pad").wall_length == pytest.approx(0)
    same_but_for_what_is_joined(found, Measured(room("hall", "10 m", "8 m", "0 m")))


@given(
    length=st.floats(3, 40),
    width=st.floats(2, 30),
    at=st.floats(0.2, 0.8),
    again=st.floats(0.2, 0.8),
    angle=st.floats(0, 90),
)
@settings(max_examples=60, deadline=None)
def test_cutting_a_rectangle_changes_no_total(
    length: float, width: float, at: float, again: float, angle: float
) -> None:
    low, high = length * at, length * again
    whole = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
    left = [(0.0, 0.0), (low, 0.0), (high, width), (0.0, width)]
    right = [(low, 0.0), (length, 0.0), (length, width), (high, width)]
    same_but_for_what_is_joined(cut(left, right, angle=angle), cut(whole, angle=angle))


@pytest.mark.parametrize("angle", [0.0, 17.0])
def test_cutting_an_l_at_its_inner_corner_changes_no_total(angle: float) -> None:
    whole = [(0.0, 0.0), (9.0, 0.0), (9.0, 4.0), (5.0, 4.0), (5.0, 7.0), (0.0, 7.0)]
    low = [(0.0, 0.0), (9.0, 0.0), (9.0, 4.0), (5.0, 4.0), (0.0, 4.0)]
    high = [(0.0, 4.0), (5.0, 4.0), (5.0, 7.0), (0.0, 7.0)]
    near = [(0.0, 0.0), (5.0, 0.0), (5.0, 4.0), (0.0, 4.0)]
    far = [(5.0, 0.0), (9.0, 0.0), (9.0, 4.0), (5.0, 4.0)]
    one = cut(whole, angle=angle)
    same_but_for_what_is_joined(cut(low, high, angle=angle), one)
    # Three that meet at the inner corner, where the middle one has no wall.
    same_but_for_what_is_joined(cut(near, far, high, angle=angle), one)


def test_strips_narrower_than_the_band_are_cut_from_one_floor() -> None:
    width = 0.08
    strips = [
        [(x * width, 0.0), ((x + 1) * width, 0.0), ((x + 1) * width, 2.0), (x * width, 2.0)]
        for x in range(12)
    ]
    whole = [(0.0, 0.0), (12 * width, 0.0), (12 * width, 2.0), (0.0, 2.0)]
    same_but_for_what_is_joined(cut(*strips), cut(whole))


def test_a_stretch_that_one_area_states_is_joined_in_the_other_by_the_plan() -> None:
    edge = {"side": 1, "kind": "joined", "offset": "1 m", "length": "2 m", "joins": "b"}
    placed = Measured(
        room("a", "5 m", "4 m", "0 m", edges=[edge]), room("b", "3 m", "4 m", "5.2 m")
    )
    assert placed.area("b").joined_length == pytest.approx(2)
    assert "join-one-sided" not in placed.noted
    measured = Measured(room("a", "5 m", "4 m", edges=[edge]), room("b", "3 m", "4 m"))
    assert measured.area("b").joined_length == pytest.approx(0)
    assert "join-one-sided" in measured.noted
    back = {"side": 3, "kind": "joined", "offset": "1 m", "length": "2 m", "joins": "a"}
    both = Measured(room("a", "5 m", "4 m", edges=[edge]), room("b", "3 m", "4 m", edges=[back]))
    assert both.area("b").joined_length == pytest.approx(2)
    assert "join-one-sided" not in both.noted


A = room("a", "5 m", "4 m", "0 m")
B = room("b", "5 m", "4 m", "5 m")
JOIN = {"joins": [{"between": ["a", "b"]}]}


@pytest.mark.parametrize(
    ("areas", "site", "expected"),
    [
        ([A, room("b", "5 m", "4 m", "5.01 m")], JOIN, {"/joins/0": "no-shared-stretch"}),
        # They touch at a corner.
        ([A, room("b", "5 m", "4 m", "5 m", "4 m")], JOIN, {"/joins/0": "no-shared-stretch"}),
        ([A, {**B, "level": "first"}], JOIN, {"/joins/0": "not-on-one-plan"}),
        ([A, room("b", "5 m", "4 m")], JOIN, {"/joins/0": "not-on-one-plan"}),
        ([A], JOIN, {"/joins/0/between/1": "unknown-area"}),
        ([A], {"joins": [{"between": ["a", "a"]}]}, {"/joins/0/between/1": "unknown-area"}),
        (
            [{**A, "edges": [{"side": 1, "kind": "wall", "length": "1 m"}]}, B],
            JOIN,
            {"/areas/0/edges/0": "join-contradicted"},
        ),
        (
            [A, {**B, "doorways": [doorway(3, coating="runs_through", offset="1 m")]}],
            JOIN,
            {"/areas/0": "join-contradicted", "/areas/1/doorways/0": "join-contradicted"},
        ),
        (
            [
                {**A, "edges": [{"side": 1, "kind": "joined", "joins": "b"}]},
                {**B, "edges": [{"side": 3, "kind": "open", "length": "1 m"}]},
            ],
            {},
            {"/areas/1/edges/0": "join-contradicted"},
        ),
    ],
)
def test_joins_that_cannot_be_are_refused_where_they_are_wrong(
    areas: list[Any], site: dict[str, Any], expected: dict[str, str]
) -> None:
    assert faults_of(*areas, **site) == expected


def test_a_join_completes_what_an_area_states_of_it() -> None:
    edge = {"side": 1, "kind": "joined", "offset": "1 m", "length": "1 m", "joins": "b"}
    found = Measured({**A, "edges": [edge]}, B, **JOIN)
    assert found.area("a").joined_length == pytest.approx(4)
    assert found.area("b").joined_length == pytest.approx(4)


@given(st.data())
@settings(max_examples=30, deadline=None)
def test_joined_rooms_have_the_walls_of_their_union(data: st.DataObject) -> None:
    """Random rows of rooms on two sides of a corridor; shapely's union as oracle."""
    ends = sorted({data.draw(st.integers(1, 39)) for _ in range(data.draw(st.integers(1, 6)))})
    rooms = [
        [(float(left), 2.0), (float(right), 2.0), (float(right), 5.0), (float(left), 5.0)]
        for left, right in zip([0, *ends], [*ends, 40], strict=True)
    ]
    corridor = [(0.0, 0.0), (40.0, 0.0), (40.0, 2.0), (0.0, 2.0)]
    found = cut(corridor, *rooms)
    union = shapely.unary_union([shapely.Polygon(ring) for ring in (corridor, *rooms)])
    assert found.takeoff.totals.wall_length == pytest.approx(union.length, rel=1e-9)
    assert found.takeoff.totals.floor == pytest.approx(union.area, rel=1e-9)


def test_the_direction_of_the_vertices_moves_nothing() -> None:
    low = [(0.0, 0.0), (9.0, 0.0), (9.0, 4.0), (5.0, 4.0), (0.0, 4.0)]
    high = [(0.0, 4.0), (5.0, 4.0), (6.0, 7.0), (0.0, 7.0)]
    expected = cut(low, high, angle=30).sums
    for rings in ((low[::-1], high), (low, high[::-1]), (low[::-1], high[::-1]), (high, low)):
        assert cut(*rings, angle=30).sums == pytest.approx(expected, rel=1e-9)
