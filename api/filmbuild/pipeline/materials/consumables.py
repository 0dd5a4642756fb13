"""Everything else the job uses up: by rules that are data."""

import math
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from functools import lru_cache

import msgspec

from filmbuild.money import Currency, Money, NonNegativeExact, UnitPrice, rounded
from filmbuild.pipeline.results import Coat, ConsumableLine, Takeoff
from filmbuild.pipeline.specification import ConsumableRule, Driver, TaskCode
from filmbuild.pipeline.substrate import Hardness
from filmbuild.pipeline.tasks_present import repair_area
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Length, Thickness, Volume

ROUNDING = 1e-9
"""How far above a whole number of units a need may lie and still take that number."""

REMOVAL = {
    1: 0.1e-3,
    2: 0.2e-3,
    3: 0.4e-3,
    4: 0.8e-3,
    5: 1.2e-3,
    6: 2.0e-3,
    7: 3.0e-3,
    8: 4.0e-3,
    9: 6.0e-3,
    10: 7.0e-3,
}
"""[m] By ICRI concrete surface profile (common practice, no source)."""
USUAL_PROFILE = 2


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
        "removed_volume": removed_volume(takeoff),
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


def removed_volume(takeoff: Takeoff) -> Volume:
    """[m3] Concrete taken off by grinding: ground area times the depth for its profile."""
    return Volume(sum([area * removal_depth(of) for of, area in _ground(takeoff).items()]))


def removed_from(takeoff: Takeoff) -> dict[str, dict[str, object]]:
    """The ground area and the depth taken off it, by surface profile."""
    return {
        "unknown" if profile is None else f"profile_{profile}": {
            "ground": Area(area),
            "depth": Thickness(removal_depth(profile)),
        }
        for profile, area in _ground(takeoff).items()
    }


def _ground(takeoff: Takeoff) -> dict[int | None, float]:
    found: dict[int | None, float] = {}
    for area in takeoff.areas:
        profile = area.substrate.profile
        found[profile] = found.get(profile, 0.0) + area.machine_grind + area.hand_grind
    return found


def removal_depth(profile: int | None) -> float:
    """[m] Mean depth ground off for an ICRI surface profile; without one, that of light grinding."""
    return REMOVAL[profile or USUAL_PROFILE]


def areas_by_hardness(takeoff: Takeoff) -> dict[Driver, dict[Hardness, float]]:
    """[m2] What is ground by machine, by hand, and the floor, by the hardness of its concrete."""
    found: dict[Driver, dict[Hardness, float]] = {
        "machine_grind_area": {},
        "hand_grind_area": {},
        "floor_area": {},
    }
    for area in takeoff.areas:
        hardness = area.substrate.hardness
        amounts = (area.machine_grind, area.hand_grind, area.floor)
        for worn, amount in zip(found.values(), amounts, strict=True):
            worn[hardness] = worn.get(hardness, 0.0) + amount
    return found


class Work(msgspec.Struct, frozen=True):
    """What moves the rules: quantities by driver, and how often each task of the job is done.

    `repair_mixes` are by the task of the repair; ``hardness` has areas [m2] by that of
    the concrete, and `removed_from` tells how the removed volume comes about.
    """

    drivers: Mapping[Driver, float]
    occasions: Mapping[TaskCode, int]
    repair_mixes: Mapping[str, int] = {}
    hardness: Mapping[Driver, Mapping[Hardness, float]] = {}
    removed_from: Mapping[str, object] = {}


def consumable_lines(
    rules: Iterable[ConsumableRule],
    work: Work,
    currency: Currency,
    revision: int,
    *,
    shift_driven: bool,
) -> tuple[ConsumableLine, ...]:
    """Lines of the rules in this currency that apply: those driven by shifts, or all others.

    Count = driver x occasions / per x quantity / (1 - waste), rounded up to whole units and
    cartons, and no less than the rule's minimum where there is anything to do at all. What wears
    goes by the sum of area / life over the concrete's hardness.
    """
    drivers = work.drivers
    lines = []
    for rule in rules:
        if (rule.driver == "shift") == shift_driven and rule.currency == currency:
            driver, times = drivers.get(rule.driver, 0.0), 1
            if rule.tasks:
                driver, times = _for_tasks(rule, driver, work)
            if driver > 0 and times:
                lines.append(_line(rule, driver, times, work, revision))
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


def _line(
    rule: ConsumableRule, driver: float, times: int, work: Work, revision: int
) -> ConsumableLine:
    portions, per = _portions(rule, driver, work)
    need = portions * times * rule.quantity / (1 - rule.waste_fraction)
    cartons = math.ceil(need / rule.sold_in - ROUNDING)
    count = max(cartons * rule.sold_in, rule.minimum)
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
            "materials.consumable" if rule.per_area_of is None else "materials.wear",
            {
                "driver": rule.driver,
                "driver_quantity": driver,
                "occasions": times,
                **per,
                "quantity": rule.quantity,
                "waste_fraction": rule.waste_fraction,
                "sold_in": rule.sold_in,
                "need": float(f"{need:.10g}"),  # the same from a takeoff that has been written
                "minimum": rule.minimum,
                "unit_price": rule.unit_price,
                "charged_fraction": rule.charged_fraction,
            },
            revision,
        ),
        grit=rule.grit,
    )


def _portions(rule: ConsumableRule, driver: float, work: Work) -> tuple[float, dict[str, object]]:
    """How often the driver holds what the quantity is for, and the inputs that say so."""
    if rule.per_area_of is not None:
        worn = {f"{kind}_area": Area(area) for kind, area in work.hardness[rule.driver].items()}
        lives = {f"{kind}_life": life for kind, life in rule.per_area_of.items()}
        kinds = work.hardness[rule.driver].items()
        return sum(area / rule.per_area_of[kind] for kind, area in kinds), {**worn, **lives}
    per = rule.per_area or rule.per_length or rule.per_volume or rule.per_count or 1.0
    inputs: dict[str, object] = {"per": per}
    if rule.driver == "removed_volume":
        inputs["removed_from"] = work.removed_from
    return driver / per, inputs


@lru_cache(maxsize=4_096)
def _charged(price: Decimal, charged_fraction: float) -> NonNegativeExact:
    """What one job bears of the price, to the six decimals of a unit price."""
    return NonNegativeExact((price * Decimal(repr(charged_fraction))).quantize(Decimal("0.000001")))


@lru_cache(maxsize=16_384)
def _money(price: Decimal, count: int, currency: Currency) -> Money:
    """Remembered: the same few rules price every job."""
    return rounded(price * count, currency)
