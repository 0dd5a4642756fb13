"""Rate books, consumable rules and tax rules."""

from collections.abc import Container, Sequence
from typing import Literal

from filmbuild.catalogue.validate.common import check_exactly_one, check_order, check_unique
from filmbuild.errors import Faults
from filmbuild.pipeline.specification import ConsumableRule, Driver, Production, RateBook, TaxRule

Dimension = Literal["area", "length", "count"]

DIMENSIONS: dict[Driver, Dimension] = {
    "coated_area": "area",
    "floor_area": "area",
    "vertical_area": "area",
    "machine_grind_area": "area",
    "hand_grind_area": "area",
    "cut_in_area": "area",
    "spall_area": "area",
    "dust_barrier_area": "area",
    "edge_length": "length",
    "tape_length": "length",
    "crack_length": "length",
    "joint_length": "length",
    "cove_length": "length",
    "coat": "count",
    "mix": "count",
    "worker": "count",
    "shift": "count",
    "visit": "count",
    "job": "count",
}
FILLED: frozenset[Driver] = frozenset(("crack_length", "joint_length", "cove_length", "spall_area"))
"""What is filled with a volume, so that its work may go by volume as well."""
_RATES = {
    "area_rate": "area",
    "length_rate": "length",
    "volume_rate": "volume",
    "count_per_hour": "count",
}
_PER = {"per_area": "area", "per_length": "length", "per_count": "count"}


def check_rate_books(rate_books: Sequence[RateBook], faults: Faults) -> None:
    check_unique(rate_books, lambda one: one.id, faults, "id")
    for index, book in enumerate(rate_books):
        here = faults.at(index)
        check_unique(book.classes, lambda one: one.id, here.at("classes"), "id")
        check_unique(book.equipment, lambda one: one.id, here.at("equipment"), "id")
        check_unique(book.productions, lambda one: one.task, here.at("productions"), "task")
        machines = {one.id for one in book.equipment}
        for number, production in enumerate(book.productions):
            _check_production(production, machines, here.at("productions", number))


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
        if rule.product is not None and rule.product not in products:
            here.add("unknown-product", f'there is no product "{rule.product}"', "product")


def check_taxes(rules: Sequence[TaxRule], faults: Faults) -> None:
    check_unique(rules, lambda one: one.id, faults, "id")
    for index, rule in enumerate(rules):
        check_order(rule, "effective_from", "effective_to", faults.at(index))
