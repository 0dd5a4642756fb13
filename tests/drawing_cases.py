"""Sites to draw, invented, and their drawings read back."""

import json
import re
from collections.abc import Iterator
from math import dist
from typing import Any
from xml.etree import ElementTree as ET

from filmbuild.edge.decoding import decode
from filmbuild.errors import Faults
from filmbuild.pipeline.drawing import takeoff_drawing
from filmbuild.pipeline.geometry import Point, signed_area
from filmbuild.pipeline.results import Takeoff
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff import take_off
from filmbuild.quantities import UnitSystem

SVG = "{http://www.w3.org/2000/svg}"
_SUBPATH = re.compile(r"M([^MZ]*)(Z?)")
_SCALE = re.compile(r"1 : ([0-9.\u202f]+) at")


class Drawn:
    """A drawing with the takeoff that it shows."""

    def __init__(self, site: dict[str, Any], units: UnitSystem = "si", prefix: str = "") -> None:
        parsed = decode(Site, json.dumps(site).encode(), max_bytes=1 << 26)
        self.takeoff: Takeoff = take_off(parsed, Faults(), units)
        self._site, self._units, self._prefix = parsed, units, prefix
        self.text = self.drawn_again()
        self.root = ET.fromstring(self.text)  # noqa: S314 - written here, a moment ago

    def drawn_again(self) -> str:
        return takeoff_drawing(self._site, self.takeoff, self._units, self._prefix)

    @property
    def texts(self) -> list[str]:
        return [one.text or "" for one in self.root.iter(f"{SVG}text")]

    @property
    def denominator(self) -> float:
        found = next(match for text in self.texts if (match := _SCALE.match(text)))
        return float(found[1].replace("\u202f", ""))

    @property
    def metres(self) -> float:
        """What a millimetre of paper stands for."""
        return self.denominator / 1000

    def of_class(self, name: str) -> list[ET.Element]:
        return [one for one in self.root.iter() if one.get("class") == name]

    def area_of(self, name: str) -> float:
        """[m2] Inside the figures of a class: the first ring of each less the others."""
        total = 0.0
        for element in self.of_class(name):
            first, *holes = [abs(signed_area(tuple(line))) for line, _ in lines(element)]
            total += first - sum(holes)
        return total * self.metres**2

    def length_of(self, name: str) -> float:
        """[m] Of all lines of a class."""
        total = 0.0
        for element in self.of_class(name):
            for line, closed in lines(element):
                points = [*line, line[0]] if closed else line
                total += sum(map(dist, points, points[1:]))
        return total * self.metres


def lines(element: ET.Element) -> Iterator[tuple[list[Point], bool]]:
    for points, closed in _SUBPATH.findall(element.get("d", "")):
        line = [tuple(map(float, point.split())) for point in points.split("L")]
        yield [(x, y) for x, y in line], bool(closed)


def room(identity: str, length: str, width: str, x: str = "", y: str = "0 m", **rest: Any) -> Any:
    outline: dict[str, Any] = {"kind": "rectangle", "length": length, "width": width}
    if x:
        outline["origin"] = {"x": x, "y": y}
    return {"id": identity, "outline": outline, **rest}


def polygon(identity: str, *vertices: tuple[float, float], **rest: Any) -> Any:
    return {
        "id": identity,
        "outline": {"kind": "polygon", "unit": "m", "vertices": vertices},
        **rest,
    }


def _doorway(side: int, offset: str, *, stops: bool, **rest: Any) -> dict[str, Any]:
    coating = "stops" if stops else "runs_through"
    return {"side": side, "offset": offset, "width": "0.9 m", "coating": coating, **rest}


def _corridor() -> dict[str, Any]:
    north = ("Cold store", "Preparation", "Packing", "Dry store", "Office")
    south = ("Wash-up", "Locker room", "Plant", "Loading", "First aid")
    way_out = {"side": 3, "offset": "0.4 m", "width": "1.2 m", "coating": "stops"}
    areas = [
        room(
            "corridor",
            "18 m",
            "2 m",
            "0 m",
            name="Corridor",
            doorways=[{**way_out, "exit": True, "door": True}],
        )
    ]
    for index, (upper, lower) in enumerate(zip(north, south, strict=True)):
        x = f"{index * 3.6:g} m"
        up = _doorway(0, "0.6 m", stops=False, to="corridor", door=index % 2 == 0)
        down = _doorway(2, "2.1 m", stops=index == 2, to="corridor", door=index == 2)
        areas.append(room(f"n{index}", "3.6 m", "4.2 m", x, "2 m", name=upper, doorways=[up]))
        areas.append(room(f"s{index}", "3.6 m", "3.4 m", x, "-3.4 m", name=lower, doorways=[down]))
    return {"name": "Canteen kitchen", "areas": areas}


WORKSHOP = polygon(
    "workshop",
    (0, 0),
    (14, 0),
    (14, 6),
    (8, 6),
    (8, 11),
    (0, 11),
    name="Workshop",
    islands=[
        {"outline": room("", "0.5 m", "0.5 m", "4 m", "4 m")["outline"]},
        {
            "outline": room("", "2.4 m", "1.6 m", "9.5 m", "2 m")["outline"],
            "name": "Lathe pad",
            "edge": "open",
        },
        {"outline": polygon("", (2, 7), (4, 7.5), (3, 9))["outline"], "name": "Pit"},
    ],
    edges=[{"side": 1, "kind": "open", "offset": "1 m", "length": "3 m", "exit": True}],
    joints=[{"length": "6 m", "width": "6 mm", "depth": "20 mm", "treatment": "honour"}],
    cracks=[{"length": "2.5 m", "width": "6 mm", "depth": "12 mm"}],
)
_JOINT = {"width": "6 mm", "depth": "20 mm"}
_CRACK = {"width": "6 mm", "depth": "12 mm"}


def joint(*vertices: tuple[float | str, float | str], unit: str = "m", **rest: Any) -> Any:
    return {**_JOINT, "path": {"unit": unit, "vertices": vertices}, **rest}


def crack(*vertices: tuple[float | str, float | str], **rest: Any) -> Any:
    return {**_CRACK, "path": {"unit": "m", "vertices": vertices}, **rest}


def spot(x: str, y: str) -> dict[str, str]:
    return {"x": x, "y": y}


MARKED: dict[str, Any] = {
    "name": "Fitting shop",
    "areas": [
        polygon(
            "shop",
            *((0, 0), (16, 0), (16, 7), (9, 7), (9, 12), (0, 12)),
            name="Fitting shop",
            islands=[{"outline": room("", "0.5 m", "0.5 m", "4.75 m", "5.75 m")["outline"]}],
            edges=[
                {"side": 5, "kind": "open", "offset": "1 m", "length": "3 m", "exit": True},
                {"side": 1, "kind": "joined", "offset": "1 m", "length": "3 m", "joins": "ramp"},
            ],
            pits=[
                {"at": spot("10 m", "1 m"), "length": "5 m", "width": "1 m", "depth": "1.2 m"},
                {"at": spot("1 m", "9 m"), "diameter": "1.2 m", "depth": "600 mm"},
                {"width": "400 mm", "depth": "300 mm"},
            ],
            steps=[
                {
                    "at": spot("6.5 m", "10 m"),
                    "up": "y",
                    "risers": 6,
                    "width": "1.5 m",
                    "rise": "170 mm",
                    "going": "280 mm",
                }
            ],
            joints=[
                joint((5, 0), (5, 12)),
                joint((0, 6), (9, 6), treatment="honour"),
                joint((9, 0), (9, 7), kind="expansion", treatment="honour"),
                joint((9, 4), (16, 4), treatment="coat_over"),
                joint((0, 3), (5, 3), kind="expansion"),
                joint((5, 3), (9, 3), kind="expansion", treatment="coat_over"),
                {**_JOINT, "length": "2.5 m", "treatment": "honour"},
            ],
            cracks=[
                crack((1, 1), (2.5, 1.4), (4, 0.9)),
                crack((6, 8), (8, 9.5), length="2.5 m"),
                {**_CRACK, "length": "1.2 m"},
            ],
            drains=[
                {"at": spot("2.5 m", "4.5 m"), "diameter": "200 mm"},
                {"at": spot("7 m", "4.5 m"), "width": "300 mm"},
                {"at": spot("12.5 m", "6 m"), "length": "3 m", "width": "150 mm"},
                {"diameter": "100 mm", "count": 2},
            ],
            collars=[
                {"at": spot("3.5 m", "10 m"), "diameter": "300 mm", "height": "150 mm"},
                {"at": spot("7 m", "1.5 m"), "width": "400 mm", "height": "150 mm"},
            ],
        ),
        room("ramp", "4 m", "3 m", "16 m", "1 m", name="Ramp", slopes=[{"ratio": 12}]),
    ],
}
SITES: dict[str, dict[str, Any]] = {
    "marked": MARKED,
    "rectangle": {"name": "Canning hall", "areas": [room("hall", "24 ft 6 in", "18 ft")]},
    "workshop": {"name": "Boat yard", "areas": [WORKSHOP]},
    "corridor": _corridor(),
    "closets": {
        "name": "Hall with closets",
        "areas": [
            room("hall", "60 ft", "40 ft", "0 ft", "0 ft", name="Assembly hall"),
            room("closet", "3 ft", "2 ft 6 in", "60 ft", "10 ft", name="Broom closet"),
            room("duct", "8 in", "10 in", "60 ft", "20 ft", name="Duct"),
            room("niche", "5 ft", "4 ft", "0 ft", "40 ft", name="Niche for the fire hose"),
        ],
    },
    "levels": {
        "name": "Two storeys",
        "areas": [
            room("a", "12 m", "8 m", "0 m", name="Sales floor"),
            room("b", "4 m", "8 m", "12 m", name="Goods in"),
            room("c", "9 m", "8 m", "0 m", name="Canteen", level="upper"),
            polygon(
                "d", (9, 0), (13, 0), (15, 2), (15, 6), (13, 8), (9, 8), name="Bow", level="upper"
            ),
        ],
    },
    "loose": {
        "name": "Measured by tape",
        "areas": [
            room("kitchen", "5.2 m", "4 m", name="Kitchen"),
            room("larder", "3 m", "2.2 m", name="Larder"),
            room("passage", "8 m", "1.4 m", name="Passage"),
            room("cupboard", "1.2 m", "0.9 m", name="Cupboard"),
            room("ramp", "2 m", "6 m", name="Ramp room"),
            room("office", "6 m", "5 m", name="Yard office beside the east gate of the old works"),
        ],
    },
    "bays": {
        "name": "Open plan",
        "joins": [{"between": ["a", "b"]}],
        "areas": [
            room("a", "8 m", "6 m", "0 m", name="Bay A"),
            room(
                "b",
                "5 m",
                "9 m",
                "8 m",
                name="Bay B",
                edges=[{"side": 2, "kind": "open", "exit": True}],
                drains=[{"diameter": "150 mm", "count": 3}],
            ),
        ],
    },
}
