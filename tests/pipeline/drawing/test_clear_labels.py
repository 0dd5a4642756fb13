"""Lettering keeps off steps, joints and edges; rectangles, slopes and exits are told as such."""

import re
from itertools import pairwise
from typing import Any

import pytest
from drawing_cases import SITES, SVG, Drawn, crack, joint, lines, polygon, room

from filmbuild.pipeline.drawing.lettering import width_of


def texts(drawn: Drawn) -> list[tuple[str, float, float, float]]:
    """Each level text with its place and size."""
    found = []
    for one in drawn.root.iter(f"{SVG}text"):
        x, y, size = (float(one.get(name) or 0) for name in ("x", "y", "font-size"))
        found.append((one.text or "", x, y, size))
    return found


def test_the_label_keeps_off_steps() -> None:
    flight: dict[str, Any] = {"risers": 3, "width": "6 ft", "rise": "6 in", "going": "11 in"}
    flight["at"] = {"x": "0 ft", "y": "9 ft"}
    area = room("passage", "6 ft", "18 ft", "0 ft", "0 ft", name="Passage", steps=[flight])
    drawn = Drawn({"areas": [area]}, "us")
    on_plan = drawn.of_class("steps")[0]
    ys = [y for line, _ in lines(on_plan) for _, y in line]
    assert "Passage" in drawn.texts
    assert not [text for text, _, y, size in texts(drawn) if min(ys) < y - size / 3 < max(ys)]


def covered(drawn: Drawn, name: str) -> list[str]:
    """Level texts that a line of a class on the plan runs under, but for its own letter."""
    found = []
    legend = {one for sample in drawn.of_class("legend") for one in sample.iter()}
    for element in drawn.of_class(name):
        pieces = [
            sorted(piece)
            for line, closed in lines(element)
            if element not in legend
            for piece in pairwise([*line, *line[:closed]])
        ]
        for (x1, y1), (x2, y2) in pieces:
            for text, x, y, size in texts(drawn):
                half = width_of(text, size) / 2
                if (
                    text not in ("F", "H", "C")
                    and x - half < x2
                    and x1 < x + half
                    and y - 0.7 * size < max(y1, y2)
                    and min(y1, y2) < y
                ):
                    found.append(text)
    return found


def test_lengths_and_labels_keep_off_joints_and_cracks() -> None:
    across = [joint((x, 0), (x, 8), treatment="fill") for x in (3, 6, 9)]
    along = [joint((0, y), (12, y), treatment="fill") for y in (4, 7.4)]
    drawn = Drawn(
        {"areas": [room("hall", "12 m", "8 m", "0 m", name="Hall", joints=across + along)]}
    )
    assert {"Hall", "12 m"} <= set(drawn.texts)
    assert covered(drawn, "joint-control-fill") == []


def test_labels_stand_on_lines_where_nothing_else_is_left() -> None:
    along = [crack((0, y / 4), (6, y / 4)) for y in range(1, 16)]
    drawn = Drawn({"areas": [room("hall", "6 m", "4 m", "0 m", name="Hall", cracks=along)]})
    assert "24 m²" in drawn.texts[: drawn.texts.index("Areas in the order of work")]


def thick_walls() -> dict[str, Any]:
    door = {"side": 2, "offset": "2 m", "width": "0.9 m", "coating": "runs_through"}
    way_out = {"side": 0, "offset": "2 m", "width": "0.9 m", "coating": "stops", "exit": True}
    hall = room("hall", "6 m", "4 m", "0 m", "0 m", name="Hall", doorways=[door, way_out])
    wide = room("yard", "40 m", "12 m", "0 m", "-20 m", name="Yard")
    return {"areas": [hall, room("store", "6 m", "4 m", "0 m", "4.2 m", name="Store"), wide]}


def test_ids_of_doorways_keep_off_the_edge_across_the_wall() -> None:
    drawn = Drawn(thick_walls())
    assert "D1" in drawn.texts
    assert "D1" not in covered(drawn, "joined")


def test_ids_of_doorways_keep_off_walls() -> None:
    site = thick_walls()
    site["areas"][0]["doorways"][0] |= {"door": True, "coating": "stops"}
    drawn = Drawn(site)
    assert "D1" in drawn.texts
    assert "D1" not in covered(drawn, "wall")


def test_a_label_without_room_for_the_size_has_the_name() -> None:
    doors = [
        {"side": side, "offset": f"{at} m", "width": "0.9 m", "coating": "stops"}
        for side in (0, 2)
        for at in range(2, 28, 5)
    ]
    passage = room("passage", "30 m", "2 m", "0 m", name="Passage", doorways=doors)
    drawn = Drawn({"areas": [passage]}, "us")
    assert "Passage" in drawn.texts[: drawn.texts.index("Areas in the order of work")]


@pytest.mark.parametrize("site", [SITES["corridor"], thick_walls()])
def test_every_doorway_has_its_id_exits_too(site: dict[str, Any]) -> None:
    drawn = Drawn(site)
    assert any(one.exit for one in drawn.takeoff.doorways)
    assert {one.id for one in drawn.takeoff.doorways} <= set(drawn.texts)


def sides_said(drawn: Drawn) -> str:
    """What the table says of the first area's sides."""
    rows = drawn.texts[drawn.texts.index("Areas in the order of work") :]
    return rows[rows.index("Walls") + 3]


def test_a_rectangle_given_as_a_polygon_is_told_by_its_size() -> None:
    around = [(0, 0), (5.8, 0), (5.8, 4), (0, 4)]
    for first in range(4):
        turned = around[first:] + around[:first]
        for corners in (turned, turned[::-1]):
            drawn = Drawn({"areas": [polygon("store", *corners, name="Store")]})
            assert sides_said(drawn) == "5.8 m \u00d7 4 m"
            assert drawn.texts.count("5.8 m") == 1
    skewed = polygon("store", (0, 0), (5.8, 0), (5.8, 4), (0.1, 4), name="Store")
    assert sides_said(Drawn({"areas": [skewed]})) == "4 sides"


def test_a_curved_outline_is_told_by_the_size_of_its_box() -> None:
    bay = [(x / 10, 4 + (1 - (x / 10 - 3) ** 2 / 9)) for x in range(60, -1, -1)]
    drawn = Drawn({"areas": [polygon("bay", (0, 0), (6, 0), *bay, name="Bay")]})
    assert sides_said(drawn) == "6 m \u00d7 5 m overall"


@pytest.mark.parametrize(
    ("slope", "words"),
    [
        ({"percent": 2}, "slope 2 %"),
        ({"ratio": 12}, "slope 1 in 12"),
        ({"rise": "300 mm", "run": "6 m"}, "slope 0.3 m in 6 m"),
    ],
)
def test_a_floor_that_slopes_says_so_on_the_plan(slope: dict[str, Any], words: str) -> None:
    drawn = Drawn({"areas": [room("ramp", "6 m", "4 m", "0 m", name="Ramp", slopes=[slope])]})
    at = drawn.texts.index("Areas in the order of work")
    assert words in drawn.texts[:at]
    assert words in sides_said(drawn)
    assert "Not drawn" not in drawn.texts


def rows_not_drawn(drawn: Drawn) -> str:
    return " | ".join(drawn.texts[drawn.texts.index("Not drawn") + 4 :])


def test_barriers_of_doorways_and_amounts_are_in_the_table() -> None:
    door = {"side": 0, "width": "2 m", "height": "2.5 m", "coating": "stops"}
    flight: dict[str, Any] = {"risers": 3, "width": "1.2 m", "rise": "170 mm"}
    area = room(
        "hall",
        "10 m",
        "6 m",
        openings=[{"width": "3 m", "height": "2 m"}],
        doorways=[door],
        base_walls=[{"height": "100 mm", "length": "10 m"}],
        slopes=[{"percent": 2, "plan_area": "20 m2"}],
        steps=[flight],
        covers=[{"length": "3 m", "width": "2 m", "count": 2}],
    )
    said = rows_not_drawn(Drawn({"areas": [area]}))
    # 2 x 2.5 m and 3 x 2 m; 3 risers of 1.2 m x 170 mm; 2 covers of 3 x 2 m.
    for row in (
        "Base walls | 1 | 1 m²",
        "Flights of steps, their risers | 1 | 0.612 m²",
        "Slopes of part of a floor, in plan | 1 | 20 m²",
        "Openings to close against dust | 2 | 11 m²",
        "Things to cover | 2 | 12 m²",
    ):
        assert row in said
    only_doorway = Drawn({"areas": [room("hall", "10 m", "6 m", doorways=[door])]})
    assert rows_not_drawn(only_doorway) == "Openings to close against dust | 1 | 5 m²"


def test_a_leader_crosses_no_lettering() -> None:
    drawn = Drawn(SITES["closets"])
    (leader,) = drawn.of_class("leader")
    (start, end), _ = next(lines(leader))
    for text, x, y, size in texts(drawn):
        half = width_of(text, size) / 2
        for step in range(1, 10):
            share = step / 10
            at_x = start[0] + (end[0] - start[0]) * share
            at_y = start[1] + (end[1] - start[1]) * share
            inside = abs(at_x - x) < half and y - 0.7 * size < at_y < y
            assert not inside or re.fullmatch(r"\d+", text), text
