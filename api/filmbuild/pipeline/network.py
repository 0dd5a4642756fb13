"""Activity networks: finish-to-start links, dates by the critical path method, float.

Latest dates follow minimum lags only. Maximum lags never move an activity: the broken ones are
reported, so that the caller can answer them (abrade before the next coat, or go back earlier).
"""

import heapq
from collections.abc import Sequence
from typing import Literal, NamedTuple, Protocol, TypeAlias

import msgspec

TOLERANCE = 1e-6
LagTime = Literal["elapsed", "working"]


class NetworkError(ValueError):
    """The network cannot be scheduled; `faults` says why, all of it at once."""

    def __init__(self, faults: Sequence[str]) -> None:
        super().__init__("; ".join(faults))
        self.faults = tuple(faults)


class CycleError(NetworkError):
    """Activities wait for one another: each of `members` comes before the next, round again."""

    def __init__(self, members: Sequence[str]) -> None:
        super().__init__(["each waits for the one before: " + " -> ".join([*members, members[0]])])
        self.members = tuple(members)


class Course(Protocol):
    """A lag whose length depends on when it runs, such as a cure in changing weather.

    Each moment rises with the one that it is taken for.
    """

    def ready(self, finish: float) -> float:
        """When the successor may start, after the predecessor ended."""
        ...

    def closes(self, finish: float) -> float | None:
        """When it may start no more, or None if it always may."""
        ...

    def finish_by(self, start: float) -> float:
        """The latest end of the predecessor with which the successor may start."""
        ...

    def finish_from(self, start: float) -> float:
        """The earliest end of the predecessor with which it still may."""
        ...


class Activity(msgspec.Struct, frozen=True):
    id: str
    duration: float


class Link(msgspec.Struct, frozen=True):
    """Finish to start, with lags from the predecessor's end to the successor's start.

    The successor waits for `minimum_lag` and, where there is one, should not wait past
    `maximum_lag`. `time` says what the lags are counted in; it matters only on a calendar,
    where a `course` takes the place of both lags.
    """

    predecessor: str
    successor: str
    minimum_lag: float = 0.0
    maximum_lag: float | None = None
    time: LagTime = "elapsed"
    course: Course | None = None


class LagViolation(msgspec.Struct, frozen=True):
    """A successor that starts longer after its predecessor's end than the link allows."""

    predecessor: str
    successor: str
    limit: float
    actual: float
    time: LagTime


class ActivityDates(msgspec.Struct, frozen=True):
    """Dates from the start of the project.

    Total float delays the activity without delaying the project; free float also leaves every
    successor its earliest start.
    """

    id: str
    earliest_start: float
    earliest_finish: float
    latest_start: float
    latest_finish: float
    total_float: float
    free_float: float
    critical: bool


class NetworkDates(msgspec.Struct, frozen=True):
    """`activities` stand in the order given; `critical_path` is one longest chain through them."""

    finish: float
    activities: tuple[ActivityDates, ...]
    critical_path: tuple[str, ...]
    violations: tuple[LagViolation, ...]


Arc: TypeAlias = tuple[int, Link]
"""A link seen from one of its ends, behind the other end, as a position in the activities."""


class Graph(NamedTuple):
    """Links by position; `order` is topological and, among free choices, the order given."""

    ids: list[str]
    predecessors: list[list[Arc]]
    successors: list[list[Arc]]
    order: list[int]


def build_graph(ids: Sequence[str], links: Sequence[Link]) -> Graph:
    """Resolve and order a network. Raises NetworkError, or CycleError for a cycle."""
    positions = {name: position for position, name in enumerate(ids)}
    _refuse_faults(ids, links, positions)
    predecessors: list[list[Arc]] = [[] for _ in ids]
    successors: list[list[Arc]] = [[] for _ in ids]
    for link in links:
        before, after = positions[link.predecessor], positions[link.successor]
        predecessors[after].append((before, link))
        successors[before].append((after, link))
    order = _ordered(predecessors, successors)
    if len(order) < len(ids):
        raise CycleError([ids[position] for position in _cycle(predecessors, set(order))])
    return Graph(list(ids), predecessors, successors, order)


def _refuse_faults(ids: Sequence[str], links: Sequence[Link], positions: dict[str, int]) -> None:
    faults = []
    if len(positions) < len(ids):
        repeated = {name for place, name in enumerate(ids) if positions[name] != place}
        faults += [f"activity {name} is named more than once" for name in sorted(repeated)]
    for link in links:
        if link.predecessor not in positions or link.successor not in positions:
            faults += [
                f"a link names activity {end}, which is not in the network"
                for end in (link.predecessor, link.successor)
                if end not in positions
            ]
        if link.maximum_lag is not None and link.maximum_lag < link.minimum_lag:
            faults.append(
                f"the link {link.predecessor} -> {link.successor} allows at most "
                f"{link.maximum_lag:g} and at least {link.minimum_lag:g}"
            )
    if faults:
        raise NetworkError(faults)


def _ordered(predecessors: list[list[Arc]], successors: list[list[Arc]]) -> list[int]:
    waiting_for = [len(arcs) for arcs in predecessors]
    ready = [position for position, count in enumerate(waiting_for) if not count]
    order = []
    while ready:
        position = heapq.heappop(ready)
        order.append(position)
        for after, _ in successors[position]:
            waiting_for[after] -= 1
            if not waiting_for[after]:
                heapq.heappush(ready, after)
    return order


def _cycle(predecessors: list[list[Arc]], placed: set[int]) -> list[int]:
    """Walk back among what could not be ordered, where everything has such a predecessor."""
    position = next(place for place in range(len(predecessors)) if place not in placed)
    seen: dict[int, int] = {}
    walk: list[int] = []
    while position not in seen:
        seen[position] = len(walk)
        walk.append(position)
        position = next(other for other, _ in predecessors[position] if other not in placed)
    members = walk[seen[position] :][::-1]
    first = members.index(min(members))
    return members[first:] + members[:first]


def critical_path_dates(
    activities: Sequence[Activity], links: Sequence[Link], tolerance: float = TOLERANCE
) -> NetworkDates:
    """Earliest and latest dates in continuous time; critical is total float within `tolerance`.

    Forward pass: ES = max(EF + lag) over predecessors. Backward pass: LF = min(LS - lag) over
    successors. Total float = LS - ES; free float = min(ES - lag) over successors - EF.
    Raises NetworkError, or CycleError for a cycle.
    """
    graph = build_graph([activity.id for activity in activities], links)
    durations = [activity.duration for activity in activities]
    starts = _earliest_starts(graph, durations)
    finishes = [start + duration for start, duration in zip(starts, durations, strict=True)]
    finish = max(finishes, default=0.0)
    latest = _latest_finishes(graph, durations, finish)
    dates = []
    for position, name in enumerate(graph.ids):
        free_until = min(
            (starts[after] - link.minimum_lag for after, link in graph.successors[position]),
            default=finish,
        )
        total_float = latest[position] - finishes[position]
        dates.append(
            ActivityDates(
                name,
                starts[position],
                finishes[position],
                latest[position] - durations[position],
                latest[position],
                total_float,
                free_until - finishes[position],
                total_float <= tolerance,
            )
        )
    return NetworkDates(
        finish,
        tuple(dates),
        _critical_path(graph, dates, tolerance),
        tuple(_violations(links, {date.id: date for date in dates}, tolerance)),
    )


def _earliest_starts(graph: Graph, durations: list[float]) -> list[float]:
    starts = [0.0] * len(durations)
    for position in graph.order:
        for before, link in graph.predecessors[position]:
            ready = starts[before] + durations[before] + link.minimum_lag
            starts[position] = max(starts[position], ready)
    return starts


def _latest_finishes(graph: Graph, durations: list[float], finish: float) -> list[float]:
    latest = [finish] * len(durations)
    for position in reversed(graph.order):
        for after, link in graph.successors[position]:
            due = latest[after] - durations[after] - link.minimum_lag
            latest[position] = min(latest[position], due)
    return latest


def _critical_path(graph: Graph, dates: list[ActivityDates], tolerance: float) -> tuple[str, ...]:
    if not dates:
        return ()
    finish = max(date.earliest_finish for date in dates)
    position: int | None = next(
        place for place, date in enumerate(dates) if date.earliest_finish >= finish - tolerance
    )
    path = []
    while position is not None:
        date = dates[position]
        path.append(date.id)
        tight = (
            before
            for before, link in graph.predecessors[position]
            if dates[before].earliest_finish + link.minimum_lag >= date.earliest_start - tolerance
        )
        position = next(tight, None)
    return tuple(reversed(path))


def _violations(
    links: Sequence[Link], dates: dict[str, ActivityDates], tolerance: float
) -> list[LagViolation]:
    found = []
    for link in links:
        if link.maximum_lag is None:
            continue
        before, after = dates[link.predecessor], dates[link.successor]
        actual = after.earliest_start - before.earliest_finish
        if actual > link.maximum_lag + tolerance:
            found.append(LagViolation(before.id, after.id, link.maximum_lag, actual, link.time))
    return found
