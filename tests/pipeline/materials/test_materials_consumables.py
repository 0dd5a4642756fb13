"""Consumables by rule."""

from decimal import Decimal

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from materials_cases import LITRE, REVISION, USD, area, case, pack, product, takeoff

from filmbuild.money import Currency, NonNegativeExact
from filmbuild.pipeline.materials import consumable_lines, driver_quantities
from filmbuild.pipeline.results import ConsumableLine
from filmbuild.pipeline.specification import ConsumableRule, Driver, TaskCode
from filmbuild.quantities import PositiveArea, PositiveLength, PositiveVolume


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
    lines = consumable_lines([of], {of.driver: quantity}, set(), USD, REVISION, shift_driven=False)
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
        present = frozenset(tasks)
        lines = consumable_lines(rules, drivers, present, USD, REVISION, shift_driven=shift_driven)
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
