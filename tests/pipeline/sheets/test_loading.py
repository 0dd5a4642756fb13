"""The loading list: all there is to load, where it is first needed, and what the machines draw."""

from collections import Counter
from typing import get_args

import msgspec
import pytest
from sheet_cases import CATALOGUE, request

from filmbuild.pipeline.estimate import labour_document
from filmbuild.pipeline.papers import loading_list_document
from filmbuild.pipeline.requests import LabourRequest
from filmbuild.pipeline.results import LabourDocument, LoadingList
from filmbuild.pipeline.sheets.loading import ORDER, STAGE_OF
from filmbuild.pipeline.sheets.power import running, site_extraction, site_power
from filmbuild.pipeline.specification import RateBook, Stage, TaskCode
from filmbuild.quantities import PositivePower

SYSTEMS = ("harbour-broadcast", "harbour-thin-film")
FOOT = 0.3048


def both(system: str) -> tuple[LoadingList, LabourDocument]:
    asked = request(system)
    whole = LabourRequest(units=asked.units, site=asked.site, job=asked.job)
    loads = loading_list_document(asked, CATALOGUE).loading_list
    return loads, labour_document(whole, CATALOGUE)


@pytest.mark.parametrize("system", SYSTEMS)
def test_everything_that_was_planned_is_loaded_once(system: str) -> None:
    loads, plan = both(system)
    found = {
        (one.kind == "machine", one.id): one.count for stage in loads.stages for one in stage.items
    }
    expected = {
        (False, pack.pack): pack.count for one in plan.materials.purchases for pack in one.packs
    }
    lines = (*plan.materials.consumables, *plan.labour.consumables)
    expected |= {(False, one.id): one.count for one in lines}
    machines = {one.equipment for one in plan.labour.equipment}
    assert {key: count for key, count in found.items() if not key[0]} == expected
    assert {name for machine, name in found if machine} == machines
    assert max(Counter(one.id for stage in loads.stages for one in stage.items).values()) == 1


@pytest.mark.parametrize("system", SYSTEMS)
def test_stages_are_in_the_order_of_the_job(system: str) -> None:
    loads, plan = both(system)
    stages = [one.stage for one in loads.stages]
    assert stages == [stage for stage in ORDER if stage in stages]
    assert all(stage.items for stage in loads.stages)
    of = {one.id: stage.stage for stage in loads.stages for one in stage.items}
    for line in plan.materials.consumables:
        assert of[line.id] == line.stage
    assert of["floor-grinder"] == "prepare"
    assert of["mixing-drill"] == "coat"
    assert of["harbour-15-kit-1qt"] == "repair"


def test_every_task_and_every_stage_has_a_place() -> None:
    assert set(STAGE_OF) == set(get_args(TaskCode))
    assert set(ORDER) == set(get_args(Stage))


def test_machine_days_are_those_that_are_paid_for() -> None:
    loads, plan = both("harbour-broadcast")
    days = {one.id: one.days for stage in loads.stages for one in stage.items if one.days}
    assert days == {one.equipment: one.days for one in plan.labour.equipment}


def book() -> RateBook:
    return CATALOGUE.rate_books["main-usd"]


def test_machines_of_one_activity_run_at_once() -> None:
    # by hand, from the demo's rate book: floor grinders of 4 kW at 240 V, each with a dust extractor
    # of 1.8 kW at 120 V, and beside them a hand grinder of 1.4 kW with one of 1.2 kW, both at 120 V
    _, plan = both("harbour-broadcast")
    gangs = {one.code: one.gangs for one in plan.labour.tasks}
    grinders, hands = gangs["machine_grind"], gangs["hand_grind"]
    found = site_power(plan.labour, book(), 1)
    assert found is not None
    assert found.activity == "machine_grind+hand_grind"
    assert found.power == pytest.approx(grinders * 5800.0 + hands * 2600.0)
    assert [(one.volts, one.circuits) for one in found.circuits] == [
        (240, grinders),
        (120, grinders + 2 * hands),
    ]
    assert sum(one.power for one in found.circuits) == pytest.approx(found.power)
    drawn = sum(one["machines"] * one["each"] for one in found.trace.inputs.values())
    assert drawn == pytest.approx(found.power)


def test_the_peak_is_no_less_than_any_activity() -> None:
    _, plan = both("harbour-broadcast")
    powers = {one.id: one.power or 0.0 for one in book().equipment}
    found = site_power(plan.labour, book(), 1)
    assert found is not None
    for one in running(plan.labour):
        drawn = sum(count * powers[name] for name, count in one.machines.items())
        assert drawn <= found.power + 1e-9


def test_a_machine_that_states_no_power_is_named() -> None:
    _, plan = both("harbour-broadcast")
    found = site_power(plan.labour, book(), 1)
    assert found is not None
    assert found.unstated == ("scrubber",)
    silent = msgspec.structs.replace(
        book(),
        equipment=tuple(msgspec.structs.replace(one, power=None) for one in book().equipment),
    )
    assert site_power(plan.labour, silent, 1) is None
    louder = msgspec.structs.replace(
        book(),
        equipment=tuple(
            msgspec.structs.replace(one, power=PositivePower(9000.0), volts=400, phases=3)
            if one.id == "scrubber"
            else one
            for one in book().equipment
        ),
    )
    found = site_power(plan.labour, louder, 1)
    assert found is not None
    assert found.activity == "wash"
    assert found.circuits[0].phases == 3


def test_a_shrouded_hand_grinder_needs_what_table_1_asks() -> None:
    """29 CFR 1926.1153 Table 1 (xii): at least 25 cfm for each inch of wheel: 125 for 5 in."""
    grinder = next(one for one in book().equipment if one.id == "hand-grinder")
    assert grinder.extraction == pytest.approx(125 * FOOT**3 / 60)


def test_air_that_the_extractors_do_not_draw_off_is_lacking() -> None:
    _, plan = both("harbour-broadcast")
    found = site_extraction(plan.labour, book(), 1)
    assert found is not None
    assert not found.lacking
    assert found.drawn > found.needed
    weak = msgspec.structs.replace(
        book(),
        equipment=tuple(
            msgspec.structs.replace(one, air_flow=None) if one.air_flow else one
            for one in book().equipment
        ),
    )
    found = site_extraction(plan.labour, weak, 1)
    assert found is not None
    assert found.lacking == found.needed > 0
