"""The arithmetic of an allowance: a bucket that refills at an even rate and holds a burst (GCRA).

A bucket is one number: the time at which it will be full again. One that nothing is known of is full.
"""

from collections.abc import Sequence
from math import ceil
from typing import Protocol

import msgspec

from filmbuild.settings import Allowance

_ROUNDING = 1e-6
"""What sums of times may be off by [s]."""


class StoreFailed(Exception):  # noqa: N818 - what happened, not a kind of error
    """Where buckets are kept does not answer."""


class Charge(msgspec.Struct, frozen=True, kw_only=True):
    """`cost` to be taken from the bucket `name`; one that is `forced` is taken as far as there is any.

    `owner` is whose bucket it is: those that are charged together have one owner.
    """

    owner: str
    name: str
    policy: str
    allowance: Allowance
    cost: float
    forced: bool = False

    @property
    def span(self) -> float:
        """How long an empty bucket takes to be full [s]."""
        return self.allowance.burst / self.allowance.rate

    @property
    def duration(self) -> float:
        """How long the bucket takes to make up for the cost [s]; a full one has room for any cost."""
        return min(self.cost, self.allowance.burst) / self.allowance.rate


class Level(msgspec.Struct, frozen=True, kw_only=True):
    """What came of a charge: `full_in` [s] the bucket is full; `wait` [s], and the cost will be there."""

    charge: Charge
    full_in: float
    wait: float = 0.0

    @property
    def admitted(self) -> bool:
        return self.wait <= 0.0

    @property
    def left(self) -> int:
        """Whole units of cost."""
        return max(
            0, int((self.charge.span - self.full_in + _ROUNDING) * self.charge.allowance.rate)
        )

    @property
    def seconds(self) -> int:
        """For how long what is left must do: until the charge has room, or all is there again."""
        return max(1, ceil((self.full_in if self.admitted else self.wait) - _ROUNDING))


class Store(Protocol):
    """Where buckets are kept."""

    async def take(self, charges: Sequence[Charge]) -> tuple[Level, ...]:
        """All of the charges or, where one has no room, none but the forced. Raises StoreFailed."""

    async def close(self) -> None:
        """Nothing is taken after that."""


def settle(
    found: Sequence[float], now: float, charges: Sequence[Charge]
) -> tuple[tuple[Level, ...], tuple[float | None, ...]]:
    """Of buckets that are full at the times `found`, what comes of the charges, and what is to be kept.

    None is kept where a bucket stays as it is. A bucket is never emptier than empty: where the clock
    was set back, the caller waits for the cost and not until the clock has caught up.
    """
    used = [min(max(at - now, 0.0), one.span) for at, one in zip(found, charges, strict=True)]
    levels = [_level(before, one) for before, one in zip(used, charges, strict=True)]
    kept: list[float | None] = [now + one.full_in for one in levels]
    if not all(one.admitted for one in levels):
        for place, (at, before, one) in enumerate(zip(found, used, charges, strict=True)):
            if not one.forced:
                kept[place] = now + before if at - now > one.span else None
                if levels[place].admitted:
                    levels[place] = Level(charge=one, full_in=before)
    return tuple(levels), tuple(kept)


def _level(used: float, charge: Charge) -> Level:
    asked = used + charge.duration
    if asked <= charge.span + _ROUNDING or charge.forced:
        return Level(charge=charge, full_in=min(asked, charge.span))
    return Level(charge=charge, full_in=used, wait=asked - charge.span)
