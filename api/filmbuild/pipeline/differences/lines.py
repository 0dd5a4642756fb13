"""The cost lines of two estimates, side by side."""

from collections import Counter
from collections.abc import Iterator, Mapping

from filmbuild.pipeline.differences.parts import split, subtracted, whole
from filmbuild.pipeline.differences.percents import exact
from filmbuild.pipeline.differences.records import (
    Cause,
    CausedAmount,
    LineDifference,
    LineSide,
)
from filmbuild.pipeline.results import CostLine, EstimateDocument
from filmbuild.pipeline.trace import Trace

Key = tuple[str, str, str, int]
_BY_THE_RATE_BOOK = frozenset(("labour", "equipment", "travel"))
_OF_THE_RULE = ("driver", "quantity", "per_area_of", "waste_fraction", "sold_in", "minimum")
"""Inputs of a consumable's trace that are the rule's own, and not the job's."""


def line_differences(was: EstimateDocument, now: EstimateDocument) -> Iterator[LineDifference]:
    """In the order of the new estimate, and those that it no longer has after them."""
    before, after = _keyed(was.price.lines), _keyed(now.price.lines)
    rules = _rules(was), _rules(now)
    for key in dict.fromkeys((*after, *before)):
        old, new = before.get(key), after.get(key)
        if _side(old) != _side(new):
            changed = rules[0].get(key[1]) != rules[1].get(key[1])
            yield _difference(old, new, changed)


def _keyed(lines: tuple[CostLine, ...]) -> dict[Key, CostLine]:
    """By group and item; a supplier may have two charges, and items of one name are told by turn."""
    turns: Counter[tuple[str, str, str]] = Counter()
    found: dict[Key, CostLine] = {}
    for line in lines:
        name = line.group, line.item, str(line.trace.inputs.get("charge", ""))
        found[*name, turns[name]] = line
        turns[name] += 1
    return found


def _rules(document: EstimateDocument) -> Mapping[str, tuple[str, ...]]:
    """What each consumable's rule says, by the consumable."""
    lines = (*document.materials.consumables, *document.schedule.consumables)
    return {one.id: _said(one.trace) for one in lines}


def _said(trace: Trace) -> tuple[str, ...]:
    inputs = trace.inputs
    return trace.rule, *(f"{name} {inputs.get(name)}" for name in _OF_THE_RULE)


def _side(line: CostLine | None) -> LineSide | None:
    if line is None:
        return None
    return LineSide(
        quantity=line.quantity, unit=line.unit, unit_cost=line.unit_cost, amount=line.amount
    )


def _difference(was: CostLine | None, now: CostLine | None, changed_rule: bool) -> LineDifference:
    shown = now or was
    if shown is None:
        raise ValueError("a line that neither estimate has does not differ")
    amount = subtracted(now.amount if now else None, was.amount if was else None)
    if was is None or now is None:
        parts = whole(amount, "rule" if shown.group == "tax on materials" else "quantity")
    elif _found_otherwise(was, now):
        parts = whole(amount, "rule")
    else:
        parts = _parts(was, now, changed_rule)
    return LineDifference(
        group=shown.group,
        item=shown.item,
        description=shown.description,
        was=_side(was),
        now=_side(now),
        amount=amount,
        parts=parts,
    )


def _found_otherwise(was: CostLine, now: CostLine) -> bool:
    rules = [(one.unit, one.trace.rule, one.trace.inputs.get("found_by")) for one in (was, now)]
    return rules[0] != rules[1]


def _parts(was: CostLine, now: CostLine, changed_rule: bool) -> tuple[CausedAmount, ...]:
    amount = subtracted(now.amount, was.amount)
    if now.group == "tax on materials":
        return _of_tax_on_materials(was, now)
    more = now.quantity - was.quantity
    of_quantity: Cause = "rule" if changed_rule and now.group == "consumables" else "quantity"
    of_price: Cause = "rate" if now.group in _BY_THE_RATE_BOOK else "price"
    return split(
        amount,
        (of_quantity, more * was.unit_cost.amount if more else None),
        (of_price, was.unit_cost.amount != now.unit_cost.amount),
    )


def _of_tax_on_materials(was: CostLine, now: CostLine) -> tuple[CausedAmount, ...]:
    amount = subtracted(now.amount, was.amount)
    old_rate, new_rate = (exact(one.trace.inputs.get("rate_percent")) for one in (was, now))
    old_base, new_base = (exact(one.trace.inputs.get("materials")) for one in (was, now))
    if old_rate is None or old_base is None or new_base is None:
        return whole(amount, "base")
    moved = (new_base - old_base) * old_rate / 100
    return split(amount, ("base", moved or None), ("rule", old_rate != new_rate))
