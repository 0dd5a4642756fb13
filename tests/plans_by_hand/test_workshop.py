"""An L-shaped workshop with two pits and a ramp, in metres and well-known text: invented.

     0                8         14
  11 +----------------+
     |          sump  |
  9  |           []   |
door |                +----------+ 6
     |   column              pad |
  4  |     []               +--+ +---------+ 4
     |                      |  |    ramp    > exit
  1  |  [==== long pit ====]+--+ +---------+ 1
   0 +---------------------------+ 14      18
"""

from collections.abc import Iterator
from math import sqrt
from typing import Any

import pytest
from hand_plans import Answered, added, agrees
from serving import Client, NewDatabase, serving

COLUMN = "(4 4, 4 4.5, 4.5 4.5, 4.5 4, 4 4)"
WORKSHOP: dict[str, Any] = {
    "id": "workshop",
    "name": "Workshop",
    "outline": {
        "kind": "wkt",
        "unit": "m",
        "text": f"POLYGON ((0 0, 14 0, 14 6, 8 6, 8 11, 0 11, 0 0), {COLUMN})",
    },
    "islands": [
        {
            "name": "Lathe pad",
            "edge": "open",
            "outline": {
                "kind": "wkt",
                "unit": "m",
                "text": "POLYGON ((10 2, 12.4 2, 12.4 3.6, 10 3.6, 10 2))",
            },
        }
    ],
    "doorways": [
        {"side": 5, "offset": "2 m", "width": "0.9 m", "coating": "stops", "door": True},
    ],
    "pits": [
        {
            "length": "6 m",
            "width": "0.9 m",
            "depth": "1.4 m",
            "rebate": "50 mm",
            "at": {"x": "1.5 m", "y": "1.2 m"},
        },
        {
            "width": "0.8 m",
            "depth": "0.6 m",
            "floor_coated": False,
            "at": {"x": "5 m", "y": "8 m"},
        },
    ],
    "base_walls": [{"height": "150 mm"}],
    "joints": [
        {"path": {"unit": "m", "vertices": [[0, 6], [8, 6]]}, "width": "6 mm", "depth": "20 mm"},
        {
            "path": {"unit": "m", "vertices": [[8, 0], [8, 6]]},
            "width": "20 mm",
            "depth": "20 mm",
            "treatment": "honour",
            "kind": "expansion",
        },
    ],
    "cracks": [
        {
            "path": {"unit": "m", "vertices": [[9, 4.5], [11.4, 5.5]]},
            "width": "10 mm",
            "depth": "20 mm",
            "sand_fraction": 0.5,
        }
    ],
    "covers": [{"length": "2.4 m", "width": "1.6 m"}],
}
RAMP: dict[str, Any] = {
    "id": "ramp",
    "name": "Ramp",
    "outline": {"kind": "wkt", "unit": "m", "text": "POLYGON ((14 1, 18 1, 18 4, 14 4, 14 1))"},
    "edges": [{"side": 1, "kind": "open", "exit": True}],
    "slopes": [{"ratio": 12}],
    "openings": [{"width": "3 m", "height": "2.5 m"}],
}
SITE: dict[str, Any] = {
    "name": "Lock Cottage boat works",
    "areas": [WORKSHOP, RAMP],
    "joins": [{"between": ["workshop", "ramp"]}],
    "sheeting": {"width": "2 m", "overlap": "150 mm", "lap": "100 mm"},
    "hand_grind_width": "100 mm",
    "cut_in_width": "230 mm",
}

# Lengths of wall [m]. All round the L less the mouth of the ramp and the door; round the column.
ROUND_L = 14 + 6 + 6 + 5 + 8 + 11
WALLS = ROUND_L - 3 - 0.9 + 4 * 0.5
ROUND_PAD = 2 * (2.4 + 1.6)
ROUND_LONG_PIT = 2 * (6 + 0.9)
ROUND_SUMP = 4 * 0.8

# Areas [m2].
LONG_PIT = 6 * 0.9
FLOOR = 14 * 6 + 8 * 5 - 0.5 * 0.5 - 2.4 * 1.6 - 0.8 * 0.8
BASE = WALLS * 0.150
PIT_SIDES = ROUND_LONG_PIT * (1.4 - 0.050) + ROUND_SUMP * 0.6


def band(width: float) -> float:
    """[m2] Strips along the walls, and squares of the width at corners.

    Less five where two walls of the L meet inside the floor. With one at its corner that turns
    away from the floor, one at each jamb of the ramp, and four round the column.
    """
    return WALLS * width + (-5 + 1 + 2 + 4) * width**2


HAND = band(0.100) + LONG_PIT
CUT_IN = band(0.230) + LONG_PIT
VOID_OF_CRACK = 2.6 * 0.010 * 0.020 / 2 * 1000  # [L]; the path is a 5-12-13 triangle's long side

BY_HAND_WORKSHOP = {
    "floor": FLOOR,
    "hand_grind": HAND,
    "machine_grind": FLOOR - HAND,
    "cut_in": CUT_IN,
    "field": FLOOR - CUT_IN,
    "wall_length": WALLS,
    "open_length": 0.9 + ROUND_PAD,
    "joined_length": 3.0,
    "base_walls": BASE,
    "running_length": WALLS,
    "pit_floor": LONG_PIT,
    "pit_sides": PIT_SIDES,
    "vertical": BASE + PIT_SIDES,
    "joint_length": 8.0,
    "joint_volume": 8 * 0.006 * 0.020 * 1000,  # [L]
    "honoured_joint_length": 6.0,
    "control_joint_length": 8.0,
    "expansion_joint_length": 6.0,
    "crack_length": 2.6,
    "crack_volume": VOID_OF_CRACK,
    "crack_sand_volume": VOID_OF_CRACK / 2,
    "crack_liquid_volume": VOID_OF_CRACK / 2,
    # Above the walls and at the foot of their base; door and pad; head and foot of the pits' sides.
    "tape_length": 2 * WALLS + 0.9 + ROUND_PAD + 2 * (ROUND_LONG_PIT + ROUND_SUMP),
    # 1.6 m and its laps take one sheet of 2 m.
    "sheeting": (1.6 + 2 * 0.1) * (2.4 + 2 * 0.1),
}

# 4 m of plan at 1 in 12 are this much longer along the slope.
STEEPER = sqrt(12**2 + 1) / 12
RAMP_FLOOR = 4 * 3 * STEEPER
BY_HAND_RAMP = {
    "floor": RAMP_FLOOR,
    "added_by_slope": RAMP_FLOOR - 12,
    # Two walls of 4 m, neither of which ends in a corner on the ramp.
    "hand_grind": 2 * 4 * 0.100 * STEEPER,
    "machine_grind": RAMP_FLOOR - 2 * 4 * 0.100 * STEEPER,
    "cut_in": 2 * 4 * 0.230 * STEEPER,
    "field": RAMP_FLOOR - 2 * 4 * 0.230 * STEEPER,
    "wall_length": 8.0,
    "open_length": 3.0,
    "joined_length": 3.0,
    "tape_length": 8.0 + 3.0,
    # 3 m and its laps take two sheets of 2 m, which overlap once.
    "dust_barrier": (3 + 2 * 0.1 + 0.15) * (2.5 + 2 * 0.1),
}


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


@pytest.fixture(scope="module")
def answered(client: Client) -> Answered:
    return Answered(client, SITE, "si")


def test_each_area_is_what_was_worked_out_by_hand(answered: Answered) -> None:
    agrees(answered.area("workshop"), BY_HAND_WORKSHOP)
    agrees(answered.area("ramp"), BY_HAND_RAMP)


def test_totals_are_their_sums(answered: Answered) -> None:
    both = added(BY_HAND_WORKSHOP, BY_HAND_RAMP)
    fields = answered.takeoff["totals"]
    agrees(fields, {field: value for field, value in both.items() if field in fields})


def test_it_is_the_same_in_feet(client: Client) -> None:
    totals = Answered(client, SITE, "us").takeoff["totals"]
    assert totals["floor"]["value"] == pytest.approx((FLOOR + RAMP_FLOOR) / 0.3048**2, rel=1e-9)
    assert totals["tape_length"]["value"] == pytest.approx(
        (BY_HAND_WORKSHOP["tape_length"] + BY_HAND_RAMP["tape_length"]) / 0.3048, rel=1e-9
    )


def test_the_workshop_is_coated_first_and_left_by_the_ramp(answered: Answered) -> None:
    assert answered.order == ["workshop", "ramp"]
    first, last = answered.takeoff["traffic"]["steps"]
    assert (first["into"], first["ends_at"]["x"]["value"]) == ("ramp", 14.0)
    # The corner of the L farthest from the middle of the mouth, (14, 2.5).
    assert [first["starts_at"][axis]["value"] for axis in "xy"] == [0.0, 11.0]
    assert (last["into"], last["ends_at"]["x"]["value"]) == (None, 18.0)


def test_tests_to_take(answered: Answered) -> None:
    """131.3 m2 are 1413 ft2; with 27.8 m2 of verticals they are 1713 ft2.

    ASTM F2170: three for the first 1000 ft2 and one for the 413 more. SSPC-PA 2: three areas of
    100 ft2 in the first 1000 ft2 and one in the rest, five spots each, three readings a spot.
    """
    for method in ("ASTM F1869", "ASTM F2170"):
        assert answered.readings(method) == (3 + 1, 3 + 1)
    assert answered.readings("SSPC-PA 2") == ((3 + 1) * 5, (3 + 1) * 5 * 3)


def test_table_and_drawing_have_the_same_figures(answered: Answered) -> None:
    assert [line["name"] for line in answered.lines[:-1]] == ["Workshop", "Ramp"]
    for identity, by_hand in (("workshop", BY_HAND_WORKSHOP), ("ramp", BY_HAND_RAMP)):
        line = answered.line(identity)
        found = {field: value for field, value in line.items() if value}
        assert found == pytest.approx(by_hand, rel=1e-9)
    # 119.27 m2 and 12.04 m2, the ramp drawn in plan.
    for words in ("Workshop", "Ramp", "119.3 m²", "12.04 m²", "Lathe pad"):
        assert words in answered.words
