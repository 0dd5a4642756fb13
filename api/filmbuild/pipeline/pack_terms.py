"""Least-weight cover where a pack's price falls with its number, or where it is sold from so many.

All-units breaks: from so many packs on, each of them costs less. Every pack is first priced at its
lowest step, without the number that earns it; that is a lower bound, found by the plain search.
Where the order found has a pack in a number that does not earn the price, two cases cover all
orders: at least the number that earns it, or the price of the step before (below the first step,
none at all). Cases are taken in order of their bounds until one is as good as the best order seen,
so that the answer is exact. Each pack is split no more often than it has steps.
"""

from collections.abc import Callable, Mapping, Sequence
from heapq import heappop, heappush
from typing import TypeVar

import msgspec

T = TypeVar("T")
Steps = tuple[tuple[int, int], ...]
"""From how many packs on, and what each then weighs: the numbers rise and the weights fall."""
Plain = Callable[[tuple[int, ...], tuple[int, ...], tuple[int, ...]], tuple[int, bool] | None]
"""The least weight of needs by the packs at these places at these weights; None without cover."""

MOST_CASES = 1_000


class Found(msgspec.Struct, frozen=True):
    """An order; not `proven` where a search was cut off, so that another may weigh less."""

    weight: int
    counts: tuple[int, ...]
    proven: bool


class _Case(msgspec.Struct, frozen=True):
    """`low` packs of each at least, at the price of step `top`; a closed pack has no more."""

    low: tuple[int, ...]
    top: tuple[int, ...]
    closed: tuple[bool, ...]


class TermsSearch:
    """Packs of whole contents by part, in steps; `read` gives the counts back from a weight."""

    def __init__(
        self,
        packs: Sequence[tuple[tuple[int, ...], Steps]],
        plain: Plain,
        read: Callable[[int], Sequence[int]],
    ) -> None:
        self._contents = [contents for contents, _ in packs]
        self._steps = [steps for _, steps in packs]
        self._plain = plain
        self._read = read

    def weight(self, counts: Sequence[int]) -> int | None:
        """What an order weighs; None where it has fewer of a pack than are sold."""
        total = 0
        for count, steps in zip(counts, self._steps, strict=True):
            if count:
                step = self._step(steps, count)
                if step < 0:
                    return None
                total += count * steps[step][1]
        return total

    def least(
        self,
        needs: tuple[int, ...],
        fixed: Mapping[int, int] | None = None,
        below: int | None = None,
    ) -> Found | None:
        """The best order with exactly `fixed` of some packs; None where none weighs under `below`."""
        first = self._first(fixed or {})
        waiting: list[tuple[int, int, tuple[int, ...], _Case]] = []
        made, proven = 0, True
        cases = [] if first is None else [first]
        best: tuple[int, tuple[int, ...]] | None = None
        while cases or waiting:
            for case in cases:
                bounded = self._bounded(case, needs)
                if bounded is not None:
                    weight, exact = bounded
                    proven = proven and exact
                    made += 1
                    heappush(waiting, (weight, made, tuple(self._read(weight)), case))
            cases = []
            if not waiting:
                break
            bound, _, counts, case = heappop(waiting)
            if best is not None and (bound >= best[0] or made > MOST_CASES):
                proven = proven and bound >= best[0]
                break
            earned = self.weight(counts)
            if below is not None and bound >= below:
                break
            if earned is not None and (best is None or earned < best[0]):
                best = earned, counts
            place = self._unearned(case, counts)
            if place is not None:
                cases = self._split(case, place)
        return None if best is None else Found(best[0], best[1], proven)

    def _first(self, fixed: Mapping[int, int]) -> _Case | None:
        lows, tops, closed = [], [], []
        for place, steps in enumerate(self._steps):
            count = fixed.get(place)
            step = len(steps) - 1 if not count else self._step(steps, count)
            if step < 0:
                return None
            lows.append(count or 0)
            tops.append(step)
            closed.append(count is not None)
        return _Case(tuple(lows), tuple(tops), tuple(closed))

    @staticmethod
    def _step(steps: Steps, count: int) -> int:
        return sum([start <= count for start, _ in steps]) - 1

    def _bounded(self, case: _Case, needs: tuple[int, ...]) -> tuple[int, bool] | None:
        """The least weight at the case's prices, whether or not its numbers earn them."""
        forced, rest, exact = 0, list(needs), True
        weights = [steps[top][1] for steps, top in zip(self._steps, case.top, strict=True)]
        for count, weight, contents in zip(case.low, weights, self._contents, strict=True):
            if count:
                forced += count * weight
                rest = [left - count * held for left, held in zip(rest, contents, strict=True)]
        if any(left > 0 for left in rest):
            places = tuple([place for place, shut in enumerate(case.closed) if not shut])
            plain = self._plain(tuple(rest), places, tuple([weights[place] for place in places]))
            if plain is None:
                return None
            added, exact = plain
            forced += added
        return forced, exact

    def _unearned(self, case: _Case, counts: Sequence[int]) -> int | None:
        for place, (count, top) in enumerate(zip(counts, case.top, strict=True)):
            if 0 < count < self._steps[place][top][0]:
                return place
        return None

    def _split(self, case: _Case, place: int) -> list[_Case]:
        top = case.top[place]
        more = _with(case.low, place, max(case.low[place], self._steps[place][top][0]))
        children = [_Case(more, case.top, case.closed)]
        if top:
            children.append(_Case(case.low, _with(case.top, place, top - 1), case.closed))
        elif not case.low[place]:
            children.append(_Case(case.low, case.top, _with(case.closed, place, True)))
        return children


def _with(values: tuple[T, ...], place: int, value: T) -> tuple[T, ...]:
    return (*values[:place], value, *values[place + 1 :])
