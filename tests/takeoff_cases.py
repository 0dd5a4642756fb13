"""Invented sites for the tests of the takeoff, as a caller sends them."""

import json
from typing import Any

import pytest

from filmbuild.edge.decoding import decode
from filmbuild.errors import Faults, InvalidInput
from filmbuild.pipeline.results import AreaTakeoff, Takeoff
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff import take_off
from filmbuild.pipeline.trace import Note

FOOT = 0.3048
INCH = 0.0254
SQUARE_FOOT = FOOT**2


def measured(*areas: dict[str, Any], notes: list[Note] | None = None, **site: Any) -> Takeoff:
    body = json.dumps({"areas": list(areas), **site}).encode()
    return take_off(decode(Site, body), Faults(), notes=notes)


def faults_of(*areas: dict[str, Any], **site: Any) -> dict[str, str]:
    with pytest.raises(InvalidInput) as caught:
        measured(*areas, **site)
    return {fault.pointer: fault.code for fault in caught.value.faults}


def rectangle(length: str = "10 m", width: str = "6 m", **rest: Any) -> dict[str, Any]:
    outline = {"kind": "rectangle", "length": length, "width": width}
    return {"id": "room", "outline": outline, **rest}


def room(**rest: Any) -> AreaTakeoff:
    """A room of 10 x 6 m, taken off."""
    return measured(rectangle(**rest)).areas[0]


def box(length: float, width: float, x: float, y: float) -> dict[str, Any]:
    """A rectangle [m] at a place on the plan."""
    return {
        "kind": "rectangle",
        "length": f"{length:.9f} m",
        "width": f"{width:.9f} m",
        "origin": {"x": f"{x:.9f} m", "y": f"{y:.9f} m"},
    }


def busy_site() -> dict[str, Any]:
    """One room with each kind of work in it, two of each where that makes a difference."""
    substrate = {
        "sand_patches": [
            {"volume": "25 mL", "diameters": ["190 mm", "210 mm", "195 mm", "205 mm"]},
            {"volume": "45 mL", "diameters": ["350 mm", "350 mm", "340 mm", "360 mm"]},
        ]
    }
    flight = {"risers": 4, "width": "1.2 m", "rise": "170 mm", "going": "280 mm"}
    crack = {"length": "3 m", "width": "6 mm", "depth": "12 mm"}
    joint = {"length": "6 m", "width": "10 mm", "depth": "20 mm"}
    area = rectangle(
        # Into the store behind a wall of 0.2 m.
        doorways=[{"side": 2, "offset": "4 m", "width": "1 m", "coating": "runs_through"}],
        islands=[{"outline": box(0.4, 0.4, 3, 2)}],
        edges=[
            {"side": 0, "kind": "open", "offset": "1 m", "length": "2 m"},
            {"side": 2, "kind": "joined", "offset": "1 m", "length": "1 m"},
        ],
        base_walls=[
            {"height": "100 mm"},
            {"height": "300 mm", "side": 1, "openings": [{"width": "1 m", "count": 2}]},
        ],
        steps=[
            {**flight, "treads": "added", "nosing": "20 mm", "open_sides": 2},
            {**flight, "open_sides": 1, "coat_open_sides": True},
            {**flight, "open_sides": 2, "coat_open_sides": True, "waist": "150 mm"},
        ],
        coves=[{"radius": "25 mm"}, {"radius": "1 in", "height": "4 in", "length": "3 m"}],
        curbs=[{"length": "3 m", "height": "100 mm", "width": "150 mm", "faces": 1}],
        slopes=[{"percent": 2, "plan_area": "20 m2"}, {"ratio": 12, "plan_area": "6 m2"}],
        pits=[
            {"length": "2 m", "width": "1 m", "depth": "1 m", "rebate": "40 mm"},
            {"diameter": "600 mm", "depth": "500 mm", "floor_coated": False, "count": 2},
        ],
        drains=[{"diameter": "200 mm", "count": 3}, {"width": "150 mm", "length": "2 m"}],
        collars=[
            {"diameter": "100 mm", "height": "150 mm", "count": 4},
            {"width": "80 mm", "height": "150 mm"},
        ],
        cracks=[crack, {**crack, "section": "square", "sand_fraction": 0.4}],
        spalls=[{"area": "0.5 m2", "depth": "8 mm"}],
        fills=[{"depth": "2 mm", "area": "9 m2"}],
        joints=[
            joint,
            {**joint, "treatment": "honour", "kind": "expansion"},
            {**joint, "treatment": "coat_over"},
        ],
        openings=[{"width": "3 m", "height": "2.5 m"}],
        covers=[{"length": "3 m", "width": "4 m", "count": 2}],
        existing_coatings=[{"area": "20 m2", "thickness": "500 um"}],
        substrate=substrate,
    )
    sheet = {"width": "2 m", "overlap": "150 mm", "lap": "100 mm"}
    area["outline"] = box(10, 6, 0, 0)
    store = {"id": "store", "outline": box(4, 3, 3, 6.2)}
    return {"areas": [area, store], "sheeting": sheet}
