"""From cost to net price and tax: markup or margin, never under the minimum charge."""

from decimal import ROUND_HALF_UP, Decimal

from filmbuild.money import Money
from filmbuild.pipeline.price.terms import HUNDRED, Settled
from filmbuild.pipeline.results import TaxLine
from filmbuild.pipeline.trace import Trace

_PERCENT_STEP = Decimal("0.01")


def net_price(cost: Money, settled: Settled) -> tuple[Money, Trace]:
    terms = settled.terms
    if terms.margin_percent is not None:
        net = settled.money(cost.amount / (1 - terms.margin_percent / HUNDRED))
        inputs: dict[str, object] = {"cost": cost, "margin_percent": terms.margin_percent}
        rule = "price.margin"
    else:
        markup = terms.markup_percent or Decimal(0)
        net = settled.money(cost.amount * (1 + markup / HUNDRED))
        inputs = {"cost": cost, "markup_percent": markup}
        rule = "price.markup"
    minimum = terms.minimum_charge
    if minimum is not None and net.amount < minimum:
        inputs = {"net_by_terms": net, "found_by": rule, **inputs, "minimum_charge": minimum}
        return settled.money(minimum), Trace("price.minimum-charge", inputs)
    return net, Trace(rule, inputs)


def sale_taxes(net: Money, settled: Settled) -> tuple[TaxLine, ...]:
    """One line per rule: the net price is the one sum that each rule's category taxes."""
    return tuple(
        TaxLine(
            rule=rule.id,
            name=rule.name,
            category=rule.category,
            base=net,
            rate_percent=rule.rate_percent,
            amount=settled.share(net.amount, rule.rate_percent),
            trace=Trace(
                "price.sale-tax",
                {"base": net, "rate_percent": rule.rate_percent, "place": rule.place},
                settled.revision,
            ),
        )
        for rule in settled.taxes
        if rule.base == "sale"
    )


def markup_and_margin(cost: Decimal, net: Decimal) -> tuple[Decimal, Decimal]:
    """Both as achieved, in per cent to two places; a job that costs nothing has no markup."""
    gain = net - cost
    markup = gain / cost * HUNDRED if cost else Decimal(0)
    margin = gain / net * HUNDRED if net else Decimal(0)
    return _to_two_places(markup), _to_two_places(margin)


def _to_two_places(percent: Decimal) -> Decimal:
    return percent.quantize(_PERCENT_STEP, ROUND_HALF_UP)
