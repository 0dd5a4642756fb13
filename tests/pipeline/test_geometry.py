from math import cos, pi, sin

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.pipeline import islands as islands_module
from filmbuild.pipeline.effort import BASE, Effort, TooMuchWorkError
from filmbuild.pipeline.geometry import (
    FloorShape,
    Ring,
    counter_clockwise,
    edge_lengths,
    encloses,
    net_area,
    ring_area,
    ring_perimeter,
    signed_area,
)
from filmbuild.pipeline.islands import island_faults
from filmbuild.pipeline.outlines import Ruler, ring_faults

BOW_TIE = ((0.0, 0.0), (2.0, 2.0), (2.0, 0.0), (0.0, 2.0))
L_SHAPE = ((0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (3.0, 3.0), (3.0, 5.0), (0.0, 5.0))


def rectangle(left: float, bottom: float, right: float, top: float) -> Ring:
    return ((left, bottom), (right, bottom), (right, top), (left, top))


@st.composite
def star_shaped(draw: st.DrawFn) -> Ring:
    """Simple rings: vertices at rising angles about a centre that sees them all."""
    count = draw(st.integers(3, 12))
    radii = draw(st.lists(st.floats(1, 9), min_size=count, max_size=count))
    return tuple(
        (
            20 + radius * cos(2 * pi * place / count),
            30 + radius * sin(2 * pi * place / count),
        )
        for place, radius in enumerate(radii)
    )


@pytest.mark.parametrize(
    ("ring", "area"),
    [
        # Wikipedia, "Shoelace formula", worked examples (from memory).
        (((1, 6), (3, 1), (7, 2), (4, 4), (8, 5)), 16.5),
        (((3, 4), (5, 11), (12, 8), (9, 5), (5, 6)), 30.0),
    ],
)
def test_area_of_published_polygons(ring: Ring, area: float) -> None:
    assert ring_area(ring) == pytest.approx(area, rel=1e-12)
    assert ring_faults(ring) == []


def test_net_area_leaves_the_island_out() -> None:
    # 30 x 20 less 2 x 2, and the same figure by shapely.
    shape = FloorShape(rectangle(0, 0, 30, 20), (rectangle(10, 10, 12, 12),))
    assert net_area(shape) == 596
    assert shapely.Polygon(shape.outline, shape.islands).area == 596


def test_bow_tie_has_no_signed_area_and_is_refused_at_its_crossing() -> None:
    assert signed_area(BOW_TIE) == 0
    (fault,) = ring_faults(BOW_TIE)
    assert fault.code == "self-crossing"
    assert fault.edges == (0, 2)
    assert fault.point == pytest.approx((1, 1))
    assert "(1 m, 1 m)" in fault.detail


@given(star_shaped())
def test_area_perimeter_and_inside_match_shapely(ring: Ring) -> None:
    figure = shapely.Polygon(ring)
    assert ring_area(ring) == pytest.approx(figure.area, rel=1e-12)
    assert ring_perimeter(ring) == pytest.approx(figure.length, rel=1e-12)
    assert signed_area(ring) > 0
    assert encloses(ring, (20.0, 30.0))
    assert not encloses(ring, (29.5, 39.5))


@given(
    star_shaped(),
    st.floats(-pi, pi),
    st.tuples(st.floats(-1e3, 1e3), st.floats(-1e3, 1e3)),
    st.integers(0, 11),
    st.floats(0.01, 100),
)
def test_area_does_not_depend_on_how_the_ring_is_given(
    ring: Ring, angle: float, shift: tuple[float, float], start: int, scale: float
) -> None:
    area = ring_area(ring)
    turned = tuple(
        (x * cos(angle) - y * sin(angle) + shift[0], x * sin(angle) + y * cos(angle) + shift[1])
        for x, y in ring
    )
    first = start % len(ring)
    assert ring_area(turned) == pytest.approx(area, rel=1e-9)
    assert ring_area(ring[first:] + ring[:first]) == pytest.approx(area, rel=1e-12)
    assert signed_area(ring[::-1]) == pytest.approx(-signed_area(ring), rel=1e-12)
    scaled = tuple((x * scale, y * scale) for x, y in ring)
    assert ring_area(scaled) == pytest.approx(area * scale**2, rel=1e-12)


@given(star_shaped(), st.booleans())
def test_counter_clockwise_keeps_the_numbers_of_the_edges(ring: Ring, turned: bool) -> None:
    as_given = ring[::-1] if turned else ring
    oriented = counter_clockwise(as_given)
    assert signed_area(oriented.points) > 0
    assert oriented.reversed == turned
    count = len(ring)
    for place, number in enumerate(oriented.edges):
        here = {oriented.points[place], oriented.points[(place + 1) % count]}
        assert here == {as_given[number], as_given[(number + 1) % count]}


def test_edge_lengths_end_with_the_closing_edge() -> None:
    assert edge_lengths(((0.0, 0.0), (4.0, 0.0), (4.0, 3.0))) == [4, 3, 5]


@pytest.mark.parametrize(
    ("ring", "code", "edges", "point"),
    [
        (((0, 0), (1, 0)), "too-few-vertices", (), None),
        (((0, 0), (4, 0), (4, 0), (4, 3)), "repeated-vertex", (1,), (4, 0)),
        (((0, 0), (4, 0), (4, 3), (0, 0)), "repeated-vertex", (3,), (0, 0)),
        (((0, 0), (2, 0), (5, 0)), "zero-area", (), None),
        (((0, 0), (1e-4, 0), (1e-4, 1e-4), (0, 1e-4)), "zero-area", (), (0, 0)),
        (((0, 0), (4, 0), (4, 3), (4, 5), (4, 3), (0, 3)), "spike", (2, 3), (4, 5)),
        (((0, 0), (6, 0), (6, 4), (3, 4), (3, 0), (2, 4), (0, 4)), "self-touching", None, (3, 0)),
        # An upright ring whose fourth and first edges cross at (4, 0).
        (((0, 0), (6, 0), (6, 2), (4, 2), (4, -1), (0, -1)), "self-crossing", (0, 3), (4, 0)),
        # Turning left at every vertex, but twice round.
        (((5, 0), (-4, 3), (1.5, -4.8), (1.5, 4.8), (-4, -3)), "self-crossing", None, None),
        (((0, 0), (float("nan"), 0), (1, 1)), "coordinate-range", (), None),
        (((0, 0), (1e200, 0), (1e200, 1e200)), "coordinate-range", (), None),
    ],
)
def test_faulty_ring_is_refused_with_the_place(
    ring: Ring, code: str, edges: tuple[int, ...] | None, point: tuple[float, float] | None
) -> None:
    (fault,) = ring_faults(ring)
    assert fault.code == code
    if edges is not None:
        assert fault.edges == edges
    if point is not None:
        assert fault.point == pytest.approx(point)


def test_every_repeated_vertex_and_spike_is_reported() -> None:
    ring = ((0.0, 0.0), (4.0, 0.0), (4.0, 0.0), (4.0, 3.0), (4.0, 5.0), (4.0, 3.0), (0.0, 3.0))
    assert [fault.code for fault in ring_faults(ring)] == ["repeated-vertex", "spike"]


@given(st.lists(st.tuples(st.integers(0, 4), st.integers(0, 4)), min_size=3, max_size=7))
def test_verdict_matches_shapely_on_small_grids(points: list[tuple[int, int]]) -> None:
    ring = tuple((float(x), float(y)) for x, y in points)
    repeated = any(ring[place - 1] == point for place, point in enumerate(ring))
    assert (ring_faults(ring) == []) == (shapely.Polygon(ring).is_valid and not repeated)


@given(st.data(), st.integers(2, 6))
def test_verdict_matches_shapely_on_upright_rings(data: st.DataObject, corners: int) -> None:
    places = st.lists(st.integers(0, 4), min_size=corners, max_size=corners)
    across, along = data.draw(places), data.draw(places)
    ring = tuple(
        (float(across[place]), float(along[(place + late) % corners]))
        for place in range(corners)
        for late in (0, 1)
    )
    repeated = any(ring[place - 1] == point for place, point in enumerate(ring))
    assert (ring_faults(ring) == []) == (shapely.Polygon(ring).is_valid and not repeated)


def test_ring_of_many_vertices_is_decided_and_its_crossing_found() -> None:
    count = 2_000
    ring = tuple(
        (
            (9 + place % 2) * cos(2 * pi * place / count),
            (9 + place % 2) * sin(2 * pi * place / count),
        )
        for place in range(count)
    )
    assert ring_faults(ring) == []
    swapped = (*ring[:700], ring[702], ring[701], ring[700], *ring[703:])
    (fault,) = ring_faults(swapped)
    assert fault.code == "self-crossing"
    assert set(fault.edges) <= {699, 700, 701, 702}


@pytest.mark.parametrize(
    "outline", [rectangle(0, 0, 6, 5), L_SHAPE, L_SHAPE[::-1], ((0, 0), (6, 0), (5, 5), (0, 5))]
)
def test_islands_strictly_inside_and_apart_are_accepted(outline: Ring) -> None:
    islands = (rectangle(1, 1, 2, 2), ((2.1, 1.0), (2.9, 1.0), (2.5, 2.0)))
    assert island_faults(FloorShape(outline, islands)) == []


@pytest.mark.parametrize(
    ("islands", "code", "point"),
    [
        ((rectangle(7, 1, 8, 2),), "island-outside", None),
        ((rectangle(3.5, 3.5, 4, 4),), "island-outside", None),
        ((rectangle(5, 1, 7, 2),), "island-crosses-outline", None),
        ((rectangle(0, 1, 1, 2),), "island-touches-outline", (0, 2)),
        ((((1.0, 1.0), (2.0, 1.0), (3.0, 3.0)),), "island-touches-outline", (3, 3)),
        ((rectangle(-1, -1, 7, 6),), "island-outside", None),
        ((rectangle(1, 1, 2, 2), rectangle(2, 1, 3, 2)), "islands-touch", (2, 1)),
        ((rectangle(1, 1, 2, 2), rectangle(1.5, 1.5, 2.5, 2.5)), "islands-overlap", (1.75, 1.75)),
        ((rectangle(1, 1, 2, 2), rectangle(1.4, 1.4, 1.6, 1.6)), "islands-overlap", (1.5, 1.5)),
    ],
)
def test_island_in_the_wrong_place_is_refused_with_the_place(
    islands: tuple[Ring, ...], code: str, point: tuple[float, float] | None
) -> None:
    (fault,) = island_faults(FloorShape(L_SHAPE, islands))
    assert fault.code == code
    if point is not None:
        assert fault.point == pytest.approx(point)


@given(star_shaped(), star_shaped(), st.floats(-8, 8), st.floats(0.1, 1))
def test_verdict_on_an_island_matches_shapely(
    outline: Ring, island: Ring, shift: float, scale: float
) -> None:
    moved = tuple(
        (20 + (x - 20) * scale + shift, 30 + (y - 30) * scale - shift / 2) for x, y in island
    )
    inside = shapely.contains_properly(shapely.Polygon(outline), shapely.Polygon(moved))
    assert (island_faults(FloorShape(outline, (moved,))) == []) == inside


def test_faults_of_many_islands_are_cut_short() -> None:
    islands = tuple(rectangle(1, 1, 2, 2) for _ in range(2_000))
    assert len(island_faults(FloorShape(L_SHAPE, islands))) == 100


def test_islands_that_do_not_touch_are_never_intersected(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every bounding box meets every other, and no two islands touch."""
    count = 100
    far = 2.0 * count

    def corner(near: float) -> Ring:
        inner = near + 1
        return ((near, near), (far, near), (far, inner), (inner, inner), (inner, far), (near, far))

    def intersected(first: object, second: object) -> None:
        raise AssertionError((first, second))

    monkeypatch.setattr(islands_module, "intersection", intersected)
    floor = FloorShape(
        rectangle(-1, -1, far + 1, far + 1), tuple(corner(2.0 * number) for number in range(count))
    )
    assert island_faults(floor) == []


def test_too_many_islands_round_one_another_are_refused() -> None:
    islands = tuple(
        ((n, n), (999, n), (999, n + 0.5), (n + 0.5, n + 0.5), (n + 0.5, 999), (n, 999))
        for n in map(float, range(200))
    )
    floor = FloorShape(rectangle(-1, -1, 1_001, 1_001), islands)
    assert island_faults(floor, effort=Effort()) == []
    effort = Effort()
    effort.spend(BASE - 50_000)
    with pytest.raises(TooMuchWorkError):
        island_faults(floor, effort=effort)


def test_places_are_told_by_the_ruler_given() -> None:
    (fault,) = ring_faults(tuple((x * 0.3048, y * 0.3048) for x, y in BOW_TIE), Ruler("ft", 0.3048))
    assert "(1 ft, 1 ft)" in fault.detail
