"""What is read from drawings: areas by the formulas of plane geometry, names, islands, units."""

import json
from math import pi

import pytest
from ezdxf.document import Drawing
from ezdxf.math import rational_bspline_from_arc
from plan_cases import by_hand, drawing, on, polyline, read, refused, square, written

from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.errors import Faults
from filmbuild.pipeline.geometry import ring_area
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff import take_off
from filmbuild.plans.wire import PlanReading

EXACT = 1e-9
FLOOR = on("floor")


def areas_of(document: Drawing) -> list[float]:
    """In square units of the drawing."""
    return [ring_area(area.outline.vertices) for area in read(written(document)).areas]  # type: ignore[arg-type]  # as numbers


def codes(reading: PlanReading) -> list[str]:
    return [note.code for note in reading.notes]


def test_circle_has_its_area_to_a_hundredth_of_a_percent() -> None:
    document = drawing()
    document.modelspace().add_circle((40, 50), 1_500, dxfattribs=FLOOR)
    assert areas_of(document) == [pytest.approx(pi * 1_500**2, rel=1e-8)]


def test_circle_as_two_bulges_as_a_spline_and_as_an_ellipse() -> None:
    document = drawing()
    space = document.modelspace()
    space.add_lwpolyline([(0, 0, 1), (2_000, 0, 1)], format="xyb", close=True, dxfattribs=FLOOR)
    space.add_polyline2d([(0, 0, 1), (2_000, 0, 1)], format="xyb", close=True, dxfattribs=FLOOR)
    space.add_ellipse((0, 0), (1_000, 0), 1.0, dxfattribs=FLOOR)
    curve = rational_bspline_from_arc((0, 0), 1_000, 0, 360)
    space.add_spline(dxfattribs=FLOOR).apply_construction_tool(curve)
    bulged, old, ellipse, spline = areas_of(document)
    assert (bulged, old, ellipse) == pytest.approx((pi * 1e6,) * 3, rel=EXACT)
    assert spline == pytest.approx(pi * 1e6, rel=1e-4)


def test_ellipse_has_the_area_of_its_axes() -> None:
    document = drawing()
    document.modelspace().add_ellipse((7, 8), (3_000, 4_000), 0.3, dxfattribs=FLOOR)
    assert areas_of(document) == [pytest.approx(pi * 5_000**2 * 0.3, rel=EXACT)]


def test_room_with_a_round_end() -> None:
    # 6 x 4 m and half a circle of 2 m radius on its right.
    document = drawing()
    document.modelspace().add_lwpolyline(
        [(0, 0, 0), (6_000, 0, 1), (6_000, 4_000, 0), (0, 4_000, 0)],
        format="xyb",
        close=True,
        dxfattribs=FLOOR,
    )
    assert areas_of(document) == [pytest.approx(24e6 + pi * 2_000**2 / 2, rel=EXACT)]


def test_hatch_is_its_largest_boundary_with_the_others_as_islands() -> None:
    document = drawing()
    space = document.modelspace()
    hatch = space.add_hatch(dxfattribs=FLOOR)
    hatch.paths.add_polyline_path([(1_000, 1_000), (2_000, 1_000), (2_000, 2_000)], is_closed=True)
    hatch.paths.add_polyline_path([(0, 0), (9_000, 0), (9_000, 5_000), (0, 5_000)], is_closed=True)
    disc = space.add_hatch(dxfattribs=FLOOR).paths.add_edge_path()
    disc.add_arc((20_000, 0), 1_000, 0, 360)
    dome = space.add_hatch(dxfattribs=FLOOR).paths.add_edge_path()
    dome.add_arc((30_000, 0), 1_000, 0, 180)
    dome.add_line((29_000, 0), (31_000, 0))
    reading = read(written(document))
    assert [len(area.islands) for area in reading.areas] == [1, 0, 0]
    assert areas_of(document) == pytest.approx([45e6, pi * 1e6, pi * 1e6 / 2], rel=EXACT)


def test_figures_drawn_from_below_are_mirrored_as_they_are_seen() -> None:
    document = drawing()
    space = document.modelspace()
    space.add_circle((-5_000, 0), 1_000, dxfattribs=on("floor", extrusion=(0, 0, -1)))
    tilted = space.add_circle((0, 0), 1_000, dxfattribs=on("floor", extrusion=(0, 1, 1)))
    assert tilted.dxf.extrusion.y > 0
    reading = read(written(document))
    (area,) = reading.areas
    assert min(x for x, _ in area.outline.vertices) == pytest.approx(4_000, rel=1e-3)
    assert "entity-skipped" in codes(reading)
    assert "does not lie flat" in reading.notes[0].detail


def test_blocks_are_taken_apart_with_their_scale_and_on_the_layer_of_the_reference() -> None:
    document = drawing()
    column = document.blocks.new("COLUMN")
    column.add_circle((0, 0), 100, dxfattribs=on("0"))
    nested = document.blocks.new("PAIR")
    nested.add_blockref("COLUMN", (0, 0), dxfattribs=on("0"))
    nested.add_blockref("COLUMN", (1_000, 0), dxfattribs=on("0", xscale=2))
    space = document.modelspace()
    space.add_lwpolyline(
        [(0, 0), (9_000, 0), (9_000, 5_000), (0, 5_000)], close=True, dxfattribs=FLOOR
    )
    space.add_blockref("PAIR", (2_000, 2_000), dxfattribs=on("columns"))
    space.add_blockref("MISSING", (2_000, 2_000), dxfattribs=on("columns"))
    reading = read(written(document), islands="columns")
    (area,) = reading.areas
    sizes = [ring_area(island.outline.vertices) for island in area.islands]  # type: ignore[union-attr,arg-type]  # polygons of numbers
    assert sizes == pytest.approx([pi * 100**2, 2 * pi * 100**2], rel=EXACT)
    assert codes(reading) == ["blocks-taken-apart", "block-skipped"]


def test_texts_name_the_areas_they_are_inserted_in() -> None:
    document = drawing()
    space = document.modelspace()
    for left in (0, 10_000, 20_000):
        corners = [(left, 0), (left + 8_000, 0), (left + 8_000, 5_000), (left, 5_000)]
        space.add_lwpolyline(corners, close=True, dxfattribs=FLOOR)
    space.add_text("Canteen", dxfattribs=on("names", insert=(300, 300)))
    space.add_mtext("Store\\Proom  {\\b2}", dxfattribs=on("NAMES", insert=(10_300, 300)))
    space.add_text("Canteen", dxfattribs=on("names", insert=(20_300, 300)))
    space.add_text("Legend", dxfattribs=on("names", insert=(0, -900)))
    reading = read(written(document), names="Names")
    assert [area.id for area in reading.areas] == ["canteen", "store-room-b2", "canteen-2"]
    assert reading.areas[0].name == reading.areas[2].name == "Canteen"
    (note,) = reading.notes
    assert note.code == "text-skipped"
    assert "Legend" in note.detail
    assert "(0 mm, -900 mm)" in note.detail


def test_what_is_skipped_is_said_with_its_reason_and_place() -> None:
    document = drawing()
    space = document.modelspace()
    room = [(0, 0), (8_000, 0), (8_000, 5_000), (0, 5_000)]
    space.add_lwpolyline(room, close=True, dxfattribs=FLOOR)
    space.add_lwpolyline(room[:3], dxfattribs=FLOOR)
    space.add_line((0, 0), (1, 1), dxfattribs=FLOOR)
    space.add_arc((0, 0), 500, 0, 90, dxfattribs=FLOOR)
    space.add_lwpolyline([(0, 0), (20, 20), (20, 0), (0, 20)], close=True, dxfattribs=FLOOR)
    space.add_point((0, 0), dxfattribs=FLOOR)
    space.add_circle((9_000, 9_000), 100, dxfattribs=on("holes"))
    space.add_circle((7_950, 2_000), 100, dxfattribs=on("holes"))
    reading = read(written(document), islands="holes")
    assert len(reading.areas) == 1
    assert reading.areas[0].islands == ()
    said = {note.code: note.detail for note in reading.notes}
    assert "3 open lines" in said["open-shapes"]
    assert "crosses itself at (10 mm, 10 mm)" in said["shape-skipped"]
    assert "1 POINT" in said["entity-skipped"]
    assert codes(reading).count("island-skipped") == 2
    floor = next(layer for layer in reading.layers if layer.name == "floor")
    assert (floor.closed_shapes, floor.open_shapes) == (2, 3)


def test_polyline_that_returns_to_its_start_is_closed_and_doubled_vertices_are_dropped() -> None:
    document = drawing()
    corners = [(0, 0), (8_000, 0), (8_000, 0), (8_000, 5_000), (0, 5_000), (0, 0)]
    document.modelspace().add_lwpolyline(corners, dxfattribs=FLOOR)
    (area,) = read(written(document)).areas
    assert area.outline.vertices == ((0, 0), (8_000, 0), (8_000, 5_000), (0, 5_000))


def test_areas_over_one_another_are_noted_with_the_place() -> None:
    reading = read(by_hand(square(0, 0), square(3, 3)))
    (note,) = reading.notes
    assert note.code == "areas-overlap"
    assert "areas 0 and 1" in note.detail


@pytest.mark.parametrize(
    ("code", "unit", "metres"),
    [
        # Autodesk DXF Reference, $INSUNITS; the international inch of 25.4 mm exactly, and the US
        # survey foot of 1200/3937 m (NIST Handbook 44 appendix C), all from memory.
        (1, "in", 0.0254),
        (2, "ft", 0.3048),
        (4, "mm", 0.001),
        (5, "cm", 0.01),
        (6, "m", 1.0),
        (10, "yd", 0.9144),
        (14, "m", 0.1),
        (21, "m", 1200 / 3937),
    ],
)
def test_floor_has_its_size_in_the_unit_of_the_file(code: int, unit: str, metres: float) -> None:
    reading = read(by_hand(square(1, 2, 30), unit=code))
    assert reading.unit == unit
    body = json.dumps({"areas": json.loads(encode(reading, "us"))["areas"]}).encode()
    floor = take_off(decode(Site, body), Faults()).totals.floor
    assert floor == pytest.approx((30 * metres) ** 2, rel=1e-8)


def test_unit_is_asked_for_where_there_is_none_and_never_contradicts() -> None:
    unitless = by_hand(square(0, 0), unit=0)
    assert refused(unitless)[0] == "missing-unit"
    assert read(unitless, unit="ft").unit == "ft"
    assert read(unitless, unit="ft").source_unit is None
    metric = by_hand(square(0, 0))
    assert read(metric, unit="m").source_unit == "m"
    code, detail = refused(metric, unit="ft")
    assert code == "unit-contradicts-drawing"
    assert "$INSUNITS 6" in detail
    light_years = by_hand(square(0, 0), unit=19)
    assert refused(light_years)[0] == "unknown-unit"
    assert read(light_years, unit="m").areas


def test_layers_are_listed_before_any_is_chosen_and_unknown_ones_are_told() -> None:
    content = by_hand(square(0, 0), square(9, 9, layer="Yard"))
    listed = read(content, layers=None)
    assert [layer.name for layer in listed.layers] == ["Yard", "floor"]
    assert listed.areas == ()
    assert codes(listed) == ["no-layers-chosen"]
    assert len(read(content, layers=("FLOOR", " yard ", "floor")).areas) == 2
    code, detail = refused(content, layers=("floor", "roof"))
    assert code == "unknown-layer"
    assert "roof" in detail
    assert "Yard" in detail


def test_plan_far_from_the_origin_is_moved_and_keeps_its_size() -> None:
    far = by_hand(square(4_500_000, 5_500_000), square(4_500_005, 5_500_000), square(0, 0))
    reading = read(far)
    assert [ring_area(area.outline.vertices) for area in reading.areas] == [25, 25]  # type: ignore[arg-type]  # as numbers
    assert codes(reading) == ["plan-moved", "shape-skipped"]


def test_a_stray_shape_far_out_does_not_move_the_plan() -> None:
    reading = read(by_hand(square(0, 0), square(9, 0), square(1e12, 0)))
    assert [area.outline.vertices[0] for area in reading.areas] == [(0, 0), (9, 0)]
    assert codes(reading) == ["shape-skipped"]


def test_areas_read_are_measured_by_the_takeoff() -> None:
    # A corridor of 30 x 2 m with nine rooms of 3 x 4 m along it, one with a round column.
    document = drawing()
    space = document.modelspace()
    space.add_lwpolyline(
        [(0, 0), (30_000, 0), (30_000, 2_000), (0, 2_000)], close=True, dxfattribs=FLOOR
    )
    for number in range(9):
        left = 3_000 * number
        corners = [(left, 2_000), (left + 3_000, 2_000), (left + 3_000, 6_000), (left, 6_000)]
        space.add_lwpolyline(corners, close=True, dxfattribs=FLOOR)
    space.add_circle((1_500, 4_000), 200, dxfattribs=on("columns"))
    reading = read(written(document), islands="columns")
    body = json.dumps({"areas": json.loads(encode(reading, "us"))["areas"]}).encode()
    takeoff = take_off(decode(Site, body), Faults())
    assert takeoff.totals.floor == pytest.approx(60 + 9 * 12 - pi * 0.04, rel=1e-9)
    walls = 64 + 9 * 14 + 2 * pi * 0.2
    assert takeoff.totals.wall_length == pytest.approx(walls, rel=1e-5)


@pytest.mark.parametrize(
    "damage", [(b"0\nEOF\n", b""), (b"20\n9\n", b"2x\n9\n"), (b"14.0\n", b"14.0abc\n")]
)
def test_damaged_drawing_is_read_as_far_as_it_goes_and_says_so(damage: tuple[bytes, bytes]) -> None:
    reading = read(by_hand(square(0, 0), square(9, 9)).replace(*damage, 1))
    assert len(reading.areas) == 2
    assert codes(reading)[0] == "drawing-repaired"


def test_coordinates_that_are_no_numbers_lose_their_shape_alone() -> None:
    bad = polyline((0, 0), (5, 0), ("nan", 5), (0, 5))
    endless = polyline((0, 0), ("1e999", 0), (5, 5), (0, 5))
    reading = read(by_hand(square(0, 0), bad, endless, square(9, 9)))
    assert len(reading.areas) == 2
    assert codes(reading) == ["entity-skipped"]
    assert "not finite" in reading.notes[0].detail
