"""Well-known text as shapely writes and reads it, and what is refused of it."""

from math import cos, pi, sin

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.errors import Refusal
from filmbuild.pipeline.wkt import read_polygon

SQUARE = ((0.0, 0.0), (6.0, 0.0), (6.0, 4.0), (0.0, 4.0))


def refused(text: str) -> Refusal:
    with pytest.raises(Refusal) as caught:
        read_polygon(text)
    return caught.value


@given(
    st.lists(st.floats(1, 1e4), min_size=3, max_size=12),
    st.lists(st.tuples(st.floats(-0.4, 0.4), st.floats(-0.4, 0.4)), max_size=2),
    st.sampled_from([None, 3, 17]),
)
def test_what_shapely_writes_is_read_as_shapely_reads_it(
    radii: list[float], holes: list[tuple[float, float]], digits: int | None
) -> None:
    count = len(radii)
    ring = [
        (radius * cos(2 * pi * place / count), radius * sin(2 * pi * place / count))
        for place, radius in enumerate(radii)
    ]
    inner = [[(x, y), (x + 0.1, y), (x, y + 0.1)] for x, y in holes]
    figure = shapely.Polygon(ring, inner)
    text = figure.wkt if digits is None else shapely.to_wkt(figure, rounding_precision=digits)
    again = shapely.from_wkt(text)
    expected = [tuple(part.coords)[:-1] for part in (again.exterior, *again.interiors)]
    assert read_polygon(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "POLYGON ((0 0, 6 0, 6 4, 0 4, 0 0))",
        "polygon((0 0,6 0,6 4,0 4,0 0))",
        " \n PolyGon\t( ( 0.0 0,6. +0 , .6e1 4,0 4e0,-0 0 ) ) ",
    ],
)
def test_letters_spaces_and_forms_of_numbers_make_no_difference(text: str) -> None:
    assert read_polygon(text) == [SQUARE]


@pytest.mark.parametrize(
    ("text", "code", "says"),
    [
        ("", "wkt-not-polygon", "POLYGON"),
        ("MULTIPOLYGON (((0 0, 1 1, 1 0, 0 0)))", "wkt-not-polygon", "MULTIPOLYGON is not read"),
        ("CURVEPOLYGON (CIRCULARSTRING (0 0, 1 1, 0 0))", "wkt-not-polygon", "CURVEPOLYGON"),
        ("LINESTRING (0 0, 1 1)", "wkt-not-polygon", "LINESTRING"),
        ("POLYGON EMPTY", "wkt-empty", "encloses no floor"),
        ("POLYGON Z ((0 0 1, 1 1 1, 1 0 1, 0 0 1))", "wkt-not-planar", "POLYGON Z"),
        ("POLYGON M ((0 0 1, 1 1 1, 1 0 1, 0 0 1))", "wkt-not-planar", "POLYGON M"),
        ("POLYGONZM ((0 0 1 1, 1 1 1 1, 1 0 1 1, 0 0 1 1))", "wkt-not-planar", "POLYGONZM"),
        ("POLYGON ((0 0 5, 1 1, 1 0, 0 0))", "wkt-not-planar", "vertex 0 of the exterior ring"),
        ("SRID=4326;POLYGON ((0 0, 1 1, 1 0, 0 0))", "wkt-not-planar", "SRID"),
        ("POLYGON ((0 0, 6 0, 6 4))", "wkt-not-closed", "starts at (0, 0) and ends at (6, 4)"),
        ("POLYGON ((0 0, 6 0, 0 0))", "wkt-not-closed", "at least 4 vertices"),
        ("POLYGON ((0 0, 6 0, 6 4, 0 0), (1 1, 2 1, 2 2))", "wkt-not-closed", "interior ring 0"),
        ("POLYGON ((0 0, 6 0, 6 4", "wkt-syntax", "the text ends at character 23"),
        ("POLYGON ((0 0, 6 0, 6 4, 0 0)) x", "wkt-syntax", '"x" stands at character 31'),
        ("POLYGON ((0 0, 6 nan, 6 4, 0 0))", "wkt-syntax", '"nan'),
        ("POLYGON ((0 0, 6; 0, 6 4, 0 0))", "wkt-syntax", "character 15"),
        ("POLYGON (0 0, 6 0)", "wkt-syntax", "character 9"),
        ("POLYGON", "wkt-syntax", "the text ends"),
        ("POLYGON ((0 0, 1e999 0, 6 4, 0 0))", "coordinate-range", "1e999"),
        (f"POLYGON (({'0 0, ' * 2_002}0 0))", "too-many-vertices", "2000"),
        (
            f"POLYGON ((0 0, 1 1, 1 0, 0 0){', (0 0, 1 1, 1 0, 0 0)' * 501})",
            "too-many-rings",
            "500",
        ),
    ],
)
def test_other_text_is_refused_by_name_and_place(text: str, code: str, says: str) -> None:
    refusal = refused(text)
    assert refusal.code == code
    assert says in refusal.detail
    assert len(refusal.detail) < 300


@given(st.text("POLYGN polygonZM()0123456789.,+-eE \n", max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        rings = read_polygon("POLYGON" + text)
    except Refusal:
        return
    assert all(len(ring) >= 3 for ring in rings)
