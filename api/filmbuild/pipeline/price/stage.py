"""The price stage: cost lines added up, and an offer made of the cost."""

from collections.abc import Sequence
from decimal import Decimal

from filmbuild.errors import Faults
from filmbuild.money import Money
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.price.lines import cost_lines
from filmbuild.pipeline.price.offer import markup_and_margin, net_price, sale_taxes
from filmbuild.pipeline.price.terms import Settled, settle
from filmbuild.pipeline.results import CostLine, CrewCosts, Materials, Price, Takeoff
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Area

_SQUARE_FEET_PER_SQUARE_METRE = 1 / 0.3048**2


def price_job(
    takeoff: Takeoff,
    materials: Materials,
    work: CrewCosts,
    job: Job,
    catalogue: Catalogue,
    faults: Faults,
    notes: list[Note],
) -> Price:
    """Price the job; `faults` is rooted at the job, `work` is that of the dates. Raises InvalidInput.

    Direct cost is the sum of the rounded lines. Contingency, overhead, markup or margin and tax are
    each rounded once, half up, to the currency's minor unit (ISO 4217).
    """
    settled = settle(job, catalogue, faults, notes)
    lines = cost_lines(materials, work, settled)
    direct = sum((line.amount.amount for line in lines), Decimal(0))
    contingency = settled.share(direct, settled.terms.contingency_percent).amount
    overhead = settled.share(direct + contingency, settled.terms.overhead_percent).amount
    cost = settled.money(direct + contingency + overhead)
    net, net_trace = net_price(cost, settled)
    taxes = sale_taxes(net, settled)
    all_taxes = sum((tax.amount.amount for tax in taxes), Decimal(0))
    markup, margin = markup_and_margin(cost.amount, net.amount)
    per_square_metre = net.amount / Decimal(takeoff.totals.floor)
    money = settled.money
    found = {
        "direct_cost": money(direct),
        "contingency": money(contingency),
        "overhead": money(overhead),
        "cost": cost,
        "net": net,
    }
    return Price(
        currency=settled.currency,
        lines=tuple(lines),
        **found,
        markup_percent=markup,
        margin_percent=margin,
        taxes=taxes,
        total=money(net.amount + all_taxes),
        per_square_foot=money(per_square_metre / Decimal(_SQUARE_FEET_PER_SQUARE_METRE)),
        per_square_metre=money(per_square_metre),
        traces={
            "direct_cost": Trace("price.direct-cost", {"groups": _groups(lines, settled)}),
            **_cost_traces(found, settled),
            "net": net_trace,
            "total": Trace("price.total", {"net": net, "taxes": money(all_taxes)}),
            **_gain_and_area(cost, net, takeoff.totals.floor),
        },
    )


def _groups(lines: Sequence[CostLine], settled: Settled) -> dict[str, Money]:
    sums: dict[str, Decimal] = {}
    for line in lines:
        sums[line.group] = sums.get(line.group, Decimal(0)) + line.amount.amount
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


def _gain_and_area(cost: Money, net: Money, floor: Area) -> dict[str, Trace]:
    gain = Trace("price.gain", {"cost": cost, "net": net})
    per_area = Trace("price.per-area", {"net": net, "floor": floor})
    return {
        "markup_percent": gain,
        "margin_percent": gain,
        "per_square_foot": per_area,
        "per_square_metre": per_area,
    }
