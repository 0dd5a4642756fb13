"""The takeoff against published figures, an outside geometry library and hand calculations."""

import json
from math import pi
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from filmbuild.edge.decoding import decode
from filmbuild.errors import Faults, InvalidInput
from filmbuild.pipeline.results import Takeoff
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff import take_off

FOOT = 0.3048
INCH = 0.0254
GALLON = 231 * INCH**3


def measured(*areas: dict[str, Any], **site: Any) -> Takeoff:
    body = json.dumps({"areas": list(areas), **site}).encode()
    return take_off(decode(Site, body), Faults())


def faults_of(*areas: dict[str, Any], **site: Any) -> dict[str, str]:
    with pytest.raises(InvalidInput) as caught:
        measured(*areas, **site)
    return {fault.pointer: fault.code for fault in caught.value.faults}


def rectangle(length: str = "10 m", width: str = "6 m", **rest: Any) -> dict[str, Any]:
    outline = {"kind": "rectangle", "length": length, "width": width}
    return {"id": "room", "outline": outline, **rest}


def polygon(*vertices: tuple[float, float], unit: str = "m", **rest: Any) -> dict[str, Any]:
    return {
        "id": "room",
        "outline": {"kind": "polygon", "unit": unit, "vertices": vertices},
        **rest,
    }


L_SHAPE = ((0, 0), (9, 0), (9, 4), (5, 4), (5, 7), (0, 7))


@pytest.mark.parametrize(
    ("vertices", "area"),
    [
        # Wikipedia, "Shoelace formula", the two worked examples (from memory; shapely agrees).
        (((1, 6), (3, 1), (7, 2), (4, 4), (8, 5)), 16.5),
        (((3, 4), (5, 11), (12, 8), (9, 5), (5, 6)), 30.0),
    ],
)
def test_published_polygons_have_their_published_area(
    vertices: tuple[tuple[float, float], ...], area: float
) -> None:
    takeoff = measured(polygon(*vertices))
    assert takeoff.areas[0].floor == pytest.approx(area, rel=1e-12)
    assert takeoff.totals.floor == pytest.approx(shapely.Polygon(vertices).area, rel=1e-12)


def test_an_island_is_taken_off_the_floor() -> None:
    # 30 x 20 with a 2 x 2 hole is 596: plane geometry, shapely agrees.
    hole = {
        "kind": "rectangle",
        "length": "2 m",
        "width": "2 m",
        "origin": {"x": "4 m", "y": "4 m"},
    }
    takeoff = measured(rectangle("30 m", "20 m", islands=[{"outline": hole}]))
    assert takeoff.totals.floor == pytest.approx(596.0)
    assert takeoff.totals.wall_length == pytest.approx(100 + 8)


def test_bands_of_an_l_shape_agree_with_a_buffer_of_its_walls() -> None:
    takeoff = measured(polygon(*L_SHAPE), hand_grind_width="150 mm", cut_in_width="300 mm")
    floor = shapely.Polygon(L_SHAPE)
    for width, found in ((0.15, takeoff.areas[0].hand_grind), (0.3, takeoff.areas[0].cut_in)):
        # Inside corners of the floor are mitred by an inward offset; at the one corner that turns
        # away the machine leaves the square that shapely's mitred offset leaves.
        inner = floor.buffer(-width, join_style="mitre")
        assert found == pytest.approx(floor.area - inner.area, rel=1e-9)


def test_machine_and_hand_make_up_the_floor() -> None:
    for area in measured(polygon(*L_SHAPE)).areas:
        assert area.machine_grind + area.hand_grind == pytest.approx(area.floor, rel=1e-15)
        assert area.field + area.cut_in == pytest.approx(area.floor, rel=1e-15)


def test_a_walk_behind_grinder_reaches_about_95_per_cent_of_a_plain_floor() -> None:
    # Common practice, no source: on 60 to 70 m2 about 95 % by machine, about 90 % by wide roller.
    totals = measured(rectangle("9.2 m", "7 m")).totals
    assert totals.machine_grind / totals.floor == pytest.approx(0.95, abs=0.015)
    assert totals.field / totals.floor == pytest.approx(0.89, abs=0.02)


def test_a_stair_of_the_army_course() -> None:
    # US Army correspondence course EN5156, fig. 2-38: 13 risers of 7 1/4 in and 12 treads of
    # 10 1/2 in run 126 in.
    flight = {
        "risers": 13,
        "width": "3 ft",
        "rise": "7 1/4 in",
        "going": "10 1/2 in",
        "treads": "added",
    }
    area = measured(rectangle(steps=[flight])).areas[0]
    width = 3 * FOOT
    assert area.added_treads == pytest.approx(126 * INCH * width)
    assert area.risers == pytest.approx(94.25 * INCH * width)
    assert area.floor == pytest.approx(60 + 126 * INCH * width)


@pytest.mark.parametrize(
    ("side", "feet_per_gallon"),
    # Joint yield 231 / (12 w d) in feet per US gallon: printed in sealant tables everywhere,
    # from memory.
    [("1/2 in", 77.0), ("1/4 in", 308.0), ("3/8 in", 136.89)],
)
def test_a_square_chase_takes_a_gallon_for_so_many_feet(side: str, feet_per_gallon: float) -> None:
    crack = {"length": "1000 ft", "width": side, "depth": side, "section": "square"}
    area = measured(rectangle(cracks=[crack, {**crack, "section": "v"}])).areas[0]
    both = 1.5 * 1000 / feet_per_gallon * GALLON
    assert area.crack_volume == pytest.approx(both, rel=1e-4)
    assert area.crack_length == pytest.approx(2000 * FOOT)


def test_a_cove_fills_the_corner_outside_a_quarter_circle() -> None:
    # r^2 (1 - pi/4): 0.214602 in2 for 1 in, so that 100 ft take 1.1148 US gallons.
    area = measured(rectangle(coves=[{"radius": "1 in", "length": "100 ft"}])).areas[0]
    assert area.cove_volume == pytest.approx(1.1148 * GALLON, rel=1e-4)
    assert area.cove_face == pytest.approx(100 * FOOT * pi / 2 * INCH)


def test_a_canteen_by_hand() -> None:
    """10 x 6 m: one open stretch of 2 m, a doorway of 1 m joined to the store, base wall, curb."""
    edges = [
        {"side": 0, "kind": "open", "offset": "1 m", "length": "2 m", "exit": True},
        {"side": 2, "kind": "joined", "offset": "4 m", "length": "1 m", "joins": "store"},
    ]
    canteen = rectangle(
        edges=edges,
        base_walls=[{"height": "100 mm"}],
        curbs=[{"length": "3 m", "height": "100 mm", "width": "150 mm"}],
        joints=[
            {"length": "6 m", "width": "10 mm", "depth": "20 mm"},
            {"length": "6 m", "width": "10 mm", "depth": "20 mm", "treatment": "honour"},
        ],
        spalls=[{"area": "0.5 m2", "depth": "8 mm"}],
        openings=[{"width": "2 m", "height": "2.5 m"}],
    )
    store = {**rectangle("4 m", "3 m"), "id": "store"}
    first, second = measured(canteen, store).areas
    assert first.wall_length == pytest.approx(32 - 3)
    assert first.open_length == pytest.approx(2)
    assert first.joined_length == pytest.approx(1)
    assert first.base_walls == pytest.approx(29 * 0.1)
    assert first.curbs == pytest.approx(3 * (2 * 0.1 + 0.15))
    assert first.vertical == pytest.approx(2.9 + 1.05)
    assert first.joint_volume == pytest.approx(6 * 0.01 * 0.02)
    assert first.joint_length == pytest.approx(6)
    assert first.spall_volume == pytest.approx(0.004)
    assert first.dust_barrier == pytest.approx(5)
    # Walls and open edge, the foot of the base wall, both feet of the curb.
    assert first.tape_length == pytest.approx(31 + 29 + 6)
    # Bands stop at the ends of walls: no strip along the three metres without wall.
    assert first.hand_grind == pytest.approx(60 - 9.8 * 5.8 - 3 * 0.1)
    assert (first.placing_order, second.placing_order) == (2, 1)
    assert first.exits_through == "side 0"


@given(
    length=st.floats(2, 200),
    width=st.floats(2, 200),
    growth=st.floats(0, 50),
    height=st.integers(1, 300),
)
@settings(max_examples=60, deadline=None)
def test_more_floor_is_never_less_of_anything(
    length: float, width: float, growth: float, height: int
) -> None:
    walls = [{"height": f"{height} mm"}]
    small = measured(rectangle(f"{length:.6f} m", f"{width:.6f} m", base_walls=walls)).totals
    large = measured(
        rectangle(f"{length + growth:.6f} m", f"{width:.6f} m", base_walls=walls)
    ).totals
    for field in ("floor", "machine_grind", "hand_grind", "cut_in", "vertical", "tape_length"):
        assert getattr(large, field) >= getattr(small, field) - 1e-9


@given(feet=st.integers(3, 300), inches=st.integers(0, 11), across=st.integers(3, 200))
@settings(max_examples=60, deadline=None)
def test_feet_and_metres_give_the_same_answer(feet: int, inches: int, across: int) -> None:
    metres = (feet * 12 + inches) * INCH
    in_feet = measured(rectangle(f"{feet} ft {inches} in", f"{across} ft")).totals
    in_metres = measured(rectangle(f"{metres:.9f} m", f"{across * FOOT:.9f} m")).totals
    assert in_feet.floor == pytest.approx(in_metres.floor, rel=1e-8)
    assert in_feet.hand_grind == pytest.approx(in_metres.hand_grind, rel=1e-8)


@given(order=st.permutations(range(5)), start=st.integers(0, 5), turned=st.booleans())
@settings(max_examples=40, deadline=None)
def test_order_of_areas_and_vertices_moves_no_total(
    order: list[int], start: int, turned: bool
) -> None:
    rooms = [
        {**rectangle(f"{3.1 + 0.7 * number} m", f"{2.3 + 0.3 * number} m"), "id": f"r{number}"}
        for number in range(4)
    ]
    vertices = L_SHAPE[start:] + L_SHAPE[:start]
    plain = [*rooms, {**polygon(*L_SHAPE), "id": "l"}]
    changed = [*rooms, {**polygon(*(vertices[::-1] if turned else vertices)), "id": "l"}]
    expected = measured(*plain).totals
    found = measured(*(changed[index] for index in order)).totals
    assert found.floor == pytest.approx(expected.floor, rel=1e-13)
    assert found.hand_grind == pytest.approx(expected.hand_grind, rel=1e-12)
    assert measured(*plain).totals == measured(*reversed(plain)).totals


def test_rooms_are_coated_from_the_farthest_to_the_exit() -> None:
    def room(name: str, *joins: str, leave: bool = False) -> dict[str, Any]:
        edges: list[dict[str, Any]] = [
            {"side": side, "kind": "joined", "length": "1 m", "joins": other}
            for side, other in enumerate(joins)
        ]
        if leave:
            edges.append({"side": 3, "kind": "open", "length": "1 m", "exit": True})
        return {**rectangle(edges=edges), "id": name}

    hall, office, store, closet = (
        room("hall", "office", leave=True),
        room("office", "store"),
        room("store", "closet"),
        room("closet"),
    )
    order = {one.id: one.placing_order for one in measured(hall, office, store, closet).areas}
    assert order == {"closet": 1, "store": 2, "office": 3, "hall": 4}


def test_every_figure_that_is_not_zero_names_its_rule() -> None:
    takeoff = measured(
        rectangle(
            base_walls=[{"height": "4 in"}],
            steps=[{"risers": 3, "width": "1 m", "rise": "170 mm", "nosing": "20 mm"}],
            coves=[{"radius": "25 mm"}],
            curbs=[{"length": "1 m", "height": "100 mm", "width": "100 mm"}],
            cracks=[{"length": "3 m", "width": "5 mm", "depth": "10 mm"}],
        )
    )
    area = takeoff.areas[0]
    for field in area.__struct_fields__:
        value = getattr(area, field)
        if isinstance(value, float) and value:
            assert field in area.traces, field


def test_bad_outlines_are_refused_with_the_place() -> None:
    bow_tie = polygon((0, 0), (2, 2), (2, 0), (0, 2))
    with pytest.raises(InvalidInput) as caught:
        measured(bow_tie)
    (fault,) = caught.value.faults
    assert fault.pointer == "/areas/0/outline"
    assert fault.code == "self-crossing"
    assert "(1 m, 1 m)" in fault.detail


def test_areas_of_one_level_may_touch_but_not_overlap() -> None:
    def placed(name: str, x: str, **rest: Any) -> dict[str, Any]:
        area = rectangle(**rest)
        area["outline"]["origin"] = {"x": x, "y": "0 m"}
        return {**area, "id": name}

    assert measured(placed("a", "0 m"), placed("b", "10 m")).totals.floor == pytest.approx(120)
    assert faults_of(placed("a", "0 m"), placed("b", "9.5 m")) == {
        "/areas/1/outline": "areas-overlap"
    }
    upstairs = placed("b", "5 m", level="first floor")
    assert measured(placed("a", "0 m"), upstairs).totals.floor == pytest.approx(120)
    # Rectangles that were only measured have no place to overlap at.
    assert measured(rectangle(), {**rectangle(), "id": "other"}).totals.floor == pytest.approx(120)


@pytest.mark.parametrize(
    ("area", "expected"),
    [
        (
            rectangle(edges=[{"side": 4, "kind": "open"}]),
            {"/areas/0/edges/0/side": "no-such-side"},
        ),
        (
            rectangle(edges=[{"side": 0, "kind": "open", "offset": "9 m", "length": "2 m"}]),
            {"/areas/0/edges/0/length": "past-end-of-side"},
        ),
        (
            rectangle(edges=[{"side": 0, "kind": "open", "offset": "11 m"}]),
            {"/areas/0/edges/0/offset": "past-end-of-side"},
        ),
        (
            rectangle(
                edges=[
                    {"side": 0, "kind": "open", "length": "3 m"},
                    {"side": 0, "kind": "joined", "offset": "2 m", "length": "3 m"},
                ]
            ),
            {"/areas/0/edges/1": "stretches-overlap"},
        ),
        (
            rectangle(edges=[{"side": 0, "kind": "joined", "joins": "nowhere"}]),
            {"/areas/0/edges/0/joins": "unknown-area"},
        ),
        (
            rectangle(edges=[{"side": 0, "kind": "open", "joins": "room"}]),
            {"/areas/0/edges/0/joins": "joins-needs-joined"},
        ),
        (
            rectangle(steps=[{"risers": 2, "width": "1 m", "rise": "17 cm", "treads": "added"}]),
            {"/areas/0/steps/0/going": "missing-field"},
        ),
        (
            rectangle(substrate={"moisture": [{}]}),
            {"/areas/0/substrate/moisture/0": "missing-field"},
        ),
        (
            rectangle(
                islands=[{"outline": {"kind": "rectangle", "length": "1 m", "width": "1 m"}}]
            ),
            {"/areas/0/islands/0/outline": "island-touches-outline"},
        ),
    ],
)
def test_bad_areas_are_refused_where_they_are_wrong(
    area: dict[str, Any], expected: dict[str, str]
) -> None:
    assert faults_of(area) == expected


def test_all_faults_of_a_site_are_reported_at_once() -> None:
    crossing = polygon((0, 0), (2, 2), (2, 0), (0, 2))
    found = faults_of(crossing, rectangle(edges=[{"side": 7, "kind": "open"}]))
    assert found == {
        "/areas/1/id": "duplicate-id",
        "/areas/0/outline": "self-crossing",
        "/areas/1/edges/0/side": "no-such-side",
    }
