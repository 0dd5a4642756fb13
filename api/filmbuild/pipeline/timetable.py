"""A network placed on a real calendar: crews, shifts, cure in elapsed time, climate windows.

Serial schedule generation: activities are placed one by one in the order given, except that a
predecessor always comes first; each crew does its activities in that order, one after another.
"""

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Literal, NamedTuple

import msgspec

from filmbuild.pipeline.network import Graph, LagViolation, Link, NetworkError, build_graph
from filmbuild.pipeline.workdays import NoWorkingTimeError, WorkingCalendar

TOLERANCE = 2e-3  # s: two roundings of the calendar's own tolerance
MOST_GATE_TRIES = 10_000

Gate = Callable[[float, float], float | None]
Cause = Literal["project_start", "release", "link", "crew"]
Mover = Literal["calendar", "gate"]


class Work(msgspec.Struct, frozen=True):
    """An activity with its labour [s of working time]; without labour it is a milestone.

    `one_shift` work is done without a break. `release` is the earliest moment allowed. `gate`
    takes a start and the elapsed time to the finish and returns the earliest start from there on
    that it allows, or None if there is none.
    """

    id: str
    labour: float
    one_shift: bool = False
    crew: str | None = None
    release: float | None = None
    gate: Gate | None = None


class Binding(msgspec.Struct, frozen=True):
    """Why an activity starts when it does.

    It was `ready` by its `cause`: the link from `predecessor` with a `lag` [s], the crew busy on
    `predecessor`, its release or the project start. What then `moved` it later, in turn: the
    calendar (no shift running, or too little of it left), the gate, or both.
    """

    ready: float
    cause: Cause
    predecessor: str | None = None
    lag: float | None = None
    moved: tuple[Mover, ...] = ()


class Begun(NamedTuple):
    """Where an activity lies, and why it starts then."""

    start: float
    finish: float
    binding: Binding


class Blocked(msgspec.Struct, frozen=True):
    """An activity with no place: longer than any shift, or its gate opens no more after `since`."""

    id: str
    reason: Literal["longer_than_shift", "gate_never_opens"]
    since: float | None = None


class BlockedError(NetworkError):
    """Activities that cannot be placed. Gates are not tried for what follows one of them."""

    def __init__(self, blocked: Sequence[Blocked]) -> None:
        super().__init__([f"activity {each.id}: {each.reason}" for each in blocked])
        self.blocked = tuple(blocked)


class Placement(msgspec.Struct, frozen=True):
    """Moments of one activity; float is the working time [s] between its two starts.

    The latest start of work behind a gate counts only if the gate is open then; else it is the
    earliest start.
    """

    id: str
    start: float
    finish: float
    latest_start: float
    latest_finish: float
    float_time: float
    critical: bool
    binding: Binding


class Timetable(msgspec.Struct, frozen=True):
    """Placements in the order given, or none where a broken maximum lag stopped the placing.

    `driving_path` leads to the activity that ends last, each held up by the one before it through
    a link or a crew. On a calendar it says more than the critical flags: a night or a weekend in
    which nothing can start gives float to what was done before it.
    """

    start: float
    finish: float
    placements: tuple[Placement, ...]
    driving_path: tuple[str, ...]
    violations: tuple[LagViolation, ...]
    placed: dict[str, Begun] = {}


class _Plan:
    """The network being placed, by position; `busy` is the crew's activity before each.

    What is `begun` keeps its place.
    """

    def __init__(
        self,
        works: Sequence[Work],
        graph: Graph,
        calendar: WorkingCalendar,
        start: float,
        begun: Mapping[str, Begun],
    ) -> None:
        self.works = works
        self.graph = graph
        self.calendar = calendar
        self.start = start
        self.busy = _crew_sequence(works, graph.order)
        self.starts = [start] * len(works)
        self.finishes = [start] * len(works)
        self.bindings = [Binding(start, "project_start")] * len(works)
        self.begun = begun

    def place_all(self, *, only_sound: bool) -> LagViolation | None:
        """With `only_sound`, up to the first activity whose maximum lag is broken."""
        blocked: dict[int, Blocked | None] = {}
        for position in self.graph.order:
            work, busy = self.works[position], self.busy[position]
            known = self.begun.get(work.id)
            if known is not None:
                self.starts[position], self.finishes[position] = known.start, known.finish
                self.bindings[position] = known.binding
                continue
            if work.one_shift and not self.calendar.shift_holds(work.labour):
                blocked[position] = Blocked(work.id, "longer_than_shift")
            elif blocked and (
                busy in blocked
                or any(before in blocked for before, _ in self.graph.predecessors[position])
            ):
                blocked[position] = None
            elif not self._place(position):
                since = self.bindings[position].ready
                blocked[position] = Blocked(work.id, "gate_never_opens", since)
            elif only_sound and not blocked and (broken := self._broken(position)):
                return broken
        if blocked:
            raise BlockedError([each for each in blocked.values() if each is not None])
        return None

    def placed_before(self, name: str) -> dict[str, Begun]:
        """What was placed before an activity, so that another plan can begin with it."""
        found = {}
        for position in self.graph.order:
            work = self.works[position]
            if work.id == name:
                break
            found[work.id] = Begun(
                self.starts[position], self.finishes[position], self.bindings[position]
            )
        return found

    def _broken(self, position: int) -> LagViolation | None:
        for before, link in self.graph.predecessors[position]:
            if link.maximum_lag is not None or link.course is not None:
                begin, end = self.starts[position], self.finishes[before]
                violation = _violation(link, end, begin, self.calendar)
                if violation is not None:
                    return violation
        return None

    def latest_starts(self, finish: float) -> list[float]:
        """Backward from the end of the project, through links, lags and each crew's sequence."""
        due = [finish] * len(self.works)
        latest = [finish] * len(self.works)
        for position in reversed(self.graph.order):
            for after, link in self.graph.successors[position]:
                due[position] = min(due[position], self._before(latest[after], link))
            latest[position] = self._latest_start(position, due[position])
            busy = self.busy[position]
            if busy is not None:
                due[busy] = min(due[busy], latest[position])
        return latest

    def _place(self, position: int) -> bool:
        work = self.works[position]
        binding = self._ready(position)
        self.bindings[position] = binding
        moment = binding.ready
        moved: tuple[Mover, ...] = ()
        for _ in range(MOST_GATE_TRIES):
            begin = self._earliest_start(work, moment)
            if begin > moment + TOLERANCE:
                moved = _moved_by("calendar", moved)
            finish = self.finish_of(work, begin)
            allowed = begin if work.gate is None else work.gate(begin, finish - begin)
            if allowed is None:
                return False
            if allowed <= begin + TOLERANCE:
                self.starts[position], self.finishes[position] = begin, finish
                if moved:
                    self.bindings[position] = Binding(
                        binding.ready, binding.cause, binding.predecessor, binding.lag, moved
                    )
                return True
            moved, moment = _moved_by("gate", moved), allowed
        return False

    def finish_of(self, work: Work, begin: float) -> float:
        """Work in one shift goes on through a break that it cannot avoid."""
        if work.one_shift:
            return begin + work.labour
        return self.calendar.add_working_time(begin, work.labour)

    def _ready(self, position: int) -> Binding:
        work, busy = self.works[position], self.busy[position]
        ready = self.start
        cause: Cause = "project_start"
        by: int | None = None
        lag: float | None = None
        for before, link in self.graph.predecessors[position]:
            moment = self._after(self.finishes[before], link)
            if moment > ready:
                lag = link.minimum_lag
                if link.course is not None:
                    lag = max(moment - self.finishes[before], 0.0)
                ready, cause, by = moment, "link", before
        if busy is not None and self.finishes[busy] > ready:
            ready, cause, by, lag = self.finishes[busy], "crew", busy, None
        if work.release is not None and work.release > ready:
            ready, cause, by, lag = work.release, "release", None, None
        return Binding(ready, cause, None if by is None else self.works[by].id, lag)

    def _after(self, finish: float, link: Link) -> float:
        if link.course is not None:
            return link.course.ready(finish)
        if link.time == "working":
            return self.calendar.add_working_time(finish, link.minimum_lag)
        return finish + link.minimum_lag

    def _before(self, start: float, link: Link) -> float:
        if link.course is not None:
            return link.course.finish_by(start)
        if link.time == "working":
            return self.calendar.subtract_working_time(start, link.minimum_lag)
        return start - link.minimum_lag

    def _earliest_start(self, work: Work, moment: float) -> float:
        if work.labour <= TOLERANCE:
            return moment
        if not work.one_shift:
            return self.calendar.next_working_moment(moment)
        fitting = self.calendar.next_start_fitting(moment, work.labour)
        if fitting is None:
            raise NoWorkingTimeError(moment)
        return fitting

    def _latest_start(self, position: int, due: float) -> float:
        work, calendar, earliest = self.works[position], self.calendar, self.starts[position]
        late: float | None = due
        if work.labour > TOLERANCE and work.one_shift:
            late = calendar.latest_start_fitting(due, work.labour)
        elif work.labour > TOLERANCE:
            late = calendar.subtract_working_time(due, work.labour)
        if late is None or late <= earliest:
            return earliest
        if work.gate is not None:
            allowed = work.gate(late, self.finish_of(work, late) - late)
            if allowed is None or allowed > late + TOLERANCE:
                return earliest
        return late


def calendar_schedule(
    works: Sequence[Work],
    links: Sequence[Link],
    calendar: WorkingCalendar,
    start: float,
    *,
    only_sound: bool = False,
    begun: Mapping[str, Begun] = MappingProxyType({}),
) -> Timetable:
    """Place every activity no earlier than `start`.

    With `only_sound`, placing stops at the first maximum lag that is broken: it comes back as the
    only violation, without placements, and `placed` is what came before. A caller who mends the
    plan from there hands that back as `begun`, to be taken as it is.
    Raises NetworkError (among them CycleError and BlockedError) and NoWorkingTimeError.
    """
    graph = build_graph([work.id for work in works], links)
    plan = _Plan(works, graph, calendar, start, begun)
    broken = plan.place_all(only_sound=only_sound)
    finish = max(plan.finishes, default=start)
    if broken is not None:
        placed = plan.placed_before(broken.successor)
        return Timetable(start, finish, (), (), (broken,), placed)
    violations = () if only_sound else _violations(plan, links)
    latest = plan.latest_starts(finish)
    placements = tuple([_placement(plan, *one) for one in enumerate(latest)])
    return Timetable(start, finish, placements, _driving_path(placements, finish), violations)


def earliest_finish(
    works: Sequence[Work], links: Sequence[Link], calendar: WorkingCalendar, start: float
) -> float:
    """When the last activity ends, each as early as its own links, shift and gate let it.

    Without crews this is the least that any order of work needs. Raises as `calendar_schedule`.
    """
    graph = build_graph([work.id for work in works], links)
    plan = _Plan(works, graph, calendar, start, {})
    plan.place_all(only_sound=False)
    return max(plan.finishes, default=start)


def _placement(plan: _Plan, position: int, late: float) -> Placement:
    work, begin, finish = plan.works[position], plan.starts[position], plan.finishes[position]
    late_finish, float_time = finish, 0.0
    if late > begin:
        late_finish = plan.finish_of(work, late)
        float_time = plan.calendar.working_time_between(begin, late)
    return Placement(
        work.id,
        begin,
        finish,
        late,
        late_finish,
        float_time,
        float_time <= TOLERANCE,
        plan.bindings[position],
    )


def _crew_sequence(works: Sequence[Work], order: Sequence[int]) -> list[int | None]:
    before: list[int | None] = [None] * len(works)
    last: dict[str, int] = {}
    for position in order:
        crew = works[position].crew
        if crew is not None:
            before[position] = last.get(crew)
            last[crew] = position
    return before


def _moved_by(mover: Mover, moved: tuple[Mover, ...]) -> tuple[Mover, ...]:
    """Each mover once, the one that moved last at the end."""
    return (*[each for each in moved if each != mover], mover)


def _driving_path(placements: Sequence[Placement], finish: float) -> tuple[str, ...]:
    by_id = {each.id: each for each in placements}
    last = next((each.id for each in placements if each.finish >= finish - TOLERANCE), None)
    path = []
    while last is not None:
        path.append(last)
        last = by_id[last].binding.predecessor
    return tuple(reversed(path))


def _violations(plan: _Plan, links: Sequence[Link]) -> tuple[LagViolation, ...]:
    places = {work.id: position for position, work in enumerate(plan.works)}
    found = []
    for link in links:
        if link.maximum_lag is None and link.course is None:
            continue
        end = plan.finishes[places[link.predecessor]]
        begin = plan.starts[places[link.successor]]
        found.append(_violation(link, end, begin, plan.calendar))
    return tuple(one for one in found if one is not None)


def _violation(
    link: Link, end: float, begin: float, calendar: WorkingCalendar
) -> LagViolation | None:
    if link.course is not None:
        closes = link.course.closes(end)
        if closes is None or begin <= closes + TOLERANCE:
            return None
        return LagViolation(link.predecessor, link.successor, closes - end, begin - end, link.time)
    working = link.time == "working"
    actual = calendar.working_time_between(end, begin) if working else begin - end
    if link.maximum_lag is None or actual <= link.maximum_lag + TOLERANCE:
        return None
    return LagViolation(link.predecessor, link.successor, link.maximum_lag, actual, link.time)
