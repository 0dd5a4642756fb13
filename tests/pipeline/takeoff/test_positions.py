"""What is given a place on the plan: lengths from paths, and places that cannot be."""

from collections.abc import Callable
from itertools import pairwise
from math import cos, pi, sin
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from takeoff_cases import FOOT, box, faults_of, measured, rectangle, room

from filmbuild.errors import Faults, InvalidInput
from filmbuild.pipeline.effort import Effort
from filmbuild.pipeline.geometry import FloorShape
from filmbuild.pipeline.site import Rectangle, SiteArea
from filmbuild.pipeline.site_places import PlanPath
from filmbuild.pipeline.site_work import Joint
from filmbuild.pipeline.takeoff.positions import with_lengths
from filmbuild.quantities import PositiveLength, PositiveSection

SECTION = {"width": "6 mm", "depth": "20 mm"}
ELL = [(0, 0), (10, 0), (10, 4), (4, 4), (4, 8), (0, 8)]


def joint(*vertices: Any, unit: str | None = "m", **rest: Any) -> dict[str, Any]:
    path: dict[str, Any] = {"vertices": vertices}
    if unit is not None:
        path["unit"] = unit
    return {**SECTION, "path": path, **rest}


def spot(x: float, y: float) -> dict[str, str]:
    return {"x": f"{x} m", "y": f"{y} m"}


def ell(**rest: Any) -> dict[str, Any]:
    outline = {"kind": "polygon", "unit": "m", "vertices": ELL}
    return {"id": "ell", "outline": outline, **rest}


def detail_of(*areas: dict[str, Any]) -> str:
    with pytest.raises(InvalidInput) as caught:
        measured(*areas)
    (fault,) = caught.value.faults
    return fault.detail


def test_a_path_has_its_own_length() -> None:
    area = room(
        joints=[joint((0, 0), (3, 4)), joint((0, 6), (10, 6), treatment="honour")],
        cracks=[joint((1, 1), (4, 5), (4, 5.5))],
    )
    assert area.joint_length == pytest.approx(5)
    assert area.honoured_joint_length == pytest.approx(10)
    assert area.crack_length == pytest.approx(5.5)
    assert area.joint_volume == pytest.approx(5 * 0.006 * 0.02)


def test_a_path_is_read_in_feet_and_inches() -> None:
    area = room(joints=[joint(("1 ft", "1 ft 6 in"), ("11 ft", "1 ft 6 in"), unit=None)])
    assert area.joint_length == pytest.approx(10 * FOOT)
    assert room(joints=[joint((1, 2), (11, 2), unit="ft")]).joint_length == pytest.approx(10 * FOOT)


def test_a_length_as_measured_goes_before_that_of_the_path() -> None:
    near = joint((0, 3), (10, 3), length="10.09 m")
    assert room(joints=[near]).joint_length == pytest.approx(10.09)
    far = joint((0, 3), (10, 3), length="10.11 m")
    found = faults_of(rectangle(joints=[far], cracks=[{**far, "length": "9.89 m"}]))
    assert found == {
        "/areas/0/joints/0/length": "length-differs",
        "/areas/0/cracks/0/length": "length-differs",
    }


def test_a_length_or_a_path_is_given() -> None:
    assert faults_of(rectangle(cracks=[SECTION])) == {"/areas/0/cracks/0/length": "missing-field"}


@pytest.mark.parametrize(
    ("vertices", "place"),
    [
        (((1, 1), (11, 1)), "(10 m, 1 m)"),
        (((1, 1), (1, 9)), "(1 m, 8 m)"),
        (((2, 3), (9, 1), (9, 7)), "(9 m, 4 m)"),
        (((6, 6), (1, 1)), "(6 m, 6 m)"),
        (((9, 3), (3, 7.5)), "4 m)"),
    ],
)
def test_a_path_that_leaves_the_outline_is_refused_at_its_place(
    vertices: tuple[tuple[float, float], ...], place: str
) -> None:
    path = joint(*vertices)
    assert faults_of(ell(joints=[path])) == {"/areas/0/joints/0/path": "leaves-outline"}
    told = detail_of(ell(joints=[path]))
    beyond_box = any(x > 10 or y > 8 for x, y in vertices)
    assert beyond_box or place in told, told


def test_along_the_walls_and_into_the_corners_is_inside() -> None:
    area = measured(ell(joints=[joint(*ELL, ELL[0]), joint((0, 4), (10, 4))])).areas[0]
    assert area.joint_length == pytest.approx(36 + 10)


def test_what_of_a_joint_crosses_islands_is_not_counted() -> None:
    islands = [{"outline": box(0.5, 0.5, 2, 2.75)}, {"outline": box(1, 1, 6, 2.5)}]
    area = room(joints=[joint((0, 3), (10, 3))], islands=islands)
    assert area.joint_length == pytest.approx(8.5)
    inside = joint((6.2, 3), (6.8, 3))
    found = faults_of(rectangle(joints=[inside], islands=islands))
    assert found == {"/areas/0/joints/0/path": "no-length"}


def test_coordinates_are_those_of_the_outline() -> None:
    placed = {"id": "room", "outline": box(10, 6, 100, 200)}
    away = joint((101, 201), (105, 201))
    assert measured({**placed, "joints": [away]}).totals.joint_length == pytest.approx(4)
    at_home = joint((1, 1), (5, 1))
    assert list(faults_of({**placed, "joints": [at_home]})) == ["/areas/0/joints/0/path"]


@pytest.mark.parametrize(
    ("vertices", "pointer", "code"),
    [
        (((0, 0),), "path/vertices", "out-of-range"),
        (((1, 1), (1, 1)), "path", "no-length"),
        (((5, 5), (5, 5), (20, 5), (20, 5)), "path", "leaves-outline"),
        ((("1 stone", 0), (1, 1)), "path/vertices/0/0", None),
        (((1e308, 0), (-1e308, 1)), "path", "leaves-outline"),
    ],
)
def test_paths_that_cannot_be_are_refused(vertices: Any, pointer: str, code: str | None) -> None:
    found = faults_of(rectangle(joints=[joint(*vertices)]))
    assert list(found) == [f"/areas/0/joints/0/{pointer}"]
    assert code in (None, "out-of-range", *found.values())


def test_a_path_that_stands_still_outside_is_refused() -> None:
    found = faults_of(ell(joints=[joint((6, 6), (6, 6)), joint((1, 1), (1, 1), (1, 1))]))
    assert set(found) == {"/areas/0/joints/0/path", "/areas/0/joints/1/path"}


def test_numbers_need_a_unit() -> None:
    found = faults_of(rectangle(cracks=[joint((1, 1), ("2 m", "1 m"), unit=None)]))
    assert found == {
        "/areas/0/cracks/0/path/vertices/0/0": "missing-unit",
        "/areas/0/cracks/0/path/vertices/0/1": "missing-unit",
    }


def test_places_change_no_quantity() -> None:
    things: dict[str, list[dict[str, Any]]] = {
        "drains": [{"diameter": "200 mm"}, {"width": "150 mm", "length": "1 m", "along": "y"}],
        "collars": [{"diameter": "100 mm", "height": "150 mm"}],
        "pits": [{"width": "1 m", "length": "2 m", "depth": "1 m"}],
        "steps": [{"risers": 4, "width": "1 m", "rise": "170 mm", "going": "280 mm"}],
    }
    places = [spot(1, 1), spot(3, 3), spot(2, 1), spot(4, 1), spot(8, 1)]
    plain = room(**things)
    placed = {
        field: [{**one, "at": places.pop(0)} for one in given] for field, given in things.items()
    }
    assert room(**placed) == plain


@pytest.mark.parametrize(
    ("field", "thing", "at", "code"),
    [
        ("drains", {"diameter": "200 mm"}, (0.05, 3), "outside-floor"),
        ("drains", {"diameter": "200 mm"}, (6, 6), "outside-floor"),
        ("drains", {"diameter": "200 mm"}, (2.1, 2), "outside-floor"),
        ("drains", {"diameter": "200 mm"}, (0.1, 0.1), None),
        ("drains", {"width": "200 mm", "length": "2 m"}, (1, 7), None),
        ("drains", {"width": "200 mm", "length": "2 m", "along": "y"}, (1, 7.1), "outside-floor"),
        ("collars", {"width": "1 m", "height": "1 m"}, (3.6, 5), "outside-floor"),
        ("pits", {"width": "1 m", "length": "2 m", "depth": "1 m"}, (8, 3), None),
        ("pits", {"width": "1 m", "length": "2 m", "depth": "1 m"}, (8.1, 3), "outside-floor"),
        ("pits", {"width": "1 m", "depth": "1 m"}, (1.5, 1.5), "outside-floor"),
        ("pits", {"diameter": "1 m", "depth": "1 m"}, (0, 7), None),
    ],
)
def test_what_has_a_place_lies_on_the_floor(
    field: str, thing: dict[str, Any], at: tuple[float, float], code: str | None
) -> None:
    island = {"outline": box(0.5, 0.5, 2, 2)}
    area = ell(**{field: [{**thing, "at": spot(*at)}]}, islands=[island])
    if code is None:
        measured(area)
    else:
        assert faults_of(area) == {f"/areas/0/{field}/0/at": code}


def test_a_place_off_the_floor_is_told_in_the_units_of_the_caller() -> None:
    told = detail_of(rectangle(drains=[{"width": "1 m", "at": spot(10, 3)}]))
    assert "m)" in told


def test_no_two_lie_on_one_another() -> None:
    drain = {"diameter": "1 m"}
    found = faults_of(
        rectangle(
            drains=[
                {**drain, "at": spot(2, 2)},
                {**drain, "at": spot(2.99, 2)},
                # The squares round the circles meet; the circles do not.
                {**drain, "at": spot(2.9, 2.95)},
            ],
            collars=[{"width": "1 m", "height": "1 m", "at": spot(1.2, 2)}],
            pits=[
                {"width": "1 m", "depth": "1 m", "at": spot(6, 1)},
                {"width": "1 m", "depth": "1 m", "at": spot(6.9, 1.9)},
                {"width": "1 m", "depth": "1 m", "at": spot(5, 1)},
            ],
        )
    )
    assert found == {
        "/areas/0/drains/1/at": "drains-overlap",
        "/areas/0/drains/2/at": "drains-overlap",
        "/areas/0/collars/0/at": "collars-overlap",
        "/areas/0/pits/1/at": "pits-overlap",
    }


def test_round_things_may_lie_corner_to_corner() -> None:
    drain = {"diameter": "1 m"}
    measured(rectangle(drains=[{**drain, "at": spot(2, 2)}, {**drain, "at": spot(2.8, 2.8)}]))


def test_a_drain_may_lie_in_a_pit() -> None:
    pit = {"width": "1 m", "length": "2 m", "depth": "1 m", "at": spot(1, 1)}
    measured(rectangle(pits=[pit], drains=[{"diameter": "100 mm", "at": spot(2, 1.5)}]))


def test_several_at_one_place_are_refused() -> None:
    drain = {"diameter": "100 mm", "at": spot(1, 1), "count": 2}
    pit = {"width": "1 m", "depth": "1 m", "at": spot(3, 1), "count": 2}
    assert faults_of(rectangle(drains=[drain], pits=[pit])) == {
        "/areas/0/drains/0/count": "several-at-one-place",
        "/areas/0/pits/0/count": "several-at-one-place",
    }


def test_a_flight_lies_in_the_outline() -> None:
    flight = {"risers": 4, "width": "1 m", "rise": "170 mm", "at": spot(1, 1)}
    going = {"going": "280 mm"}
    assert faults_of(
        rectangle(
            steps=[
                {**flight, **going, "treads": "added"},
                flight,
                {**flight, **going, "at": spot(9.5, 1), "up": "x"},
            ]
        )
    ) == {
        "/areas/0/steps/0/at": "not-in-outline",
        "/areas/0/steps/1/going": "missing-field",
        "/areas/0/steps/2/at": "outside-floor",
    }


def repeat(times: int, work: Callable[[], object]) -> None:
    for _ in range(times):
        work()


def test_places_without_end_are_refused_in_time() -> None:
    ring = tuple((9 * cos(n * pi / 1000), 9 * sin(n * pi / 1000)) for n in range(2_000))
    line = PlanPath(unit="m", vertices=((0.0, 0.0), (1.0, 1.0)))
    one = Joint(path=line, width=PositiveSection(0.01), depth=PositiveSection(0.01))
    side = PositiveLength(1.0)
    area = SiteArea(id="a", outline=Rectangle(length=side, width=side), joints=(one,) * 2_000)
    effort = Effort()
    faults = Faults()
    with_lengths(area, FloorShape(ring), "si", effort, faults)
    assert not faults
    with pytest.raises(InvalidInput):
        repeat(100, lambda: with_lengths(area, FloorShape(ring), "si", effort, faults))
    assert [fault.code for fault in faults.found] == ["too-much-work"]


places = st.tuples(st.floats(-1, 11), st.floats(-1, 9)).map(
    lambda place: (round(place[0], 2), round(place[1], 2))
)


@given(vertices=st.lists(places, min_size=2, max_size=6))
@settings(max_examples=150, deadline=None)
def test_paths_against_shapely(vertices: list[tuple[float, float]]) -> None:
    island = shapely.box(2, 2, 3, 3)
    line = shapely.LineString(vertices)
    area = ell(joints=[joint(*vertices)], islands=[{"outline": box(1, 1, 2, 2)}])
    inside = shapely.Polygon(ELL).buffer(1e-6, join_style="mitre").covers(line)
    pieces = [shapely.LineString(ends) for ends in pairwise(vertices)]
    length = sum(piece.length - piece.intersection(island).length for piece in pieces)
    if line.length == 0:
        assert set(faults_of(area).values()) < {"leaves-outline", "no-length"}
    elif not inside:
        assert list(faults_of(area).values()) == ["leaves-outline"]
    elif length < 1e-6:
        assert list(faults_of(area).values()) == ["no-length"]
    else:
        # The island is drawn in by as much as two points may lie apart and be the same.
        assert measured(area).totals.joint_length == pytest.approx(length, abs=1e-4)
