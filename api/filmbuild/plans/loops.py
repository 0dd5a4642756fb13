"""Loose lines whose ends meet, put together into closed ones."""

from collections.abc import Sequence
from math import dist
from typing import NamedTuple

from filmbuild.pipeline.geometry import Point

_CORNERS = 3
_ENDS = 2


class Loops(NamedTuple):
    """`used` counts the chains of the rings; the others are left."""

    rings: list[tuple[Point, ...]]
    used: int


class _End(NamedTuple):
    chain: int
    is_last: bool


def loops_of(chains: Sequence[Sequence[Point]], within: float) -> Loops:
    """Closed by ends that lie within a distance of one another.

    Only where two ends meet and no third, so that no way has to be chosen. The work grows as the
    number of chains does.
    """
    nodes = _nodes(chains, within)
    meeting: list[list[_End]] = [[] for _ in range(max(nodes, default=-1) + 1)]
    for number, node in enumerate(nodes):
        meeting[node].append(_End(number // _ENDS, bool(number % _ENDS)))
    found = Loops([], 0)
    used = 0
    seen = [False] * len(chains)
    for chain in range(len(chains)):
        if seen[chain]:
            continue
        loop = _loop(chain, nodes, meeting, seen)
        ring = tuple([point for one in loop for point in _onward(chains[one.chain], one)])
        if len(ring) >= _CORNERS:
            found.rings.append(ring)
            used += len(loop)
    return found._replace(used=used)


def _nodes(chains: Sequence[Sequence[Point]], within: float) -> list[int]:
    """For the first and the last point of each chain, the number of the place where it lies."""
    places: dict[tuple[int, int], list[tuple[Point, int]]] = {}
    nodes = []
    count = 0
    for point in [point for chain in chains for point in (chain[0], chain[-1])]:
        column, row = int(point[0] // within), int(point[1] // within)
        near = (
            node
            for x in (column - 1, column, column + 1)
            for y in (row - 1, row, row + 1)
            for other, node in places.get((x, y), ())
            if dist(point, other) <= within
        )
        node = next(near, count)
        if node == count:
            places.setdefault((column, row), []).append((point, node))
            count += 1
        nodes.append(node)
    return nodes


def _loop(
    start: int, nodes: Sequence[int], meeting: Sequence[Sequence[_End]], seen: list[bool]
) -> list[_End]:
    """The chains round which one comes back to the start, each with the end it begins at."""
    loop = []
    end = _End(start, is_last=False)
    while not seen[end.chain]:
        seen[end.chain] = True
        loop.append(end)
        far = _End(end.chain, not end.is_last)
        here = meeting[nodes[_ENDS * far.chain + far.is_last]]
        if len(here) != _ENDS:
            return []
        end = here[0] if here[1] == far else here[1]
    return loop if end == loop[0] else []


def _onward(chain: Sequence[Point], end: _End) -> Sequence[Point]:
    """Without its last point, which is the next one's first."""
    return chain[:0:-1] if end.is_last else chain[:-1]
