"""A difference of two products, cut into the part of each factor.

The quantity's part is taken at the old price and the price's at the new quantity, as usual for the
variances of a standard cost (common practice, no source). The second part is what is left, so that
the parts add up to the minor unit whatever was rounded on the way.
"""

from decimal import Decimal

from filmbuild.money import Currency, Money, rounded
from filmbuild.pipeline.differences.records import Cause, CausedAmount


def split(
    difference: Money, first: tuple[Cause, Decimal | None], second: tuple[Cause, bool]
) -> tuple[CausedAmount, ...]:
    """Two causes in turn; what neither explains is by another rule.

    `first` has what it alone would have moved, None where it did not change; `second` whether it
    changed.
    """
    cause, alone = first
    other, changed = second
    if alone is None:
        return _parts(difference.currency, (other if changed else "rule", difference.amount))
    if not changed:
        return _parts(difference.currency, (cause, difference.amount))
    part = rounded(alone, difference.currency).amount
    return _parts(difference.currency, (cause, part), (other, difference.amount - part))


def whole(difference: Money, cause: Cause) -> tuple[CausedAmount, ...]:
    return _parts(difference.currency, (cause, difference.amount))


def subtracted(now: Money | None, was: Money | None) -> Money:
    """One of the two is there."""
    there = now or was
    if there is None:
        raise ValueError("nothing cannot be subtracted from nothing")
    amount = (now.amount if now else Decimal(0)) - (was.amount if was else Decimal(0))
    return rounded(amount, there.currency)


def _parts(currency: Currency, *found: tuple[Cause, Decimal]) -> tuple[CausedAmount, ...]:
    return tuple(
        CausedAmount(cause=cause, amount=rounded(amount, currency))
        for cause, amount in found
        if amount
    )
