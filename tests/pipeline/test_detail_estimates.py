"""What is measured beside the plain floor, carried through to materials, hours and price."""

import json
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any

import pytest
from demo import priced_demo
from takeoff_cases import busy_site, rectangle

from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.pipeline.estimate import estimate_document, materials_document, takeoff_document
from filmbuild.pipeline.requests import EstimateRequest, MaterialsRequest, TakeoffRequest
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.specification import Catalogue

JOB = {
    "system": "harbour-broadcast",
    "start": "2026-06-15",
    "crew": [{"labour_class": "finisher", "count": 4}],
    "terms": {"margin_percent": "30", "tax_place": "Port Alder"},
}
CRACK = {"length": "9 m", "width": "6 mm", "depth": "12 mm"}
JOINT = {"length": "9 m", "width": "6 mm", "depth": "12 mm"}
WORK: dict[str, dict[str, Any]] = {
    "base_walls": {"height": "150 mm"},
    "steps": {"risers": 6, "width": "2 m", "rise": "170 mm", "going": "300 mm", "treads": "added"},
    "coves": {"radius": "25 mm", "height": "100 mm"},
    "curbs": {"length": "9 m", "height": "100 mm", "width": "150 mm"},
    "slopes": {"percent": 20},
    "pits": {"width": "1 m", "length": "4 m", "depth": "1 m"},
    "cracks": CRACK,
    "spalls": {"area": "2 m2", "depth": "8 mm"},
    "fills": {"depth": "2 mm"},
    "joints": JOINT,
    "openings": {"width": "4 m", "height": "3 m"},
    "existing_coatings": {"thickness": "500 um"},
}


@cache
def catalogue() -> Catalogue:
    return priced_demo("USD", date(2026, 6, 15))


def estimated(*areas: dict[str, Any], **site: Any) -> EstimateDocument:
    body = {"units": "si", "site": {"areas": list(areas), **site}, "job": JOB}
    return estimate_document(decode(EstimateRequest, json.dumps(body).encode()), catalogue())


@cache
def plain_price() -> Decimal:
    return estimated(rectangle()).price.total.amount


@pytest.mark.parametrize("kind", WORK)
def test_no_work_is_done_for_nothing(kind: str) -> None:
    more: dict[str, Any] = {kind: [WORK[kind]]}
    assert estimated(rectangle(**more)).price.total.amount > plain_price()


def test_a_takeoff_with_everything_is_read_back_by_the_next_stage() -> None:
    site = busy_site()
    body = json.dumps({"units": "us", "site": site}).encode()
    written = encode(takeoff_document(decode(TakeoffRequest, body)), "us")
    asked = {"units": "us", "job": JOB, "takeoff": json.loads(written)}
    request = decode(MaterialsRequest, json.dumps(asked).encode())
    by_stages = materials_document(request, catalogue()).materials
    at_once = estimated(*site["areas"], sheeting=site["sheeting"]).materials
    assert [coat.layer for coat in by_stages.coats] == [coat.layer for coat in at_once.coats]
    for one, other in zip(by_stages.coats, at_once.coats, strict=True):
        assert one.ordered_volume == pytest.approx(other.ordered_volume, rel=1e-6)
        assert one.texture_volume == pytest.approx(other.texture_volume, rel=1e-6)


def test_coating_is_stripped_before_the_floor_is_ground() -> None:
    listed = estimated(rectangle(existing_coatings=[{"area": "20 m2"}]))
    tasks = [task.code for task in listed.labour.tasks]
    assert tasks.index("strip_coating") < tasks.index("machine_grind")
    assert "strip_coating" not in [one.code for one in estimated(rectangle()).labour.tasks]


def test_a_texture_that_is_assumed_is_filled_and_said() -> None:
    assumed = estimated(rectangle(), substrate={"profile": 5})
    assert "texture-assumed" in [note.code for note in assumed.notes]
    # 0.45 mm over 60 m2, as far as the first layer fills it.
    first = next(coat for coat in assumed.materials.coats if coat.texture_volume)
    fill = first.traces["texture_volume"].inputs["texture_fill"]
    assert first.texture_volume == pytest.approx(0.45e-3 * 60 * fill)
    read = estimated(rectangle(), substrate={"profile": 5, "texture_depth": "450 um"})
    assert "texture-assumed" not in [note.code for note in read.notes]
    assert read.price.total == assumed.price.total
