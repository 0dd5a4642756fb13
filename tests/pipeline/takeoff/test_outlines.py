"""Each kind of outline: what it measures, and where it is told to be wrong."""

import json
from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.edge.decoding import decode
from filmbuild.errors import Fault, Faults, InvalidInput
from filmbuild.pipeline.effort import BASE, Effort
from filmbuild.pipeline.results import Takeoff
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff import shapes, take_off
from filmbuild.quantities import UnitSystem

FOOT = 0.3048
INCH = 0.0254


def measured(outline: dict[str, Any], units: UnitSystem = "si", **rest: Any) -> Takeoff:
    return site([{"id": "room", "outline": outline, **rest}], units)


def site(areas: list[dict[str, Any]], units: UnitSystem = "si") -> Takeoff:
    body = json.dumps({"areas": areas}).encode()
    return take_off(decode(Site, body, max_bytes=len(body)), Faults(), units)


def faults_of(outline: dict[str, Any], units: UnitSystem = "si", **rest: Any) -> tuple[Fault, ...]:
    with pytest.raises(InvalidInput) as caught:
        measured(outline, units, **rest)
    return caught.value.faults


def polygon(*vertices: tuple[Any, Any], **rest: Any) -> dict[str, Any]:
    return {"kind": "polygon", "vertices": vertices, **rest}


def l_shape(**rest: Any) -> dict[str, Any]:
    sides = {"length": "9 m", "width": "7 m", "end_width": "4 m", "end_length": "5 m"}
    return {"kind": "l_shape", **sides, **rest}


def t_shape(**rest: Any) -> dict[str, Any]:
    sides = {"length": "9 m", "bar_width": "3 m", "stem_width": "2 m", "stem_length": "4 m"}
    return {"kind": "t_shape", **sides, **rest}


def wkt(text: str, unit: str = "m", **rest: Any) -> dict[str, Any]:
    return {"kind": "wkt", "unit": unit, "text": text, **rest}


def at(x: str, y: str) -> dict[str, str]:
    return {"x": x, "y": y}


def test_l_by_four_of_its_walls() -> None:
    # 9 x 4 m and on it 5 x 3 m; its walls are as long as those of 9 x 7 m.
    takeoff = measured(l_shape())
    assert takeoff.totals.floor == pytest.approx(36 + 15)
    assert takeoff.totals.wall_length == pytest.approx(2 * (9 + 7))


def test_sides_of_an_l_are_numbered_as_described() -> None:
    lengths = (9, 4, 4, 3, 5, 7)
    for side, length in enumerate(lengths):
        takeoff = measured(l_shape(), edges=[{"side": side, "kind": "open"}])
        assert takeoff.totals.open_length == pytest.approx(length), side


def test_t_by_its_walls_with_the_stem_in_the_middle_or_aside() -> None:
    # A bar of 9 x 3 m and a stem of 2 x 4 m; its walls are as long as those of 9 x 7 m.
    for shape in (t_shape(), t_shape(shoulder="1 m")):
        takeoff = measured(shape)
        assert takeoff.totals.floor == pytest.approx(27 + 8)
        assert takeoff.totals.wall_length == pytest.approx(2 * (9 + 7))


@pytest.mark.parametrize(
    ("shape", "lengths"),
    [
        (t_shape(), (9, 3, 3.5, 4, 2, 4, 3.5, 3)),
        (t_shape(shoulder="1 m"), (9, 3, 6, 4, 2, 4, 1, 3)),
    ],
)
def test_sides_of_a_t_are_numbered_as_described(
    shape: dict[str, Any], lengths: tuple[float, ...]
) -> None:
    for side, length in enumerate(lengths):
        takeoff = measured(shape, edges=[{"side": side, "kind": "open"}])
        assert takeoff.totals.open_length == pytest.approx(length), side


@pytest.mark.parametrize(
    ("rotation", "inside", "notched"),
    [
        (0, (1, 6), (8, 6)),
        (90, (-6, 1), (-6, 8)),
        (180, (-1, -6), (-8, -6)),
        (270, (6, -1), (6, -8)),
    ],
)
def test_an_l_is_turned_about_its_first_corner(
    rotation: int, inside: tuple[float, float], notched: tuple[float, float]
) -> None:
    """A square metre at a place is an island of the L, or lies in its notch and is refused."""

    def column(place: tuple[float, float]) -> dict[str, Any]:
        x, y = place
        corners = ((x, y), (x + 0.2, y), (x + 0.2, y + 0.2), (x, y + 0.2))
        moved = [(10 + left, 20 + bottom) for left, bottom in corners]
        return {"outline": polygon(*moved, unit="m")}

    turned = l_shape(rotation=rotation, origin=at("10 m", "20 m"))
    assert measured(turned, islands=[column(inside)]).totals.floor == pytest.approx(51 - 0.04)
    (fault,) = faults_of(turned, islands=[column(notched)])
    assert fault.code == "island-outside"


def test_rooms_that_fit_into_one_another_do_not_overlap() -> None:
    l_room = {"id": "l", "outline": l_shape(origin=at("0 m", "0 m"))}
    notch = {"kind": "rectangle", "length": "4 m", "width": "3 m", "origin": at("5 m", "4 m")}
    assert site([l_room, {"id": "in-notch", "outline": notch}]).totals.floor == pytest.approx(63)
    notch["origin"] = at("4.5 m", "4 m")
    with pytest.raises(InvalidInput) as caught:
        site([l_room, {"id": "in-notch", "outline": notch}])
    (fault,) = caught.value.faults
    assert fault.code == "areas-overlap"
    assert "1.5 m2" in fault.detail


@pytest.mark.parametrize(
    ("outline", "pointer", "code"),
    [
        (l_shape(end_length="9 m"), "/areas/0/outline/end_length", "not-an-l"),
        (l_shape(end_width="8 m"), "/areas/0/outline/end_width", "not-an-l"),
        (t_shape(stem_width="9 m"), "/areas/0/outline/stem_width", "not-a-t"),
        (t_shape(shoulder="7 m"), "/areas/0/outline/shoulder", "not-a-t"),
    ],
)
def test_sides_that_make_no_such_figure_are_refused(
    outline: dict[str, Any], pointer: str, code: str
) -> None:
    (fault,) = faults_of(outline)
    assert (fault.pointer, fault.code) == (pointer, code)


def test_both_short_walls_of_an_l_are_told_at_once_in_the_callers_units() -> None:
    outline = l_shape(length="30 ft", width="20 ft", end_length="30 ft", end_width="21 ft")
    faults = faults_of(outline, "us")
    assert [fault.pointer for fault in faults] == [
        "/areas/0/outline/end_length",
        "/areas/0/outline/end_width",
    ]
    assert "30 ft" in faults[0].detail
    assert "20 ft" in faults[1].detail


def test_vertices_in_feet_and_inches_and_mixed() -> None:
    # 24 ft 6 in x 18 ft 9 in = 294 x 225 in.
    area = 294 * 225 * INCH**2
    feet = polygon(
        ("0 ft", "0 ft"), ("24 ft 6 in", "0 in"), ("24'-6\"", "18 ft 9 in"), ("0 m", "225 in")
    )
    assert measured(feet).totals.floor == pytest.approx(area, rel=1e-12)
    mixed = polygon((0, 0), (24.5, 0), (24.5, "18 ft 9 in"), (0, "5.715 m"), unit="ft")
    assert measured(mixed).totals.floor == pytest.approx(area, rel=1e-12)


def test_numbers_without_a_unit_and_text_that_is_no_length_are_refused() -> None:
    faults = faults_of(polygon((0, "0 ft"), ("6 ft", "0 lb"), ("6 ft", "24 ft 13 in")))
    assert [(fault.pointer, fault.code) for fault in faults] == [
        ("/areas/0/outline/vertices/0/0", "missing-unit"),
        ("/areas/0/outline/vertices/1/1", "wrong-dimension"),
        ("/areas/0/outline/vertices/2/1", "part-too-large"),
    ]


def test_well_known_text_with_its_interior_rings_as_islands() -> None:
    # "Computed" by the areas of rectangles: 30 x 20 less 2 x 2 and 1 x 3 ft.
    text = (
        "POLYGON ((0 0, 30 0, 30 20, 0 20, 0 0), (10 10, 12 10, 12 12, 10 12, 10 10), "
        "(20 5, 21 5, 21 8, 20 8, 20 5))"
    )
    takeoff = measured(wkt(text, "ft"))
    assert shapely.from_wkt(text).area == 593
    assert takeoff.totals.floor == pytest.approx(593 * FOOT**2, rel=1e-12)
    assert takeoff.totals.wall_length == pytest.approx((100 + 8 + 8) * FOOT, rel=1e-12)
    bare = measured(wkt(text, "ft", interior_edge="open"))
    assert bare.totals.open_length == pytest.approx(16 * FOOT, rel=1e-12)


def test_interior_rings_stand_beside_the_areas_own_islands() -> None:
    text = "POLYGON ((0 0, 10 0, 10 8, 0 8, 0 0), (1 1, 2 1, 2 2, 1 2, 1 1))"
    column = {"outline": wkt("POLYGON ((5 5, 6 5, 6 6, 5 5))")}
    assert measured(wkt(text), islands=[column]).totals.floor == pytest.approx(80 - 1 - 0.5)
    over = {"outline": wkt("POLYGON ((1.5 1.5, 3 1.5, 3 3, 1.5 1.5))")}
    (fault,) = faults_of(wkt(text), islands=[column, over])
    assert fault.code == "islands-overlap"
    assert "island 1 and interior ring 0" in fault.detail
    assert fault.pointer == "/areas/0/islands/1/outline"


def test_faults_of_text_point_to_the_text_and_to_the_ring() -> None:
    (fault,) = faults_of(wkt("POLYGON ((0 0, 10 0, 10 8, 0 8))"))
    assert (fault.pointer, fault.code) == ("/areas/0/outline/text", "wkt-not-closed")
    holed = "POLYGON ((1 1, 2 1, 2 2, 1 1), (1.5 1.2, 1.6 1.2, 1.6 1.3, 1.5 1.2))"
    (fault,) = faults_of(
        wkt("POLYGON ((0 0, 9 0, 9 9, 0 9, 0 0))"), islands=[{"outline": wkt(holed)}]
    )
    assert (fault.pointer, fault.code) == ("/areas/0/islands/0/outline/text", "island-with-holes")
    outside = "POLYGON ((0 0, 10 0, 10 8, 0 8, 0 0), (9 9, 11 9, 11 11, 9 9))"
    (fault,) = faults_of(wkt(outside))
    assert (fault.pointer, fault.code) == ("/areas/0/outline", "island-outside")
    assert "interior ring 0" in fault.detail


@pytest.mark.parametrize(
    ("outline", "units", "place"),
    [
        (polygon((0, 0), (20, 20), (20, 0), (0, 20), unit="ft"), "si", "(10 ft, 10 ft)"),
        (polygon((0, 0), (200, 200), (200, 0), (0, 200), unit="in"), "us", "(100 in, 100 in)"),
        (
            polygon(("0 ft", "0 ft"), ("20 ft", "20 ft"), ("20 ft", "0 ft"), ("0 ft", "20 ft")),
            "us",
            "(10 ft, 10 ft)",
        ),
        (wkt("POLYGON ((0 0, 4 4, 4 0, 0 4, 0 0))", "cm"), "us", "(2 cm, 2 cm)"),
        (wkt("POLYGON ((0 0, 4 0, 2 0, 0 0))", "mm"), "us", "(0 mm, 0 mm)"),
    ],
)
def test_places_are_told_in_the_unit_they_were_given_in(
    outline: dict[str, Any], units: UnitSystem, place: str
) -> None:
    (fault,) = faults_of(outline, units)
    assert fault.pointer == "/areas/0/outline"
    assert place in fault.detail


@pytest.mark.parametrize(
    ("outline", "code"),
    [
        (polygon((0, 0), (1e9, 0), (1e9, 1e9), unit="m"), "too-large"),
        (polygon((0, 0), (1100, 0), (1100, 1100), (0, 1100), unit="m"), "too-large"),
        ({"kind": "rectangle", "length": "5 km", "width": "5 km"}, "too-large"),
        (wkt("POLYGON ((0 0, 1e12 0, 1e12 1e12, 0 0))"), "too-large"),
    ],
)
def test_figures_larger_than_any_floor_are_refused(outline: dict[str, Any], code: str) -> None:
    (fault,) = faults_of(outline)
    assert fault.code == code


def gear(teeth: int) -> list[tuple[float, float]]:
    ring = shapely.Point(0, 0).buffer(9, quad_segs=teeth // 4).exterior.coords[:-1]
    return [
        (x * (1 - place % 2 / 10), y * (1 - place % 2 / 10)) for place, (x, y) in enumerate(ring)
    ]


def test_more_vertices_than_are_read_at_once_are_refused_with_what_to_do(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(shapes, "MOST_VERTICES", 100)
    ring = ", ".join(f"{x} {y}" for x, y in [*gear(40), gear(40)[0]])
    areas: list[dict[str, Any]] = [
        {"id": "a", "outline": polygon(*gear(40), unit="m"), "level": "1"},
        {"id": "b", "outline": wkt(f"POLYGON (({ring}))"), "level": "2"},
    ]
    assert site(areas).totals.floor > 0
    areas[0]["islands"] = [{"outline": polygon(*gear(40), unit="mm")}]
    with pytest.raises(InvalidInput) as caught:
        site(areas)
    (fault,) = caught.value.faults
    assert (fault.pointer, fault.code) == ("/areas", "too-many-vertices")
    assert "at most 100" in fault.detail


def test_figures_that_take_too_long_are_refused_with_what_to_do(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Little(Effort):
        def __init__(self, _areas: int = 1) -> None:
            super().__init__(0)
            self.spend(BASE - 100_000)

    monkeypatch.setattr(shapes, "Effort", Little)
    assert measured(polygon(*gear(100), unit="m")).totals.hand_grind > 0
    (fault,) = faults_of(polygon(*gear(1_000), unit="m"))
    assert fault.code == "too-much-work"
    assert fault.pointer == "/areas/0/outline"
    assert "leave out" in fault.detail


@given(
    st.floats(2, 40),
    st.floats(2, 40),
    st.floats(0.1, 0.9),
    st.floats(0.1, 0.9),
    st.sampled_from([0, 90, 180, 270]),
)
def test_an_l_measures_as_the_polygon_of_its_corners(
    length: float, width: float, along: float, across: float, rotation: int
) -> None:
    sides = {
        "length": f"{length:.9f} m",
        "width": f"{width:.9f} m",
        "end_length": f"{length * along:.9f} m",
        "end_width": f"{width * across:.9f} m",
    }
    by_sides = measured({"kind": "l_shape", "rotation": rotation, **sides})
    a, b = length * along, width * across
    corners = ((0, 0), (length, 0), (length, b), (a, b), (a, width), (0, width))
    expected = measured(polygon(*corners, unit="m")).totals
    for field in ("floor", "hand_grind", "cut_in", "wall_length", "tape_length"):
        assert getattr(by_sides.totals, field) == pytest.approx(getattr(expected, field), rel=1e-6)


@pytest.mark.parametrize(
    ("rest", "pointer", "code"),
    [
        ({"spalls": [{"area": "52 m2", "depth": "5 mm"}]}, "/areas/0/spalls", "exceeds-floor"),
        (
            {"cracks": [{"length": "1 m", "width": "10 mm", "depth": "25.4 m"}]},
            "/areas/0/cracks/0/depth",
            "too-large",
        ),
        ({"base_walls": [{"height": "100 m"}]}, "/areas/0/base_walls/0/height", "too-large"),
    ],
)
def test_sizes_that_a_floor_cannot_have_are_refused(
    rest: dict[str, Any], pointer: str, code: str
) -> None:
    (fault,) = faults_of(l_shape(), **rest)
    assert (fault.pointer, fault.code) == (pointer, code)
