"""Layers that a job lays otherwise than their system states, in one coat or in several passes."""

from typing import Any

import pytest
from handing_on import DAY, chain, computed
from hypothesis import given
from hypothesis import strategies as st
from materials_cases import layer, product, system

from filmbuild.errors import Faults, InvalidInput
from filmbuild.pipeline.job import LayerChange
from filmbuild.pipeline.layering import laid, wet_of
from filmbuild.pipeline.specification import Broadcast, System
from filmbuild.quantities import MassPerArea, PositiveSpreadRate, PositiveThickness

BODY = product(
    volume_solids=0.5,
    wet_film_minimum=PositiveThickness(100e-6),
    wet_film_maximum=PositiveThickness(500e-6),
)
SYSTEM = system(
    layer(BODY, "primer"),
    layer(
        BODY,
        "body",
        dry_film=PositiveThickness(150e-6),
        vertical=PositiveThickness(100e-6),
        grain_fill=0.5,
        broadcast=Broadcast(product="sand", rate=MassPerArea(2.0)),
        before=("abrade",),
        after=("vacuum",),
    ),
)


def change(name: str = "body", **given: Any) -> LayerChange:
    films: dict[str, Any] = {
        key: PositiveSpreadRate(value) if key == "spread_rate" else PositiveThickness(value)
        for key, value in given.items()
        if isinstance(value, float)
    }
    return LayerChange(layer=name, **(given | films))


def as_laid(*changes: LayerChange) -> System:
    return laid(SYSTEM, changes, {BODY.id: BODY}, Faults().at("job"))[0]


def refused(*changes: LayerChange) -> list[tuple[str, str, str]]:
    faults = Faults()
    laid(SYSTEM, changes, {BODY.id: BODY}, faults.at("job"))
    return [(one.pointer, one.code, one.detail) for one in faults.found]


def floors(name: str, of: System) -> list[float]:
    return [wet_of(one, BODY)[0] for one in of.layers if one.id.startswith(name)]


def test_nothing_is_changed_where_nothing_is_asked() -> None:
    assert as_laid() is SYSTEM


def test_a_layer_is_laid_by_another_measure() -> None:
    wet = as_laid(change(wet_film=400e-6)).layers[1]
    assert (wet.dry_film, wet.wet_film, wet.spread_rate) == (None, 400e-6, None)
    # verticals keep the system's film: 100 um dry at half solids is 200 um wet
    assert wet.vertical == pytest.approx(200e-6)
    by_spread = as_laid(change(spread_rate=2500.0, vertical=150e-6)).layers[1]
    assert wet_of(by_spread, BODY) == pytest.approx((400e-6, 150e-6))
    again = as_laid(change(dry_film=200e-6)).layers[1]
    assert (again.dry_film, again.vertical) == (200e-6, 100e-6)


def test_too_thick_a_film_is_split_into_passes_where_that_is_asked_for() -> None:
    found = as_laid(change(dry_film=600e-6, passes="split"))
    assert [one.id for one in found.layers] == ["primer", "body.1", "body.2", "body.3"]
    assert floors("body", found) == pytest.approx([400e-6] * 3)
    one, two, three = found.layers[1:]
    # 200 um wet on verticals is one coat of them: the first pass goes up, the others do not
    assert [each.vertical for each in (one, two, three)] == [100e-6, None, None]
    assert [each.before for each in (one, two, three)] == [("abrade",), (), ()]
    assert [each.after for each in (one, two, three)] == [(), (), ("vacuum",)]
    assert [each.broadcast is not None for each in (one, two, three)] == [False, False, True]
    assert [each.grain_fill for each in (one, two, three)] == [0.5, None, None]


@pytest.mark.parametrize("measure", ["dry_film", "wet_film", "spread_rate"])
@given(wet=st.floats(100e-6, 5e-3))
def test_passes_are_equal_as_few_as_can_be_and_make_up_the_layer(measure: str, wet: float) -> None:
    films = {"dry_film": wet / 2, "wet_film": wet, "spread_rate": 1 / wet}
    stated: dict[str, Any] = {measure: films[measure], "passes": "split"}
    found = floors("body", as_laid(change(**stated)))
    assert sum(found) == pytest.approx(wet)
    assert found == pytest.approx([wet / len(found)] * len(found))
    assert max(found) <= 500e-6 * (1 + 1e-9)
    assert len(found) == 1 or wet > 500e-6 * (len(found) - 1) * (1 - 1e-9)


def test_what_cannot_be_laid_so_is_refused_where_it_stands() -> None:
    thick = refused(change(wet_film=800e-6))
    assert [one[:2] for one in thick] == [("/job/layers/0/wet_film", "film-out-of-range")]
    assert "at least 100 um and at most 500 um wet" in thick[0][2]
    assert '2 passes of it are laid with passes "split"' in thick[0][2]
    thin = refused(change(wet_film=90e-6, passes="split"))
    assert [one[:2] for one in thin] == [("/job/layers/0/wet_film", "film-out-of-range")]
    many = refused(change(spread_rate=100.0, passes="split"))
    assert [one[:2] for one in many] == [("/job/layers/0/spread_rate", "film-out-of-range")]
    side = refused(change(wet_film=400e-6, vertical=50e-6))
    assert [one[:2] for one in side] == [("/job/layers/0/vertical", "film-out-of-range")]


def test_all_that_is_wrong_with_the_changes_is_named_at_once() -> None:
    found = refused(
        change("roof", wet_film=300e-6),
        change(wet_film=300e-6, dry_film=150e-6),
        change(wet_film=300e-6),
        change("primer"),
    )
    assert {one[:2] for one in found} == {
        ("/job/layers/0/layer", "unknown-layer"),
        ("/job/layers/1", "exactly-one"),
        ("/job/layers/2/layer", "duplicate"),
        ("/job/layers/3", "exactly-one"),
    }


def test_a_dry_film_needs_volume_solids() -> None:
    of = product(volume_solids=None)
    faults = Faults()
    changes = [change("primer", dry_film=1e-4)]
    laid(system(layer(of, "primer")), changes, {of.id: of}, faults.at("job"))
    (fault,) = faults.found
    assert (fault.pointer, fault.code) == ("/job/layers/0/dry_film", "volume-solids-missing")


def test_a_pass_may_not_take_another_layer_s_name() -> None:
    named = system(layer(BODY, "body"), layer(BODY, "body.2"))
    faults = Faults()
    laid(named, [change(wet_film=900e-6, passes="split")], {BODY.id: BODY}, faults.at("job"))
    assert [(one.pointer, one.code) for one in faults.found] == [
        ("/job/layers/0/layer", "duplicate")
    ]


def asked(**film: object) -> dict[str, Any]:
    site = {
        "areas": [
            {"id": "room", "outline": {"kind": "rectangle", "length": "6 m", "width": "5 m"}}
        ],
        "substrate": {"texture_depth": "100 um"},
    }
    job = {
        "system": "harbour-high-build",
        "start": DAY.isoformat(),
        "crew": [{"labour_class": "finisher", "count": 4}],
        "conditions": {"relative_humidity_percent": 40},
        "layers": [{"layer": "body", "passes": "split", **film}],
    }
    return {"units": "us", "site": site, "job": job}


def test_passes_are_coats_of_their_own_through_all_stages() -> None:
    answer = computed("schedule", asked(wet_film="100 mil"))
    coats = {one["layer"]: one for one in answer["materials"]["coats"]}
    assert list(coats) == ["primer", "body.1", "body.2", "topcoat"]
    assert [coats[one]["wet_film"] for one in ("body.1", "body.2")] == [
        {"value": 50.0, "unit": "mil"}
    ] * 2
    assert [coats[one]["pass_of"]["number"] for one in ("body.1", "body.2")] == [1, 2]
    assert coats["body.1"]["pass_of"]["layer"] == "body"
    placed = [one["id"] for one in answer["labour"]["tasks"] if one["code"] == "place_field"]
    assert placed == [f"place_field:{one}" for one in coats]
    # the second waits until the first can be coated over
    times = {one["activity"]: one for one in answer["schedule"]["activities"]}
    assert times["coat:body.2"]["start"] > times["coat:body.1"]["finish"]
    bought = [one["needed"] for one in answer["materials"]["purchases"]]
    assert len(bought) == 3


@pytest.mark.parametrize(
    "film", [{"wet_film": "100 mil"}, {"spread_rate": "16.3 ft2/gal"}, {"dry_film": "1.37 mm"}]
)
def test_a_job_with_passes_can_be_run_in_stages(film: dict[str, str]) -> None:
    staged, whole = chain(asked(**film)), computed("schedule", asked(**film))
    for field in ("wet_film", "dry_film", "ordered_volume"):
        found, expected = (
            [one[field]["value"] for one in answer["materials"]["coats"]]
            for answer in (staged, whole)
        )
        assert found == pytest.approx(expected, rel=2e-8)  # written to nine digits at least
    assert [one["id"] for one in staged["labour"]["tasks"]] == [
        one["id"] for one in whole["labour"]["tasks"]
    ]


def test_other_layers_than_a_document_was_computed_for_are_refused() -> None:
    body = asked(wet_film="20 mil")
    answer = computed("materials", body)
    with pytest.raises(InvalidInput) as raised:
        computed("labour", {**asked(wet_film="21 mil"), "site": None, "materials": answer})
    assert ("/job/layers", "basis-mismatch") in {
        (one.pointer, one.code) for one in raised.value.faults
    }
