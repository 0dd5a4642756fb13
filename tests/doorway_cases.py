"""Rooms on a plan, and what the takeoff finds of their doorways, edges and order."""

import json
from typing import Any

import pytest

from filmbuild.edge.decoding import decode
from filmbuild.errors import Faults, InvalidInput
from filmbuild.pipeline.results import AreaTakeoff, DoorwayTakeoff, Takeoff
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff import take_off
from filmbuild.pipeline.trace import Note


class Measured:
    """A takeoff with what it noted, and its parts by id."""

    def __init__(self, *areas: dict[str, Any], **site: Any) -> None:
        self.notes: list[Note] = []
        body = json.dumps({"areas": list(areas), **site}).encode()
        parsed = decode(Site, body, max_bytes=1 << 26)
        self.takeoff: Takeoff = take_off(parsed, Faults(), notes=self.notes)

    def area(self, name: str) -> AreaTakeoff:
        return next(one for one in self.takeoff.areas if one.id == name)

    def doorway(self, name: str) -> DoorwayTakeoff:
        return next(one for one in self.takeoff.doorways if one.id == name)

    @property
    def sums(self) -> dict[str, float]:
        totals = self.takeoff.totals
        named = ((field, getattr(totals, field)) for field in totals.__struct_fields__)
        return {field: float(value) for field, value in named if isinstance(value, float)}

    @property
    def noted(self) -> set[str]:
        return {note.code for note in self.notes}

    @property
    def order(self) -> list[str]:
        return [one.id for one in sorted(self.takeoff.areas, key=lambda one: one.placing_order)]

    @property
    def reasons(self) -> dict[str, str]:
        traffic = self.takeoff.traffic
        return {} if traffic is None else {step.area: step.reason for step in traffic.steps}


def faults_of(*areas: dict[str, Any], **site: Any) -> dict[str, str]:
    with pytest.raises(InvalidInput) as caught:
        Measured(*areas, **site)
    return {fault.pointer: fault.code for fault in caught.value.faults}


def room(name: str, length: str, width: str, x: str = "", y: str = "0 m", **rest: Any) -> Any:
    """A rectangle, placed on the plan where `x` is given."""
    outline: dict[str, Any] = {"kind": "rectangle", "length": length, "width": width}
    if x:
        outline["origin"] = {"x": x, "y": y}
    return {"id": name, "outline": outline, **rest}


def doorway(side: int, width: str = "0.9 m", coating: str = "stops", **rest: Any) -> dict[str, Any]:
    return {"side": side, "width": width, "coating": coating, **rest}


def polygon(name: str, *vertices: tuple[float, float], unit: str = "m", **rest: Any) -> Any:
    return {"id": name, "outline": {"kind": "polygon", "unit": unit, "vertices": vertices}, **rest}
