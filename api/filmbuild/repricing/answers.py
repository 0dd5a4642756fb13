"""Repricings as they are answered."""

from decimal import Decimal

from filmbuild.money import Currency, Exact, Money
from filmbuild.repricing import wire
from filmbuild.repricing.records import Repricing, Sum
from filmbuild.repricing.store import Kept

HUNDREDTH = Decimal("0.01")


def answer(found: Repricing) -> wire.Repricing:
    tally = found.tally
    return wire.Repricing(
        id=found.id,
        created_at=found.created_at,
        actor=found.actor,
        note=found.note,
        catalogue_revision=found.catalogue_revision,
        priced_on=found.priced_on,
        minimum_margin_percent=found.minimum_margin_percent,
        state=found.state,
        ended_at=found.ended_at,
        problem=found.problem,
        estimates=found.estimates,
        done=tally.done,
        repriced=tally.repriced,
        unchanged=tally.unchanged,
        accepted=tally.accepted,
        refused=tally.refused,
        below_margin=tally.below_margin,
        changes=tuple(_change(Currency(one), sums) for one, sums in sorted(tally.sums.items())),
    )


def _change(currency: Currency, sums: Sum) -> wire.EstimatePriceChange:
    was, now = Decimal(sums.was), Decimal(sums.now)
    difference = now - was
    percent = Exact((difference / was * 100).quantize(HUNDREDTH)) if was else None
    return wire.EstimatePriceChange(
        currency=currency,
        estimates=sums.estimates,
        raised=sums.raised,
        lowered=sums.lowered,
        was=Money(Exact(was), currency),
        now=Money(Exact(now), currency),
        difference=Money(Exact(difference), currency),
        difference_percent=percent,
    )


def estimate_answer(kept: Kept) -> wire.RepricedEstimate:
    currency = kept.currency
    return wire.RepricedEstimate(
        sequence=kept.sequence,
        estimate=kept.estimate_id,
        outcome=kept.outcome,
        was=_priced(currency, kept.was_revision, kept.was_total, kept.was_margin_percent),
        now=_priced(currency, kept.now_revision, kept.now_total, kept.now_margin_percent),
        below_margin=kept.below_margin,
        problem=kept.problem,
        errors=kept.faults,
    )


def _priced(
    currency: str | None, revision: int | None, total: Exact | None, margin: Exact | None
) -> wire.Priced | None:
    if currency is None or revision is None or total is None or margin is None:
        return None
    return wire.Priced(
        revision=revision, total=Money(total, Currency(currency)), margin_percent=margin
    )
