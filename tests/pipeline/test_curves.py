"""Chains that stand for curves: their areas by the formulas of plane geometry."""

from math import atan, cos, hypot, pi, sin, tan

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from filmbuild.pipeline.curves import bulged, circle, ellipse, elliptic_arc
from filmbuild.pipeline.geometry import ring_area, ring_perimeter, signed_area

radii = st.floats(0.01, 1e4)
angles = st.floats(-pi, pi)


@given(radii, st.tuples(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4)))
def test_circle_has_the_area_of_a_circle(radius: float, centre: tuple[float, float]) -> None:
    ring = circle(centre, radius)
    assert ring_area(ring) == pytest.approx(pi * radius**2, rel=1e-8)
    assert ring_perimeter(ring) == pytest.approx(2 * pi * radius, rel=1.1e-4)
    assert shapely.Polygon(ring).is_valid


@given(radii, st.floats(0.05, 1), angles)
def test_ellipse_has_the_area_of_an_ellipse(half: float, ratio: float, turn: float) -> None:
    major = (half * cos(turn), half * sin(turn))
    minor = (-major[1] * ratio, major[0] * ratio)
    assert ring_area(ellipse((3, 4), major, minor)) == pytest.approx(pi * half**2 * ratio, rel=1e-9)


@given(radii, angles, st.floats(0.001, 2 * pi - 0.001))
def test_sector_has_the_area_of_a_sector(radius: float, start: float, sweep: float) -> None:
    arc = list(elliptic_arc((0, 0), (radius, 0), (0, radius), start, sweep))
    end = (radius * cos(start + sweep), radius * sin(start + sweep))
    sector = ((0.0, 0.0), *arc, end)
    assert signed_area(sector) == pytest.approx(radius**2 * sweep / 2, rel=1e-9)
    farthest = max(hypot(x, y) for x, y in arc)
    assert farthest <= radius * (1 + 4.1e-4)


@given(st.floats(-5, 5), st.floats(0.1, 100), angles)
def test_bulged_edge_adds_the_segment_of_a_circle(bulge: float, chord: float, turn: float) -> None:
    end = (chord * cos(turn), chord * sin(turn))
    arc = (*bulged((0.0, 0.0), end, bulge), end)
    assert arc[0] == (0.0, 0.0)
    sweep = 4 * atan(bulge)
    if abs(bulge) < 1e-6:
        return
    radius = chord * (1 + bulge**2) / (4 * abs(bulge))
    segment = radius**2 * (abs(sweep) - sin(abs(sweep))) / 2
    # against the clock the arc lies to the right of its chord: it adds to a ring of that direction
    assert signed_area(arc) == pytest.approx(
        segment if bulge > 0 else -segment, rel=1e-6, abs=1e-9 * chord**2
    )


def test_half_circle_by_bulge_one_and_full_circle_by_two() -> None:
    first, second = (0.0, 0.0), (2.0, 0.0)
    ring = (*bulged(first, second, 1.0), *bulged(second, first, 1.0))
    assert ring_area(ring) == pytest.approx(pi, rel=1e-12)
    assert ring_area((*bulged(first, second, 1.0), second)) == pytest.approx(pi / 2, rel=1e-12)


def test_straight_edges_stay_straight() -> None:
    assert list(bulged((0, 0), (2, 0), 0.0)) == [(0, 0)]
    assert list(bulged((1, 1), (1, 1), 0.5)) == [(1, 1)]
    assert next(bulged((0, 0), (2, 0), tan(pi / 8))) == (0, 0)
