"""Consumables by rule."""

from collections import Counter
from datetime import date
from decimal import Decimal
from typing import Any, get_args

import msgspec
import pytest
from demo import priced_demo
from hypothesis import given
from hypothesis import strategies as st
from materials_cases import (
    LITRE,
    MINUTE,
    REVISION,
    USD,
    area,
    case,
    kit,
    layer,
    life,
    pack,
    product,
    system,
    takeoff,
    with_layers,
)

from filmbuild.errors import Faults
from filmbuild.money import Currency, NonNegativeExact
from filmbuild.pipeline.labour.sequence import working_order
from filmbuild.pipeline.materials import Work, consumable_lines, driver_quantities, occasions
from filmbuild.pipeline.materials.consumables import removal_depth
from filmbuild.pipeline.results import AreaTakeoff, ConsumableLine
from filmbuild.pipeline.specification import Broadcast, ConsumableRule, Driver, Repairs, TaskCode
from filmbuild.pipeline.substrate import Hardness, Substrate
from filmbuild.pipeline.tasks_present import task_codes
from filmbuild.quantities import (
    MassPerArea,
    PositiveArea,
    PositiveLength,
    PositiveThickness,
    PositiveVolume,
)


def rule(driver: Driver, price: str = "10", **given: object) -> ConsumableRule:
    fields: dict[str, object] = {
        "id": f"by-{driver}",
        "name": "Roller sleeve",
        "kind": "consumable",
        "stage": "coat",
        "driver": driver,
        "unit_price": NonNegativeExact(price),
        "currency": USD,
    }
    return msgspec.convert(fields | given, ConsumableRule, dec_hook=lambda _, value: value)


def line(of: ConsumableRule, quantity: float) -> ConsumableLine | None:
    work = Work({of.driver: quantity}, {})
    lines = consumable_lines([of], work, USD, REVISION, shift_driven=False)
    return lines[0] if lines else None


@pytest.mark.parametrize(
    ("metres", "rolls"), [(0.1, 1), (50.0, 1), (50.0 + 1e-9, 1), (50.1, 2), (151.0, 4)]
)
def test_a_started_unit_is_a_whole_one(metres: float, rolls: int) -> None:
    found = line(rule("tape_length", per_length=PositiveLength(50.0)), metres)
    assert found is not None
    assert found.count == rolls
    assert found.amount.amount == 10 * rolls


def test_quantity_is_for_each_so_much_of_the_driver() -> None:
    # by hand: 3 for each 20 m2, 110 m2: 16.5, so 17
    found = line(rule("floor_area", per_area=PositiveArea(20.0), quantity=3.0), 110.0)
    assert found is not None
    assert found.count == 17


def test_minimum_holds_only_where_there_is_work() -> None:
    least = rule("crack_length", per_length=PositiveLength(30.0), minimum=4)
    found = line(least, 1.0)
    assert found is not None
    assert found.count == 4
    assert line(least, 0.0) is None


def test_what_outlives_the_job_is_charged_in_part() -> None:
    found = line(rule("worker", "84.50", per_count=1.0, charged_fraction=0.1), 3)
    assert found is not None
    assert (found.unit_price.amount, found.amount.amount) == (Decimal("8.45"), Decimal("25.35"))


def test_rules_wait_for_their_tasks_their_currency_and_their_turn() -> None:
    rules = (
        rule("job", per_count=1.0, id="always"),
        rule("job", per_count=1.0, id="for-cracks", tasks=("fill_cracks", "chase_cracks")),
        rule("job", per_count=1.0, id="other-money", currency=Currency("EUR")),
        rule("shift", per_count=1.0, id="by-shift"),
    )
    drivers: dict[Driver, float] = {"job": 1, "shift": 3}

    def found(*tasks: TaskCode, shift_driven: bool) -> list[str]:
        work = Work(drivers, dict.fromkeys(tasks, 2))
        lines = consumable_lines(rules, work, USD, REVISION, shift_driven=shift_driven)
        return [one.id for one in lines]

    assert found("vacuum", shift_driven=False) == ["always"]
    assert found("fill_cracks", shift_driven=False) == ["always", "for-cracks"]
    assert found("fill_cracks", shift_driven=True) == ["by-shift"]


def test_drivers_come_from_takeoff_mixes_and_crew() -> None:
    areas = (
        area("one", 30.0, 1, vertical=4.0, wall_length=20.0, open_length=3.0, joined_length=9.0),
        area("two", 20.0, 2, crack_length=7.0),
    )
    of = product(container=PositiveVolume(5 * LITRE))
    cans = [pack(of.id, f"{name}-can", "60", volumes={name: 5.0}) for name in ("a", "b")]
    plan = case(of, *cans, areas=areas).plan()
    drivers = driver_quantities(takeoff(*areas), plan.coats, 3)
    assert drivers["coated_area"] == 54
    assert drivers["edge_length"] == 23
    assert drivers["crack_length"] == 7
    assert (drivers["coat"], drivers["mix"], drivers["worker"]) == (1, 3, 3)
    assert (drivers["visit"], drivers["job"]) == (1, 1)
    assert "shift" not in drivers


def test_plan_lists_consumables_with_their_trace() -> None:
    rules = (rule("floor_area", per_area=PositiveArea(30.0)), rule("shift", per_count=1.0))
    plan = case(product(), consumables=rules).plan()
    (found,) = plan.consumables
    assert found.count == 2
    assert found.trace.inputs["driver_quantity"] == 50
    assert found.trace.catalogue_revision == REVISION


@given(st.floats(0.01, 1e6), st.floats(0.01, 1e6))
def test_more_of_the_driver_never_takes_fewer(less: float, more: float) -> None:
    of = rule("floor_area", per_area=PositiveArea(7.0), minimum=2)
    low, high = (line(of, value) for value in sorted((less, more)))
    assert low is not None
    assert high is not None
    assert low.count <= high.count


def test_repair_mixes_and_coat_mixes_are_told_apart() -> None:
    # by hand: 1 L of cracks in mixes of 0.25 L, of the one coat 12.5 L in kits of 10 L
    filler = product(
        "slip-filler",
        role="crack_filler",
        working_life=life(10 * MINUTE),
        largest_mix=PositiveVolume(0.25 * LITRE),
    )
    of = product(container=PositiveVolume(10 * LITRE))
    rules = (
        rule("coat_mix", per_count=1.0),
        rule("repair_mix", per_count=1.0),
        rule("repair_mix", per_count=1.0, id="cups", tasks=("fill_cracks",)),
        rule("repair_mix", per_count=1.0, id="mortar-pails", tasks=("patch_spalls", "form_cove")),
    )
    cracked = area(crack_length=10.0, crack_volume=LITRE, joint_length=1.0, joint_volume=LITRE / 10)
    job = case(of, kit(of, 10.0, "300"), areas=[cracked], consumables=rules)
    repairs = Repairs(crack_filler=filler.id, joint_filler=filler.id, loss_fraction=0.0)
    job = msgspec.structs.replace(
        job,
        system=msgspec.structs.replace(job.system, repairs=repairs),
        products=(of, filler),
        packs={**job.packs, filler.id: (kit(filler, 1.0, "60"),)},
    )
    plan = job.plan()
    assert {one.id: one.count for one in plan.consumables} == {
        "by-coat_mix": 2,
        "by-repair_mix": 5,
        "cups": 4,
    }
    drivers = driver_quantities(takeoff(cracked), plan.coats, 2)
    assert drivers["mix"] == drivers["coat_mix"] + drivers["repair_mix"] == 7


def test_a_floor_abraded_twice_takes_twice_the_discs() -> None:
    # by hand: 50 m2 twice, at 40 m2 a disc; a drum is bought once, however often the floor is abraded
    rules = (
        rule("floor_area", per_area=PositiveArea(40.0), id="disc", tasks=("abrade",)),
        rule("floor_area", per_area=PositiveArea(40.0), id="map"),
        rule("job", per_count=1.0, id="drum", tasks=("abrade",)),
    )
    job = case(product(), consumables=rules)
    coat = job.system.layers[0]
    abraded = msgspec.structs.replace(coat, before=("abrade",))
    second = msgspec.structs.replace(abraded, id="second")
    for layers, discs in (((coat, abraded), 2), ((coat, abraded, second), 3)):
        lines = with_layers(job, *layers).plan().consumables
        assert {one.id: one.count for one in lines} == {"disc": discs, "map": 2, "drum": 1}


@pytest.mark.parametrize("cracked", [True, False])
@given(data=st.data())
def test_occasions_are_those_of_the_working_order(cracked: bool, data: st.DataObject) -> None:
    codes: tuple[TaskCode, ...] = get_args(TaskCode)
    listed = [one for one in codes if not one.startswith("place_") and one != "broadcast"]
    some = st.lists(st.sampled_from(listed), max_size=8).map(tuple)
    sand = Broadcast(product="quay-sand", rate=MassPerArea(1.0))
    layers = tuple(
        layer(
            product(),
            f"coat-{n}",
            before=data.draw(some),
            after=data.draw(some),
            vertical=data.draw(st.sampled_from((None, PositiveThickness(1e-4)))),
            broadcast=data.draw(st.sampled_from((None, sand))),
        )
        for n in range(data.draw(st.integers(1, 4)))
    )
    built = system(*layers, preparation=data.draw(some))
    measured: dict[str, Any] = {"crack_length": 9.0, "crack_volume": LITRE, "tape_length": 5.0}
    measured = measured if cracked else {}
    site = takeoff(area(vertical=3.0, cut_in=2.0, hand_grind=1.0, **measured))
    faults = Faults()
    counted = Counter(step.code for step in working_order(site, built, faults).steps())
    assert not faults
    assert occasions(built, task_codes(site, built)) == counted


def ground(hardness: str, metres: float, profile: int | None = None) -> AreaTakeoff:
    substrate = Substrate(hardness=msgspec.convert(hardness, Hardness), profile=profile)
    return area(hardness, metres, substrate=substrate)


def test_diamonds_wear_by_the_hardness_of_the_concrete() -> None:
    # by hand: 120 m2 of soft at 100 m2 a set and 300 m2 of hard at 400 m2 a set: 1.2 + 0.75
    lives = {
        "soft": PositiveArea(100.0),
        "medium": PositiveArea(200.0),
        "hard": PositiveArea(400.0),
    }
    segments = rule("machine_grind_area", per_area_of=lives)
    job = case(product(), areas=(ground("soft", 120.0), ground("hard", 300.0)))
    plan = msgspec.structs.replace(job, consumables=(segments,)).plan()
    (found,) = plan.consumables
    assert found.count == 2
    assert found.trace.inputs["need"] == pytest.approx(1.95)
    assert found.trace.inputs["soft_area"] == 120


def test_bags_hold_the_concrete_that_was_ground_off() -> None:
    # by hand, common practice, no source: 50 m2 by 0.4 mm and 100 m2 by 1.2 mm: 20 L and 120 L
    bags = rule("removed_volume", per_volume=PositiveVolume(30 * LITRE))
    areas = (ground("soft", 50.0, 3), ground("hard", 100.0, 5))
    (found,) = case(product(), areas=areas, consumables=(bags,)).plan().consumables
    assert found.trace.inputs["driver_quantity"] == pytest.approx(140 * LITRE)
    assert found.count == 5


def test_no_depth_is_removed_less_for_a_rougher_profile() -> None:
    depths = [removal_depth(profile) for profile in range(1, 11)]
    assert depths == sorted(depths)
    assert removal_depth(None) == removal_depth(2)


def test_waste_divides_and_cartons_are_bought_whole() -> None:
    # by hand: 95 m over rolls of 50 m with a tenth wasted: 2.11, so 3; in cartons of 2, 4
    taped = rule("tape_length", per_length=PositiveLength(50.0), waste_fraction=0.1)
    found = line(taped, 95.0)
    assert found is not None
    assert found.count == 3
    found = line(msgspec.structs.replace(taped, sold_in=2), 95.0)
    assert found is not None
    assert found.count == 4


def test_a_coat_takes_a_wide_roller_a_narrow_one_a_brush_and_a_measuring_pail() -> None:
    """Common practice, no source."""
    rules = tuple(
        one
        for one in priced_demo("USD", date(2026, 6, 15)).consumables
        if one.id in {"roller-450", "roller-230", "brush-75", "measure-pail"}
    )
    job = case(product(), areas=(area(cut_in=5.0),), consumables=rules)
    coat = job.system.layers[0]
    second = msgspec.structs.replace(coat, id="second")
    for layers in ((coat,), (coat, second)):
        found = with_layers(job, *layers).plan().consumables
        assert [one.count for one in found] == [len(layers)] * 4
