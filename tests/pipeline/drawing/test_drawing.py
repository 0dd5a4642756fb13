"""The drawing against the takeoff it shows, and as a document."""

import re
from math import cos, pi, sin
from typing import Any

import pytest
from drawing_cases import SITES, SVG, WORKSHOP, Drawn, lines, polygon, room
from hypothesis import given, settings
from hypothesis import strategies as st

from filmbuild.pipeline.drawing import paper
from filmbuild.quantities import UnitSystem

# SVG 1.1 (Second Edition), appendices "Attribute Index" and "Element Index"; `role` and
# `aria-labelledby` are of WAI-ARIA, which SVG 2 adopts.
GENERAL = {"id", "class", "transform", "fill", "fill-opacity", "fill-rule", "font-family"}
GENERAL |= {"font-size", "font-weight", "text-anchor", "clip-path", "clip-rule", "stroke"}
GENERAL |= {"stroke-dasharray", "stroke-linecap", "stroke-linejoin", "stroke-miterlimit"}
GENERAL |= {"stroke-width"}
ALLOWED: dict[str, set[str]] = {
    "svg": {"width", "height", "viewBox", "role", "aria-labelledby"},
    "title": set(),
    "desc": set(),
    "defs": set(),
    "g": set(),
    "path": {"d"},
    "rect": {"x", "y", "width", "height"},
    "circle": {"cx", "cy", "r"},
    "text": {"x", "y"},
    "clipPath": set(),
    "pattern": {"width", "height", "patternUnits", "patternTransform"},
}
UNITS: tuple[UnitSystem, ...] = ("si", "us")
LONG_DECIMALS = re.compile(r"\d\.\d{4}")
REFERENCE = re.compile(r"url\(#([^)]*)\)")


@pytest.fixture(scope="module", params=[(name, units) for name in SITES for units in UNITS])
def drawn(request: pytest.FixtureRequest) -> Drawn:
    name, units = request.param
    return Drawn(SITES[name], units)


def numbers_on_plan(drawn: Drawn) -> list[str]:
    orders = {str(area.placing_order) for area in drawn.takeoff.areas}
    bold = [one for one in drawn.root.iter(f"{SVG}text") if one.get("text-anchor") == "middle"]
    return sorted(one.text or "" for one in bold if one.text in orders and one.get("font-weight"))


def test_it_is_svg_1_1_with_nothing_from_outside(drawn: Drawn) -> None:
    identities = [name for one in drawn.root.iter() if (name := one.get("id"))]
    assert len(set(identities)) == len(identities)
    for element in drawn.root.iter():
        tag = element.tag.removeprefix(SVG)
        assert set(element.attrib) <= GENERAL | ALLOWED[tag], tag
        for value in element.attrib.values():
            assert set(REFERENCE.findall(value)) <= set(identities)
            assert not LONG_DECIMALS.search(value), value
    assert drawn.text.count("http") == 1
    assert drawn.root.get("role") == "img"
    assert set((drawn.root.get("aria-labelledby") or "").split()) <= set(identities)
    assert drawn.root[0].tag == f"{SVG}title"
    assert drawn.root[1].tag == f"{SVG}desc"


def test_the_same_site_is_the_same_text(drawn: Drawn) -> None:
    assert drawn.text == drawn.drawn_again()


def test_everything_lies_on_the_sheet(drawn: Drawn) -> None:
    _, _, width, height = map(float, (drawn.root.get("viewBox") or "").split())
    assert width == 210
    for element in drawn.root.iter():
        if element.tag.removeprefix(SVG) in ("text", "rect", "circle"):
            x = float(element.get("x") or element.get("cx") or 0)
            y = float(element.get("y") or element.get("cy") or 0)
            assert 0 <= x <= width
            assert 0 <= y <= height
        for line, _ in lines(element) if "A" not in element.get("d", "") else ():
            assert all(0 <= x <= width and 0 <= y <= height for x, y in line)


def check_measures(drawn: Drawn) -> None:
    """As exact as a thousandth of a millimetre of paper on each corner lets it be."""
    totals = drawn.takeoff.totals
    slack = 0.0015 * drawn.metres
    around = totals.wall_length + totals.open_length + totals.joined_length
    plan = totals.floor + sum(
        area.drain_area + area.collar_footprint - area.added_by_slope
        for area in drawn.takeoff.areas
    )
    assert drawn.area_of("floor") == pytest.approx(plan, abs=slack * around)
    for name, length in (
        ("wall", totals.wall_length),
        ("open", totals.open_length),
        ("joined", totals.joined_length),
    ):
        corners = sum(len(line) for one in drawn.of_class(name) for line, _ in lines(one))
        expected = length - (totals.drain_length if name == "open" else 0)
        assert drawn.length_of(name) == pytest.approx(expected, abs=slack * max(corners, 1))


def test_areas_and_edges_are_drawn_as_long_as_they_are(drawn: Drawn) -> None:
    check_measures(drawn)


def test_every_area_has_its_number_once_and_a_line_in_the_table(drawn: Drawn) -> None:
    areas = drawn.takeoff.areas
    orders = sorted(str(area.placing_order) for area in areas)
    legend = ["1"]
    assert numbers_on_plan(drawn) == sorted([*orders, *legend])
    for area in areas:
        assert any(
            text in (area.name, area.name[:25]) or text[:20] == area.name[:20]
            for text in drawn.texts
        )


def test_the_scale_bar_is_as_long_as_it_says(drawn: Drawn) -> None:
    bars = drawn.of_class("scale")
    ends = [text for text in drawn.texts if re.fullmatch(r"(1|2|5)0* (m|ft)", text)]
    said = {float(end.split()[0]) * (1.0 if end.endswith("m") else 0.3048) for end in ends}
    width = sum(float(one.get("width") or 0) for one in bars) * drawn.metres
    assert any(width == pytest.approx(length, abs=0.004 * drawn.metres) for length in said)


def test_kinds_of_edges_differ_without_their_colour() -> None:
    drawn = Drawn(SITES["corridor"])
    groups = [one for one in drawn.root.iter(f"{SVG}g") if one.get("fill") == "none"]
    styles = {(one.get("stroke-dasharray"), one.get("stroke-width")) for one in groups if len(one)}
    assert len(styles - {(None, None)}) == 3
    colours = {value for one in drawn.root.iter() for value in (one.get("fill"), one.get("stroke"))}
    greys = {None, "none", "url(#cut-in)", "url(#hand-grind)"}
    assert all(re.fullmatch(r"#(.)\1\1", colour) for colour in colours - greys if colour)


def test_the_legend_has_what_is_drawn_and_nothing_else() -> None:
    plain, full = Drawn(SITES["rectangle"]).texts, Drawn(SITES["corridor"]).texts
    assert "wall" in plain
    for sign in ("open edge: the coating stops", "joined: the coating runs on", "doorway", "exit"):
        assert sign not in plain
        assert sign in full
    assert "island, not coated" in Drawn(SITES["workshop"]).texts


def test_a_rectangle_without_a_place_is_set_apart() -> None:
    texts = Drawn(SITES["loose"]).texts
    assert "Level: ground, not to position" in texts
    assert "Level: ground" not in texts


def test_levels_have_a_plan_each() -> None:
    drawn = Drawn(SITES["levels"])
    assert [text for text in drawn.texts if text.startswith("Level")] == [
        "Level: ground",
        "Level: upper",
    ]
    assert len(drawn.of_class("level")) == 2


def test_sizes_are_in_the_units_of_the_caller() -> None:
    assert {"24 ft 6 in", "18 ft", "441 ft\u00b2"} <= set(Drawn(SITES["rectangle"], "us").texts)
    assert {"7.468 m", "5.486 m", "40.97 m\u00b2"} <= set(Drawn(SITES["rectangle"], "si").texts)


def test_sides_that_are_too_short_to_letter_are_in_the_table() -> None:
    notched = polygon("bay", (0, 0), (9, 0), (9, 6), (5, 6), (5, 5.9), (0, 5.9))
    drawn = Drawn({"areas": [notched]})
    assert "9 m" in drawn.texts
    assert "side 3: 0.1 m" in drawn.texts


def test_what_has_no_place_is_counted_in_a_table() -> None:
    texts = Drawn({"areas": [WORKSHOP]}).texts
    start = texts.index("Not drawn")
    assert texts[start + 4 :] == ["Cracks", "1", "2.5 m", "Joints to honour", "1", "6 m"]


def test_doorways_have_their_ids_and_only_leaves_swing() -> None:
    drawn = Drawn(SITES["corridor"])
    doorways = drawn.takeoff.doorways
    assert len(doorways) == 11
    in_legend = 2
    assert len(drawn.of_class("doorway")) - in_legend == len(doorways)
    leaves = sum(one.door for one in doorways)
    assert len(drawn.of_class("door")) - 1 == leaves
    assert {"D2", "D7", "D11"} <= set(drawn.texts)


def test_a_floor_with_room_for_nothing_is_numbered_beside_itself() -> None:
    drawn = Drawn(SITES["closets"])
    assert len(drawn.of_class("leader")) == 1
    assert "Duct" in drawn.texts[drawn.texts.index("Areas in the order of work") :]


def test_odd_floors_without_end_are_drawn_with_less_lettering(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    skewed = ((0, 0), (9, 1), (8, 8), (1, 7))
    areas = [polygon(f"bay-{n}", *skewed, name="Bay", level=f"level {n}") for n in range(20)]
    full = Drawn({"areas": areas})
    monkeypatch.setattr(paper, "MOST_EFFORT", 1_000)
    less = Drawn({"areas": areas})
    assert len(less.of_class("floor")) == 20
    assert numbers_on_plan(less) == numbers_on_plan(full)
    in_table = 20
    assert full.texts.count("Bay") == 20 + in_table
    assert in_table < less.texts.count("Bay") < 20 + in_table


HOSTILE = "</text><script>alert(1)</script>&amp; \"'=\u202e\u2066\ufffe"


def test_what_callers_write_stays_text() -> None:
    area = room("hall", "9 m", "6 m", "0 m", name=HOSTILE, level=HOSTILE)
    area["islands"] = [
        {"outline": room("", "2 m", "2 m", "3 m", "1 m")["outline"], "name": HOSTILE}
    ]
    drawn = Drawn({"name": HOSTILE, "areas": [area]})
    assert {one.tag.removeprefix(SVG) for one in drawn.root.iter()} <= set(ALLOWED)
    assert "<script" not in drawn.text
    assert not re.search("[\u202e\u2066\ufffe\x00-\x1f]", drawn.text)
    titles = [one.text or "" for one in drawn.root.iter(f"{SVG}title")]
    assert any("</text><script>alert(1)</script>&amp; \"'=" in title for title in titles)


def test_a_large_site_stays_readable_as_a_file() -> None:
    areas = [
        room(f"a{n}", "5 m", "4 m", f"{n % 50 * 5} m", f"{n // 50 * 4} m") for n in range(2_500)
    ]
    drawn = Drawn({"areas": areas})
    check_measures(drawn)
    assert len(drawn.text) < 450 * len(areas)
    assert not drawn.of_class("cut-in")


@st.composite
def stars(draw: st.DrawFn) -> list[tuple[float, float]]:
    """A simple polygon round a centre that it can be seen from whole."""
    corners = draw(st.integers(3, 14))
    reach = [draw(st.floats(1.5, 9)) for _ in range(corners)]
    turn = draw(st.floats(0, 1))
    points = [
        (
            round(radius * cos(2 * pi * (n + turn) / corners), 3),
            round(radius * sin(2 * pi * (n + turn) / corners), 3),
        )
        for n, radius in enumerate(reach)
    ]
    return points if draw(st.booleans()) else points[::-1]


@st.composite
def floors(draw: st.DrawFn) -> Any:
    points = draw(stars())
    sides = draw(st.lists(st.integers(0, len(points) - 1), unique=True, max_size=3))
    edges = [
        {
            "side": side,
            "kind": draw(st.sampled_from(["open", "joined"])),
            "offset": f"{draw(st.floats(0, 0.2)):.3f} m",
            "length": f"{draw(st.floats(0.1, 0.3)):.3f} m",
        }
        for side in sides
    ]
    island = [(0.2, 0.1), (-0.1, 0.2), (-0.2, -0.2)]
    islands = [polygon("", *island)["outline"]] if len(points) > 5 else []
    kind = draw(st.sampled_from(["wall", "open"]))
    return polygon(
        "floor",
        *points,
        edges=edges,
        islands=[{"outline": one, "edge": kind} for one in islands],
    )


@given(area=floors())
@settings(max_examples=60, deadline=None)
def test_any_floor_is_drawn_to_scale(area: dict[str, Any]) -> None:
    check_measures(Drawn({"areas": [area]}))
