"""Rooms drawn as loose lines and arcs, whose ends meet."""

from itertools import pairwise
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from plan_cases import drawing, on, read, written

from filmbuild.pipeline.geometry import Point, ring_area
from filmbuild.plans.loops import loops_of
from filmbuild.plans.wire import PlanReading

FLOOR = on("floor")


def sizes(reading: PlanReading) -> list[float]:
    return [ring_area(area.outline.vertices) for area in reading.areas]  # type: ignore[arg-type]  # as numbers


def said(reading: PlanReading) -> dict[str, str]:
    return {note.code: note.detail for note in reading.notes}


def test_lines_arc_and_polyline_in_any_order_and_direction_are_one_room() -> None:
    # 6 x 4 m and half a circle of 2 m radius on its right; ends lie up to 1 mm apart.
    document = drawing()
    space = document.modelspace()
    space.add_line((0, 4_000), (6_000, 4_000.5), dxfattribs=FLOOR)
    space.add_arc((6_000, 2_000), 2_000, -90, 90, dxfattribs=FLOOR)
    space.add_lwpolyline([(0, 4_001), (0, 0), (3_000, 0)], dxfattribs=FLOOR)
    space.add_line((6_000, 0), (3_000, 0), dxfattribs=FLOOR)
    reading = read(written(document))
    assert sizes(reading) == [pytest.approx(24e6 + pi * 2_000**2 / 2, rel=1e-3)]
    assert "4 loose lines were joined into 1" in said(reading)["lines-joined"]
    assert "open-shapes" not in said(reading)


def test_lines_round_a_column_are_an_island() -> None:
    document = drawing()
    space = document.modelspace()
    room = [(0, 0), (8_000, 0), (8_000, 5_000), (0, 5_000), (0, 0)]
    column = [(2_000, 2_000), (2_400, 2_000), (2_400, 2_400), (2_000, 2_400), (2_000, 2_000)]
    for layer, corners in (("floor", room), ("columns", column)):
        for start, end in pairwise(corners):
            space.add_line(start, end, dxfattribs=on(layer))
    (area,) = read(written(document), islands="columns").areas
    (island,) = area.islands
    assert ring_area(island.outline.vertices) == pytest.approx(400**2)  # type: ignore[union-attr,arg-type]  # a polygon of numbers


def test_lines_are_left_where_three_ends_meet_and_where_two_do_not() -> None:
    document = drawing()
    space = document.modelspace()
    shared = [(0, 0), (8_000, 0), (8_000, 5_000), (0, 5_000), (0, 0), (8_000, 5_000)]
    apart = [(20_000, 0), (28_000, 0), (28_000, 5_000), (20_000, 5_000), (20_000, 3)]
    for corners in (shared, apart):
        for start, end in pairwise(corners):
            space.add_line(start, end, dxfattribs=FLOOR)
    reading = read(written(document))
    assert not reading.areas
    assert "9 open lines enclose no area" in said(reading)["open-shapes"]


def test_a_line_drawn_twice_is_no_room() -> None:
    document = drawing()
    for _ in range(2):
        document.modelspace().add_line((0, 0), (8_000, 0), dxfattribs=FLOOR)
    reading = read(written(document))
    assert not reading.areas
    assert list(said(reading)) == ["open-shapes"]


@st.composite
def rings_in_pieces(draw: st.DrawFn) -> tuple[list[list[Point]], list[list[Point]]]:
    """Rings far from one another, and the pieces that they were cut into, shuffled and turned."""
    rings: list[list[Point]] = []
    pieces: list[list[Point]] = []
    for number in range(draw(st.integers(1, 5))):
        corners = draw(st.integers(3, 9))
        ring = [(100.0 * number + corner, corner**2) for corner in range(corners)]
        rings.append([(x, float(y)) for x, y in ring])
        cuts = draw(st.sets(st.integers(0, corners - 1), min_size=1))
        places = sorted(cuts)
        for start, end in pairwise([*places, places[0] + corners]):
            piece = [rings[-1][place % corners] for place in range(start, end + 1)]
            pieces.append(piece[::-1] if draw(st.booleans()) else piece)
    return rings, draw(st.permutations(pieces))


@given(rings_in_pieces())
def test_rings_cut_into_pieces_are_found_again(
    drawn: tuple[list[list[Point]], list[list[Point]]],
) -> None:
    rings, pieces = drawn
    found = loops_of(pieces, 0.1)
    assert found.used == len(pieces)
    assert sorted(map(sorted, found.rings)) == sorted(map(sorted, rings))
    areas = sorted(ring_area(ring) for ring in found.rings)
    assert areas == pytest.approx(sorted(ring_area(tuple(ring)) for ring in rings))
