"""The course of a coat over the areas: what has been brought by when."""

from bisect import bisect_right
from collections.abc import Sequence
from itertools import accumulate, pairwise


class Course:
    """Volume [m3] and effort both start at nothing, and rise evenly within an area."""

    __slots__ = ("_brought", "_spent")

    def __init__(self, brought: Sequence[float], efforts: Sequence[float]) -> None:
        self._brought = list(accumulate(brought))
        self._spent = list(accumulate(efforts))

    @property
    def effort(self) -> float:
        """In the end."""
        return self._spent[-1]

    def between(self, marks: Sequence[float]) -> list[float]:
        """[m3] What each stretch brings: from the start to the first mark, and so on to the end."""
        ends = [self._brought_at(mark) for mark in marks]
        return [end - start for start, end in pairwise([0.0, *ends, self._brought[-1]])]

    def _brought_at(self, effort: float) -> float:
        brought, spent = self._brought, self._spent
        index = bisect_right(spent, effort)
        if index == len(spent):
            return brought[-1]
        if not index:
            return effort / spent[0] * brought[0]
        start, before = spent[index - 1], brought[index - 1]
        return before + (effort - start) / (spent[index] - start) * (brought[index] - before)
