"""The parts in which an offer is paid: they add up to its net, to each tax and to its total."""

from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from itertools import accumulate, pairwise

import msgspec

from filmbuild.errors import Faults
from filmbuild.money import Money, rounded
from filmbuild.pipeline.offering.taxes import net_of, taxed, total_of
from filmbuild.pipeline.offering.terms import PaymentTerm
from filmbuild.pipeline.results import Offer, OfferLine, OfferTax, PaymentStage, Schedule
from filmbuild.pipeline.results.offer import PaymentOccasion

_HUNDRED = Decimal(100)
_PERCENT_STEP = Decimal("0.000001")
_ORDER: tuple[PaymentOccasion, ...] = ("on_acceptance", "per_visit", "on_completion", "retention")


class Occasions(msgspec.Struct, frozen=True):
    """When the work of a job falls; `visits` are the last days of each."""

    visits: tuple[date, ...]
    completed: date | None

    @classmethod
    def of(cls, schedule: Schedule) -> "Occasions":
        last: dict[int, date] = {}
        for day in schedule.days:
            last[day.visit] = max(day.date, last.get(day.visit, day.date))
        return cls(tuple(last[visit] for visit in sorted(last)), schedule.last_day)


class Part(msgspec.Struct, frozen=True):
    """A stage before it has a sum."""

    id: str
    label: str
    occasion: PaymentOccasion
    visit: int | None
    share_percent: Decimal
    expected_on: date | None
    due_days: int


def parts_of(plan: Sequence[PaymentTerm], occasions: Occasions, faults: Faults) -> tuple[Part, ...]:
    """The stages of a plan, in the order of their occasions; `faults` is rooted at the plan."""
    check_plan(plan, faults)
    if any(one.occasion == "per_visit" for one in plan) and not occasions.visits:
        for index, one in enumerate(plan):
            if one.occasion == "per_visit":
                detail = "the visits are not known here: use another occasion"
                faults.add("visits-unknown", detail, index, "occasion")
    faults.raise_if_any()
    rest = _HUNDRED - sum((one.percent for one in plan if one.percent is not None), Decimal(0))
    found: list[Part] = []
    for one in sorted(plan, key=lambda term: _ORDER.index(term.occasion)):
        found += _parts(one, rest if one.percent is None else one.percent, occasions)
    return tuple(found)


def _parts(term: PaymentTerm, percent: Decimal, occasions: Occasions) -> Iterable[Part]:
    if term.occasion != "per_visit":
        expected = None if term.occasion == "on_acceptance" else occasions.completed
        yield Part(
            term.id, term.label, term.occasion, None, Decimal(percent), expected, term.due_days
        )
        return
    count = len(occasions.visits)
    shares = _equal(percent, count)
    for number, (day, share) in enumerate(zip(occasions.visits, shares, strict=True), start=1):
        name = term.id if count == 1 else f"{term.id}-{number}"
        yield Part(name, term.label, term.occasion, number, share, day, term.due_days)


def _equal(percent: Decimal, count: int) -> list[Decimal]:
    """Shares to six decimals that add up to the whole."""
    ends = [(percent * number / count).quantize(_PERCENT_STEP) for number in range(count + 1)]
    return [after - before for before, after in pairwise(ends)]


def check_plan(plan: Sequence[PaymentTerm], faults: Faults) -> None:
    """Whether its parts come to the whole; `faults` is rooted at the plan."""
    so_far, open_ended = Decimal(0), False
    seen: set[str] = set()
    for index, one in enumerate(plan):
        here = faults.at(index)
        if one.id in seen:
            here.add("duplicate-id", "another payment has this id: give each its own", "id")
        seen.add(one.id)
        if one.percent is None:
            if open_ended:
                here.add("second-rest", "only one payment can be what is left", "percent")
            open_ended = True
            continue
        before, so_far = so_far, so_far + one.percent
        if before <= _HUNDRED < so_far:
            here.add("beyond-whole", f"payments would come to {so_far} per cent", "percent")
    if not plan or so_far > _HUNDRED:
        return
    if open_ended and so_far == _HUNDRED:
        faults.add("nothing-left", "the other payments come to 100 per cent: nothing is left")
    if not open_ended and so_far != _HUNDRED:
        detail = (
            f"payments come to {so_far} per cent: give 100 in all, or one without a percentage, "
            "for what is left"
        )
        faults.add("short-of-whole", detail)


def parts_again(stages: Iterable[PaymentStage]) -> tuple[Part, ...]:
    """The plan that an offer is already paid by."""
    return tuple(
        Part(
            one.id,
            one.label,
            one.occasion,
            one.visit,
            one.share_percent,
            one.expected_on,
            one.due_days,
        )
        for one in stages
    )


def staged(offer: Offer, parts: Sequence[Part]) -> Offer:
    """The offer with its payments: differences of what is asked for so far, rounded each time.

    Sums of lines that fall under the same rules are shared out each on their own, so that the net
    of a stage is the sum of what its taxes are taken on.
    """
    if not parts:
        return msgspec.structs.replace(offer, payments=())
    shares = list(accumulate(one.share_percent for one in parts))
    before = _so_far(offer, Decimal(0), shares[-1])
    stages = []
    for part, share in zip(parts, shares, strict=True):
        after = _so_far(offer, share, shares[-1])
        stages.append(_stage(part, before, after))
        before = after
    return msgspec.structs.replace(offer, payments=tuple(stages))


class _SoFar(msgspec.Struct, frozen=True):
    net: Money
    taxes: tuple[OfferTax, ...]


def _so_far(offer: Offer, share: Decimal, whole: Decimal) -> _SoFar:
    """All that is asked for up to a share of the whole."""
    if share == whole:
        return _SoFar(offer.net, offer.taxes)
    sums: dict[tuple[str, ...], Decimal] = {}
    for line in offer.lines:
        sums[line.taxes] = sums.get(line.taxes, Decimal(0)) + line.net.amount
    currency = offer.net.currency
    lines = [
        OfferLine(
            id="",
            kind="work",
            description="",
            quantity=Decimal(1),
            unit="LS",
            net=rounded(amount * share / whole, currency),
            taxes=rules,
        )
        for rules, amount in sums.items()
    ]
    return _SoFar(net_of(lines, currency), taxed(offer.taxes, lines))


def _stage(part: Part, before: _SoFar, after: _SoFar) -> PaymentStage:
    currency = after.net.currency
    net = rounded(after.net.amount - before.net.amount, currency)
    taxes = tuple(
        msgspec.structs.replace(
            now,
            base=rounded(now.base.amount - then.base.amount, currency),
            amount=rounded(now.amount.amount - then.amount.amount, currency),
        )
        for then, now in zip(before.taxes, after.taxes, strict=True)
    )
    return PaymentStage(
        id=part.id,
        label=part.label,
        occasion=part.occasion,
        visit=part.visit,
        share_percent=part.share_percent,
        expected_on=part.expected_on,
        due_days=part.due_days,
        net=net,
        taxes=taxes,
        total=total_of(net, taxes),
    )
