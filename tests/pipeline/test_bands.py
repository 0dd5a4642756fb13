from itertools import pairwise
from math import cos, pi, sin, sqrt, tan

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.pipeline.band_union import united_areas
from filmbuild.pipeline.bands import band_areas, band_areas_of, whole_walls
from filmbuild.pipeline.effort import BASE, Effort, TooMuchWorkError
from filmbuild.pipeline.geometry import FloorShape, Point, Ring, edge_lengths, net_area
from filmbuild.pipeline.walls import WallStretch, ring_walls

WIDTHS = (0.1, 0.23)
sixteenths = st.integers(0, 16)
L_SHAPE = ((0.0, 0.0), (6.0, 0.0), (6.0, 3.0), (3.0, 3.0), (3.0, 5.0), (0.0, 5.0))


def rectangle(left: float, bottom: float, width: float, height: float) -> Ring:
    right, top = left + width, bottom + height
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def turned(ring: Ring, angle: float, shift: Point) -> Ring:
    return tuple(
        (x * cos(angle) - y * sin(angle) + shift[0], x * sin(angle) + y * cos(angle) + shift[1])
        for x, y in ring
    )


@st.composite
def star_shaped(draw: st.DrawFn) -> Ring:
    count = draw(st.integers(3, 10))
    radii = draw(st.lists(st.floats(1, 9), min_size=count, max_size=count))
    return tuple(
        (radius * cos(2 * pi * place / count), radius * sin(2 * pi * place / count))
        for place, radius in enumerate(radii)
    )


@st.composite
def upright(draw: st.DrawFn) -> FloorShape:
    """A rectangle, an L, a T, a U or a room with a pier, with up to two columns, scaled."""
    outline = draw(
        st.sampled_from(
            [
                rectangle(0, 0, 6, 5),
                L_SHAPE,
                ((0, 0), (6, 0), (6, 3), (4, 3), (4, 5), (2, 5), (2, 3), (0, 3)),
                ((0, 0), (6, 0), (6, 5), (5, 5), (5, 3), (1.5, 3), (1.5, 5), (0, 5)),
                ((0, 0), (6, 0), (6, 5), (3, 5), (3, 4.8), (2, 4.8), (2, 5), (0, 5)),
                ((0, 0), (2, 0), (6, 0), (6, 5), (0, 5)),
            ]
        )
    )
    place, size = st.floats(0.05, 1.2), st.floats(0.1, 1)
    islands = []
    for column in range(draw(st.integers(0, 2))):
        left, bottom = 0.5 + 2.4 * column + draw(place), draw(place)
        islands.append(rectangle(left, bottom, draw(size), draw(size)))
    if draw(st.booleans()):
        islands = [island[::-1] for island in islands]
    if draw(st.booleans()):
        outline = outline[::-1]
    scale = draw(st.sampled_from([0.2, 1.0, 3.7]))
    return FloorShape(
        tuple((x * scale, y * scale) for x, y in outline),
        tuple(tuple((x * scale, y * scale) for x, y in island) for island in islands),
    )


@st.composite
def walls_of(draw: st.DrawFn, shape: FloorShape) -> list[WallStretch]:
    """Each edge all wall, all open, with a doorway, or with walls that lap over."""
    walls = []
    for wall in whole_walls(shape):
        kind = draw(st.sampled_from(["whole", "whole", "open", "doorway", "lapped"]))
        here, there = sorted(wall.end * draw(sixteenths) / 16 for _ in range(2))
        if kind == "whole":
            walls.append(wall)
        elif kind == "doorway":
            walls.append(WallStretch(wall.ring, wall.edge, there, wall.end))
            walls.append(WallStretch(wall.ring, wall.edge, 0.0, here))
        elif kind == "lapped":
            walls.append(WallStretch(wall.ring, wall.edge, 0.0, there))
            walls.append(WallStretch(wall.ring, wall.edge, here, wall.end))
    return walls


shapes = st.one_of(
    upright(),
    star_shaped().map(FloorShape),
    star_shaped().map(lambda ring: FloorShape(ring, (rectangle(-0.2, -0.3, 0.4, 0.5),))),
    st.builds(
        lambda ring, angle: FloorShape(turned(ring, angle, (3.0, -2.0))),
        st.builds(rectangle, st.just(0), st.just(0), st.floats(0.3, 9), st.floats(0.3, 9)),
        st.floats(-pi, pi),
    ),
)


def united(shape: FloorShape, walls: list[WallStretch]) -> list[float]:
    return united_areas(shape, ring_walls(shape, walls), WIDTHS)


@given(st.floats(0.05, 50), st.floats(0.05, 50), st.floats(0.001, 2))
def test_room_walled_all_round_leaves_the_inner_rectangle(a: float, b: float, w: float) -> None:
    shape = FloorShape(rectangle(3, 4, a, b))
    inner = max(a - 2 * w, 0) * max(b - 2 * w, 0)
    (band,) = band_areas(shape, whole_walls(shape), (w,))
    assert band == pytest.approx(a * b - inner, rel=1e-9)


def test_corners_are_counted_once() -> None:
    # 4 m x 3 m, 0.1 m: perimeter x width would be 1.4 m2; less 0.1 x 0.1 m2 at each corner.
    shape = FloorShape(rectangle(0, 0, 4, 3))
    assert band_areas(shape, whole_walls(shape), (0.1,)) == pytest.approx([1.36])


def test_column_in_the_open_is_ringed_by_a_square_band() -> None:
    shape = FloorShape(rectangle(0, 0, 10, 8), (rectangle(4, 3, 0.5, 0.4),))
    column = [wall for wall in whole_walls(shape) if wall.ring == 1]
    expected = 0.96 * 0.86 - 0.5 * 0.4
    assert band_areas(shape, column, (0.23,)) == pytest.approx([expected])
    assert united(shape, column)[1] == pytest.approx(expected)


def test_doorway_has_no_band_and_its_jambs_end_square() -> None:
    shape = FloorShape(rectangle(0, 0, 4, 3))
    walls = [WallStretch(0, 0, 0.0, 1.5), WallStretch(0, 0, 2.4, 4.0)]
    assert band_areas(shape, walls, (0.1,)) == pytest.approx([0.31])


def test_inner_corner_of_an_l_is_mitred() -> None:
    shape = FloorShape(L_SHAPE)
    walls = [WallStretch(0, 2, 0.0, 3.0), WallStretch(0, 3, 0.0, 2.0)]
    assert band_areas(shape, walls, (0.1,)) == pytest.approx([0.51])


def test_corner_sharper_than_a_right_angle_is_cut_at_the_reach_of_a_square_one() -> None:
    # A wedge of 60 degrees: strips 2 x w, and at the tip, which turns by 120 degrees, the square
    # mitre's reach: two triangles w x t / 2 and a trapezium, t = w (sqrt 2 - cos 60) / sin 60.
    wedge = ((0.0, 0.0), (sqrt(3), 1.0), (sqrt(3), -1.0))
    shape = FloorShape(rectangle(-5, -5, 10, 10), (wedge,))
    walls = [WallStretch(1, edge, 0.0, 2.0) for edge in (0, 2)]
    w = 0.1
    reach = (sqrt(2) - cos(pi / 3)) / sin(pi / 3)
    tip = w**2 * (tan(pi / 3) - (tan(pi / 3) - reach) ** 2 * sin(2 * pi / 3) / 2)
    (band,) = band_areas(shape, walls, (w,))
    assert band == pytest.approx(2 * 2 * w + tip, rel=1e-9)


@pytest.mark.parametrize("angle", [0.0, 2.08, 2.62, 2.64])
def test_column_inside_the_band_of_a_wall_at_an_odd_angle(angle: float) -> None:
    # Edges of the bands fall on one another but for rounding. By hand: the walls' band 0.4 m2,
    # less 0.05 x 0.2 of column; around the column 0.15 x 0.3 more, less 0.05 x 0.2 of column.
    shift = (0.0, 0.0)
    outline = turned(rectangle(0, 0, 1.2, 1.0), angle, shift)
    shape = FloorShape(outline, (turned(rectangle(0.05, 0.1, 0.1, 0.2), angle, shift),))
    (band,) = band_areas(shape, whole_walls(shape), (0.1,))
    assert band == pytest.approx(0.425, rel=1e-9)


def test_no_walls_no_band_and_no_width_no_band() -> None:
    shape = FloorShape(L_SHAPE, (((0.5, 0.5), (1.5, 0.5), (1.0, 1.5)),))
    assert band_areas(shape, [], WIDTHS) == (0, 0)
    assert band_areas(shape, whole_walls(shape), (0.0,)) == (0,)
    assert band_areas(shape, whole_walls(shape), ()) == ()


@given(st.data(), shapes)
def test_closed_forms_agree_with_the_union(data: st.DataObject, shape: FloorShape) -> None:
    walls = data.draw(walls_of(shape))
    bands = band_areas(shape, walls, WIDTHS)
    assert bands == pytest.approx(united(shape, walls), rel=1e-9, abs=1e-12)


@given(shapes)
def test_walls_all_round_agree_with_the_union(shape: FloorShape) -> None:
    walls = list(whole_walls(shape))
    bands = band_areas(shape, walls, WIDTHS)
    assert bands == pytest.approx(united(shape, walls), rel=1e-9, abs=1e-12)


@given(st.data(), shapes)
def test_band_is_part_of_the_floor_and_grows_with_its_width(
    data: st.DataObject, shape: FloorShape
) -> None:
    walls = data.draw(walls_of(shape))
    bands = band_areas(shape, walls, (0.0, 0.1, 0.23, 0.7, 2.0, 30.0))
    net = net_area(shape)
    assert bands[0] == 0
    assert all(narrow <= wide * (1 + 1e-9) + 1e-12 for narrow, wide in pairwise(bands))
    assert all(0 <= band <= net for band in bands)


@given(shapes)
def test_room_narrower_than_two_widths_is_all_band(shape: FloorShape) -> None:
    box = shapely.Polygon(shape.outline).bounds
    width = max(box[2] - box[0], box[3] - box[1]) / 2
    (band,) = band_areas(shape, whole_walls(shape), (width,))
    assert band == pytest.approx(net_area(shape), rel=1e-9)


@given(upright())
def test_upright_floor_walled_all_round_matches_a_mitred_inward_offset(shape: FloorShape) -> None:
    # The outside judge: shapely's own offset of the whole floor, not a union of strips.
    floor = shapely.Polygon(shape.outline, shape.islands)
    for width, band in zip(WIDTHS, band_areas(shape, whole_walls(shape), WIDTHS), strict=True):
        bare = floor.buffer(-width, join_style="mitre", mitre_limit=5).area
        assert band == pytest.approx(floor.area - bare, rel=1e-7, abs=1e-9)


@given(star_shaped())
def test_band_holds_every_point_nearer_to_a_wall_than_its_width(ring: Ring) -> None:
    # Between the floor nearer than w and, mitres reaching sqrt 2 w, the floor nearer than that.
    floor = shapely.Polygon(ring)
    shape = FloorShape(ring)
    for width, band in zip(WIDTHS, band_areas(shape, whole_walls(shape), WIDTHS), strict=True):
        near = floor.intersection(floor.exterior.buffer(width)).area
        reached = floor.intersection(floor.exterior.buffer(width * sqrt(2), quad_segs=64)).area
        assert near * (1 - 1e-9) <= band <= reached * (1 + 1e-3)


@given(
    st.data(),
    upright(),
    st.floats(-pi, pi),
    st.tuples(st.floats(-1e3, 1e3), st.floats(-1e3, 1e3)),
    st.sampled_from([0.5, 2.0, 3.0]),
)
def test_band_does_not_depend_on_where_the_floor_lies(
    data: st.DataObject, shape: FloorShape, angle: float, shift: Point, scale: float
) -> None:
    walls = data.draw(walls_of(shape))
    bands = band_areas(shape, walls, WIDTHS)
    moved = FloorShape(
        turned(shape.outline, angle, shift),
        tuple(turned(island, angle, shift) for island in shape.islands),
    )
    assert band_areas(moved, walls, WIDTHS) == pytest.approx(bands, rel=1e-8, abs=1e-9)
    larger = FloorShape(
        tuple((x * scale, y * scale) for x, y in shape.outline),
        tuple(tuple((x * scale, y * scale) for x, y in island) for island in shape.islands),
    )
    longer = [
        WallStretch(wall.ring, wall.edge, wall.start * scale, wall.end * scale) for wall in walls
    ]
    scaled = band_areas(larger, longer, [width * scale for width in WIDTHS])
    assert scaled == pytest.approx([band * scale**2 for band in bands], rel=1e-8, abs=1e-9)


@given(st.data(), upright(), st.integers(1, 5))
def test_band_does_not_depend_on_start_or_direction(
    data: st.DataObject, shape: FloorShape, start: int
) -> None:
    walls = data.draw(walls_of(shape))
    bands = band_areas(shape, walls, WIDTHS)
    count = len(shape.outline)
    first = start % count
    later = FloorShape(shape.outline[first:] + shape.outline[:first], shape.islands)
    renumbered = [
        wall if wall.ring else WallStretch(0, (wall.edge - first) % count, wall.start, wall.end)
        for wall in walls
    ]
    assert band_areas(later, renumbered, WIDTHS) == pytest.approx(bands, rel=1e-9, abs=1e-12)
    lengths = edge_lengths(shape.outline)
    backward = FloorShape(shape.outline[::-1], shape.islands)
    mirrored = [
        wall
        if wall.ring
        else WallStretch(
            0,
            (count - 2 - wall.edge) % count,
            lengths[wall.edge] - wall.end,
            lengths[wall.edge] - wall.start,
        )
        for wall in walls
    ]
    assert band_areas(backward, mirrored, WIDTHS) == pytest.approx(bands, rel=1e-9, abs=1e-12)


@st.composite
def hall_with_columns(draw: st.DrawFn) -> FloorShape:
    """Columns of many forms in a hall with one slanting wall, some near one another or the walls."""
    forms = (
        ((0, 0), (0.6, 0), (0.6, 0.6), (0, 0.6)),
        ((0, 0), (0.7, 0.2), (0.3, 0.6)),
        ((0, 0), (0.9, 0), (0.9, 0.3), (0.3, 0.3), (0.3, 0.9), (0, 0.9)),
        ((0, 0), (0.9, 0), (0.9, 0.9), (0.7, 0.9), (0.7, 0.1), (0.2, 0.1), (0.2, 0.9), (0, 0.9)),
        ((0, 0), (0.8, 0.1), (0.2, 0.3), (0.1, 0.9)),
        tuple((0.4 + 0.4 * cos(pi * n / 10), 0.4 + 0.4 * sin(pi * n / 10)) for n in range(20)),
    )
    islands = []
    for place in range(draw(st.integers(1, 9))):
        left = 1.1 * (place % 3) + draw(st.sampled_from([0.05, 0.15, 0.5]))
        bottom = 1.1 * (place // 3) + draw(st.sampled_from([0.05, 0.15, 0.5]))
        form = draw(st.sampled_from(forms))
        islands.append(tuple((left + 0.6 * x, bottom + 0.6 * y) for x, y in form))
    return FloorShape(((0, 0), (3.4, 0), (3.6, 3.5), (1.7, 3.7), (0, 3.4)), tuple(islands))


@given(st.data(), hall_with_columns(), st.floats(-pi, pi))
def test_islands_found_by_groups_agree_with_one_union(
    data: st.DataObject, shape: FloorShape, angle: float
) -> None:
    walls = data.draw(st.one_of(st.just(list(whole_walls(shape))), walls_of(shape)))
    if data.draw(st.booleans()):
        shape = FloorShape(
            turned(shape.outline, angle, (3.0, -2.0)),
            tuple(turned(island, angle, (3.0, -2.0)) for island in shape.islands),
        )
    bands = band_areas(shape, walls, WIDTHS)
    assert bands == pytest.approx(united(shape, walls), rel=1e-9, abs=1e-11)


def test_columns_apart_are_never_united() -> None:
    """A union of all would spend 480 times as much as is left."""
    columns = tuple(
        tuple(
            (2 + 4 * (place % 24) + cos(pi * n / 20), 2 + 4 * (place // 24) + sin(pi * n / 20))
            for n in range(40)
        )
        for place in range(480)
    )
    shape = FloorShape(rectangle(-1, -1, 100, 90), columns)
    effort = Effort()
    effort.spend(BASE - 1)
    (band,) = band_areas_of(ring_walls(shape, whole_walls(shape)), (0.1,), effort)
    # Each column's band: 40 strips, and 40 mitres of the tangent of half of 9 degrees.
    column = 40 * (2 * sin(pi / 40) * 0.1 + 0.1**2 * tan(pi / 40))
    assert band == pytest.approx(0.2 * (100 + 90) - 4 * 0.1**2 + 480 * column, rel=1e-9)


def test_uniting_more_than_the_effort_left_is_refused() -> None:
    ring = tuple((9 * cos(n) * (1 + n % 2), 9 * sin(n) * (1 + n % 2)) for n in range(6))
    rings = ring_walls(FloorShape(ring), whole_walls(FloorShape(ring)))
    effort = Effort()
    effort.spend(BASE - 1)
    with pytest.raises(TooMuchWorkError):
        band_areas_of(rings, (0.1,), effort)
