"""The takeoff as a table, against the takeoff itself."""

import csv
import io

import pytest
from drawing_cases import SITES, Drawn, room

from filmbuild.pipeline.takeoff import takeoff_table
from filmbuild.quantities import UnitSystem, to_unit


def read(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("name", SITES)
def test_each_area_has_a_line_and_the_last_is_their_sum(name: str, units: UnitSystem) -> None:
    takeoff = Drawn(SITES[name]).takeoff
    *lines, last = read(takeoff_table(takeoff, units))
    assert [line["id"] for line in lines] == [area.id for area in takeoff.areas]
    assert last["id"] == "all areas"
    unit = {"si": "m2", "us": "ft2"}[units]
    for line, area in zip(lines, takeoff.areas, strict=True):
        assert float(line[f"floor [{unit}]"]) == to_unit(area.floor, units)[0]
        assert line["placing_order"] == str(area.placing_order)
    for title, text in last.items():
        if text and title != "id":
            assert float(text) == pytest.approx(sum(float(line[title]) for line in lines))


def test_the_titles_give_the_units_of_the_caller() -> None:
    takeoff = Drawn(SITES["rectangle"]).takeoff
    in_feet, in_metres = takeoff_table(takeoff, "us"), takeoff_table(takeoff, "si")
    assert {"floor [ft2]", "wall_length [ft]", "joint_volume [gal]"} <= set(read(in_feet)[0])
    assert {"floor [m2]", "wall_length [m]", "joint_volume [L]"} <= set(read(in_metres)[0])
    assert read(in_feet)[0]["floor [ft2]"] == "441.0"
    assert read(in_feet)[0]["wall_length [ft]"] == "85.0"


def test_a_name_is_no_formula_and_no_second_cell() -> None:
    named = room("hall", "9 m", "6 m", name='=cmd|"/c calc"!A1, "quoted"', level="@level")
    (line, _) = read(takeoff_table(Drawn({"areas": [named]}).takeoff, "si"))
    assert line["name"] == '\'=cmd|"/c calc"!A1, "quoted"'
    assert line["level"] == "'@level"
