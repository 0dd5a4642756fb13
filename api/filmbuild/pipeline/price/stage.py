"""The price stage: cost lines added up, and an offer made of the cost."""

from collections.abc import Sequence
from decimal import Decimal

from filmbuild.errors import Faults
from filmbuild.money import Money
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.price.attribution import attributed, work_shares
from filmbuild.pipeline.price.lines import cost_lines, subcontract_lines
from filmbuild.pipeline.price.net import adjusted, markup_and_margin, price_by_terms
from filmbuild.pipeline.price.rates import unit_rates
from filmbuild.pipeline.price.taxes import sale_taxes
from filmbuild.pipeline.price.terms import WIDE, Settled, check_size, settle
from filmbuild.pipeline.results import (
    Adjustment,
    CostLine,
    CrewCosts,
    Materials,
    Price,
    Takeoff,
    Task,
)
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.trace import Note, Trace

_NOTHING = Decimal(0)
_TAXED_AS_MATERIALS = ("materials", "consumables")


def price_job(
    takeoff: Takeoff,
    materials: Materials,
    work: CrewCosts,
    job: Job,
    catalogue: Catalogue,
    faults: Faults,
    notes: list[Note],
    tasks: Sequence[Task] = (),
) -> Price:
    """Price the job; `faults` is rooted at the job, `work` is that of the dates. Raises InvalidInput.

    Direct cost is the sum of the rounded lines. Contingency, overhead, markup or margin, each
    discount and each tax are rounded once, half up, to the currency's minor unit (ISO 4217).
    `tasks` are all that people do, by which costs go to kinds of work.
    """
    settled = settle(job, catalogue, faults, notes)
    lines = [
        *cost_lines(materials, work, settled),
        *subcontract_lines(job.subcontracts, settled),
    ]
    direct = sum((line.amount.amount for line in lines), _NOTHING)
    check_size(direct, settled.currency, faults)
    money = settled.money
    contingency = settled.share(direct, settled.terms.contingency_percent)
    overhead = settled.share(direct + contingency.amount, settled.terms.overhead_percent)
    cost = money(direct + contingency.amount + overhead.amount)
    check_size(cost.amount, settled.currency, faults)
    by_terms, by_terms_trace = price_by_terms(cost, settled)
    changes = adjusted(by_terms, settled, faults.at("terms"))
    net = money(by_terms.amount + _sum(changes))
    of_materials = _of_materials(net, lines, money(direct), settled)
    taxes = sale_taxes(net, of_materials, settled.taxes, settled.terms.exemption, settled.revision)
    all_taxes = sum((tax.amount.amount for tax in taxes), _NOTHING)
    check_size(max(by_terms.amount, net.amount + all_taxes), settled.currency, faults)
    shares = work_shares(
        attributed(lines, materials, (*materials.consumables, *work.consumables), tasks),
        money(direct),
        by_terms,
        settled,
    )
    rates = unit_rates(net, shares, takeoff.totals, settled)
    markup, margin = markup_and_margin(cost.amount, net.amount)
    found = {
        "direct_cost": money(direct),
        "contingency": contingency,
        "overhead": overhead,
        "cost": cost,
    }
    gain = Trace("price.gain", {"cost": cost, "net": net})
    return Price(
        currency=settled.currency,
        lines=tuple(lines),
        direct_cost=found["direct_cost"],
        contingency=contingency,
        overhead=overhead,
        cost=cost,
        by_terms=by_terms,
        adjustments=changes,
        net=net,
        markup_percent=markup,
        margin_percent=margin,
        shares=shares,
        materials_net=of_materials,
        taxes=taxes,
        total=money(net.amount + all_taxes),
        per_square_metre=rates.per_square_metre,
        per_square_foot=rates.per_square_foot,
        per_running_metre=rates.per_running_metre,
        per_running_foot=rates.per_running_foot,
        running=rates.running,
        traces={
            "direct_cost": Trace("price.direct-cost", {"groups": _groups(lines, settled)}),
            **_cost_traces(found, settled),
            "by_terms": by_terms_trace,
            "net": _net_trace(by_terms, changes, settled),
            "markup_percent": gain,
            "margin_percent": gain,
            "materials_net": _materials_trace(net, lines, money(direct), settled),
            "total": Trace("price.total", {"net": net, "taxes": money(all_taxes)}),
            **rates.traces,
        },
    )


def _sum(changes: Sequence[Adjustment]) -> Decimal:
    return sum((one.amount.amount for one in changes), _NOTHING)


def _cost_of_materials(lines: Sequence[CostLine]) -> Decimal:
    amounts = (line.amount.amount for line in lines if line.group in _TAXED_AS_MATERIALS)
    return sum(amounts, _NOTHING)


def _of_materials(net: Money, lines: Sequence[CostLine], direct: Money, settled: Settled) -> Money:
    if not direct.amount:
        return settled.money(_NOTHING)
    share = WIDE.multiply(net.amount, _cost_of_materials(lines))
    return settled.money(WIDE.divide(share, direct.amount))


def _materials_trace(
    net: Money, lines: Sequence[CostLine], direct: Money, settled: Settled
) -> Trace:
    cost = settled.money(_cost_of_materials(lines))
    return Trace("price.materials-of-sale", {"net": net, "materials": cost, "direct_cost": direct})


def _groups(lines: Sequence[CostLine], settled: Settled) -> dict[str, Money]:
    sums: dict[str, Decimal] = {}
    for line in lines:
        sums[line.group] = sums.get(line.group, _NOTHING) + line.amount.amount
    return {group: settled.money(amount) for group, amount in sums.items()}


def _cost_traces(found: dict[str, Money], settled: Settled) -> dict[str, Trace]:
    terms = settled.terms
    direct, contingency = found["direct_cost"], found["contingency"]
    both = {"direct_cost": direct, "contingency": contingency}
    return {
        "contingency": Trace(
            "price.contingency", {"direct_cost": direct, "percent": terms.contingency_percent}
        ),
        "overhead": Trace("price.overhead", {**both, "percent": terms.overhead_percent}),
        "cost": Trace("price.cost", {**both, "overhead": found["overhead"]}),
    }


def _net_trace(by_terms: Money, changes: Sequence[Adjustment], settled: Settled) -> Trace:
    sums: dict[str, Decimal] = {}
    for one in changes:
        sums[one.kind] = sums.get(one.kind, _NOTHING) + one.amount.amount
    found = {kind: settled.money(amount) for kind, amount in sums.items()}
    return Trace("price.net", {"by_terms": by_terms, **found})
