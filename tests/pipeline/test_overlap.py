from math import cos, pi, sin

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.pipeline import overlap as module
from filmbuild.pipeline.geometry import FloorShape, Ring
from filmbuild.pipeline.overlap import EntangledError, overlaps


def rectangle(left: float, bottom: float, width: float, height: float) -> Ring:
    right, top = left + width, bottom + height
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def lengths(least: float, most: float) -> st.SearchStrategy[float]:
    """Whole millimetres, in metres."""
    return st.integers(int(least * 1000), int(most * 1000)).map(lambda length: length / 1000)


@st.composite
def placed(draw: st.DrawFn) -> FloorShape:
    place = lengths(0, 12)
    x, y = draw(place), draw(place)
    kind = draw(st.sampled_from(["box", "ring", "star"]))
    if kind == "box":
        size = lengths(0.5, 5)
        return FloorShape(rectangle(x, y, draw(size), draw(size)))
    if kind == "ring":
        return FloorShape(rectangle(x, y, 4, 4), (rectangle(x + 0.5, y + 0.5, 3, 3),))
    radii = draw(st.lists(lengths(0.5, 3), min_size=7, max_size=7))
    return FloorShape(
        tuple(
            (x + radius * cos(2 * pi * number / 7), y + radius * sin(2 * pi * number / 7))
            for number, radius in enumerate(radii)
        )
    )


@given(st.lists(placed(), max_size=8))
def test_overlaps_match_shapely(shapes: list[FloorShape]) -> None:
    figures = [shapely.Polygon(shape.outline, shape.islands) for shape in shapes]
    expected = {}
    for first, figure in enumerate(figures):
        for second in range(first + 1, len(figures)):
            area = figure.intersection(figures[second]).area
            if area > 1e-6:
                expected[first, second] = area
    found = overlaps(shapes)
    assert [(overlap.first, overlap.second) for overlap in found] == sorted(expected)
    for overlap in found:
        assert overlap.area == pytest.approx(expected[overlap.first, overlap.second], rel=1e-9)
        point = shapely.Point(overlap.point)
        assert figures[overlap.first].distance(point) < 1e-9
        assert figures[overlap.second].distance(point) < 1e-9


def test_neighbours_share_walls_without_overlapping() -> None:
    rooms = [
        FloorShape(rectangle(0.1 * column, 0.1 * row, 0.1, 0.1))
        for column in range(40)
        for row in range(40)
    ]
    assert overlaps(rooms) == []


def test_one_misplaced_room_among_many_is_found_with_its_place() -> None:
    rooms = [FloorShape(rectangle(3.0 * (n % 20), 3.0 * (n // 20), 3, 3)) for n in range(400)]
    rooms.append(FloorShape(rectangle(30.5, 30.5, 1, 1)))
    (overlap,) = overlaps(rooms)
    assert (overlap.first, overlap.second) == (210, 400)
    assert overlap.area == pytest.approx(1)
    assert overlap.point == pytest.approx((31, 31))


def test_room_inside_an_island_does_not_overlap() -> None:
    hall = FloorShape(rectangle(0, 0, 10, 10), (rectangle(3, 3, 4, 4),))
    assert overlaps([hall, FloorShape(rectangle(3, 3, 4, 4))]) == []
    (overlap,) = overlaps([hall, FloorShape(rectangle(3, 3, 5, 4))])
    assert overlap.area == pytest.approx(4)


def test_slivers_of_rounding_are_no_overlap() -> None:
    first = FloorShape(rectangle(0, 0, 4, 3))
    assert overlaps([first, FloorShape(rectangle(4 - 1e-8, 0, 4, 3))]) == []
    assert len(overlaps([first, FloorShape(rectangle(4 - 1e-5, 0, 4, 3))])) == 1


def test_a_thousand_rooms_on_one_spot_stop_at_the_most_asked_for() -> None:
    boxes = [FloorShape(rectangle(0, 0, 4, 3)) for _ in range(1_000)]
    assert len(overlaps(boxes, most=50)) == 50
    triangles = [FloorShape(((0, 0), (4, 0), (0, 4))) for _ in range(1_000)]
    assert len(overlaps(triangles, most=50)) == 50


def corner(number: int, count: int) -> FloorShape:
    """One of many nested corners: every bounding box meets every other, and no two floors do."""
    near, far = 2.0 * number, 2.0 * count
    inner = near + 1
    return FloorShape(
        ((near, near), (far, near), (far, inner), (inner, inner), (inner, far), (near, far))
    )


def test_floors_that_do_not_touch_are_never_intersected(monkeypatch: pytest.MonkeyPatch) -> None:
    """All 4,950 pairs of boxes meet; a million pairs would take half a minute to intersect."""

    def intersected(first: object, second: object) -> None:
        raise AssertionError((first, second))

    monkeypatch.setattr(module, "intersection", intersected)
    assert overlaps([corner(number, 100) for number in range(100)]) == []


def test_one_overlap_among_nested_floors_is_found() -> None:
    corners = [corner(number, 200) for number in range(200)]
    corners.append(FloorShape(((100.2, 105), (100.6, 105), (100.6, 106))))
    (overlap,) = overlaps(corners)
    assert (overlap.first, overlap.second) == (50, 200)
    assert overlap.area == pytest.approx(0.2)


def test_floors_too_many_to_be_compared_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MOST_EFFORT", 100_000)
    corners = [corner(number, 200) for number in range(200)]
    with pytest.raises(EntangledError):
        overlaps(corners)
    twice = [corner(number // 2, 200) for number in range(200)]
    assert 0 < len(overlaps(twice)) <= 100
