"""What is said of details near walls, and in which units faults of size are told."""

import json
from typing import Any

import pytest
from takeoff_cases import box, measured

from filmbuild.edge.decoding import decode
from filmbuild.errors import Faults, InvalidInput
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff import take_off
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import UnitSystem


def noted(**details: Any) -> bool:
    notes: list[Note] = []
    area = {"id": "hall", "outline": box(10, 6, 0, 0), **details}
    measured(area, notes=notes, hand_grind_width="100 mm", cut_in_width="200 mm")
    return "detail-in-band" in {note.code for note in notes}


def at(x: float, y: float) -> dict[str, Any]:
    return {"at": {"x": f"{x} m", "y": f"{y} m"}}


@pytest.mark.parametrize(
    ("details", "meets"),
    [
        ({"drains": [{**at(5, 0.29), "width": "200 mm"}]}, True),
        ({"drains": [{**at(5, 0.31), "width": "200 mm"}]}, False),
        ({"pits": [{**at(8.9, 3), "width": "1 m", "depth": "1 m"}]}, True),
        ({"pits": [{**at(8.7, 3), "width": "1 m", "depth": "1 m"}]}, False),
        # Round a post is a band of its own, of 200 mm too.
        ({"collars": [{**at(5, 0.44), "diameter": "100 mm", "height": "1 m"}]}, True),
        ({"collars": [{**at(5, 0.46), "diameter": "100 mm", "height": "1 m"}]}, False),
        ({"drains": [{"width": "200 mm"}]}, False),
    ],
)
def test_a_detail_in_the_band_along_walls_is_told(details: dict[str, Any], *, meets: bool) -> None:
    assert noted(**details) == meets
    opened = [{"side": side, "kind": "open"} for side in range(4)]
    assert not noted(**details, edges=opened)


def detail_of(*areas: dict[str, Any], units: UnitSystem) -> str:
    body = json.dumps({"areas": areas}).encode()
    with pytest.raises(InvalidInput) as caught:
        take_off(decode(Site, body), Faults(), units)
    (fault,) = caught.value.faults
    return fault.detail


def feet(identity: str, *corners: tuple[float, float]) -> dict[str, Any]:
    outline = {"kind": "polygon", "unit": "ft", "vertices": corners}
    return {"id": identity, "outline": outline}


def test_overlapping_areas_are_told_by_id_in_the_units_asked_for() -> None:
    hall = feet("hall", (0, 0), (24, 0), (24, 18), (0, 18))
    store = feet("store", (23.5, 0), (33.5, 0), (33.5, 8), (23.5, 8))
    # Half a foot by 8 ft.
    customary = detail_of(hall, store, units="us")
    assert "covers 4 ft2 of the floor of hall" in customary
    assert "(23.75 ft, 4 ft)" in customary
    metric = detail_of(hall, store, units="si")
    assert "covers 0.3716 m2 of the floor of hall" in metric
    assert "(7.239 m, 1.2192 m)" in metric


@pytest.mark.parametrize(
    ("details", "told"),
    [
        ({"pits": [{"width": "30 ft", "depth": "1 ft"}]}, "take 900 ft2 of this area"),
        ({"slopes": [{"percent": 2, "plan_area": "500 ft2"}]}, "are 500 ft2 in plan"),
        ({"spalls": [{"area": "500 ft2", "depth": "1 in"}]}, "500 ft2 of a floor of 432 ft2"),
        ({"fills": [{"area": "500 ft2", "depth": "1 in"}]}, "the floor of this area is 432 ft2"),
        ({"existing_coatings": [{"area": "500 ft2"}]}, "500 ft2 of a floor of 432 ft2"),
    ],
)
def test_sizes_beyond_the_floor_are_told_in_square_feet(details: dict[str, Any], told: str) -> None:
    area = {**feet("hall", (0, 0), (24, 0), (24, 18), (0, 18)), **details}
    assert told in detail_of(area, units="us")


def test_an_area_that_is_too_large_is_told_in_square_feet() -> None:
    huge = feet("plain", (0, 0), (9000, 0), (9000, 9000), (0, 9000))
    assert "ft2" in detail_of(huge, units="us")
    assert "m2" in detail_of(huge, units="si")
    far = feet("far", (0, 0), (9e6, 0), (9e6, 1), (0, 1))
    assert "3,280,840 ft" in detail_of(far, units="us")
