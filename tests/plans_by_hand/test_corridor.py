"""A drawing of a corridor with nine rooms, in millimetres, read and put into a site: invented.

Five rooms along the north of the corridor, one of them with a round bay; along its south three, one
of them round a column, and a niche. Walls are 200 mm thick.
"""

from collections.abc import Iterator
from math import pi
from typing import Any

import pytest
from hand_plans import Answered, added, agrees
from plan_cases import drawing, on, written
from serving import Client, NewDatabase, serving

LENGTH, BREADTH = 30_000, 2_000
NORTH = ("Reception", "Records", "Clinic", "Laboratory", "Plant room")
SOUTH = ("Waiting", "Day room", "Stores")
BAYED, PILLARED, ROUND = "laboratory", "reception", "day-room"
STOPPED = ("plant-room", "stores")
"""Where the coating stops under a leaf."""


def plan() -> bytes:
    document = drawing(4)
    space = document.modelspace()

    def outline(name: str, *vertices: tuple[float, ...]) -> None:
        space.add_lwpolyline(vertices, format="xyb", close=True, dxfattribs=on("rooms"))
        x, y = vertices[0][:2]
        space.add_text(name, height=250, dxfattribs=on("names", insert=(x + 300, y + 200)))

    def box(name: str, x: float, y: float, length: float, breadth: float) -> None:
        outline(name, (x, y), (x + length, y), (x + length, y + breadth), (x, y + breadth))

    box("Corridor", 0, 0, LENGTH, BREADTH)
    for number, name in enumerate(NORTH):
        x, y = 6_000 * number, BREADTH + 200
        if name == "Laboratory":
            # A half circle of 1 m radius out of the middle of the north wall; bulge 1 is a half.
            far = y + 4_000
            outline(
                name,
                (x, y),
                (x + 5_800, y),
                (x + 5_800, far),
                (x + 3_900, far, 1.0),
                (x + 1_900, far),
                (x, far),
            )
        else:
            box(name, x, y, 5_800, 4_000)
    for number, name in enumerate(SOUTH):
        box(name, 7_500 * number, -3_200, 7_300, 3_000)
    box("Niche", 22_500, -600, 3_000, 400)
    pillar = [(1_000, 4_000), (1_400, 4_000), (1_400, 4_400), (1_000, 4_400)]
    space.add_lwpolyline(pillar, close=True, dxfattribs=on("columns"))
    space.add_circle((11_000, -1_800), 300, dxfattribs=on("columns"))
    return written(document)


def doorways() -> list[dict[str, Any]]:
    """Along the south wall of the corridor, from the west; along its north wall, from the east."""
    found: list[dict[str, Any]] = [
        {"side": 3, "offset": "0.4 m", "width": "1.2 m", "door": True, "exit": True}
    ]
    found += [{"side": 2, "offset": f"{30 - 6 * room - 2.9:g} m"} for room in range(5)]
    found += [{"side": 0, "offset": f"{7.5 * room + 3:g} m"} for room in range(3)]
    found += [{"side": 0, "offset": "23.5 m"}]
    stops = {0, 5, 8}
    for number, one in enumerate(found):
        one.setdefault("width", "0.9 m")
        one["coating"] = "stops" if number in stops else "runs_through"
        one["door"] = number in stops
    return found


def site(areas: list[dict[str, Any]]) -> dict[str, Any]:
    corridor, *rooms = areas
    based = [
        {**room, "base_walls": [{"height": "100 mm"}]} if room["id"] == BAYED else room
        for room in rooms
    ]
    return {
        "name": "Mill Lane clinic",
        "areas": [{**corridor, "doorways": doorways()}, *based],
        "hand_grind_width": "100 mm",
        "cut_in_width": "230 mm",
    }


HAND_WIDTH, CUT_IN_WIDTH = 0.100, 0.230


def measured(
    floor: float,
    walls: float,
    corners: float = -4,
    opened: float = 0.0,
    joined: float = 0.9,
    tape: float | None = None,
    threshold: float = 0.0,
    reveals: float = 0.0,
) -> dict[str, float]:
    """[m2], [m] Bands are strips along walls, and as many squares of the width at corners.

    Thresholds are worked by hand whole; their reveals are wall without a band.
    """
    hand = walls * HAND_WIDTH + corners * HAND_WIDTH**2 + threshold
    cut_in = walls * CUT_IN_WIDTH + corners * CUT_IN_WIDTH**2 + threshold
    floor, walls = floor + threshold, walls + reveals
    found = {
        "floor": floor,
        "hand_grind": hand,
        "machine_grind": floor - hand,
        "cut_in": cut_in,
        "field": floor - cut_in,
        "wall_length": walls,
        "joined_length": joined,
        "tape_length": walls + opened if tape is None else tape,
    }
    found |= {"open_length": opened} if opened else {}
    return found | ({"thresholds": threshold} if threshold else {})


NORTH_WALLS = 2 * (5.8 + 4) - 0.9
SOUTH_WALLS = 2 * (7.3 + 3) - 0.9
BAY_WALLS = NORTH_WALLS - 2 + pi * 1
NICHE_WALLS = 2 * (3 + 0.4) - 0.9

LABORATORY = {
    # Half a circle of 1 m. Two corners turn away from the floor, one at each end of the bay; along
    # the inside of its wall a strip is shorter by half the width at each radian, pi / 2 squares.
    **measured(
        5.8 * 4 + pi / 2,
        BAY_WALLS,
        corners=-4 + 2 - pi / 2,
        # Above the walls and at the foot of their base.
        tape=2 * BAY_WALLS,
    ),
    "base_walls": BAY_WALLS * 0.1,
    "running_length": BAY_WALLS,
    "vertical": BAY_WALLS * 0.1,
}
NICHE = {
    **measured(3 * 0.4, NICHE_WALLS),
    # Strips of 230 mm from both long walls meet, and fill it but for 170 mm behind the doorway.
    "cut_in": 3 * 0.4 - 0.9 * (0.4 - 0.23),
    "field": 0.9 * (0.4 - 0.23),
}
BY_HAND: dict[str, dict[str, float]] = {
    # 64 m round it less nine doorways and the exit; the coating stops in two of the nine. In the
    # other seven it runs on through a wall of 0.2 m, between two reveals.
    "corridor": measured(
        30 * 2,
        2 * (30 + 2) - 9 * 0.9 - 1.2,
        opened=2 * 0.9 + 1.2,
        joined=7 * 0.9,
        threshold=7 * 0.9 * 0.2,
        reveals=7 * 2 * 0.2,
    ),
    # Round a pillar, four corners turn away from the floor.
    "reception": measured(5.8 * 4 - 0.4**2, NORTH_WALLS + 4 * 0.4, corners=-4 + 4),
    "records": measured(5.8 * 4, NORTH_WALLS),
    "clinic": measured(5.8 * 4, NORTH_WALLS),
    "laboratory": LABORATORY,
    "plant-room": measured(5.8 * 4, NORTH_WALLS),
    "waiting": measured(7.3 * 3, SOUTH_WALLS),
    # Round a column, a ring: pi (2 r w + w2), which is pi squares beside the strip.
    "day-room": measured(7.3 * 3 - pi * 0.3**2, SOUTH_WALLS + 2 * pi * 0.3, corners=-4 + pi),
    "stores": measured(7.3 * 3, SOUTH_WALLS),
    "niche": NICHE,
}
CURVED = (BAYED, ROUND)
FINENESS = 2e-3
"""[m], [m2] The floor inside a curve is exact. Its edge runs straight from vertex to vertex, 128 a
turn, so that a half circle leaves the wall 1.4 degrees off the square."""


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


@pytest.fixture(scope="module")
def areas(client: Client) -> list[dict[str, Any]]:
    query = "layers=rooms&islands_layer=columns&names_layer=names"
    headers = {"content-type": "image/vnd.dxf"}
    answer = client.post(f"/v1/plans?{query}", content=plan(), headers=headers)
    assert answer.status_code == 200, answer.text
    reading = answer.json()
    assert (reading["unit"], reading["source_unit"], reading["notes"]) == ("mm", "mm", [])
    found: list[dict[str, Any]] = reading["areas"]
    return found


@pytest.fixture(scope="module")
def answered(client: Client, areas: list[dict[str, Any]]) -> Answered:
    return Answered(client, site(areas), "si")


def test_rooms_are_named_by_the_texts_in_them(areas: list[dict[str, Any]]) -> None:
    assert [area["name"] for area in areas] == ["Corridor", *NORTH, *SOUTH, "Niche"]
    assert [area["id"] for area in areas] == list(BY_HAND)
    assert {area["id"] for area in areas if area["islands"]} == {PILLARED, ROUND}


@pytest.mark.parametrize("identity", BY_HAND)
def test_each_area_is_what_was_worked_out_by_hand(answered: Answered, identity: str) -> None:
    area = answered.area(identity)
    agrees(area, BY_HAND[identity], FINENESS if identity in CURVED else 1e-9)
    assert area["floor"]["value"] == pytest.approx(BY_HAND[identity]["floor"], rel=1e-9)


def test_totals_are_their_sums(answered: Answered) -> None:
    fields = answered.takeoff["totals"]
    sums = added(*BY_HAND.values())
    agrees(fields, {field: value for field, value in sums.items() if field in fields}, FINENESS)
    assert fields["floor"]["value"] == pytest.approx(
        60 + 7 * 0.9 * 0.2 + 5 * 5.8 * 4 + pi / 2 - 0.16 + 3 * 7.3 * 3 - pi * 0.09 + 1.2, rel=1e-9
    )


def test_it_is_the_same_in_feet(client: Client, areas: list[dict[str, Any]]) -> None:
    totals = Answered(client, site(areas), "us").takeoff["totals"]
    sums = added(*BY_HAND.values())
    assert totals["floor"]["value"] == pytest.approx(sums["floor"] / 0.3048**2, rel=1e-9)
    assert totals["wall_length"]["value"] == pytest.approx(sums["wall_length"] / 0.3048, rel=1e-4)


def test_each_doorway_leads_to_the_room_that_it_faces(answered: Answered) -> None:
    doors = answered.takeoff["doorways"]
    rooms = [identity for identity in BY_HAND if identity != "corridor"]
    assert [one["between"] for one in doors] == [["corridor"], *(["corridor", r] for r in rooms)]
    shut = [one["between"][-1] for one in doors if one["kept_shut"]]
    assert shut == ["corridor", *STOPPED]


def test_rooms_come_first_and_the_corridor_last(answered: Answered) -> None:
    rooms = [identity for identity in BY_HAND if identity != "corridor"]
    assert answered.order == [*rooms, "corridor"]
    assert answered.takeoff["traffic"]["exits"] == ["corridor"]


def test_tests_to_take(answered: Answered) -> None:
    """245.3 m2 are 2640 ft2, 247.2 m2 with the base wall 2661 ft2: 1000 ft2, and two more.

    ASTM F2170: three tests and two. SSPC-PA 2: three areas and two, five spots each, three
    readings a spot.
    """
    for method in ("ASTM F1869", "ASTM F2170"):
        assert answered.readings(method) == (3 + 2, 3 + 2)
    assert answered.readings("SSPC-PA 2") == ((3 + 2) * 5, (3 + 2) * 5 * 3)


def test_table_and_drawing_have_the_same_figures(answered: Answered) -> None:
    names = ["Corridor", *NORTH, *SOUTH, "Niche"]
    assert [line["name"] for line in answered.lines[:-1]] == names
    for identity, by_hand in BY_HAND.items():
        found = {field: value for field, value in answered.line(identity).items() if value}
        assert found == pytest.approx(by_hand, rel=1e-9, abs=FINENESS)
    for words in (*names, "61.26 m²", "23.04 m²", "23.2 m²", "24.77 m²", "21.62 m²", "1.2 m²"):
        assert words in answered.words
