"""The cost lines: what the other stages found, as quantity times unit price."""

from collections.abc import Iterable
from decimal import Decimal

from filmbuild.money import Money, NonNegativeExact, UnitPrice
from filmbuild.pipeline.job import Subcontract
from filmbuild.pipeline.labour.costs import paid_hours
from filmbuild.pipeline.materials.purchasing import pack_shares
from filmbuild.pipeline.price.terms import WIDE, Settled
from filmbuild.pipeline.results import (
    ConsumableLine,
    CostLine,
    CrewCosts,
    EquipmentCost,
    LabourCost,
    Materials,
    PackLine,
    Purchase,
    SupplierOrder,
)
from filmbuild.pipeline.specification import TaxRule
from filmbuild.pipeline.trace import Trace

_ONE = Decimal(1)


def cost_lines(materials: Materials, work: CrewCosts, settled: Settled) -> list[CostLine]:
    lines = [line for one in materials.purchases for line in _purchase(one, settled)]
    lines += [_consumable(one) for one in (*materials.consumables, *work.consumables)]
    base = sum((line.amount.amount for line in lines), Decimal(0))
    lines += [
        _materials_tax(rule, base, settled)
        for rule in settled.taxes
        if rule.base == "materials_cost"
    ]
    lines += [line for one in materials.orders for line in _beside_goods(one, settled)]
    lines += [_worker(one) for one in work.labour]
    lines += [_machine(one) for one in work.equipment]
    if work.travel.amount:
        lines.append(_travel(work))
    return lines


def subcontract_lines(subcontracts: Iterable[Subcontract], settled: Settled) -> list[CostLine]:
    return [_subcontract(one, settled) for one in subcontracts]


def _subcontract(one: Subcontract, settled: Settled) -> CostLine:
    each = UnitPrice(one.unit_cost, settled.currency)
    quantity = Decimal(one.quantity)
    return CostLine(
        group="subcontract",
        item=one.id,
        description=one.description,
        quantity=quantity,
        unit=one.unit,
        unit_cost=each,
        amount=settled.money(WIDE.multiply(quantity, one.unit_cost)),
        trace=Trace("price.subcontract", {"quantity": quantity, "unit_cost": each}),
    )


def _line_trace(quantity: Decimal, unit_cost: UnitPrice, found_by: Trace) -> Trace:
    """The amount is the line's own; which rule found its quantity and unit cost is named."""
    inputs = {"quantity": quantity, "unit_cost": unit_cost, "found_by": found_by.rule}
    return Trace("price.line", inputs, found_by.catalogue_revision)


def _each(amount: Money) -> UnitPrice:
    """The unit price of a line that is one of something."""
    return UnitPrice(NonNegativeExact(amount.amount), amount.currency)


def _purchase(purchase: Purchase, settled: Settled) -> list[CostLine]:
    if settled.terms.materials == "used_share":
        return [_used_share(purchase, settled)]
    return [_pack(one, purchase, settled) for one in purchase.packs]


def _pack(pack: PackLine, purchase: Purchase, settled: Settled) -> CostLine:
    inputs = {"product": purchase.product, "packs": pack.count, "unit_price": pack.unit_price}
    return CostLine(
        group="materials",
        item=pack.pack,
        description=pack.name,
        quantity=Decimal(pack.count),
        unit="pack",
        unit_cost=pack.unit_price,
        amount=pack.amount,
        trace=Trace("price.packs-bought", inputs, settled.revision),
    )


def _used_share(purchase: Purchase, settled: Settled) -> CostLine:
    shares = pack_shares(purchase, settled.catalogue)
    inputs = {
        "product": purchase.product,
        "packs": {
            one.pack: {
                "count": one.count,
                "unit_price": one.unit_price,
                "volume_share": shares[one.pack],
            }
            for one in purchase.packs
        },
        "needed": {
            part: max(needed - purchase.from_stock.get(part, 0.0), 0.0)
            for part, needed in purchase.needed.items()
        },
        "bought": purchase.bought,
    }
    return CostLine(
        group="materials",
        item=purchase.product,
        description=f"{purchase.name}, used share",
        quantity=_ONE,
        unit="share",
        unit_cost=_each(purchase.used_share),
        amount=purchase.used_share,
        trace=Trace("price.used-share", inputs, settled.revision),
    )


def _beside_goods(order: SupplierOrder, settled: Settled) -> list[CostLine]:
    """Whole, whatever share of the packs is charged: the job brings about all of it."""
    charges = (
        ("freight", order.freight, f"Freight, {order.name}"),
        ("short of minimum order", order.short_of_minimum, f"Minimum order, {order.name}"),
    )
    return [
        CostLine(
            group="freight",
            item=order.supplier,
            description=description,
            quantity=_ONE,
            unit="order",
            unit_cost=_each(amount),
            amount=amount,
            trace=Trace(
                "price.line",
                {
                    "quantity": _ONE,
                    "unit_cost": _each(amount),
                    "found_by": order.trace.rule,
                    "charge": charge,
                },
                settled.revision,
            ),
        )
        for charge, amount, description in charges
        if amount.amount
    ]


def _consumable(line: ConsumableLine) -> CostLine:
    what = ("consumables", line.id, line.name)
    return _at_rate(what, Decimal(line.count), line.unit, line.unit_price, line)


def _materials_tax(rule: TaxRule, base: Decimal, settled: Settled) -> CostLine:
    amount = settled.share(base, rule.rate_percent)
    inputs = {"materials": settled.money(base), "rate_percent": rule.rate_percent}
    return CostLine(
        group="tax on materials",
        item=rule.id,
        description=rule.name,
        quantity=_ONE,
        unit="job",
        unit_cost=_each(amount),
        amount=amount,
        trace=Trace("price.materials-tax", inputs, settled.revision),
    )


def _worker(worker: LabourCost) -> CostLine:
    what = ("labour", worker.labour_class, worker.name)
    return _at_rate(what, paid_hours(worker.paid), "h", worker.rate_per_hour, worker)


def _machine(machine: EquipmentCost) -> CostLine:
    what = ("equipment", machine.equipment, machine.name)
    return _at_rate(what, Decimal(machine.days), "day", machine.day_rate, machine)


def _at_rate(
    what: tuple[str, str, str],
    quantity: Decimal,
    unit: str,
    each: UnitPrice,
    costed: ConsumableLine | LabourCost | EquipmentCost,
) -> CostLine:
    """`what` is the line's group, item and description; its amount was rounded where it was made."""
    group, item, description = what
    return CostLine(
        group=group,
        item=item,
        description=description,
        quantity=quantity,
        unit=unit,
        unit_cost=each,
        amount=costed.amount,
        trace=_line_trace(quantity, each, costed.trace),
    )


def _travel(work: CrewCosts) -> CostLine:
    each = _each(work.travel)
    return CostLine(
        group="travel",
        item="mobilisation",
        description="Mobilisation and travel",
        quantity=_ONE,
        unit="job",
        unit_cost=each,
        amount=work.travel,
        trace=_line_trace(_ONE, each, work.traces["travel"]),
    )
