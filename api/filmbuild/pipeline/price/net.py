"""From cost to net price: markup or margin, then discounts, the minimum charge and rounding."""

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from filmbuild.errors import Faults
from filmbuild.money import Exact, Money, exact_text
from filmbuild.pipeline.job import OfferRounding
from filmbuild.pipeline.price.terms import HUNDRED, WIDE, Settled
from filmbuild.pipeline.results import Adjustment
from filmbuild.pipeline.trace import Trace

_PERCENT_STEP = Decimal("0.01")
_ROUNDING = {"nearest": ROUND_HALF_UP, "up": ROUND_CEILING}
_NOTHING = Decimal(0)


def price_by_terms(cost: Money, settled: Settled) -> tuple[Money, Trace]:
    terms = settled.terms
    if terms.margin_percent is not None:
        net = settled.money(WIDE.divide(cost.amount, 1 - terms.margin_percent / HUNDRED))
        inputs: dict[str, object] = {"cost": cost, "margin_percent": terms.margin_percent}
        return net, Trace("price.margin", inputs)
    markup = terms.markup_percent or _NOTHING
    net = settled.money(WIDE.multiply(cost.amount, 1 + markup / HUNDRED))
    return net, Trace("price.markup", {"cost": cost, "markup_percent": markup})


def adjusted(by_terms: Money, settled: Settled, faults: Faults) -> tuple[Adjustment, ...]:
    """What lies between the price by the terms and the net price; `faults` is rooted at the terms.

    Discounts come first, so that no job is offered under the minimum charge, and rounding last.
    """
    found = _discounts(by_terms, settled)
    left = Decimal(by_terms.amount) + _sum(found)
    if left < 0:
        _refuse_discounts(by_terms, found, faults)
        return ()
    for adjustment in (_minimum, _rounding):
        one = adjustment(settled.money(left), settled, faults)
        if one is not None:
            found.append(one)
            left += one.amount.amount
    return tuple(found)


def _sum(adjustments: Sequence[Adjustment]) -> Decimal:
    return sum((one.amount.amount for one in adjustments), _NOTHING)


def _discounts(by_terms: Money, settled: Settled) -> list[Adjustment]:
    return [
        Adjustment(
            kind="discount",
            reason=one.reason,
            percent=one.percent,
            amount=settled.money(-_taken_off(by_terms, one.percent, one.amount, settled)),
            trace=Trace(
                "price.discount",
                {"stated": settled.money(one.amount)}
                if one.amount is not None
                else {"by_terms": by_terms, "percent": one.percent},
            ),
        )
        for one in settled.terms.discounts
    ]


def _taken_off(
    by_terms: Money, percent: Decimal | None, amount: Decimal | None, settled: Settled
) -> Decimal:
    if amount is not None:
        return amount
    return settled.share(by_terms.amount, percent or _NOTHING).amount


def _refuse_discounts(by_terms: Money, found: Sequence[Adjustment], faults: Faults) -> None:
    """At the first discount that takes off more than the others before it left."""
    left = Decimal(by_terms.amount)
    for index, one in enumerate(found):
        left += one.amount.amount
        if left < 0:
            detail = (
                f"with this, {exact_text(-_sum(found))} {by_terms.currency} would be taken off a "
                f"price of {exact_text(by_terms.amount)}: discounts are at most the price"
            )
            faults.add("discount-beyond-price", detail, "discounts", index)
            return


def _minimum(price: Money, settled: Settled, _faults: Faults) -> Adjustment | None:
    minimum = settled.terms.minimum_charge
    if minimum is None or price.amount >= minimum:
        return None
    return Adjustment(
        kind="minimum",
        reason=None,
        percent=None,
        amount=settled.money(settled.money(minimum).amount - price.amount),
        trace=Trace("price.minimum-charge", {"price": price, "minimum_charge": minimum}),
    )


def _rounding(price: Money, settled: Settled, faults: Faults) -> Adjustment | None:
    rounding = settled.terms.rounding
    if rounding is None:
        return None
    least = settled.terms.minimum_charge or _NOTHING
    steps = _steps(price.amount, rounding, rounding.mode)
    if steps * rounding.step < least:
        steps = _steps(price.amount, rounding, "up")
    if price.amount and not steps:
        detail = (
            f"a price of {exact_text(price.amount)} would be rounded to nothing: give a step of at "
            f"most twice the price, or round up"
        )
        faults.add("rounded-to-nothing", detail, "rounding", "step")
        return None
    amount = settled.money(WIDE.multiply(steps, rounding.step) - price.amount)
    if not amount.amount:
        return None
    inputs: dict[str, object] = {
        "price": price,
        "step": Exact(rounding.step),
        "mode": rounding.mode,
    }
    if least:
        inputs["minimum_charge"] = least
    return Adjustment(
        kind="rounding",
        reason=None,
        percent=None,
        amount=amount,
        trace=Trace("price.rounding", inputs),
    )


def _steps(amount: Decimal, rounding: OfferRounding, mode: str) -> Decimal:
    exact = WIDE.divide(amount, rounding.step)
    return exact.quantize(Decimal(1), _ROUNDING[mode], context=WIDE)


def markup_and_margin(cost: Decimal, net: Decimal) -> tuple[Decimal, Decimal]:
    """Both as achieved, in per cent to two places; a job that costs nothing has no markup."""
    gain = net - cost
    markup = WIDE.divide(gain, cost) * HUNDRED if cost else _NOTHING
    margin = WIDE.divide(gain, net) * HUNDRED if net else _NOTHING
    return _to_two_places(markup), _to_two_places(margin)


def _to_two_places(percent: Decimal) -> Decimal:
    return percent.quantize(_PERCENT_STEP, ROUND_HALF_UP, context=WIDE)
