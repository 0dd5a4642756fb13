"""The mixing sheet: every mix, as the materials have it."""

import csv
import io

import pytest
from sheet_cases import CATALOGUE, request

from filmbuild.pipeline.estimate import materials_document
from filmbuild.pipeline.papers import loading_list_document, mixing_sheet_document
from filmbuild.pipeline.requests import MaterialsRequest, SheetRequest
from filmbuild.pipeline.results import MaterialsDocument
from filmbuild.pipeline.sheets import loading_table, mixing_table
from filmbuild.pipeline.sheets.figures import minutes, shown
from filmbuild.quantities import Duration, Mass, Volume


def computed(system: str) -> MaterialsDocument:
    asked = request(system)
    whole = MaterialsRequest(units=asked.units, site=asked.site, job=asked.job)
    return materials_document(whole, CATALOGUE)


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


@pytest.mark.parametrize("system", ["harbour-broadcast", "harbour-high-build"])
def test_the_sheet_has_every_mix_of_the_materials(system: str) -> None:
    sheet = mixing_sheet_document(request(system), CATALOGUE).sheet
    materials = computed(system).materials
    assert [(one.layer, one.mixes) for one in sheet.coats] == [
        (one.layer, one.mixes) for one in materials.coats
    ]
    for coat in sheet.coats:
        assert [part.part for part in coat.mixes[0].parts] == list(coat.parts)
        assert {area for mix in coat.mixes for area in mix.areas} <= sheet.areas.keys()


def test_the_sheet_is_the_same_from_the_materials_document() -> None:
    asked, document = request(), computed("harbour-broadcast")
    handed = SheetRequest(units=asked.units, materials=document, job=asked.job)
    for write in (mixing_sheet_document, loading_list_document):
        fresh, later = write(asked, CATALOGUE), write(handed, CATALOGUE)
        assert later == fresh


def test_the_table_has_a_line_for_each_mix_and_adds_up() -> None:
    sheet = mixing_sheet_document(request(), CATALOGUE).sheet
    lines = rows(mixing_table(sheet, "si"))
    assert len(lines) == sum(len(coat.mixes) for coat in sheet.coats)
    for coat in sheet.coats:
        mixed = [float(one["volume [L]"]) for one in lines if one["layer"] == coat.layer]
        assert sum(mixed) / 1000 == pytest.approx(coat.ordered_volume, rel=1e-8)
    for line in lines:
        parts = [float(line[f"part_{n}_volume [L]"] or 0) for n in (1, 2, 3)]
        assert sum(parts) == pytest.approx(float(line["volume [L]"]), rel=1e-8)
        assert float(line["down_by [min]"]) >= float(line["starts_at [min]"])


def test_the_loading_table_has_a_line_for_each_thing() -> None:
    loads = loading_list_document(request(), CATALOGUE).loading_list
    lines = rows(loading_table(loads))
    items = [(stage.stage, one) for stage in loads.stages for one in stage.items]
    assert [(one["stage"], one["id"], int(one["count"])) for one in lines] == [
        (stage, one.id, one.count) for stage, one in items
    ]


@pytest.mark.parametrize(
    ("seconds", "text"), [(20.0, "0.3"), (123.8, "2"), (599.0, "9.9"), (2454.7, "40"), (60.0, "1")]
)
def test_a_limit_in_minutes_is_never_rounded_up(seconds: float, text: str) -> None:
    assert minutes(Duration(seconds)) == text
    assert float(text) * 60 <= seconds


def test_what_is_less_than_a_litre_is_measured_by_cup() -> None:
    assert shown(Volume(2.4e-4), "si") == "240 mL"
    assert shown(Volume(2.365882365e-4), "us") == "8 fl oz"
    assert shown(Volume(3.785411784e-3), "us") == "1 gal"
    assert shown(Mass(4.5), "si") == "4.5 kg"
    assert shown(None, "si") == ""
