"""Everything else the job uses up: by rules that are data."""

import math
from collections.abc import Iterable, Mapping, Sequence
from collections.abc import Set as AbstractSet
from decimal import Decimal
from functools import lru_cache

from filmbuild.money import Currency, Money, NonNegativeExact, UnitPrice, rounded
from filmbuild.pipeline.results import Coat, ConsumableLine, Takeoff
from filmbuild.pipeline.specification import ConsumableRule, Driver, TaskCode
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Length

ROUNDING = 1e-9
"""How far above a whole number of units a need may lie and still take that number."""


def driver_quantities(takeoff: Takeoff, coats: Sequence[Coat], workers: int) -> dict[Driver, float]:
    """What can move a rule [m2, m or a count]: all drivers but "shift".

    "coated_area" is floor and verticals, once however many coats; "coat" counts the system's
    layers; "mix" counts the mixes of layers and repairs.
    """
    totals = takeoff.totals
    return {
        "coated_area": Area(totals.floor + totals.vertical),
        "floor_area": totals.floor,
        "vertical_area": totals.vertical,
        "machine_grind_area": totals.machine_grind,
        "hand_grind_area": totals.hand_grind,
        "cut_in_area": totals.cut_in,
        "edge_length": Length(totals.wall_length + totals.open_length),
        "tape_length": totals.tape_length,
        "crack_length": totals.crack_length,
        "joint_length": totals.joint_length,
        "cove_length": totals.cove_length,
        "spall_area": totals.spall_area,
        "dust_barrier_area": totals.dust_barrier,
        "coat": sum(coat.kind != "repair" for coat in coats),
        "mix": sum(len(coat.mixes) for coat in coats),
        "worker": workers,
        "visit": 1,
        "job": 1,
    }


def consumable_lines(
    rules: Iterable[ConsumableRule],
    drivers: Mapping[Driver, float],
    tasks: AbstractSet[TaskCode],
    currency: Currency,
    revision: int,
    *,
    shift_driven: bool,
) -> tuple[ConsumableLine, ...]:
    """Lines of the rules in this currency that apply: those driven by shifts, or all others.

    Count = driver / per x quantity, rounded up to whole units, and no less than the rule's minimum
    where there is anything to do at all.
    """
    lines = []
    for rule in rules:
        if (rule.driver == "shift") != shift_driven or rule.currency != currency:
            continue
        driver = drivers.get(rule.driver, 0.0)
        if driver > 0 and (not rule.tasks or not tasks.isdisjoint(rule.tasks)):
            lines.append(_line(rule, driver, revision))
    return tuple(lines)


def _line(rule: ConsumableRule, driver: float, revision: int) -> ConsumableLine:
    per = rule.per_area or rule.per_length or rule.per_count or 1.0
    count = max(math.ceil(driver / per * rule.quantity - ROUNDING), rule.minimum)
    price = _charged(rule.unit_price, rule.charged_fraction)
    return ConsumableLine(
        id=rule.id,
        name=rule.name,
        kind=rule.kind,
        stage=rule.stage,
        count=count,
        unit=rule.unit,
        unit_price=UnitPrice(price, rule.currency),
        amount=_money(price, count, rule.currency),
        trace=Trace(
            "materials.consumable",
            {
                "driver": rule.driver,
                "driver_quantity": driver,
                "per": per,
                "quantity": rule.quantity,
                "minimum": rule.minimum,
                "unit_price": rule.unit_price,
                "charged_fraction": rule.charged_fraction,
            },
            revision,
        ),
    )


@lru_cache(maxsize=4_096)
def _charged(price: Decimal, charged_fraction: float) -> NonNegativeExact:
    """What one job bears of the price, to the six decimals of a unit price."""
    return NonNegativeExact((price * Decimal(repr(charged_fraction))).quantize(Decimal("0.000001")))


@lru_cache(maxsize=16_384)
def _money(price: Decimal, count: int, currency: Currency) -> Money:
    """Remembered: the same few rules price every job."""
    return rounded(price * count, currency)
