"""A site asked of the application in each form, and its answers beside figures worked by hand."""

import csv
import io
from collections.abc import Mapping
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from serving import Client

SVG = "{http://www.w3.org/2000/svg}"
_NO_SUMS = ("placing_order", "texture_depth")


class Answered:
    """The takeoff of one request, as JSON, as a table and as a drawing."""

    def __init__(self, client: Client, site: dict[str, Any], units: str) -> None:
        body = {"units": units, "site": site}
        answer = client.post("/v1/takeoff", json=body)
        assert answer.status_code == 200, answer.text
        self.takeoff: dict[str, Any] = answer.json()["takeoff"]
        self.notes: list[dict[str, Any]] = answer.json().get("notes", [])
        table = client.post("/v1/takeoff", json=body, headers={"accept": "text/csv"})
        text = io.StringIO(table.content.decode(), newline="")
        self.lines = list(csv.DictReader(text, strict=True))
        drawing = client.post("/v1/takeoff", json=body, headers={"accept": "image/svg+xml"})
        root = ET.fromstring(drawing.content)  # noqa: S314 - the service's own
        self.words = [one.text or "" for one in root.iter(f"{SVG}text")]

    def area(self, identity: str) -> dict[str, Any]:
        return next(one for one in self.takeoff["areas"] if one["id"] == identity)

    @property
    def order(self) -> list[str]:
        by_rank = sorted(self.takeoff["areas"], key=lambda area: area["placing_order"])
        return [area["id"] for area in by_rank]

    def readings(self, method: str) -> tuple[int, int]:
        (one,) = [one for one in self.takeoff["readings_needed"] if one["method"] == method]
        return one["places"], one["readings"]

    def line(self, identity: str) -> dict[str, float]:
        """A line of the table: the fields that hold a quantity, without their units."""
        found = next(one for one in self.lines if one["id"] == identity)
        return {
            title.split(" [")[0]: float(value)
            for title, value in found.items()
            if "[" in title and value
        }


def quantities(record: Mapping[str, Any]) -> dict[str, float]:
    """The quantities of an area or of the totals that are not zero; the texture is no amount."""
    return {
        field: value["value"]
        for field, value in record.items()
        if isinstance(value, dict)
        and value.keys() == {"value", "unit"}
        and value["value"]
        and field not in _NO_SUMS
    }


def agrees(record: Mapping[str, Any], by_hand: Mapping[str, float], absolute: float = 1e-9) -> None:
    """Every figure, and none besides those that were worked out by hand."""
    found = quantities(record)
    assert found == pytest.approx(dict(by_hand), rel=1e-9, abs=absolute)


def added(*areas: Mapping[str, float]) -> dict[str, float]:
    """The sum over areas, field by field."""
    fields = {field for area in areas for field in area}
    return {field: sum(area.get(field, 0.0) for area in areas) for field in fields}
