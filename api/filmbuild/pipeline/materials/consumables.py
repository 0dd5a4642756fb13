"""Everything else the job uses up: by rules that are data."""

import math
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from functools import lru_cache

import msgspec

from filmbuild.money import Currency, Money, NonNegativeExact, UnitPrice, rounded
from filmbuild.pipeline.results import Coat, ConsumableLine, Takeoff
from filmbuild.pipeline.specification import ConsumableRule, Driver, TaskCode
from filmbuild.pipeline.tasks_present import repair_area
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Length

ROUNDING = 1e-9
"""How far above a whole number of units a need may lie and still take that number."""


def driver_quantities(takeoff: Takeoff, coats: Sequence[Coat], workers: int) -> dict[Driver, float]:
    """What can move a rule [m2, m or a count]: all drivers but "shift".

    "coated_area" is floor and verticals, once however many coats; "coat" counts the system's
    layers; "mix" counts the mixes of layers and repairs, "coat_mix" and "repair_mix" each alone.
    """
    totals = takeoff.totals
    mixes = sum(len(coat.mixes) for coat in coats)
    repair_mixes = sum(mixes_of_repairs(coats).values())
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
        "repair_area": repair_area(totals),
        "dust_barrier_area": totals.dust_barrier,
        "sheeting_area": totals.sheeting,
        "strip_area": totals.strip_area,
        "drain_edge_length": totals.drain_length,
        "coat": sum(coat.kind != "repair" for coat in coats),
        "mix": mixes,
        "coat_mix": mixes - repair_mixes,
        "repair_mix": repair_mixes,
        "worker": workers,
        "visit": 1,
        "job": 1,
    }


def mixes_of_repairs(coats: Sequence[Coat]) -> dict[str, int]:
    """How many mixes each repair takes, by its task."""
    return {coat.layer: len(coat.mixes) for coat in coats if coat.kind == "repair"}


class Work(msgspec.Struct, frozen=True):
    """What moves the rules: quantities by driver, and how often each task of the job is done.

    `repair_mixes` are by the task of the repair.
    """

    drivers: Mapping[Driver, float]
    occasions: Mapping[TaskCode, int]
    repair_mixes: Mapping[str, int] = {}


def consumable_lines(
    rules: Iterable[ConsumableRule],
    work: Work,
    currency: Currency,
    revision: int,
    *,
    shift_driven: bool,
) -> tuple[ConsumableLine, ...]:
    """Lines of the rules in this currency that apply: those driven by shifts, or all others.

    Count = driver x occasions / per x quantity, rounded up to whole units, and no less than the
    rule's minimum where there is anything to do at all.
    """
    drivers = work.drivers
    lines = []
    for rule in rules:
        if (rule.driver == "shift") == shift_driven and rule.currency == currency:
            driver, times = drivers.get(rule.driver, 0.0), 1
            if rule.tasks:
                driver, times = _for_tasks(rule, driver, work)
            if driver > 0 and times:
                lines.append(_line(rule, driver, times, revision))
    return tuple(lines)


def _for_tasks(rule: ConsumableRule, driver: float, work: Work) -> tuple[float, int]:
    """The driver's quantity, and how often it is met: 0 where no task of the rule is in the job.

    What is measured on the floor is met anew each time that one of the rule's tasks is done; what
    is counted is met once. Of repair mixes, only those of the rule's tasks count.
    """
    times = 0
    for task in rule.tasks:
        times += work.occasions.get(task, 0)
    if rule.driver == "repair_mix":
        driver = sum([work.repair_mixes.get(task, 0) for task in rule.tasks])
    return driver, times if rule.per_count is None else min(times, 1)


def _line(rule: ConsumableRule, driver: float, times: int, revision: int) -> ConsumableLine:
    per = rule.per_area or rule.per_length or rule.per_count or 1.0
    need = driver * times / per * rule.quantity
    count = max(math.ceil(need - ROUNDING), rule.minimum)
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
                "occasions": times,
                "per": per,
                "quantity": rule.quantity,
                "need": float(f"{need:.10g}"),  # the same from a takeoff that has been written
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
