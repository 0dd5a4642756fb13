"""The order in which areas are coated, so that a dry way to an exit is left at every step.

When an area is coated, the crew leaves it over areas that are coated later. Read backwards from
the last area: each must have an exit, or a way into one already there. Whatever may be added
stays addable, so adding in any sequence finds an order wherever there is one.
"""

from collections import deque
from collections.abc import Iterator, Sequence
from heapq import heappop, heappush

import msgspec


class Floors(msgspec.Struct, frozen=True):
    """Areas by number: ways between them, exits, and which may only be coated after which."""

    neighbours: list[list[int]]
    exits: list[bool]
    before: list[list[int]]


class Order(msgspec.Struct, frozen=True):
    """`ranks` are 1 for the area coated first, and 0 for one that no order reaches.

    `into` is the area that each leads into on the way out and `crossings` how many areas are
    crossed to an exit; `doors` are areas without any way to an exit that are taken to have a door
    of their own.
    """

    ranks: list[int]
    into: list[int | None]
    crossings: list[int]
    doors: list[int]

    def stuck(self) -> list[int]:
        return [area for area, rank in enumerate(self.ranks) if not rank]


def placing_order(floors: Floors) -> Order:
    """Farthest from the exit first, counted in areas crossed; equals in the order of the site."""
    crossings, doors = _distances(floors)
    if any(floors.before):
        return _constrained(floors, crossings)
    ranked = sorted(range(len(crossings)), key=lambda area: -crossings[area])
    ranks = [0] * len(ranked)
    for rank, area in enumerate(ranked, start=1):
        ranks[area] = rank
    into = [
        None if crossing in (0, len(crossings)) else _nearest(floors, area, crossings)
        for area, crossing in enumerate(crossings)
    ]
    return Order(ranks, into, crossings, doors)


def _nearest(floors: Floors, area: int, crossings: Sequence[int]) -> int:
    return min(floors.neighbours[area], key=lambda one: (crossings[one], one))


def _distances(floors: Floors) -> tuple[list[int], list[int]]:
    """Areas crossed to the nearest exit. Areas without any come after all others.

    Of connected areas without an exit, the last of the site is taken to have one: so they are
    coated towards it.
    """
    count = len(floors.neighbours)
    unreached = 2 * count + 1
    crossings = [unreached] * count
    _spread(floors, [area for area in range(count) if floors.exits[area]], 0, crossings)
    doors = []
    for area in range(count - 1, -1, -1):
        if crossings[area] == unreached:
            doors.append(area)
            _spread(floors, [area], count, crossings)
    return crossings, doors


def _spread(floors: Floors, sources: Sequence[int], base: int, crossings: list[int]) -> None:
    unreached = 2 * len(crossings) + 1
    queue = deque(sources)
    for area in sources:
        crossings[area] = base
    while queue:
        area = queue.popleft()
        for other in floors.neighbours[area]:
            if crossings[other] == unreached:
                crossings[other] = crossings[area] + 1
                queue.append(other)


class _Backwards:
    """Collects areas from the last to the first, nearest to the exit first.

    Only where nothing else is left, an area without any way to an exit is taken to have a door.
    """

    def __init__(self, floors: Floors, nearness: Sequence[int]) -> None:
        self._floors = floors
        self._nearness = nearness
        self._waiting = [len(set(later)) for later in floors.before]
        self._after: list[list[int]] = [[] for _ in floors.before]
        for area, later in enumerate(floors.before):
            for other in set(later):
                self._after[other].append(area)
        self._queue: list[tuple[int, int]] = []
        self._doorless: list[int] = []
        self._has = [False] * len(floors.before)
        self._reached = list(floors.exits)
        self.collected: list[int] = []
        self.doors: list[int] = []

    def run(self) -> None:
        for area in range(len(self._has)):
            self._offer(area)
        while self._queue or self._doorless:
            if self._queue:
                self._collect(-heappop(self._queue)[1])
            else:
                area = -heappop(self._doorless)
                if not self._has[area]:
                    self.doors.append(area)
                    self._collect(area)

    def _collect(self, area: int) -> None:
        self._has[area] = self._reached[area] = True
        self.collected.append(area)
        for other in self._floors.neighbours[area]:
            if not self._reached[other]:
                self._reached[other] = True
                self._offer(other)
        for other in self._after[area]:
            self._waiting[other] -= 1
            self._offer(other)

    def _offer(self, area: int) -> None:
        if self._has[area] or self._waiting[area]:
            return
        if self._reached[area]:
            heappush(self._queue, (self._nearness[area], -area))
        elif self._nearness[area] >= len(self._has):
            heappush(self._doorless, -area)


def _constrained(floors: Floors, nearness: list[int]) -> Order:
    count = len(nearness)
    found = _Backwards(floors, nearness)
    found.run()
    ranks, crossings = [0] * count, [0] * count
    into: list[int | None] = [None] * count
    own_door = set(found.doors)
    for place, area in enumerate(found.collected):
        ranks[area] = count - place
        if floors.exits[area] or area in own_door:
            crossings[area] = 0 if floors.exits[area] else count
            continue
        later = [one for one in floors.neighbours[area] if ranks[one] > ranks[area]]
        nearest = min(later, key=lambda one: (crossings[one], one))
        into[area], crossings[area] = nearest, crossings[nearest] + 1
    return Order(ranks, into, crossings, found.doors)


def cycle_of(before: Sequence[Sequence[int]]) -> list[int]:
    """Areas each of which is to be coated before the next, and the last before the first."""
    waiting = [len(set(later)) for later in before]
    after: list[list[int]] = [[] for _ in before]
    for area, later in enumerate(before):
        for other in set(later):
            after[other].append(area)
    free = [area for area, count in enumerate(waiting) if not count]
    for area in free:
        for other in after[area]:
            waiting[other] -= 1
            if not waiting[other]:
                free.append(other)
    path: list[int] = []
    place: dict[int, int] = {}
    start = next((one for one, count in enumerate(waiting) if count), None)
    if start is None:
        return path
    at = start
    while at not in place:
        place[at] = len(path)
        path.append(at)
        at = next(other for other in before[at] if waiting[other])
    return path[place[at] :]


def blocking(floors: Floors, order: Order) -> Iterator[tuple[int, int]]:
    """Of an order that is stuck: (area, a later one that cannot be left once it is coated)."""
    stuck = set(order.stuck())
    for area in sorted(stuck):
        within = [other for other in floors.neighbours[area] if other not in stuck]
        if floors.exits[area] or within:
            for later in floors.before[area]:
                if later in stuck:
                    yield area, later


def without(floors: Floors, area: int, later: int) -> Floors:
    """The same without one of the constraints."""
    before = list(floors.before)
    before[area] = [other for other in before[area] if other != later]
    return msgspec.structs.replace(floors, before=before)


def with_exit(floors: Floors, area: int) -> Floors:
    exits = list(floors.exits)
    exits[area] = True
    return msgspec.structs.replace(floors, exits=exits)
