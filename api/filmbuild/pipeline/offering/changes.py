"""A change order: what an offer that was accepted is changed by."""

from collections.abc import Iterator
from decimal import Decimal

import msgspec

from filmbuild.errors import Faults
from filmbuild.money import rounded
from filmbuild.pipeline.offering.payments import Occasions, parts_of, staged
from filmbuild.pipeline.offering.taxes import net_of, total_of
from filmbuild.pipeline.offering.terms import PaymentPlan
from filmbuild.pipeline.results import Offer, OfferLine, OfferTax

_ONE = Decimal(1)


def change_between(accepted: Offer, now: Offer, payments: PaymentPlan = ()) -> Offer:
    """Lines of what is different, and the differences of each tax, so that accepted + change = now.

    Lines are told apart by id and by the taxes they fall under. A tax may be one minor unit off
    that on its own base, as both sides were rounded. `payments` are of the change alone, and know
    no visits. Raises InvalidInput where the two are in different currencies.
    """
    faults = Faults()
    if accepted.currency != now.currency:
        detail = f"what was accepted is in {accepted.currency}: a change is in the same currency"
        faults.add("other-currency", detail, "currency")
    faults.raise_if_any()
    lines = tuple(_lines(accepted, now))
    net = net_of(lines, now.currency)
    taxes = tuple(_taxes(accepted, now))
    change = Offer(
        currency=now.currency,
        lines=lines,
        net=net,
        taxes=taxes,
        total=total_of(net, taxes),
        per_square_metre=None,
        per_square_foot=None,
        per_running_metre=None,
        per_running_foot=None,
    )
    parts = parts_of(payments, Occasions((), None), Faults().at("payments"))
    return staged(change, parts)


def _lines(accepted: Offer, now: Offer) -> Iterator[OfferLine]:
    before = {(line.id, line.taxes): line for line in accepted.lines}
    after = {(line.id, line.taxes): line for line in now.lines}
    for key in dict.fromkeys([*after, *before]):
        then, line = before.get(key), after.get(key)
        difference = _amount(line) - _amount(then)
        told = line or then
        if difference and told is not None:
            yield OfferLine(
                id=f"change:{told.id}",
                kind="change",
                description=told.description,
                quantity=_ONE,
                unit="LS",
                net=rounded(difference, told.net.currency),
                areas=told.areas,
                taxes=told.taxes,
            )


def _amount(line: OfferLine | None) -> Decimal:
    return Decimal(0) if line is None else line.net.amount


def _taxes(accepted: Offer, now: Offer) -> Iterator[OfferTax]:
    """A rule at another rate, or of another category, is another tax."""
    before = {(one.rule, one.category, one.rate_percent): one for one in accepted.taxes}
    after = {(one.rule, one.category, one.rate_percent): one for one in now.taxes}
    for key, told in {**before, **after}.items():
        then, tax = (_sums(side.get(key)) for side in (before, after))
        currency = told.base.currency
        yield msgspec.structs.replace(
            told,
            base=rounded(tax[0] - then[0], currency),
            amount=rounded(tax[1] - then[1], currency),
        )


def _sums(tax: OfferTax | None) -> tuple[Decimal, Decimal]:
    """Of its base and its amount."""
    if tax is None:
        return Decimal(0), Decimal(0)
    return tax.base.amount, tax.amount.amount
