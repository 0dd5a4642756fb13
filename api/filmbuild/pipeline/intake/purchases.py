"""Whether the purchases that were handed in hang together, and serve the coats beside them."""

from collections.abc import Iterable
from decimal import Decimal

from filmbuild.pipeline.intake.marks import Marks, close
from filmbuild.pipeline.results import (
    AggregateAmount,
    ConsumableLine,
    Materials,
    PartAmount,
    Purchase,
    Takeoff,
)
from filmbuild.quantities import Mass


def check_aggregates(
    aggregates: tuple[AggregateAmount, ...], takeoff: Takeoff, marks: Marks
) -> None:
    """`marks` stands at the list."""
    for index, one in enumerate(aggregates):
        if one.rate is not None:
            placed = one.rate * takeoff.totals.floor
            rule = "what is thrown is the rate times the floor"
            marks.same(one.placed, placed, "parts-mismatch", rule, index, "placed")
        if one.reclaimed > one.placed:
            detail = "no more is swept up again than was placed"
            marks.add("parts-mismatch", detail, index, "reclaimed")


def check_purchases(materials: Materials, currency: str, marks: Marks) -> None:
    """`marks` stands at the materials."""
    at = marks.at("purchases")
    bought = materials.purchases
    at.unique((one.product for one in bought), field="product")
    used = [coat.product for coat in materials.coats]
    used += [one.product for one in materials.aggregates]
    known = {one.product for one in bought}
    missing = [name for name in dict.fromkeys(used) if name not in known]
    if missing:
        at.add("missing-purchase", f"nothing is bought of {', '.join(missing)}")
    needs, masses = _needs(materials), _masses(materials)
    for index, one in enumerate(bought):
        place = at.at(index)
        if one.product not in needs:
            place.add("unused-purchase", "no coat and no aggregate takes it", "product")
        _check_amounts(one, needs.get(one.product, {}), place)
        if one.product in masses:
            _check_aggregate(one, masses[one.product], place)
        _check_cost(one, currency, place)


def _needs(materials: Materials) -> dict[str, dict[str, list[PartAmount]]]:
    """By product and part; no parts where an aggregate takes some, of which the mass alone is known."""
    needs: dict[str, dict[str, list[PartAmount]]] = {}
    for coat in materials.coats:
        parts = needs.setdefault(coat.product, {})
        for part in coat.parts:
            parts.setdefault(part.part, []).append(part)
    for one in materials.aggregates:
        needs[one.product] = {}
    return needs


def _masses(materials: Materials) -> dict[str, float]:
    """Of the aggregates whose product no coat takes as well [kg]."""
    coated = {coat.product for coat in materials.coats}
    masses: dict[str, float] = {}
    for one in materials.aggregates:
        if one.product not in coated:
            masses[one.product] = masses.get(one.product, 0.0) + one.ordered
    return masses


def _check_aggregate(one: Purchase, mass: float, marks: Marks) -> None:
    for part, needed in one.needed.items():
        if isinstance(needed, Mass):
            rule = "what is needed is the sum over the aggregates"
            marks.same(needed, mass, "needs-mismatch", rule, "needed", part)


def _check_amounts(one: Purchase, needs: dict[str, list[PartAmount]], marks: Marks) -> None:
    for field in ("bought", "surplus"):
        if getattr(one, field).keys() != one.needed.keys():
            detail = f"one amount for each of {', '.join(one.needed)}"
            marks.add("parts-mismatch", detail, field)
            return
    for part, needed in one.needed.items():
        bought, surplus = one.bought[part], one.surplus[part]
        if not type(needed) is type(bought) is type(surplus):
            detail = "what is needed, bought and left over is in one measure"
            marks.add("parts-mismatch", detail, "needed", part)
            continue
        missing = type(needed)(max(needed - one.from_stock.get(part, 0.0), 0.0))
        if bought < missing and not close(bought, missing, needed):
            detail = f"no less is bought than the {marks.shown(type(needed), missing)} needed"
            marks.add("parts-mismatch", detail, "bought", part)
        else:
            left = max(bought - missing, 0.0)
            rule = "left over is what is bought and not needed"
            tokens = ("surplus", part)
            marks.same(surplus, left, "parts-mismatch", rule, *tokens, scale=bought)
        if part in needs:
            rule = "what is needed is the sum over the coats"
            taken = _taken(needs[part], type(needed))
            marks.same(needed, taken, "needs-mismatch", rule, "needed", part)


def _taken(parts: Iterable[PartAmount], kind: type) -> float:
    return sum([part.mass if kind is Mass else part.volume for part in parts])


def _check_cost(one: Purchase, currency: str, marks: Marks) -> None:
    marks.unique((line.pack for line in one.packs), "packs", field="pack")
    for index, line in enumerate(one.packs):
        if line.count < 1:
            detail = "packs are counted from 1; leave the line out where there is none"
            marks.add("not-positive", detail, "packs", index, "count")
        marks.counted(line.amount, line.unit_price, line.count, currency, "packs", index)
    marks.paid(one.used_share, currency, "used_share")
    if not marks.currency(one.cost, currency, "cost"):
        return
    cost = sum((line.amount.amount for line in one.packs), Decimal(0))
    if one.cost.amount != cost:
        detail = f"the packs cost {cost:f} together, and not {one.cost.amount:f}"
        marks.add("amount-mismatch", detail, "cost", "amount")
    elif one.used_share.amount > one.cost.amount:
        detail = f"what is used costs no more than what is bought: {cost:f}"
        marks.add("amount-mismatch", detail, "used_share", "amount")


def check_consumables(lines: tuple[ConsumableLine, ...], currency: str, marks: Marks) -> None:
    """`marks` stands at the list."""
    marks.unique((line.id for line in lines), field="id")
    for index, line in enumerate(lines):
        if line.count < 0:
            marks.add("negative", "things are counted from 0", index, "count")
        marks.counted(line.amount, line.unit_price, line.count, currency, index)
