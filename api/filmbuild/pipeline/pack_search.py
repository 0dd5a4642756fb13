"""Least-weight cover of one amount by whole packs: best-first search over residue classes.

The pack of least weight per unit, of size a and weight w, is the base. A label is a choice of
other packs that leaves r to cover; filling r up with base packs is its natural completion. Each
other pack adds its reduced weight, w_i a - w a_i >= 0, so labels come off the heap in order of a
lower bound, and the search ends when that bound meets the best completion seen. A label whose r
has been seen in the same residue class modulo a, no smaller and at no higher bound, is dropped:
base packs added to the earlier one match it (the group relaxation of Gomory, 1965, from memory,
kept exact for small needs by the condition on r). Labels kept: at most one for each whole r up to
the need, after division by the sizes' common divisor; for needs of many base packs about one for
each residue class, whatever the need.
"""

from collections.abc import Sequence
from heapq import heappop, heappush
from math import gcd


class Budget:
    """How many more labels a search may settle; once spent, answers are covers, unproven."""

    __slots__ = ("left",)

    def __init__(self, labels: int) -> None:
        self.left = labels

    def spend(self) -> bool:
        self.left -= 1
        return self.left >= 0


class PackSearch:
    """Packs that hold one amount each, or kits of one ratio: sizes > 0, weights > 0, whole."""

    __slots__ = ("_others", "_size", "_unit", "_weight")

    def __init__(self, sizes: Sequence[int], weights: Sequence[int]) -> None:
        self._unit = unit = gcd(*sizes)
        size, weight = sizes[0], weights[0]
        for other, its_weight in zip(sizes, weights, strict=True):
            if its_weight * size < weight * other:
                size, weight = other, its_weight
        size //= unit
        self._size, self._weight = size, weight
        others = [
            (its_weight * size - weight * (other // unit), other // unit)
            for other, its_weight in zip(sizes, weights, strict=True)
        ]
        others.remove((0, size))
        others.sort()
        self._others = others

    def rate(self) -> int:
        """A whole number that no pack's weight per unit is below."""
        return self._weight // (self._size * self._unit)

    def least(self, need: int, budget: Budget, below: int | None = None) -> int:
        """The least total weight that covers the need (> 0), or `below` if none is less than it."""
        size, weight, others = self._size, self._weight, self._others
        need = -(-need // self._unit)
        bound = weight * need
        best = bound + weight * (-need % size)
        if below is not None and below * size < best:
            best = below * size
        if not others or bound + others[0][0] >= best:
            return best // size
        seen: dict[int, int] = {}
        waiting: dict[int, int] = {}
        labels = [(bound, -need)]
        while labels and budget.spend():
            bound, rest = heappop(labels)
            if bound >= best:
                break
            residue = rest % size
            if seen.get(residue, 1) <= rest:
                continue
            seen[residue] = rest
            for step, other in others:
                stepped = bound + step
                if stepped >= best:
                    break
                after = rest + other
                over = after if after > 0 else after % size
                best = min(best, stepped + weight * over)
                if after < 0 and stepped < waiting.get(after, best):
                    waiting[after] = stepped
                    heappush(labels, (stepped, after))
        return best // size
