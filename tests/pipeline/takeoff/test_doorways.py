"""Doorways: found once, and what they do to the walls of both rooms; against hand calculation."""

from typing import Any

import pytest
from doorway_cases import Measured, doorway, faults_of, room
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st

from filmbuild.errors import InvalidInput
from filmbuild.pipeline.rules.traffic import RULES

FOOT = 0.3048
INCH = 0.0254


def two_rooms_and_a_corridor(**of_office: Any) -> Measured:
    """A corridor of 8 x 2 m with the exit at its left end, and two rooms of 4 x 3 m above it.

    Walls between them are 0.1 m thick. D1 leads into the office, D2 into the store.
    """
    corridor = room(
        "corridor",
        "8 m",
        "2 m",
        "0 m",
        doorways=[
            # Side 2 runs from right to left: the office's doorway is 1 to 1.9 m from the left.
            doorway(2, offset="6.1 m", coating="runs_through", to="office"),
            doorway(2, offset="2 m", door=True, to="store"),
            doorway(3, "1 m", offset="0.5 m", exit=True, id="front", height="2.1 m"),
        ],
    )
    office = room("office", "3.9 m", "3 m", "0 m", "2.1 m", **of_office)
    store = room("store", "4 m", "3 m", "4 m", "2.1 m")
    return Measured(corridor, office, store)


def test_two_rooms_and_a_corridor_by_hand() -> None:
    found = two_rooms_and_a_corridor()
    corridor, office, store = (found.area(name) for name in ("corridor", "office", "store"))
    # Corridor: 20 m round, less 0.9 + 0.9 + 1.0. D1 runs through; D2 and the exit are open.
    assert corridor.wall_length == pytest.approx(17.2)
    assert corridor.joined_length == pytest.approx(0.9)
    assert corridor.open_length == pytest.approx(0.9 + 1.0)
    # Office: 13.8 m round, less the 0.9 m that run through.
    assert (office.wall_length, office.joined_length, office.open_length) == pytest.approx(
        (12.9, 0.9, 0)
    )
    # Store: 14 m round; its coating runs up against the edge under D2's leaf, counted above.
    assert (store.wall_length, store.joined_length, store.open_length) == pytest.approx(
        (13.1, 0.9, 0)
    )
    # Tape: all walls and open edges.
    assert found.takeoff.totals.tape_length == pytest.approx(17.2 + 12.9 + 13.1 + 1.9)
    # Only the exit leads off the floor and has no leaf: 1.0 x 2.1 m of sheeting.
    assert found.takeoff.totals.dust_barrier == pytest.approx(2.1)
    assert [one.id for one in found.takeoff.doorways] == ["D1", "D2", "front"]
    assert [one.kept_shut for one in found.takeoff.doorways] == [False, True, False]
    assert [one.between for one in found.takeoff.doorways] == [
        ("corridor", "office"),
        ("corridor", "store"),
        ("corridor",),
    ]
    assert found.order == ["office", "store", "corridor"]
    assert found.reasons == {
        "office": "left by doorway D1 into corridor, then the exit",
        "store": "left by doorway D2 into corridor, then the exit",
        "corridor": "left by doorway front, an exit",
    }
    assert not found.notes


def test_a_doorway_given_from_both_rooms_is_one() -> None:
    from_one = two_rooms_and_a_corridor()
    # From the office's side 0, which runs from left to right: 1.0 to 1.9 m.
    from_both = two_rooms_and_a_corridor(
        doorways=[doorway(0, offset="1 m", coating="runs_through", to="corridor")]
    )
    assert from_both.sums == pytest.approx(from_one.sums)
    assert [one.id for one in from_both.takeoff.doorways] == ["D1", "D2", "front"]
    assert from_both.doorway("D1").given_in == ("corridor", "office")


def test_a_doorway_leads_to_what_the_plan_shows_behind_it() -> None:
    found = Measured(
        room("hall", "5 m", "4 m", "0 m", doorways=[doorway(1, offset="1 m")]),
        room("store", "3 m", "4 m", "5.1 m", doorways=[doorway(3, offset="2.1 m")]),
        # Half a metre of wall and more is not taken for the wall of one doorway.
        room("shed", "3 m", "4 m", "8.7 m", doorways=[doorway(3, offset="2.1 m", door=True)]),
    )
    (inner, outer) = found.takeoff.doorways
    assert inner.between == ("hall", "store")
    assert outer.between == ("shed",)
    assert found.takeoff.totals.open_length == pytest.approx(1.8)


def test_rooms_that_are_not_placed_name_one_another() -> None:
    found = Measured(
        room("a", "5 m", "4 m", doorways=[doorway(0, to="b"), doorway(1, "1.2 m", to="b")]),
        room("b", "5 m", "4 m", doorways=[doorway(2, "1.2 m", to="a"), doorway(3, to="a")]),
    )
    assert [one.width for one in found.takeoff.doorways] == pytest.approx([0.9, 1.2])
    assert [one.given_in for one in found.takeoff.doorways] == [("a", "b"), ("a", "b")]
    assert found.takeoff.totals.open_length == pytest.approx(2.1)
    assert found.takeoff.totals.joined_length == pytest.approx(2.1)
    assert found.takeoff.totals.wall_length == pytest.approx(36 - 4.2)


def test_one_id_in_two_rooms_is_one_doorway() -> None:
    found = Measured(
        room("a", "5 m", "4 m", doorways=[doorway(0, id="north")]),
        room("b", "5 m", "4 m", doorways=[doorway(2, id="north", door=True, height="2 m")]),
    )
    (one,) = found.takeoff.doorways
    assert one.between == ("a", "b")
    assert one.door
    assert one.kept_shut
    assert found.takeoff.totals.dust_barrier == pytest.approx(0)


def test_a_doorway_that_only_one_room_knows_is_noted() -> None:
    found = Measured(
        room("a", "5 m", "4 m", doorways=[doorway(0, to="b", coating="runs_through")]),
        room("b", "5 m", "4 m"),
    )
    assert "doorway-one-sided" in found.noted
    assert found.area("a").joined_length == pytest.approx(0.9)
    assert found.area("b").wall_length == pytest.approx(18)


def test_an_opening_off_the_floor_without_a_height_is_noted() -> None:
    found = Measured(room("a", "5 m", "4 m", doorways=[doorway(0, exit=True)]))
    assert "doorway-without-height" in found.noted
    assert found.takeoff.totals.dust_barrier == pytest.approx(0)
    with_leaf = Measured(room("a", "5 m", "4 m", doorways=[doorway(0, exit=True, door=True)]))
    assert not with_leaf.notes
    assert with_leaf.doorway("D1").kept_shut


def test_a_room_inside_an_island_opens_into_the_hall_around_it() -> None:
    booth = {"kind": "rectangle", "length": "3 m", "width": "2 m"}
    place = {"x": "4 m", "y": "3 m"}
    hall = room("hall", "12 m", "9 m", "0 m", islands=[{"outline": {**booth, "origin": place}}])
    inside = {"id": "booth", "outline": {**booth, "origin": place}}
    from_booth = Measured(hall, {**inside, "doorways": [doorway(0, offset="1 m")]})
    from_hall = Measured({**hall, "doorways": [doorway(0, offset="1 m", island=0)]}, inside)
    for found in (from_booth, from_hall):
        assert found.doorway("D1").width == pytest.approx(0.9)
        assert set(found.doorway("D1").between) == {"hall", "booth"}
        assert found.takeoff.totals.wall_length == pytest.approx(42 + 10 + 10 - 1.8)
    assert from_booth.sums == pytest.approx(from_hall.sums)


def test_feet_and_inches() -> None:
    """A pantry of 8 ft x 6 ft 6 in right of a kitchen of 14 ft 3 in x 12 ft; a 4 1/2 in wall."""
    kitchen = room(
        "kitchen",
        "14 ft 3 in",
        "12 ft",
        "0 ft",
        "0 ft",
        doorways=[
            doorway(1, "2 ft 8 in", offset="1 ft 5 in", to="pantry", door=True),
            doorway(3, "3 ft", offset="2 ft", exit=True, door=True),
        ],
    )
    pantry = room("pantry", "8 ft", "6 ft 6 in", "14 ft 7 1/2 in", "0 ft")
    found = Measured(kitchen, pantry)
    # Round the kitchen 52 ft 6 in, less 2 ft 8 in and 3 ft; round the pantry 29 ft, less 2 ft 8 in.
    assert found.area("kitchen").wall_length == pytest.approx((52.5 - 3) * FOOT - 32 * INCH)
    assert found.area("kitchen").open_length == pytest.approx(3 * FOOT + 32 * INCH)
    assert found.area("pantry").wall_length == pytest.approx(29 * FOOT - 32 * INCH)
    assert found.area("pantry").joined_length == pytest.approx(32 * INCH)
    # The pantry's side 3 runs from top to bottom: 6 ft 6 in less 1 ft 5 in less 2 ft 8 in.
    assert found.doorway("D1").sides[1].offset == pytest.approx(29 * INCH)
    traffic = found.takeoff.traffic
    assert traffic is not None
    first, last = traffic.steps
    assert (first.area, last.area) == ("pantry", "kitchen")
    # Out of the pantry at the middle of its doorway; from its far upper corner.
    assert first.ends_at is not None
    assert (first.ends_at.x, first.ends_at.y) == pytest.approx((14.625 * FOOT, (17 + 16) * INCH))
    assert first.starts_at is not None
    assert (first.starts_at.x, first.starts_at.y) == pytest.approx((22.625 * FOOT, 6.5 * FOOT))


A = room("a", "5 m", "4 m", "0 m")
B = room("b", "5 m", "4 m", "5 m")


@pytest.mark.parametrize(
    ("areas", "expected"),
    [
        ([{**A, "doorways": [doorway(4)]}], {"/areas/0/doorways/0/side": "no-such-side"}),
        (
            [{**A, "doorways": [doorway(0, offset="4.5 m")]}],
            {"/areas/0/doorways/0/width": "past-end-of-side"},
        ),
        (
            [{**A, "doorways": [doorway(0, offset="6 m")]}],
            {"/areas/0/doorways/0/offset": "past-end-of-side"},
        ),
        ([{**A, "doorways": [doorway(0, to="a")]}], {"/areas/0/doorways/0/to": "unknown-area"}),
        ([{**A, "doorways": [doorway(0, to="x")]}], {"/areas/0/doorways/0/to": "unknown-area"}),
        (
            [{**A, "doorways": [doorway(1, to="b", exit=True)]}, B],
            {"/areas/0/doorways/0/exit": "exit-into-area"},
        ),
        (
            [{**A, "doorways": [doorway(0, island=0)]}],
            {"/areas/0/doorways/0/island": "no-such-island"},
        ),
        (
            [
                {
                    **A,
                    "edges": [{"side": 0, "kind": "open", "length": "2 m"}],
                    "doorways": [doorway(0, offset="1.5 m")],
                }
            ],
            {"/areas/0/doorways/0": "stretches-overlap"},
        ),
        (
            [{**A, "doorways": [doorway(0, offset="1 m", to="b")]}, B],
            {"/areas/0/doorways/0/to": "doorway-not-facing"},
        ),
        (
            [{**A, "doorways": [doorway(0, id="x"), doorway(2, id="x")]}],
            {"/areas/0/doorways/1/id": "duplicate-id"},
        ),
        (
            [
                {**A, "doorways": [doorway(1, offset="1 m", to="b")]},
                {**B, "doorways": [doorway(3, "1.2 m", offset="2 m", to="a")]},
            ],
            {
                "/areas/1/doorways/0/width": "doorway-differs",
                "/areas/1/doorways/0/offset": "doorway-differs",
            },
        ),
        (
            [
                {**A, "doorways": [doorway(1, offset="1 m", id="x")]},
                {**B, "doorways": [doorway(3, "0.9 m", "runs_through", offset="2.1 m", id="y")]},
            ],
            {
                "/areas/1/doorways/0/coating": "doorway-differs",
                "/areas/1/doorways/0/id": "doorway-differs",
            },
        ),
        (
            [
                room("a", "5 m", "4 m", doorways=[doorway(1, to="b")]),
                room("b", "5 m", "4 m", doorways=[doorway(1, "1.2 m", to="a")]),
            ],
            {"/areas/1/doorways/0/width": "doorway-differs"},
        ),
        (
            [
                {**A, "doorways": [doorway(1, offset="1 m", to="b")]},
                {**B, "edges": [{"side": 3, "kind": "open", "offset": "2 m", "length": "1 m"}]},
            ],
            {"/areas/1/edges/0": "doorway-contradicted"},
        ),
        (
            [
                {**A, "doorways": [doorway(1, offset="1 m", to="b")]},
                {**B, "doorways": [doorway(3, offset="2.1 m", exit=True)]},
            ],
            {"/areas/1/doorways/0": "doorway-contradicted"},
        ),
    ],
)
def test_doorways_that_cannot_be_are_refused_where_they_are_wrong(
    areas: list[dict[str, Any]], expected: dict[str, str]
) -> None:
    assert faults_of(*areas) == expected


@st.composite
def floors_with_doorways(draw: st.DrawFn) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """Four rooms of 5 x 4 m, wall to wall or against one another, with doorways anywhere."""
    gap = draw(st.sampled_from([0.0, 0.1, 0.3]))
    areas = []
    for number in range(4):
        x, y = (number % 2) * (5 + gap), (number // 2) * (4 + gap)
        doors = [
            doorway(
                draw(st.integers(0, 3)),
                f"{draw(st.integers(6, 12))}00 mm",
                draw(st.sampled_from(["stops", "runs_through"])),
                offset=f"{draw(st.integers(0, 30)) / 10} m",
                exit=draw(st.booleans()),
                door=draw(st.booleans()),
            )
            for _ in range(draw(st.integers(0, 2)))
        ]
        areas.append(room(f"r{number}", "5 m", "4 m", f"{x} m", f"{y} m", doorways=doors))
    pairs = draw(st.sets(st.sampled_from([("r0", "r1"), ("r0", "r2"), ("r1", "r3")]), max_size=1))
    return areas, [{"between": pair} for pair in sorted(pairs)]


@given(floors_with_doorways())
@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])
def test_every_metre_of_edge_is_one_kind_and_every_doorway_one_edge(
    drawn: tuple[list[dict[str, Any]], list[dict[str, Any]]],
) -> None:
    areas, joins = drawn
    try:
        found = Measured(*areas, joins=joins)
    except InvalidInput:
        reject()
    for area in found.takeoff.areas:
        around = area.wall_length + area.open_length + area.joined_length
        reveals = area.traces["wall_length"].inputs.get("reveals", 0.0)
        assert around == pytest.approx(18 + reveals)
    given_doorways = sum(len(area["doorways"]) for area in areas)
    assert sum(len(one.given_in) for one in found.takeoff.doorways) == given_doorways
    for one in found.takeoff.doorways:
        edges = sum(side.open_edge for side in one.sides)
        assert edges == (one.coating == "stops")
        assert len(one.sides) == len(one.between)
    open_edges = sum(one.width for one in found.takeoff.doorways if one.coating == "stops")
    assert found.takeoff.totals.open_length == pytest.approx(open_edges)


def test_floor_in_a_doorway_is_counted_once_where_the_coating_runs_through() -> None:
    for deep, reveals in ((0.1, 0.0), (0.2, 0.4)):
        for given_in in ((0,), (1,), (0, 1)):
            # Sides 2 and 0 run opposite ways: 1 to 1.9 m and 3.1 to 4 m along them.
            doors = [doorway(2, offset="3.1 m"), doorway(0, offset="1 m")]
            for door in doors:
                door["coating"] = "runs_through"
            own = [[doors[one]] if one in given_in else [] for one in (0, 1)]
            found = Measured(
                room("hall", "5 m", "4 m", "0 m", "0 m", doorways=own[0]),
                room("store", "5 m", "4 m", "0 m", f"{4 + deep} m", doorways=own[1]),
            )
            areas = found.takeoff.areas
            first, other = areas if 0 in given_in else areas[::-1]
            assert (first.thresholds, other.thresholds) == pytest.approx((0.9 * deep, 0))
            assert (first.floor, other.floor) == pytest.approx((20 + 0.9 * deep, 20))
            assert first.hand_grind - other.hand_grind == pytest.approx(0.9 * deep)
            assert first.wall_length == pytest.approx(18 - 0.9 + reveals)
            assert other.wall_length == pytest.approx(18 - 0.9)


def test_a_doorway_has_no_floor_of_its_own_where_the_coating_stops_or_rooms_touch() -> None:
    for y, coating in (("4.2 m", "stops"), ("4 m", "runs_through"), ("4.004 m", "runs_through")):
        door = {**doorway(2, offset="2 m"), "coating": coating}
        found = Measured(
            room("hall", "5 m", "4 m", "0 m", "0 m", doorways=[door]),
            room("store", "5 m", "4 m", "0 m", y),
        )
        assert found.takeoff.totals.floor == pytest.approx(40)
        assert found.takeoff.totals.joined_length > 0


def test_floor_in_a_doorway_is_not_counted_over_an_area_that_is_drawn_there() -> None:
    door = {**doorway(2, offset="2 m"), "coating": "runs_through", "to": "store"}
    found = Measured(
        room("hall", "5 m", "4 m", "0 m", "0 m", doorways=[door]),
        room("sill", "0.9 m", "0.2 m", "2.1 m", "4 m"),
        room("store", "5 m", "4 m", "0 m", "4.2 m"),
    )
    assert found.takeoff.totals.floor == pytest.approx(40 + 0.18)


def test_every_rule_that_is_named_is_published() -> None:
    found = two_rooms_and_a_corridor().takeoff
    published = {rule.id for rule in RULES}
    assert found.traffic is not None
    for traces in (found.traffic.traces, *(one.traces for one in found.doorways)):
        assert traces
        assert {trace.rule for trace in traces.values()} <= published
