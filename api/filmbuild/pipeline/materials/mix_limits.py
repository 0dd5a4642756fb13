"""What one mix can bring: by its size, and by the time that it leaves for placing.

A larger mix has less time. All mixes of a coat are given the time of a full one, so that it holds
for the smaller ones as well, and the size of a full one is chosen for the least effort.
"""

import math
from bisect import bisect_right
from collections.abc import Callable, Sequence
from itertools import accumulate

import msgspec

from filmbuild.pipeline.materials.course import Course
from filmbuild.pipeline.materials.demand import Batch
from filmbuild.pipeline.materials.film import EQUAL

SMALLEST_MIX = 50e-6
"""[m3] Below this nobody can measure parts by ratio on a floor (common practice, no source)."""
_HALVINGS = 50
"""A size is found to 2**-50 of where it is looked for."""


class Limits(msgspec.Struct, frozen=True):
    """`by_size` [m3] is the most that a mix can bring for its `reason`.

    `brought` [m3] and `paces` [s/m3] are of the areas, `slowest` and `quickest` among them.
    """

    batch: Batch
    by_size: float
    reason: str
    brought: list[float]
    times: list[float]
    paces: list[float]
    total: float
    slowest: float
    quickest: float

    def time(self, full: float) -> float:
        """[s] What a mix that may bring so much, and brings no more than all, has for placing."""
        return self.batch.time_to_place(min(full, self.total))

    def in_time(self, full: float) -> bool:
        """Whether a mix that brings so much is placed in time wherever it goes."""
        return not self.slowest or self.slowest * full <= self.time(full) * (1 + EQUAL)

    def keeps(self, full: float) -> bool:
        """Whether a mix that brings so much is within all limits."""
        return full <= self.by_size * (1 + EQUAL) and self.in_time(full)

    def share_in_time(self, full: float) -> float:
        """Of all that is brought, how much goes where a full mix can be placed."""
        if self.in_time(full):
            return 1.0
        time = self.time(full) * (1 + EQUAL)
        pairs = zip(self.brought, self.paces, strict=True)
        return sum([volume for volume, pace in pairs if pace * full <= time]) / self.total

    def course(self, full: float) -> Course:
        """The efforts of the areas: full mixes, by size or by time, whichever is more."""
        time = self.time(full)
        pairs = zip(self.brought, self.times, strict=True)
        return Course(self.brought, [max(volume / full, one / time) for volume, one in pairs])

    def largest_in_time(self, pace: float) -> float:
        """[m3] The most that a mix can bring of all where it is placed at a pace [s/m3]."""
        most = min(self.by_size, self.total)
        if pace * most <= self.time(most):
            return most
        life, residue = self.batch.life, self.batch.residue
        for level in (life.longest, life.shortest):
            brings = (level - self.batch.product.mixing_time) / pace
            if brings > 0 and life.of(brings + residue) == level:
                return brings
        return self._on_the_fall(pace)

    def _on_the_fall(self, pace: float) -> float:
        """By Newton's method from where life begins to fall, always short of the root."""
        life, residue = self.batch.life, self.batch.residue
        brings = max(EQUAL * SMALLEST_MIX, life.even - residue)
        for _ in range(_HALVINGS):
            own = life.of(brings + residue)
            steep = pace + life.exponent * own / (brings + residue)
            step = (own - self.batch.product.mixing_time - pace * brings) / steep
            brings += step
            if step <= EQUAL**2 * brings:
                break
        return brings

    def most_measurable(self) -> float:
        """[m3] The most a mix may bring so that its time still places what can be measured."""
        most = min(self.by_size, self.total)
        least = min(SMALLEST_MIX, self.total)
        needed = self.slowest * least
        if self.time(most) >= needed:
            return most
        largest = self.batch.life.largest(needed + self.batch.product.mixing_time)
        return min(most, max(least, largest - self.batch.residue))


def limits_of(
    batch: Batch, by_size: float, reason: str, brought: list[float], times: list[float]
) -> Limits:
    paces = [time / volume for volume, time in zip(brought, times, strict=True)]
    return Limits(
        batch, by_size, reason, brought, times, paces, sum(brought), max(paces), min(paces)
    )


def full_mix(limits: Limits) -> float:
    """[m3] What a full mix may bring, for the least sum of efforts; endless where nothing limits.

    With A the time of areas where time decides and D the volume of the others, it is A / time + D /
    full. Where life falls as a power of the volume of 1 or less, its slope changes sign but once.
    """
    most = limits.most_measurable()
    full = limits.by_size if most >= limits.total else most
    life, residue = limits.batch.life, limits.batch.residue
    if not life.by_size or life.of(most + residue) >= life.longest or limits.keeps(most):
        return full
    falling = min(most, life.largest(life.shortest * (1 + EQUAL)) - residue)
    if falling <= 0:
        return full
    slope = _Slope(limits)
    turn = _rising(slope.at, falling)
    return turn if slope.effort(turn) < slope.effort(full) else full


class _Slope:
    """The sum of efforts, and which way it goes as mixes grow."""

    def __init__(self, limits: Limits) -> None:
        order = sorted(range(len(limits.paces)), key=limits.paces.__getitem__, reverse=True)
        self._limits = limits
        self._eased = [-limits.paces[index] for index in order]
        self._times = _sums([limits.times[index] for index in order])
        self._volumes = _sums([limits.brought[index] for index in order])

    def _parts(self, full: float) -> tuple[float, float, float]:
        """The time that a full mix leaves [s], of slow areas theirs [s], of others what they get."""
        time = self._limits.time(full)
        slow = bisect_right(self._eased, -time / full)
        return time, self._times[slow], self._volumes[-1] - self._volumes[slow]

    def at(self, full: float) -> float:
        time, slow, other = self._parts(full)
        if time <= 0:
            return math.inf
        life, volume = self._limits.batch.life, full + self._limits.batch.residue
        own = life.of(volume)
        steep = life.exponent * own / volume if own < life.longest else 0.0
        return slow * steep * (full / time) ** 2 - other

    def effort(self, full: float) -> float:
        time, slow, other = self._parts(full)
        return slow / time + other / full


def _sums(values: Sequence[float]) -> list[float]:
    return list(accumulate(values, initial=0.0))


def _rising(function: Callable[[float], float], most: float) -> float:
    """Where a function that rises from 0 to `most` turns positive, from below; or else `most`."""
    below, above = 0.0, most
    for _ in range(_HALVINGS):
        middle = (below + above) / 2
        if function(middle) > 0:
            above = middle
        else:
            below = middle
    return below
