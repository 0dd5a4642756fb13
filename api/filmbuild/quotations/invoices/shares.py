"""What each stage of payment bills, so that all of them bill the offer to the last minor unit.

Each set of lines that fall under the same taxes is shared out on its own, as the plan of payments
does: what a stage bills is the difference of the sums asked for before it and with it, each rounded
once, and the largest set takes what would differ from the stage's net. The taxes of a stage are
those of the plan. So every set, every tax and the total add up to the offer's, it does not matter
in which order stages are invoiced, and one that is never invoiced leaves only its own sums open.
"""

from collections.abc import Sequence
from decimal import Decimal
from itertools import accumulate

import msgspec

from filmbuild.money import Exact, round_money
from filmbuild.pipeline.results.offer import Offer, OfferTax, PaymentStage
from filmbuild.pipeline.unit_codes import LUMP_SUM

WHOLE = "whole"


class BilledLine(msgspec.Struct, frozen=True, kw_only=True):
    """A line of the offer, or a stage's share of those lines that fall under the same `taxes`."""

    stage: str
    description: str
    quantity: Decimal
    unit: str
    net: Exact
    taxes: tuple[str, ...]


TaxKey = tuple[str, str, Decimal]
"""Rule, category and rate: a rule whose rate has changed is another tax."""


def key_of(tax: OfferTax) -> TaxKey:
    return tax.rule, tax.category, tax.rate_percent


class BilledTax(msgspec.Struct, frozen=True, kw_only=True):
    base: Decimal
    amount: Decimal


class Billed(msgspec.Struct, frozen=True, kw_only=True):
    """Lines, and the taxes on them."""

    lines: tuple[BilledLine, ...]
    taxes: dict[TaxKey, BilledTax]


def stages_of(offer: Offer, label: str) -> tuple[PaymentStage, ...]:
    """The plan of payments; one stage with the `label` where there is none."""
    if offer.payments:
        return offer.payments
    whole = PaymentStage(
        id=WHOLE,
        label=label,
        occasion="on_completion",
        visit=None,
        share_percent=Decimal(100),
        expected_on=None,
        due_days=0,
        net=offer.net,
        taxes=offer.taxes,
        total=offer.total,
    )
    return (whole,)


def billed(offer: Offer, stages: Sequence[PaymentStage], chosen: Sequence[int]) -> Billed:
    """Where all stages are billed at once, the lines are those of the offer."""
    taxes = _taxes([stages[place] for place in chosen])
    if len(chosen) == len(stages):
        return Billed(lines=_whole_lines(offer, stages[0].id), taxes=taxes)
    shares = _shares(offer, stages)
    lines = [
        _share_line(stages[place], names, net)
        for place in chosen
        for names, net in shares[place].items()
        if net or any(one.rule in names and one.amount.amount for one in stages[place].taxes)
    ]
    if not lines:
        lines = [
            _share_line(stages[place], next(iter(shares[place])), Exact(0)) for place in chosen
        ]
    return Billed(lines=tuple(lines), taxes=taxes)


def _taxes(stages: Sequence[PaymentStage]) -> dict[TaxKey, BilledTax]:
    found: dict[TaxKey, BilledTax] = {}
    for tax in (tax for stage in stages for tax in stage.taxes):
        before = found.get(key_of(tax), BilledTax(base=Decimal(0), amount=Decimal(0)))
        found[key_of(tax)] = BilledTax(
            base=before.base + tax.base.amount, amount=before.amount + tax.amount.amount
        )
    return found


def due_days(stages: Sequence[PaymentStage], chosen: Sequence[int]) -> int:
    return min(stages[place].due_days for place in chosen)


def _whole_lines(offer: Offer, stage: str) -> tuple[BilledLine, ...]:
    return tuple(
        BilledLine(
            stage=stage,
            description=line.description,
            quantity=line.quantity,
            unit=line.unit,
            net=line.net.amount,
            taxes=line.taxes,
        )
        for line in offer.lines
    )


def _share_line(stage: PaymentStage, taxes: tuple[str, ...], net: Exact) -> BilledLine:
    return BilledLine(
        stage=stage.id,
        description=stage.label,
        quantity=Decimal(-1 if net < 0 else 1),
        unit=LUMP_SUM,
        net=net,
        taxes=taxes,
    )


def _shares(
    offer: Offer, stages: Sequence[PaymentStage]
) -> tuple[dict[tuple[str, ...], Exact], ...]:
    """By stage and set of taxes, the net to be billed."""
    sets: dict[tuple[str, ...], Decimal] = {}
    for line in offer.lines:
        sets[line.taxes] = sets.get(line.taxes, Decimal(0)) + line.net.amount
    largest = max(sets, key=lambda names: abs(sets[names]))
    shares = list(accumulate(stage.share_percent for stage in stages))
    asked = accumulate(stage.net.amount for stage in stages)
    before = dict.fromkeys(sets, Exact(0))
    found = []
    for share, net in zip(shares, asked, strict=True):
        now = {
            names: round_money(whole * share / shares[-1], offer.currency)
            for names, whole in sets.items()
        }
        now[largest] = Exact(now[largest] + net - sum(now.values()))
        found.append({names: Exact(now[names] - before[names]) for names in sets})
        before = now
    return tuple(found)
