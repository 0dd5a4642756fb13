"""What stands between the cost lines and the total: shares of cost, the gain, and taxes."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from filmbuild.money import Money, rounded
from filmbuild.pipeline.differences.parts import split, subtracted, whole
from filmbuild.pipeline.differences.percents import exact
from filmbuild.pipeline.differences.records import (
    CausedAmount,
    SumDifference,
    TermDifference,
    TermSide,
)
from filmbuild.pipeline.results import Adjustment, Price, TaxLine

Key = tuple[str, str | None, int]
SUMS = ("direct_cost", "cost", "net", "total")
_HUNDRED = Decimal(100)
_MARGIN = "price.margin"
_MINIMUM = "price.minimum-charge"


def term_differences(was: Price, now: Price) -> Iterator[TermDifference]:
    """With the lines they add up to the difference of the totals, whatever the terms are."""
    before, after = _terms(was), _terms(now)
    for key in dict.fromkeys((*after, *before)):
        old, new = before.get(key), after.get(key)
        if _told(old) != _told(new):
            amount = subtracted(new.amount if new else None, old.amount if old else None)
            yield TermDifference(
                term=key[0],
                item=key[1],
                was=old,
                now=new,
                amount=amount,
                parts=_parts(key[0], old, new, amount),
            )


def _told(side: TermSide | None) -> tuple[str, Decimal | None, Money] | None:
    """Without its base: nothing of a sum is nothing, whatever becomes of the sum."""
    return None if side is None else (side.rule, side.percent, side.amount)


def sum_differences(was: Price, now: Price) -> Iterator[SumDifference]:
    for name in SUMS:
        old: Money = getattr(was, name)
        new: Money = getattr(now, name)
        if old != new:
            yield SumDifference(name=name, was=old, now=new, amount=subtracted(new, old))


def _terms(price: Price) -> dict[Key, TermSide]:
    found: dict[Key, TermSide] = {
        ("contingency", None, 0): _share(price, "contingency", price.direct_cost),
        ("overhead", None, 0): _share(price, "overhead", _before_overhead(price)),
        ("gain", None, 0): _gain(price),
    }
    turns: Counter[tuple[str, str | None]] = Counter()
    for one in price.adjustments:
        name: tuple[str, str | None] = one.kind, one.reason
        found[*name, turns[name]] = _adjustment(one, price)
        turns[name] += 1
    for tax in price.taxes:
        name = "tax", tax.rule
        found[*name, turns[name]] = _tax(tax)
        turns[name] += 1
    return found


def _before_overhead(price: Price) -> Money:
    return rounded(price.direct_cost.amount + price.contingency.amount, price.cost.currency)


def _share(price: Price, name: str, base: Money) -> TermSide:
    trace = price.traces[name]
    amount: Money = getattr(price, name)
    percent = exact(trace.inputs.get("percent"))
    return TermSide(rule=trace.rule, base=base, percent=percent, amount=amount)


def _gain(price: Price) -> TermSide:
    """What the terms add to the cost; estimates of earlier versions give the net price alone."""
    by_terms = price.by_terms or price.net
    trace = price.traces["by_terms" if price.by_terms else "net"]
    name = "margin_percent" if trace.rule == _MARGIN else "markup_percent"
    percent = None if trace.rule == _MINIMUM else exact(trace.inputs.get(name))
    amount = subtracted(by_terms, price.cost)
    return TermSide(rule=trace.rule, base=price.cost, percent=percent, amount=amount)


def _adjustment(one: Adjustment, price: Price) -> TermSide:
    base = price.by_terms or price.net
    return TermSide(rule=one.trace.rule, base=base, percent=one.percent, amount=one.amount)


def _tax(tax: TaxLine) -> TermSide:
    return TermSide(
        rule=tax.trace.rule, base=tax.base, percent=Decimal(tax.rate_percent), amount=tax.amount
    )


def _parts(
    term: str, was: TermSide | None, now: TermSide | None, amount: Money
) -> tuple[CausedAmount, ...]:
    if was is None or now is None or was.rule != now.rule:
        return whole(amount, "rate" if term == "discount" else "rule")
    if term == "rounding":
        return whole(amount, "base")
    if term == "discount" and was.percent is None:
        return whole(amount, "rate")
    moved = now.base.amount - was.base.amount
    if was.rule == _MINIMUM:
        # what the minimum adds is what the price by the terms leaves below it
        rest = amount.amount + moved
        return split(amount, ("base", -moved if moved else None), ("rate", bool(rest)))
    factor = _factor(was)
    alone = None if not moved or factor is None else moved * factor
    if moved and factor is None:
        return whole(amount, "base")
    return split(
        amount, ("base", alone), ("rule" if term == "tax" else "rate", was.percent != now.percent)
    )


def _factor(side: TermSide) -> Decimal | None:
    """What the amount is of its base; a margin is a share of the price, not of the cost."""
    if side.percent is None:
        return None
    if side.rule == _MARGIN:
        return side.percent / (_HUNDRED - side.percent)
    return side.percent / _HUNDRED
