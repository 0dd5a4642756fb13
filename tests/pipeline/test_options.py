"""Optional work: what it adds to the job without any, by the whole pipeline."""

from decimal import Decimal
from typing import Any

import pytest
from offer_cases import BOARDS, CRANE, GLAZE, SKIRTING, STUDIO, asked, estimated

from filmbuild.errors import Faults, Infeasible, InvalidInput
from filmbuild.pipeline.options import with_chosen
from filmbuild.pipeline.price import price_job
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.takeoff import take_off

FIGURES = ("cost", "net", "materials_net", "total")


def priced_with(request: EstimateRequest, *chosen: str) -> EstimateDocument:
    whole = take_off(request.site, Faults().at("site"))
    return estimated(with_chosen(request, chosen, whole)[0])


def refused(*options: dict[str, Any], **given: Any) -> dict[str, str]:
    with pytest.raises(InvalidInput) as caught:
        estimated(asked(*options, **given))
    return {fault.pointer: fault.code for fault in caught.value.faults}


def test_an_option_costs_what_the_job_costs_more_with_it() -> None:
    request = asked(GLAZE, SKIRTING, terms={"tax_place": "Port Alder", "rounding": {"step": "5"}})
    document = estimated(request)
    base = priced_with(request)
    assert document.price == base.price
    assert document.takeoff == base.takeoff
    assert document.materials == base.materials
    for option in document.options:
        alone = priced_with(request, option.id)
        for name in FIGURES:
            added = getattr(alone.price, name).amount - getattr(base.price, name).amount
            assert getattr(option, name).amount == added, (option.id, name)
        assert option.last_day == alone.schedule.last_day


def test_what_is_optional_is_not_in_the_job() -> None:
    document = estimated(asked(GLAZE))
    assert [area.id for area in document.takeoff.areas] == ["throwing-room", "kiln-steps"]
    whole = estimated(asked())
    assert document.price.net.amount < whole.price.net.amount
    (option,) = document.options
    assert document.price.net.amount + option.net.amount == whole.price.net.amount
    area = next(one for one in whole.takeoff.areas if one.id == "glaze-room")
    assert option.surface == pytest.approx(area.floor + area.vertical)


def test_the_price_of_an_option_does_not_depend_on_the_others_or_their_order() -> None:
    alone = estimated(asked(GLAZE)).options[0]
    first, second = estimated(asked(SKIRTING, GLAZE)).options
    assert second == alone
    assert estimated(asked(GLAZE, SKIRTING)).options == (second, first)


def test_extras_bear_overhead_and_gain_as_all_costs_do() -> None:
    (option,) = estimated(asked(SKIRTING)).options
    # 12 x 7.50, with 12 % overhead, at a margin of 32 %: 90 / 0.68 x 1.12
    assert option.cost.amount == pytest.approx(Decimal("100.80"), abs=Decimal("0.01"))
    assert option.net.amount == pytest.approx(Decimal("148.24"), abs=Decimal("0.01"))
    assert (option.areas, option.surface) == ((), 0.0)


def test_under_a_minimum_charge_an_option_may_add_nothing() -> None:
    (option,) = estimated(asked(SKIRTING, terms={"minimum_charge": "900000"})).options
    assert option.net.amount == 0
    assert option.cost.amount > 0


def test_options_that_cannot_be_meant_are_refused_together() -> None:
    crane = {**BOARDS, "id": "crane"}
    options = (
        GLAZE,
        {"id": "glaze", "label": "Again", "areas": ["glaze-room", "attic"]},
        {"id": "both", "label": "Both", "areas": ["kiln-steps"], "extras": [crane]},
        {"id": "neither", "label": "Neither"},
    )
    assert refused(*options, subcontracts=[CRANE]) == {
        "/options/1/id": "duplicate-id",
        "/options/1/areas/0": "duplicate-area",
        "/options/1/areas/1": "unknown-area",
        "/options/2/areas": "exactly-one",
        "/options/2/extras/0/id": "duplicate-id",
        "/options/3/areas": "exactly-one",
    }


def test_something_is_left_to_the_job() -> None:
    every = [area["id"] for area in STUDIO["site"]["areas"]]
    assert refused({"id": "all", "label": "All", "areas": every}) == {"/options": "nothing-left"}


def test_a_fault_of_the_site_is_told_where_the_site_has_it() -> None:
    """The third area of three, also where the second is optional."""
    areas = [dict(area) for area in STUDIO["site"]["areas"]]
    areas[2] = {**areas[2], "cracks": [{"length": "1 m", "width": "2 mm", "depth": "3 mm"}]}
    areas[2]["edges"] = [{"side": 99, "kind": "open"}]
    site = {**STUDIO["site"], "areas": areas}
    found = refused(GLAZE, site=site)
    assert "/site/areas/2/edges/0/side" in found
    assert all(pointer.startswith("/site/areas/") for pointer in found)


def test_an_option_that_cannot_be_done_is_the_one_that_is_refused() -> None:
    """The job itself fits a shift; with a hall of 9,000 m2, no coat does."""
    outline = {"kind": "rectangle", "length": "100 m", "width": "90 m"}
    areas = [*STUDIO["site"]["areas"], {"id": "hall", "outline": outline}]
    request = asked(
        SKIRTING,
        {"id": "hall", "label": "The hall too", "areas": ["hall"]},
        site={**STUDIO["site"], "areas": areas},
    )
    with pytest.raises(Infeasible) as caught:
        estimated(request)
    assert {fault.pointer for fault in caught.value.faults} == {"/options/1"}
    assert all("option hall" in fault.detail for fault in caught.value.faults)


def test_a_job_that_cannot_be_done_without_options_is_refused_for_itself() -> None:
    damp = {"relative_humidity_percent": 97}
    with pytest.raises(Infeasible) as caught:
        estimated(asked(GLAZE, conditions=damp))
    assert {fault.code for fault in caught.value.faults} == {"climate-gate-closed"}
    assert all(fault.pointer.startswith("/job/conditions") for fault in caught.value.faults)


def test_the_pipeline_runs_once_for_the_job_and_once_for_each_option(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    runs = []

    def counted(*arguments: Any) -> Any:
        runs.append(arguments)
        return price_job(*arguments)

    monkeypatch.setattr("filmbuild.pipeline.estimate.price_job", counted)
    estimated(asked(GLAZE, SKIRTING))
    assert len(runs) == 3
