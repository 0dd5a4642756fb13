"""A canteen kitchen in feet and inches, with drains, cove and steps: invented.

26'6" +------+--------------------+
      |      |      servery     2 steps
18'6" +      +------=  =----------+
18'   +------+------=  =----------+ +----------+
      |      |                    | | wash-up  |
      | pas- |      kitchen       :=:          |
      | sage |                    | +----------+ 8'6"
      |steps =                    +------------+ 8'
      |      =                      dry store  |
0     +-=  =-+--------------------.------------+
   -6'6" exit 0                   24'          34'
"""

from collections.abc import Iterator
from math import pi, sqrt
from typing import Any

import pytest
from hand_plans import Answered, added, agrees
from serving import Client, NewDatabase, serving


def room(name: str, length: str, width: str, x: str, y: str, **rest: Any) -> dict[str, Any]:
    origin = {"x": x, "y": y}
    outline = {"kind": "rectangle", "length": length, "width": width, "origin": origin}
    return {"id": name.lower().replace(" ", "-"), "name": name, "outline": outline, **rest}


def at(x: str, y: str) -> dict[str, str]:
    return {"x": x, "y": y}


COVE = {"radius": "1 in", "height": "4 in"}
WASHING_DOOR = {"width": "3 ft", "coating": "runs_through"}
KITCHEN = room(
    "Kitchen",
    "24 ft",
    "18 ft",
    "0 ft",
    "0 ft",
    doorways=[
        {"side": 1, "offset": "11 ft", "to": "wash-up", **WASHING_DOOR},
        {"side": 2, "offset": "10 ft", "width": "4 ft", "coating": "stops", "to": "servery"},
        {
            "side": 3,
            "offset": "12 ft 6 in",
            "width": "3 ft 6 in",
            "coating": "stops",
            "to": "passage",
            "door": True,
        },
    ],
    coves=[COVE],
    drains=[
        {"diameter": "8 in", "at": at("4 ft", "6 ft")},
        {"diameter": "8 in", "at": at("12 ft", "6 ft")},
        {"diameter": "8 in", "at": at("20 ft", "6 ft")},
        {"length": "6 ft", "width": "6 in", "at": at("12 ft", "13 ft")},
    ],
    collars=[
        {"diameter": "4 in", "height": "6 in", "at": at("8 ft", "9 ft")},
        {"diameter": "4 in", "height": "6 in", "at": at("16 ft", "9 ft")},
    ],
    covers=[{"length": "6 ft", "width": "3 ft", "count": 2}],
)
DRY_STORE = room("Dry store", "10 ft", "8 ft", "24 ft", "0 ft", coves=[COVE])
WASH_UP = room(
    "Wash-up",
    "10 ft",
    "9 ft 6 in",
    "24 ft 6 in",
    "8 ft 6 in",
    doorways=[{"side": 3, "offset": "4 ft", "to": "kitchen", **WASHING_DOOR}],
    coves=[COVE],
    slopes=[{"percent": 2}],
    drains=[{"width": "12 in", "at": at("29 ft 6 in", "13 ft")}],
)
SERVERY = room(
    "Servery",
    "24 ft",
    "8 ft",
    "0 ft",
    "18 ft 6 in",
    doorways=[
        {"side": 2, "offset": "9 ft", "width": "6 ft", "coating": "stops", "height": "7 ft"},
    ],
    base_walls=[{"height": "6 in", "side": 1}],
    steps=[
        {
            "risers": 2,
            "width": "4 ft",
            "rise": "7 in",
            "going": "12 in",
            "treads": "added",
            "open_sides": 2,
            "coat_open_sides": True,
        }
    ],
)
PASSAGE = room(
    "Passage",
    "6 ft",
    "18 ft",
    "-6 ft 6 in",
    "0 ft",
    doorways=[
        {
            "side": 0,
            "offset": "1 ft",
            "width": "4 ft",
            "coating": "stops",
            "door": True,
            "exit": True,
        }
    ],
    steps=[
        {
            "risers": 3,
            "width": "6 ft",
            "rise": "6 in",
            "going": "11 in",
            "nosing": "1 in",
            "at": at("-6 ft 6 in", "9 ft"),
        }
    ],
)
SITE: dict[str, Any] = {
    "name": "Quay Street canteen",
    "areas": [KITCHEN, DRY_STORE, WASH_UP, SERVERY, PASSAGE],
    "joins": [{"between": ["kitchen", "dry-store"]}],
    "sheeting": {"width": "6 ft", "overlap": "6 in", "lap": "3 in"},
    "hand_grind_width": "4 in",
    "cut_in_width": "9 in",
}

# All figures in feet, square feet; volumes in US gallons of 231 in3.
INCH = 1 / 12
GALLONS = 12**3 / 231
HAND_WIDTH, CUT_IN_WIDTH = 4 * INCH, 9 * INCH


def grounds(floor: float, hand: float, cut_in: float) -> dict[str, float]:
    return {
        "floor": floor,
        "hand_grind": hand,
        "machine_grind": floor - hand,
        "cut_in": cut_in,
        "field": floor - cut_in,
    }


def cove(run: float) -> dict[str, float]:
    """A quarter circle of 1 in, 3 in straight above it; the mortar is what that circle leaves."""
    return {
        "cove_length": run,
        "running_length": run,
        "cove_face": run * (pi / 2 * 1 * INCH + 3 * INCH),
        "cove_volume": run * (1 * INCH) ** 2 * (1 - pi / 4) * GALLONS,
    }


# Kitchen: 84 ft round it, less the dry store's side and three doorways.
KITCHEN_WALLS = 2 * (24 + 18) - 8 - 3 - 4 - 3.5
ROUND_POST = pi * 4 * INCH
ROUND_DRAINS = 3 * pi * 8 * INCH + 2 * (6 + 0.5)
DRAINS = 3 * pi / 4 * (8 * INCH) ** 2 + 6 * 0.5
POSTS = 2 * pi / 4 * (4 * INCH) ** 2
# The wall to the wash-up is 6 in thick, and the coating runs on in its doorway of 3 ft: floor
# that is worked by hand, between two reveals.
THRESHOLD = 3 * 0.5
KITCHEN_RUN = KITCHEN_WALLS + 2 * 0.5
KITCHEN_FLOOR = 24 * 18 - DRAINS - POSTS + THRESHOLD
COLLARS = 2 * ROUND_POST * 0.5


def kitchen_band(width: float) -> float:
    """Corners counted once at three corners; the fourth has no wall towards the dry store.

    Where the walls of kitchen and store turn away from the floor, at (24', 8'), one is gained.
    Round each post is a ring of the width.
    """
    rings = 2 * pi * ((2 * INCH + width) ** 2 - (2 * INCH) ** 2)
    return KITCHEN_WALLS * width + (-3 + 1) * width**2 + rings + THRESHOLD


KITCHEN_COVE = cove(KITCHEN_RUN)
BY_HAND_KITCHEN = {
    **grounds(KITCHEN_FLOOR, kitchen_band(HAND_WIDTH), kitchen_band(CUT_IN_WIDTH)),
    **KITCHEN_COVE,
    "thresholds": THRESHOLD,
    "wall_length": KITCHEN_RUN,
    # The coating stops in the doorways to servery and passage, and at the rims of the drains.
    "open_length": 4 + 3.5 + ROUND_DRAINS,
    "joined_length": 8.0 + 3.0,
    "drain_area": DRAINS,
    "drain_length": ROUND_DRAINS,
    "collars": COLLARS,
    "collar_footprint": POSTS,
    "vertical": KITCHEN_COVE["cove_face"] + COLLARS,
    "tape_length": KITCHEN_RUN + 4 + 3.5 + ROUND_DRAINS + 2 * 2 * ROUND_POST,
    # Each 3 ft wide and lapped by 3 in on both sides, under one sheet of 6 ft.
    "sheeting": 2 * (3 + 0.5) * (6 + 0.5),
}

# Dry store: three walls with two corners between them.
STORE_WALLS = 10.0 + 8 + 10
STORE_COVE = cove(STORE_WALLS)
BY_HAND_DRY_STORE = {
    **grounds(
        10 * 8,
        STORE_WALLS * HAND_WIDTH - 2 * HAND_WIDTH**2,
        STORE_WALLS * CUT_IN_WIDTH - 2 * CUT_IN_WIDTH**2,
    ),
    **STORE_COVE,
    "wall_length": STORE_WALLS,
    "joined_length": 8.0,
    "vertical": STORE_COVE["cove_face"],
    "tape_length": STORE_WALLS,
}

# Wash-up: falls of 2 % make the floor larger than its plan, and the bands with it.
FALLS = sqrt(1 + 0.02**2)
WASHING_WALLS = 2 * (10 + 9.5) - 3
WASHING_PLAN = 10 * 9.5 - 1 * 1
WASHING_COVE = cove(WASHING_WALLS)
BY_HAND_WASH_UP = {
    **grounds(
        WASHING_PLAN * FALLS,
        (WASHING_WALLS * HAND_WIDTH - 4 * HAND_WIDTH**2) * FALLS,
        (WASHING_WALLS * CUT_IN_WIDTH - 4 * CUT_IN_WIDTH**2) * FALLS,
    ),
    **WASHING_COVE,
    "added_by_slope": WASHING_PLAN * (FALLS - 1),
    "wall_length": WASHING_WALLS,
    "open_length": 4.0,
    "joined_length": 3.0,
    "drain_area": 1.0,
    "drain_length": 4.0,
    "vertical": WASHING_COVE["cove_face"],
    "tape_length": WASHING_WALLS + 4.0,
}

# Servery: two steps with one tread, which is worked by hand; its sides are one step high.
SERVERY_WALLS = 2.0 * (24 + 8) - 4 - 6
TREAD = 4.0 * 1
BY_HAND_SERVERY = {
    **grounds(
        24 * 8 + TREAD,
        SERVERY_WALLS * HAND_WIDTH - 4 * HAND_WIDTH**2 + TREAD,
        SERVERY_WALLS * CUT_IN_WIDTH - 4 * CUT_IN_WIDTH**2 + TREAD,
    ),
    "added_treads": TREAD,
    "wall_length": SERVERY_WALLS,
    # The doorway to the dining room. The one to the kitchen stops there, and is counted there.
    "open_length": 6.0,
    "joined_length": 4.0,
    "base_walls": 8 * 0.5,
    # The base wall, and two risers of 4 ft.
    "running_length": 8.0 + 2 * 4,
    "risers": 2 * 4 * 7 * INCH,
    "step_sides": 2 * 7 * INCH * 1,
    "vertical": 8 * 0.5 + 2 * 4 * 7 * INCH + 2 * 7 * INCH * 1,
    # Walls; doorway; foot of the base; head and foot of two risers; foot of two sides.
    "tape_length": SERVERY_WALLS + 6 + 8 + 2 * 2 * 4 + 2 * 1,
    # 6 ft and its laps take two sheets of 6 ft, which overlap once.
    "dust_barrier": (6 + 0.5 + 0.5) * (7 + 0.5),
}

# Passage: treads lie in its plan, and only their nosings are added.
PASSAGE_WALLS = 2 * (6 + 18) - 3.5 - 4
NOSINGS = 2 * 6 * 1 * INCH
BY_HAND_PASSAGE = {
    **grounds(
        6 * 18 + NOSINGS,
        PASSAGE_WALLS * HAND_WIDTH - 4 * HAND_WIDTH**2 + NOSINGS,
        PASSAGE_WALLS * CUT_IN_WIDTH - 4 * CUT_IN_WIDTH**2 + NOSINGS,
    ),
    "added_treads": NOSINGS,
    "wall_length": PASSAGE_WALLS,
    "open_length": 4.0,
    "joined_length": 3.5,
    "risers": 3.0 * 6 * 0.5,
    "running_length": 3.0 * 6,
    "vertical": 3.0 * 6 * 0.5,
    "tape_length": PASSAGE_WALLS + 4 + 2 * 3 * 6,
}
BY_HAND = {
    "kitchen": BY_HAND_KITCHEN,
    "dry-store": BY_HAND_DRY_STORE,
    "wash-up": BY_HAND_WASH_UP,
    "servery": BY_HAND_SERVERY,
    "passage": BY_HAND_PASSAGE,
}


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


@pytest.fixture(scope="module")
def answered(client: Client) -> Answered:
    return Answered(client, SITE, "us")


@pytest.mark.parametrize("identity", BY_HAND)
def test_each_area_is_what_was_worked_out_by_hand(answered: Answered, identity: str) -> None:
    agrees(answered.area(identity), BY_HAND[identity])


def test_totals_are_their_sums(answered: Answered) -> None:
    fields = answered.takeoff["totals"]
    sums = added(*BY_HAND.values())
    agrees(fields, {field: value for field, value in sums.items() if field in fields})


def test_it_is_the_same_in_metres(client: Client) -> None:
    totals = Answered(client, SITE, "si").takeoff["totals"]
    sums = added(*BY_HAND.values())
    for field, metric in (("floor", 0.3048**2), ("cut_in", 0.3048**2), ("tape_length", 0.3048)):
        assert totals[field]["value"] == pytest.approx(sums[field] * metric, rel=1e-9)


def test_doorways_are_counted_once_each(answered: Answered) -> None:
    """The one given from kitchen and wash-up is the first; four more are given from one room."""
    told = [
        (one["between"], one["coating"], one["exit"], one["kept_shut"], one["width"]["value"])
        for one in answered.takeoff["doorways"]
    ]
    assert told == [
        (["kitchen", "wash-up"], "runs_through", False, False, pytest.approx(3)),
        (["kitchen", "servery"], "stops", False, False, pytest.approx(4)),
        (["kitchen", "passage"], "stops", False, True, pytest.approx(3.5)),
        (["servery"], "stops", False, False, pytest.approx(6)),
        (["passage"], "stops", True, True, pytest.approx(4)),
    ]


def test_the_crew_works_its_way_out(answered: Answered) -> None:
    """What lies behind the kitchen first, in the site's order; then it; the passage last."""
    assert answered.order == ["dry-store", "wash-up", "servery", "kitchen", "passage"]
    assert answered.takeoff["traffic"]["exits"] == ["passage"]
    crossed = [step["crossings"] for step in answered.takeoff["traffic"]["steps"]]
    assert crossed == [2, 2, 2, 1, 0]


def test_tests_to_take(answered: Answered) -> None:
    """907 ft2 of floor, 977 ft2 with verticals: both up to 1000 ft2, so three of each.

    ASTM F2170, and SSPC-PA 2: three areas, five spots each, three readings a spot.
    """
    sums = added(*BY_HAND.values())
    assert sums["floor"] < sums["floor"] + sums["vertical"] < 1000
    for method in ("ASTM F1869", "ASTM F2170"):
        assert answered.readings(method) == (3, 3)
    assert answered.readings("SSPC-PA 2") == (3 * 5, 3 * 5 * 3)


def test_table_and_drawing_have_the_same_figures(answered: Answered) -> None:
    names = ["Kitchen", "Dry store", "Wash-up", "Servery", "Passage"]
    assert [line["name"] for line in answered.lines[:-1]] == names
    for identity, by_hand in BY_HAND.items():
        found = {field: value for field, value in answered.line(identity).items() if value}
        assert found == pytest.approx(by_hand, rel=1e-9)
    for words in (*names, "429.3 ft²", "80 ft²", "94.02 ft²", "196 ft²", "109 ft²"):
        assert words in answered.words
