"""From cost to an offer: cost lines, overhead, markup or margin, and tax."""

from datetime import date
from decimal import Decimal

import msgspec

from filmbuild.errors import Faults
from filmbuild.money import Currency, Money, NonNegativeExact, UnitPrice, round_money, rounded
from filmbuild.pipeline.job import Job, Terms
from filmbuild.pipeline.results import (
    ConsumableLine,
    CostLine,
    EquipmentCost,
    Labour,
    LabourCost,
    Materials,
    Price,
    Purchase,
    Takeoff,
    TaxLine,
)
from filmbuild.pipeline.specification import Catalogue, TaxRule
from filmbuild.pipeline.trace import Note, Trace

_HUNDRED = Decimal(100)
_SECONDS_PER_HOUR = 3600.0
_SQUARE_FEET_PER_SQUARE_METRE = 1 / 0.3048**2


class _Terms(msgspec.Struct, frozen=True):
    """The job's terms, after what they leave open has been settled."""

    terms: Terms
    currency: Currency
    taxes: tuple[TaxRule, ...]
    revision: int

    def money(self, amount: Decimal) -> Money:
        return rounded(amount, self.currency)


def price_job(
    takeoff: Takeoff,
    materials: Materials,
    labour: Labour,
    job: Job,
    catalogue: Catalogue,
    faults: Faults,
    notes: list[Note],
) -> Price:
    """Price the job; `faults` is rooted at the job. Raises InvalidInput.

    Direct cost is the sum of the rounded lines. Contingency, overhead, markup or margin and tax are
    each rounded once, half up, to the currency's minor unit (ISO 4217).
    """
    settled = _settle(job, catalogue, faults, notes)
    lines = _cost_lines(materials, labour, settled)
    direct = sum((line.amount.amount for line in lines), Decimal(0))
    contingency = _share(direct, settled.terms.contingency_percent, settled)
    overhead = _share(direct + contingency, settled.terms.overhead_percent, settled)
    cost = direct + contingency + overhead
    net, net_trace = _net(cost, settled)
    taxes = _sale_taxes(net, settled)
    total = net + sum((tax.amount.amount for tax in taxes), Decimal(0))
    markup, margin = _markup_and_margin(cost, net)
    per_square_metre = net / Decimal(takeoff.totals.floor)
    money = settled.money
    return Price(
        currency=settled.currency,
        lines=tuple(lines),
        direct_cost=money(direct),
        contingency=money(contingency),
        overhead=money(overhead),
        cost=money(cost),
        markup_percent=markup,
        margin_percent=margin,
        net=money(net),
        taxes=taxes,
        total=money(total),
        per_square_foot=money(per_square_metre / Decimal(_SQUARE_FEET_PER_SQUARE_METRE)),
        per_square_metre=money(per_square_metre),
        traces=_traces(direct, contingency, cost, net_trace, takeoff, settled),
    )


def _settle(job: Job, catalogue: Catalogue, faults: Faults, notes: list[Note]) -> _Terms:
    terms = job.terms
    at = faults.at("terms")
    if terms.markup_percent is not None and terms.margin_percent is not None:
        at.add(
            "markup-and-margin",
            "give either a markup on cost or a margin on price, not both",
            "margin_percent",
        )
    if terms.margin_percent is not None and terms.margin_percent >= _HUNDRED:
        at.add(
            "margin-too-large", "a margin on price is below 100 per cent of it", "margin_percent"
        )
    taxes = _taxes_of_place(terms, catalogue, at)
    faults.raise_if_any()
    if terms.markup_percent is None and terms.margin_percent is None:
        notes.append(Note("no-profit-asked", "Neither markup nor margin was given: 0 % is taken."))
    if terms.tax_place is None:
        notes.append(Note("no-tax-place", "No tax place was given: the price is without tax."))
    return _Terms(terms, job.currency, taxes, catalogue.revision)


def _taxes_of_place(terms: Terms, catalogue: Catalogue, at: Faults) -> tuple[TaxRule, ...]:
    if terms.tax_place is None:
        return ()
    of_place = [rule for rule in catalogue.taxes if rule.place == terms.tax_place]
    if not of_place:
        places = ", ".join(sorted({rule.place for rule in catalogue.taxes})) or "none"
        at.add("unknown-tax-place", f"the catalogue has tax rules for: {places}", "tax_place")
        return ()
    in_force = tuple(rule for rule in of_place if _in_force(rule, catalogue.priced_on))
    if not in_force:
        at.add(
            "no-tax-rule",
            f"no tax rule of {terms.tax_place} is in force on {catalogue.priced_on}",
            "tax_place",
        )
    return in_force


def _in_force(rule: TaxRule, day: date) -> bool:
    return rule.effective_from <= day and (rule.effective_to is None or day <= rule.effective_to)


def _cost_lines(materials: Materials, labour: Labour, settled: _Terms) -> list[CostLine]:
    lines = [line for one in materials.purchases for line in _purchase(one, settled)]
    lines += [_consumable(one) for one in (*materials.consumables, *labour.consumables)]
    lines += _materials_tax(lines, settled)
    lines += [_worker(one) for one in labour.labour]
    lines += [_machine(one) for one in labour.equipment]
    if labour.travel.amount:
        lines.append(_travel(labour, settled))
    return lines


def _worker(worker: LabourCost) -> CostLine:
    return CostLine(
        group="labour",
        item=worker.labour_class,
        description=worker.name,
        quantity=Decimal(str(round(worker.paid / _SECONDS_PER_HOUR, 4))),
        unit="h",
        unit_cost=worker.rate_per_hour,
        amount=worker.amount,
        trace=worker.trace,
    )


def _machine(machine: EquipmentCost) -> CostLine:
    return CostLine(
        group="equipment",
        item=machine.equipment,
        description=machine.name,
        quantity=Decimal(machine.days),
        unit="day",
        unit_cost=machine.day_rate,
        amount=machine.amount,
        trace=machine.trace,
    )


def _each(amount: Money) -> UnitPrice:
    """The unit price of a line that is one of something."""
    return UnitPrice(NonNegativeExact(amount.amount), amount.currency)


def _travel(labour: Labour, settled: _Terms) -> CostLine:
    return CostLine(
        group="travel",
        item="mobilisation",
        description="Mobilisation and travel",
        quantity=Decimal(1),
        unit="visit",
        unit_cost=_each(labour.travel),
        amount=labour.travel,
        trace=Trace("labour.travel", {"rate_book": labour.rate_book}, settled.revision),
    )


def _purchase(purchase: Purchase, settled: _Terms) -> list[CostLine]:
    if settled.terms.materials == "used_share":
        rule = "price.used-share"
        inputs = {"purchase_cost": purchase.cost, "product": purchase.product}
        return [
            CostLine(
                group="materials",
                item=purchase.product,
                description=f"{purchase.name}, used share",
                quantity=Decimal(1),
                unit="share",
                unit_cost=_each(purchase.used_share),
                amount=purchase.used_share,
                trace=Trace(rule, inputs, settled.revision),
            )
        ]
    return [
        CostLine(
            group="materials",
            item=pack.pack,
            description=pack.name,
            quantity=Decimal(pack.count),
            unit="pack",
            unit_cost=pack.unit_price,
            amount=pack.amount,
            trace=Trace("price.packs-bought", {"product": purchase.product}, settled.revision),
        )
        for pack in purchase.packs
    ]


def _consumable(line: ConsumableLine) -> CostLine:
    return CostLine(
        group="consumables",
        item=line.id,
        description=line.name,
        quantity=Decimal(line.count),
        unit=line.unit,
        unit_cost=line.unit_price,
        amount=line.amount,
        trace=line.trace,
    )


def _materials_tax(lines: list[CostLine], settled: _Terms) -> list[CostLine]:
    base = sum((line.amount.amount for line in lines), Decimal(0))
    return [
        CostLine(
            group="tax on materials",
            item=rule.id,
            description=rule.name,
            quantity=Decimal(1),
            unit="job",
            unit_cost=_each(amount),
            amount=amount,
            trace=Trace(
                "price.materials-tax",
                {"materials": settled.money(base), "rate_percent": rule.rate_percent},
                settled.revision,
            ),
        )
        for rule in settled.taxes
        if rule.base == "materials_cost"
        for amount in (settled.money(base * rule.rate_percent / _HUNDRED),)
    ]


def _share(base: Decimal, percent: Decimal, settled: _Terms) -> Decimal:
    return round_money(base * percent / _HUNDRED, settled.currency)


def _net(cost: Decimal, settled: _Terms) -> tuple[Decimal, Trace]:
    terms = settled.terms
    if terms.margin_percent is not None:
        net = cost / (1 - terms.margin_percent / _HUNDRED)
        trace = Trace("price.margin", {"margin_percent": terms.margin_percent})
    else:
        markup = terms.markup_percent or Decimal(0)
        net = cost * (1 + markup / _HUNDRED)
        trace = Trace("price.markup", {"markup_percent": markup})
    net = round_money(net, settled.currency)
    minimum = terms.minimum_charge
    if minimum is not None and net < minimum:
        net = round_money(minimum, settled.currency)
        trace = Trace("price.minimum-charge", {"minimum_charge": minimum})
    return net, trace


def _sale_taxes(net: Decimal, settled: _Terms) -> tuple[TaxLine, ...]:
    """One line per rule: the net price is the one sum that each rule's category taxes."""
    return tuple(
        TaxLine(
            rule=rule.id,
            name=rule.name,
            category=rule.category,
            base=settled.money(net),
            rate_percent=rule.rate_percent,
            amount=settled.money(net * rule.rate_percent / _HUNDRED),
            trace=Trace("price.sale-tax", {"place": rule.place}, settled.revision),
        )
        for rule in settled.taxes
        if rule.base == "sale"
    )


def _markup_and_margin(cost: Decimal, net: Decimal) -> tuple[Decimal, Decimal]:
    """Both as achieved, in per cent to two places; a job that costs nothing has no markup."""
    gain = net - cost
    markup = gain / cost * _HUNDRED if cost else Decimal(0)
    margin = gain / net * _HUNDRED if net else Decimal(0)
    cent = Decimal("0.01")
    return markup.quantize(cent), margin.quantize(cent)


def _traces(
    direct: Decimal,
    contingency: Decimal,
    cost: Decimal,
    net_trace: Trace,
    takeoff: Takeoff,
    settled: _Terms,
) -> dict[str, Trace]:
    money = settled.money
    terms = settled.terms
    return {
        "contingency": Trace(
            "price.contingency",
            {"direct_cost": money(direct), "percent": terms.contingency_percent},
        ),
        "overhead": Trace(
            "price.overhead",
            {"base": money(direct + contingency), "percent": terms.overhead_percent},
        ),
        "net": Trace(net_trace.rule, {"cost": money(cost), **net_trace.inputs}),
        "per_square_metre": Trace("price.per-area", {"floor": takeoff.totals.floor}),
    }
