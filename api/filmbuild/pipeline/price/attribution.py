"""What each kind of work costs: every cost line goes to the work that called for it."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from decimal import Decimal

import msgspec

from filmbuild.money import Money, allocate
from filmbuild.pipeline.price.terms import Settled
from filmbuild.pipeline.results import (
    AggregateAmount,
    Coat,
    ConsumableLine,
    CostLine,
    Materials,
    Task,
    WorkKind,
    WorkShare,
)
from filmbuild.pipeline.trace import Trace

Weights = Mapping[str, float]
"""By kind of work; "general" is what all of it calls for."""

OWN: tuple[WorkKind, ...] = ("floor", "verticals", "joints", "repairs", "preparation")
LINEAR: frozenset[WorkKind] = frozenset(("verticals", "joints"))
_OF_TASK: dict[str, WorkKind] = {
    "protect": "preparation",
    "strip_coating": "preparation",
    "machine_grind": "preparation",
    "hand_grind": "preparation",
    "vacuum": "preparation",
    "wash": "preparation",
    "mask": "preparation",
    "pull_tape": "preparation",
    "chase_cracks": "repairs",
    "fill_cracks": "repairs",
    "patch_spalls": "repairs",
    "grind_repairs": "repairs",
    "fill_joints": "joints",
    "form_cove": "verticals",
    "place_vertical": "verticals",
    "place_cut_in": "floor",
    "place_field": "floor",
    "broadcast": "floor",
    "sweep_broadcast": "floor",
    "abrade": "floor",
    "solvent_wipe": "floor",
}
_OF_STAGE: dict[str, WorkKind] = {
    "prepare": "preparation",
    "mask": "preparation",
    "repair": "repairs",
    "finish": "floor",
}
_GENERAL: Weights = {"general": 1.0}
_FINEST = 6  # decimals of a weight: sums of the same figures in another order agree to them


class Attributed(msgspec.Struct, frozen=True):
    """Weights of the contractor's own work, and the lines of what is bought in."""

    own: dict[WorkKind, Decimal]
    bought_in: Sequence[CostLine]


def attributed(
    lines: Iterable[CostLine],
    materials: Materials,
    consumables: Iterable[ConsumableLine],
    tasks: Sequence[Task],
) -> Attributed:
    """Materials go by the volume of the coats they are in, labour and machines by task hours.

    What all work calls for (setting up, travel, what is worn) follows the rest in proportion.
    """
    of_line = _of_line(materials, consumables, tasks)
    sums: dict[str, float] = {}
    bought_in = []
    for line in lines:
        if line.group == "subcontract":
            bought_in.append(line)
            continue
        weights = of_line(line)
        whole = sum(weights.values())
        amount = float(line.amount.amount)
        for kind, weight in weights.items():
            sums[kind] = sums.get(kind, 0.0) + amount * weight / whole
    own = {kind: sums.get(kind, 0.0) for kind in OWN}
    whole = sum(own.values())
    general = sums.get("general", 0.0)
    if not whole:
        own["floor"] = 1.0
    elif general:
        own = {kind: cost + general * cost / whole for kind, cost in own.items()}
    weights_of = {kind: Decimal(str(round(cost, _FINEST))) for kind, cost in own.items() if cost}
    return Attributed(weights_of, bought_in)


def _of_line(
    materials: Materials, consumables: Iterable[ConsumableLine], tasks: Sequence[Task]
) -> Callable[[CostLine], Weights]:
    of_products = _of_products(materials)
    sources = {pack.pack: one.product for one in materials.purchases for pack in one.packs}
    suppliers = {one.supplier: one.products for one in materials.orders}
    costs = {one.product: float(one.cost.amount) for one in materials.purchases}
    labour = _of_tasks(tasks)
    machines = _of_machines(tasks)
    stages = {one.id: one.stage for one in consumables}
    coating = _coating(materials.coats)
    of_materials = _mixed((of_products.get(name, _GENERAL), cost) for name, cost in costs.items())

    def of_goods(item: str) -> Weights:
        return of_products.get(sources.get(item, item), _GENERAL)

    def of_freight(item: str) -> Weights:
        names = suppliers.get(item, ())
        return _mixed((of_products.get(one, _GENERAL), costs.get(one, 0.0)) for one in names)

    def of_consumable(item: str) -> Weights:
        stage = stages.get(item, "")
        return coating if stage == "coat" else {_OF_STAGE.get(stage, "general"): 1.0}

    by_group: dict[str, Callable[[str], Weights]] = {
        "materials": of_goods,
        "freight": of_freight,
        "consumables": of_consumable,
        "labour": lambda _: labour,
        "equipment": lambda item: machines.get(item, _GENERAL),
        "tax on materials": lambda _: of_materials,
    }

    def of_line(line: CostLine) -> Weights:
        of_group = by_group.get(line.group)
        return _GENERAL if of_group is None else of_group(line.item)

    return of_line


def _mixed(parts: Iterable[tuple[Weights, float]]) -> Weights:
    """Each of them shared out whole, in proportion to its own size."""
    found: dict[str, float] = {}
    for weights, size in parts:
        whole = sum(weights.values())
        if whole:
            for kind, weight in weights.items():
                found[kind] = found.get(kind, 0.0) + size * weight / whole
    return found if any(found.values()) else _GENERAL


def _of_products(materials: Materials) -> dict[str, Weights]:
    found: dict[str, dict[str, float]] = {}
    for coat in materials.coats:
        _add(found.setdefault(coat.product, {}), _of_coat(coat), coat.ordered_volume)
    for one in materials.aggregates:
        _add(found.setdefault(one.product, {}), {_of_aggregate(one): 1.0}, one.ordered)
    return {product: weights for product, weights in found.items() if any(weights.values())}


def _add(sums: dict[str, float], weights: Weights, size: float) -> None:
    for kind, weight in weights.items():
        sums[kind] = sums.get(kind, 0.0) + size * weight


def _of_coat(coat: Coat) -> Weights:
    if coat.kind == "repair":
        return {_OF_TASK.get(coat.layer, "repairs"): 1.0}
    if not coat.vertical or not coat.net_volume or coat.wet_film is None:
        return {"floor": 1.0}
    upright = max(coat.film_volume - coat.floor * coat.wet_film, 0.0) / coat.net_volume
    return {"verticals": upright, "floor": 1.0 - upright}


def _of_aggregate(one: AggregateAmount) -> WorkKind:
    return "floor" if one.rate is not None else _OF_TASK.get(one.layer, "repairs")


def _coating(coats: Sequence[Coat]) -> Weights:
    """Rollers and the like serve floor and verticals as they are coated."""
    return _mixed(
        ({"floor": coat.floor, "verticals": coat.vertical}, 1.0)
        for coat in coats
        if coat.kind != "repair"
    )


def _of_tasks(tasks: Iterable[Task]) -> Weights:
    return _mixed(({_OF_TASK.get(one.code, "general"): 1.0}, one.labour) for one in tasks)


def _of_machines(tasks: Iterable[Task]) -> dict[str, Weights]:
    found: dict[str, dict[str, float]] = {}
    for one in tasks:
        for name in one.equipment:
            _add(found.setdefault(name, {}), {_OF_TASK.get(one.code, "general"): 1.0}, one.duration)
    return {name: weights for name, weights in found.items() if any(weights.values())}


def work_shares(
    found: Attributed, direct: Money, by_terms: Money, settled: Settled
) -> tuple[WorkShare, ...]:
    """Direct cost and the price by the terms, shared out to the minor unit."""
    bought = sum((line.amount.amount for line in found.bought_in), Decimal(0))
    kinds = list(found.own)
    own = settled.money(direct.amount - bought)
    costs = [
        *allocate(own.amount, list(found.own.values()), settled.currency),
        *(line.amount.amount for line in found.bought_in),
    ]
    weights: Sequence[Decimal] = costs if any(costs) else [Decimal(1), *costs[1:]]
    nets = allocate(by_terms.amount, weights, settled.currency)
    whole = sum(found.own.values())
    inputs = [
        {"own_cost": own, "attributed": weight, "attributed_in_all": whole}
        for weight in found.own.values()
    ]
    inputs += [{"stated": line.amount} for line in found.bought_in]
    works: list[tuple[WorkKind, str | None]] = [(kind, None) for kind in kinds]
    works += [("subcontract", line.item) for line in found.bought_in]
    both = {"direct_cost": direct, "price_by_terms": by_terms}
    return tuple(
        WorkShare(
            work=work,
            item=item,
            cost=settled.money(cost),
            by_terms=settled.money(net),
            trace=Trace("price.work-share", {**given, **both}),
        )
        for (work, item), cost, net, given in zip(works, costs, nets, inputs, strict=True)
    )
