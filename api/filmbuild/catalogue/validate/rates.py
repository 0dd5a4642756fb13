"""Rate books, consumable rules and tax rules."""

from collections.abc import Container, Iterator, Sequence
from itertools import product
from typing import Literal, get_args

from filmbuild.catalogue.validate.common import check_exactly_one, check_unique
from filmbuild.errors import Faults
from filmbuild.pipeline.specification import (
    ConsumableRule,
    Driver,
    Equipment,
    Production,
    RateBook,
    TaskCode,
)
from filmbuild.pipeline.substrate import Hardness

Dimension = Literal["area", "length", "volume", "count"]

DIMENSIONS: dict[Driver, Dimension] = {
    "coated_area": "area",
    "floor_area": "area",
    "vertical_area": "area",
    "machine_grind_area": "area",
    "hand_grind_area": "area",
    "cut_in_area": "area",
    "spall_area": "area",
    "repair_area": "area",
    "dust_barrier_area": "area",
    "sheeting_area": "area",
    "strip_area": "area",
    "drain_edge_length": "length",
    "removed_volume": "volume",
    "edge_length": "length",
    "tape_length": "length",
    "crack_length": "length",
    "joint_length": "length",
    "cove_length": "length",
    "coat": "count",
    "mix": "count",
    "coat_mix": "count",
    "repair_mix": "count",
    "worker": "count",
    "shift": "count",
    "visit": "count",
    "job": "count",
}
FILLED: frozenset[Driver] = frozenset(("crack_length", "joint_length", "cove_length", "spall_area"))
"""What is filled with a volume, so that its work may go by volume as well."""
COATING: frozenset[TaskCode] = frozenset(
    ("place_vertical", "place_cut_in", "place_field", "broadcast")
)
_RATES = {
    "area_rate": "area",
    "length_rate": "length",
    "volume_rate": "volume",
    "count_per_hour": "count",
}
_PER = {
    "per_area": "area",
    "per_length": "length",
    "per_volume": "volume",
    "per_count": "count",
    "per_area_of": "area",
}
WORN: frozenset[Driver] = frozenset(("machine_grind_area", "hand_grind_area", "floor_area"))
"""What is known by the hardness of its concrete."""


def check_rate_books(rate_books: Sequence[RateBook], faults: Faults) -> None:
    check_unique(rate_books, lambda one: one.id, faults, "id")
    for index, book in enumerate(rate_books):
        here = faults.at(index)
        check_unique(book.classes, lambda one: one.id, here.at("classes"), "id")
        check_unique(book.equipment, lambda one: one.id, here.at("equipment"), "id")
        _check_rivals(book.productions, here.at("productions"))
        if book.minimum_paid_day > book.standard_day:
            detail = "the least that is paid for a day is no longer than the standard day"
            here.add("minimum-beyond-standard", detail, "minimum_paid_day")
        if book.cold_up_to >= book.hot_from:
            detail = "surfaces are cold up to a temperature below that from which they are hot"
            here.add("cold-not-below-hot", detail, "cold_up_to")
        machines = {one.id for one in book.equipment}
        for number, machine in enumerate(book.equipment):
            _check_machine(machine, here.at("equipment", number))
        for number, production in enumerate(book.productions):
            _check_production(production, machines, here.at("productions", number))


def _check_rivals(productions: Sequence[Production], faults: Faults) -> None:
    """No two productions are as specific as one another for the same work."""
    seen: set[tuple[str, str | None, str | None]] = set()
    for number, one in enumerate(productions):
        mine = set(_work_of(one))
        if not mine.isdisjoint(seen):
            if one.roles or one.layers:
                faults.add(
                    "ambiguous-production",
                    f"another production of {one.task} is restricted in the same way: restrict one "
                    "of them further, or give each roles and layers of its own",
                    number,
                    "layers" if one.layers else "roles",
                )
            else:
                detail = f"{one.task} has another production for any work: restrict one of them"
                faults.add("duplicate", detail, number, "task")
        seen |= mine


def _work_of(production: Production) -> Iterator[tuple[str, str | None, str | None]]:
    layers, roles = production.layers or (None,), production.roles or (None,)
    for layer, role in product(layers, roles):
        yield production.task, layer, role


def _check_production(production: Production, machines: set[str], faults: Faults) -> None:
    given = [name for name in _RATES if getattr(production, name) is not None]
    if len(given) > 1:
        detail = f"give at most one of {', '.join(_RATES)}; {' and '.join(given)} given"
        faults.add("exactly-one", detail, given[1])
    elif given:
        dimension = DIMENSIONS[production.driver]
        fits = _RATES[given[0]] == dimension
        if given[0] == "volume_rate":
            fits = production.driver in FILLED
        if not fits:
            detail = f"the driver {production.driver} goes by {dimension}, this rate does not"
            faults.add("rate-not-of-driver", detail, given[0])
    if production.dry_for > 0 and production.task in COATING:
        detail = "what is placed dries by its product's cure times: leave dry_for out"
        faults.add("dries-by-product", detail, "dry_for")
    for index, name in enumerate(production.equipment):
        if name not in machines:
            detail = f'the rate book has no equipment "{name}"'
            faults.add("unknown-equipment", detail, "equipment", index)


def check_consumables(
    rules: Sequence[ConsumableRule], products: Container[str], faults: Faults
) -> None:
    check_unique(rules, lambda one: one.id, faults, "id")
    for index, rule in enumerate(rules):
        here = faults.at(index)
        given = check_exactly_one(rule, tuple(_PER), here)
        dimension = DIMENSIONS[rule.driver]
        if given is not None and _PER[given] != dimension:
            detail = f"the driver {rule.driver} goes by {dimension}: give per_{dimension}"
            here.add("per-not-of-driver", detail, given)
        if rule.per_area_of is not None:
            _check_wear(rule, rule.per_area_of, here)
        if rule.product is not None and rule.product not in products:
            here.add("unknown-product", f'there is no product "{rule.product}"', "product")


def _check_wear(rule: ConsumableRule, lives: Container[str], faults: Faults) -> None:
    if rule.driver not in WORN:
        detail = f"the driver {rule.driver} is not told by hardness: use one of {', '.join(sorted(WORN))}"
        faults.add("per-not-of-driver", detail, "per_area_of")
    missing = [one for one in get_args(Hardness) if one not in lives]
    if missing:
        detail = f"say how far it goes on concrete that is {' and '.join(missing)}"
        faults.add("hardness-missing", detail, "per_area_of")


def _check_machine(machine: Equipment, faults: Faults) -> None:
    if machine.power is None and machine.volts is not None:
        faults.add("power-missing", "give the power that is drawn at these volts", "volts")
    if machine.power is not None and machine.volts is None:
        faults.add("volts-missing", "give the volts at which this power is drawn", "power")
    if machine.extraction is not None and machine.air_flow is not None:
        detail = "give what it needs drawn off, or what it draws off: not both"
        faults.add("exactly-one", detail, "air_flow")
