"""What is given a place on the plan, on the drawing: at its place, with a sign of its own."""

import re
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from drawing_cases import MARKED, SITES, SVG, Drawn, lines

from filmbuild.pipeline.drawing import paper
from filmbuild.quantities import UnitSystem

UNITS: tuple[UnitSystem, ...] = ("si", "us")
REFERENCE = re.compile(r"url\(#([^)]*)\)")


def on_plan(drawn: Drawn, x: float, y: float) -> tuple[float, float]:
    """A point of the first floor [m] on paper, from the drawing's own floor and scale."""
    corners = next(lines(drawn.of_class("floor")[0]))[0]
    left, bottom = min(x for x, _ in corners), max(y for _, y in corners)
    return left + x / drawn.metres, bottom - y / drawn.metres


def drawn_lines(drawn: Drawn, name: str) -> list[list[tuple[float, float]]]:
    return [line for one in drawn.of_class(name) for line, _ in lines(one)]


def ring_of(element: ET.Element) -> list[tuple[float, float]]:
    """The corners of a box, or four points of a circle."""
    if element.tag != f"{SVG}circle":
        return next(lines(element))[0]
    x, y, radius = (float(element.get(name) or 0) for name in ("cx", "cy", "r"))
    return [(x + radius, y), (x, y + radius), (x - radius, y), (x, y - radius)]


def close(points: Any) -> Any:
    return [pytest.approx(point, abs=0.002) for point in points]


@pytest.mark.parametrize("units", UNITS)
def test_joints_and_cracks_are_drawn_where_they_are(units: UnitSystem) -> None:
    drawn = Drawn(MARKED, units)
    area = MARKED["areas"][0]
    by_sign: dict[str, list[Any]] = {}
    for joint in area["joints"]:
        if "path" in joint:
            kind, treatment = joint.get("kind", "control"), joint.get("treatment", "fill")
            vertices = [on_plan(drawn, *point) for point in joint["path"]["vertices"]]
            by_sign.setdefault(f"joint-{kind}-{treatment}", []).append(vertices)
    assert len(by_sign) == 6
    for sign, placed in by_sign.items():
        *found, _ = drawn_lines(drawn, sign)
        assert found == [close(one) for one in placed]
    *cracks, _ = drawn_lines(drawn, "crack")
    paths = [one["path"]["vertices"] for one in area["cracks"] if "path" in one]
    for line, vertices in zip(cracks, paths, strict=True):
        places = [on_plan(drawn, *point) for point in vertices]
        assert [line[0], line[-1]] == close([places[0], places[-1]])
        assert all(any(point == one for point in line) for one in close(places))
        assert len(line) > 2 * len(places)


@pytest.mark.parametrize("units", UNITS)
def test_pits_drains_posts_and_steps_are_drawn_where_they_are(units: UnitSystem) -> None:
    drawn = Drawn(MARKED, units)
    boxes: dict[str, list[tuple[float, float, float, float]]] = {
        "pit": [(10, 1, 15, 2), (1, 9, 2.2, 10.2)],
        "drain": [(2.4, 4.4, 2.6, 4.6), (6.85, 4.35, 7.15, 4.65), (11, 5.925, 14, 6.075)],
        "collar": [(3.35, 9.85, 3.65, 10.15), (6.8, 1.3, 7.2, 1.7)],
        "steps": [(6.5, 10, 8, 11.4)],
    }
    for name, expected in boxes.items():
        *rings, _ = [ring_of(one) for one in drawn.of_class(name)]
        for ring, (left, bottom, right, top) in zip(rings, expected, strict=True):
            xs, ys = [x for x, _ in ring], [y for _, y in ring]
            low, high = on_plan(drawn, left, bottom), on_plan(drawn, right, top)
            # Drains and posts are as large as they are, and 1.5 mm of paper at least.
            spare = [max(1.5 - abs(low[axis] - high[axis]), 0) / 2 for axis in (0, 1)]
            spare = spare if name in ("drain", "collar") else [0, 0]
            assert min(xs) == pytest.approx(low[0] - spare[0], abs=0.002)
            assert max(xs) == pytest.approx(high[0] + spare[0], abs=0.002)
            assert max(ys) == pytest.approx(low[1] + spare[1], abs=0.002)
            assert min(ys) == pytest.approx(high[1] - spare[1], abs=0.002)
    treads = drawn_lines(drawn, "treads")
    in_legend = 3
    assert len(treads) - in_legend == 4
    up, *_ = drawn_lines(drawn, "steps-up")
    assert up == close([on_plan(drawn, 7.25, 10), on_plan(drawn, 7.25, 11.4)])


def test_each_sign_differs_without_its_colour() -> None:
    drawn = Drawn(MARKED)
    signs = {
        (one.get("stroke-dasharray"), one.get("stroke-width"))
        for one in drawn.root.iter()
        if (one.get("class") or "").startswith("joint-c") or "joint-e" in (one.get("class") or "")
    }
    cores = {(None, one.get("stroke-width")) for one in drawn.of_class("joint-core")}
    assert len(signs - cores) == 6
    for letters in ("F", "H", "C", "EF", "EH", "EC"):
        assert drawn.texts.count(letters) == 2, letters


def test_the_legend_explains_each_sign() -> None:
    texts = Drawn(MARKED).texts
    for sign in (
        "control joint, filled",
        "control joint, honoured",
        "control joint, coated over",
        "expansion joint, filled",
        "expansion joint, honoured",
        "expansion joint, coated over",
        "crack to be chased and filled",
        "drain",
        "pipe or post",
        "pit or trench",
        "steps, the arrow goes up",
    ):
        assert sign in texts
        assert sign not in Drawn(SITES["workshop"]).texts


def test_only_what_has_no_place_is_not_drawn() -> None:
    texts = Drawn(MARKED).texts
    rows = texts[texts.index("Not drawn") + 4 :]
    assert rows == [
        *("Pits and trenches, in plan", "1", "0.16 m²", "Drains", "2", "0.628 m"),
        *("Cracks", "1", "1.2 m", "Joints to honour", "1", "2.5 m"),
    ]


def test_cracks_without_end_are_plain_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(paper, "MOST_TEETH", 30)
    drawn = Drawn(MARKED)
    first, second, _ = drawn_lines(drawn, "crack")
    assert len(first) > 3
    assert len(second) == 2


def test_drawings_of_one_page_share_no_id() -> None:
    first, second = Drawn(MARKED, prefix="a-"), Drawn(MARKED, prefix="b-")
    ids = [
        {name for one in each.root.iter() if (name := one.get("id"))} for each in (first, second)
    ]
    assert len(ids[0]) == len(ids[1]) > 4
    assert not ids[0] & ids[1]
    for each, known in zip((first, second), ids, strict=True):
        values = [value for one in each.root.iter() for value in one.attrib.values()]
        assert {name for value in values for name in REFERENCE.findall(value)} <= known
        assert set((each.root.get("aria-labelledby") or "").split()) <= known
    assert first.text.replace("a-takeoff", "takeoff") != first.text
