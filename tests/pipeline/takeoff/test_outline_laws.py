"""What a floor measures does not depend on how its figure is given, and shapely agrees."""

import json
from math import cos, pi, sin
from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.edge.decoding import decode
from filmbuild.errors import Faults
from filmbuild.pipeline.results import Takeoff
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff import take_off

Ring = list[tuple[float, float]]
FOOT = 0.3048
TOTALS = (
    "floor",
    "machine_grind",
    "hand_grind",
    "field",
    "cut_in",
    "wall_length",
    "tape_length",
)


def measured(outline: Ring, islands: list[Ring], unit: str = "m") -> Takeoff:
    def polygon(ring: Ring) -> dict[str, Any]:
        return {"outline": {"kind": "polygon", "unit": unit, "vertices": ring}}

    area = {"id": "room", **polygon(outline), "islands": [polygon(ring) for ring in islands]}
    return take_off(decode(Site, json.dumps({"areas": [area]}).encode()), Faults())


def sums(takeoff: Takeoff) -> list[float]:
    return [getattr(takeoff.totals, field) for field in TOTALS]


def star(draw: st.DrawFn, x: float, y: float, least: float, most: float) -> Ring:
    count = draw(st.integers(3, 9))
    radii = draw(st.lists(st.floats(least, most), min_size=count, max_size=count))
    return [
        (x + radius * cos(2 * pi * place / count), y + radius * sin(2 * pi * place / count))
        for place, radius in enumerate(radii)
    ]


@st.composite
def stars_with_islands(draw: st.DrawFn) -> tuple[Ring, list[Ring]]:
    outline = star(draw, 0, 0, 2, 9)
    floor = shapely.Polygon(outline)
    islands: list[Ring] = []
    for _ in range(draw(st.integers(0, 3))):
        x, y = draw(st.floats(-4, 4)), draw(st.floats(-4, 4))
        island = star(draw, x, y, 0.05, 0.6)
        figure = shapely.Polygon(island)
        if floor.contains_properly(figure):
            islands.append(island)
            floor = floor.difference(figure)
    return outline, islands


@st.composite
def cells(draw: st.DrawFn) -> tuple[Ring, list[Ring]]:
    """Squares of 1.5 m put together edge to edge, with the courts that they enclose."""
    wanted = draw(st.sets(st.tuples(st.integers(0, 4), st.integers(0, 4)), min_size=3))
    figure = shapely.union_all([shapely.box(x, y, x + 1, y + 1) for x, y in wanted])
    part = max(shapely.get_parts(figure), key=lambda one: one.area)
    rings = [part.exterior, *part.interiors]
    if not all(shapely.Polygon(ring).is_valid for ring in rings):
        rings = rings[:1]
    made = [[(1.5 * x, 1.5 * y) for x, y in ring.coords[:-1]] for ring in rings]
    floor = shapely.Polygon(made[0])
    islands: list[Ring] = []
    for ring in made[1:]:
        court = shapely.Polygon(ring)
        # Courts that meet at a corner are refused, as islands that touch are.
        apart = all(court.disjoint(shapely.Polygon(one)) for one in islands)
        if apart and floor.contains_properly(court):
            islands.append(ring)
    return made[0], islands


floors = st.one_of(stars_with_islands(), cells())


@given(floors)
def test_floor_and_walls_are_those_of_shapely(floor: tuple[Ring, list[Ring]]) -> None:
    figure = shapely.Polygon(*floor)
    totals = measured(*floor).totals
    assert totals.floor == pytest.approx(figure.area, rel=1e-9)
    assert totals.wall_length == pytest.approx(figure.length, rel=1e-9)
    assert totals.machine_grind + totals.hand_grind == pytest.approx(figure.area, rel=1e-12)
    assert totals.field + totals.cut_in == pytest.approx(figure.area, rel=1e-12)


@given(
    floors,
    st.floats(-pi, pi),
    st.tuples(st.floats(-1e3, 1e3), st.floats(-1e3, 1e3)),
)
def test_turning_and_moving_a_floor_changes_no_total(
    floor: tuple[Ring, list[Ring]], angle: float, shift: tuple[float, float]
) -> None:
    def moved(ring: Ring) -> Ring:
        return [
            (x * cos(angle) - y * sin(angle) + shift[0], x * sin(angle) + y * cos(angle) + shift[1])
            for x, y in ring
        ]

    outline, islands = floor
    found = sums(measured(moved(outline), [moved(one) for one in islands]))
    assert found == pytest.approx(sums(measured(*floor)), rel=1e-7, abs=1e-7)


@given(floors, st.integers(0, 20), st.booleans())
def test_start_and_direction_change_no_total(
    floor: tuple[Ring, list[Ring]], start: int, turned: bool
) -> None:
    def again(ring: Ring) -> Ring:
        first = start % len(ring)
        later = ring[first:] + ring[:first]
        return later[::-1] if turned else later

    outline, islands = floor
    found = sums(measured(again(outline), [again(one) for one in islands][::-1]))
    assert found == pytest.approx(sums(measured(*floor)), rel=1e-9, abs=1e-9)


@given(floors, st.sampled_from([("ft", FOOT), ("in", 0.0254), ("mm", 0.001), ("yd", 0.9144)]))
def test_unit_changes_no_total(floor: tuple[Ring, list[Ring]], unit: tuple[str, float]) -> None:
    def converted(ring: Ring) -> Ring:
        return [(x / unit[1], y / unit[1]) for x, y in ring]

    outline, islands = floor
    found = sums(measured(converted(outline), [converted(one) for one in islands], unit[0]))
    assert found == pytest.approx(sums(measured(*floor)), rel=1e-8, abs=1e-8)


@given(floors)
def test_an_island_never_raises_the_coated_area(floor: tuple[Ring, list[Ring]]) -> None:
    outline, islands = floor
    before = measured(outline, []).totals.floor
    for count in range(1, len(islands) + 1):
        after = measured(outline, islands[:count]).totals.floor
        assert after < before
        before = after
