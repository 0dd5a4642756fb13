"""What is refused of consumable rules and machines, and where."""

from datetime import date
from typing import Any

import msgspec
import pytest
from demo import priced_demo

from filmbuild.catalogue.validate.rates import check_consumables, check_rate_books
from filmbuild.errors import Faults
from filmbuild.quantities import PositiveAirFlow, PositiveArea, PositivePower, PositiveVolume

DEMO = priced_demo("USD", date(2026, 6, 15))
AREA = PositiveArea(100.0)
ALL = {"soft": AREA, "medium": AREA, "hard": AREA}


def found(faults: Faults) -> list[tuple[str, str]]:
    return [(one.code, one.pointer) for one in faults.found]


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        ({}, []),
        ({"per_area": AREA}, [("exactly-one", "/0/per_area_of")]),
        ({"per_area_of": {**ALL, "hard": None}}, [("hardness-missing", "/0/per_area_of")]),
        ({"driver": "spall_area"}, [("per-not-of-driver", "/0/per_area_of")]),
        (
            {"per_area_of": None, "per_volume": PositiveVolume(0.01)},
            [("per-not-of-driver", "/0/per_volume")],
        ),
        (
            {"per_area_of": None, "per_volume": PositiveVolume(0.01), "driver": "removed_volume"},
            [],
        ),
    ],
)
def test_rules_by_wear_and_by_volume(
    changed: dict[str, Any], expected: list[tuple[str, str]]
) -> None:
    segments = next(one for one in DEMO.consumables if one.id == "diamond-segment")
    lives = changed.get("per_area_of")
    if lives is not None:
        changed = {
            **changed,
            "per_area_of": {kind: area for kind, area in lives.items() if area is not None},
        }
    faults = Faults()
    check_consumables((msgspec.structs.replace(segments, **changed),), DEMO.products, faults)
    assert found(faults) == expected


@pytest.mark.parametrize(
    ("changed", "expected"),
    [
        ({}, []),
        ({"power": None, "volts": None}, []),
        ({"power": None}, [("power-missing", "/0/equipment/0/volts")]),
        ({"volts": None}, [("volts-missing", "/0/equipment/0/power")]),
        ({"air_flow": PositiveAirFlow(0.1)}, [("exactly-one", "/0/equipment/0/air_flow")]),
        ({"power": PositivePower(900.0)}, []),
    ],
)
def test_what_machines_draw(changed: dict[str, Any], expected: list[tuple[str, str]]) -> None:
    book = next(iter(DEMO.rate_books.values()))
    first, *others = book.equipment
    machines = (msgspec.structs.replace(first, **changed), *others)
    faults = Faults()
    check_rate_books((msgspec.structs.replace(book, equipment=machines),), faults)
    assert found(faults) == expected
