from collections.abc import Sequence
from datetime import date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from filmbuild.pipeline.network import CycleError, Link
from filmbuild.pipeline.timetable import (
    BlockedError,
    Timetable,
    Work,
    calendar_schedule,
)
from filmbuild.pipeline.workdays import WorkingCalendar, WorkingRules, to_moment

HOUR, STEP = 3_600.0, 900.0
LISBON = ZoneInfo("Europe/Lisbon")  # clocks go forward on 29 March 2026
RULES = WorkingRules(timezone="Europe/Lisbon", shift_start=time(8), shift_end=time(12))
CALENDAR = WorkingCalendar(RULES)
START = to_moment(datetime(2026, 3, 26, 6, tzinfo=LISBON))  # a Thursday

Job = tuple[list[Work], list[Link]]


def local(text: str) -> float:
    return to_moment(datetime.fromisoformat(text).replace(tzinfo=LISBON))


def afternoon_closed(start: float, duration: float) -> float:
    """A gate that is open from 09:30 to 11:30 local time each day."""
    begin = datetime.fromtimestamp(start, LISBON)
    opens, shuts = (begin.replace(hour=h, minute=30, second=0) for h in (9, 11))
    if start + duration <= to_moment(shuts):
        return max(start, to_moment(opens))
    return to_moment(opens + timedelta(days=1))


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    count = draw(st.integers(1, 6))
    works = []
    for place in range(count):
        gated = draw(st.booleans())
        works.append(
            Work(
                f"t{place}",
                draw(st.integers(0, 8 if gated else 16)) * STEP,
                one_shift=gated or draw(st.booleans()),
                crew=draw(st.sampled_from([None, "north", "south"])),
                release=draw(st.none() | st.integers(0, 200).map(lambda n: START + n * STEP)),
                gate=afternoon_closed if gated else None,
            )
        )
    pairs = [(before, after) for after in range(count) for before in range(after)]
    chosen = draw(st.lists(st.sampled_from(pairs), max_size=8, unique=True)) if pairs else []
    links = [
        Link(
            f"t{before}",
            f"t{after}",
            draw(st.integers(0, 80)) * STEP,
            time=draw(st.sampled_from(["elapsed", "working"])),
        )
        for before, after in chosen
    ]
    return works, links


class Simulator:
    """The same job by brute force: every quarter of an hour, start whatever may start."""

    def __init__(self, works: Sequence[Work], links: Sequence[Link], off: frozenset[date]) -> None:
        self.works, self.links, self.off = works, links, off
        self.starts: dict[str, float] = {}
        self.finishes: dict[str, float] = {}
        self.done: dict[str, float] = {}
        self.worked_since: dict[str, float] = {}

    def working(self, moment: float) -> bool:
        clock = datetime.fromtimestamp(moment, LISBON)
        return clock.weekday() < 5 and clock.date() not in self.off and 8 <= clock.hour < 12

    def run(self) -> dict[str, tuple[float, float]]:
        moment = START
        while len(self.finishes) < len(self.works):
            self.start_what_may(moment)
            if self.working(moment):
                self.work_one_step(moment)
            moment += STEP
            assert moment < START + 120 * 24 * HOUR
        return {name: (self.starts[name], finish) for name, finish in self.finishes.items()}

    def start_what_may(self, moment: float) -> None:
        for _ in self.works:  # a milestone may release another at the same moment
            for work in self.works:
                if work.id not in self.starts and self.may_start(work, moment):
                    self.starts[work.id] = moment
                    self.done[work.id] = 0.0
                    if not work.labour:
                        self.finish(work.id, moment)

    def may_start(self, work: Work, moment: float) -> bool:
        if work.release is not None and moment < work.release:
            return False
        for link in self.links:
            if link.successor == work.id and not self.lag_over(link, moment):
                return False
        for earlier in self.works[: self.works.index(work)]:
            if work.crew and earlier.crew == work.crew and earlier.id not in self.finishes:
                return False
        return self.shift_allows(work, moment)

    def lag_over(self, link: Link, moment: float) -> bool:
        if link.predecessor not in self.finishes:
            return False
        if link.time == "working":
            return self.worked_since[link.predecessor] >= link.minimum_lag
        return moment >= self.finishes[link.predecessor] + link.minimum_lag

    def shift_allows(self, work: Work, moment: float) -> bool:
        if work.labour and not self.working(moment):
            return False
        steps = range(round(work.labour / STEP)) if work.one_shift else ()
        if not all(self.working(moment + step * STEP) for step in steps):
            return False
        return work.gate is None or work.gate(moment, work.labour) == moment

    def work_one_step(self, moment: float) -> None:
        for name in self.worked_since:
            self.worked_since[name] += STEP
        for work in self.works:
            if work.id in self.starts and work.id not in self.finishes:
                self.done[work.id] += STEP
                if self.done[work.id] >= work.labour:
                    self.finish(work.id, moment + STEP)

    def finish(self, name: str, moment: float) -> None:
        self.finishes[name] = moment
        self.worked_since[name] = 0.0


def verify(works: Sequence[Work], links: Sequence[Link], timetable: Timetable) -> None:
    """What any timetable must keep, checked from its moments alone."""
    placed = {each.id: each for each in timetable.placements}
    for link in links:
        before, after = placed[link.predecessor], placed[link.successor]
        for end, begin in (
            (before.finish, after.start),
            (before.latest_finish, after.latest_start),
        ):
            gap = begin - end
            if link.time == "working":
                gap = CALENDAR.working_time_between(end, begin) if begin > end else begin - end
            assert gap >= link.minimum_lag
    for place, work in enumerate(works):
        each = placed[work.id]
        assert each.start >= max(START, work.release or START)
        assert each.start <= each.latest_start
        assert each.finish <= each.latest_finish <= timetable.finish
        for begin, end in ((each.start, each.finish), (each.latest_start, each.latest_finish)):
            assert CALENDAR.working_time_between(begin, end) == work.labour
            if work.one_shift:
                assert end - begin == work.labour
            if work.gate:
                assert work.gate(begin, end - begin) == begin
        for later in works[place + 1 :]:
            if work.crew and work.crew == later.crew:
                assert each.finish <= placed[later.id].start


@settings(deadline=None, max_examples=120)
@given(jobs())
def test_the_timetable_agrees_with_brute_force(job: Job) -> None:
    works, links = job
    timetable = calendar_schedule(works, links, CALENDAR, START)
    found = {each.id: (each.start, each.finish) for each in timetable.placements}
    assert found == Simulator(works, links, frozenset()).run()


@given(jobs())
def test_every_timetable_keeps_links_crews_shifts_and_gates(job: Job) -> None:
    works, links = job
    verify(works, links, calendar_schedule(works, links, CALENDAR, START))


@given(jobs(), st.data())
def test_more_lag_never_finishes_earlier(job: Job, data: st.DataObject) -> None:
    works, links = job
    if not links:
        return
    chosen = data.draw(st.integers(0, len(links) - 1))
    longer = list(links)
    more = data.draw(st.integers(1, 100)) * STEP
    longer[chosen] = msgspec.structs.replace(
        links[chosen], minimum_lag=links[chosen].minimum_lag + more
    )
    before, after = (
        calendar_schedule(works, each, CALENDAR, START).finish for each in (links, longer)
    )
    assert after >= before


@given(jobs(), st.integers(0, 20))
def test_a_holiday_never_finishes_earlier(job: Job, days: int) -> None:
    works, links = job
    off = date(2026, 3, 26) + timedelta(days)
    fewer = WorkingCalendar(msgspec.structs.replace(RULES, holidays=frozenset({off})))
    open_day, closed_day = (
        calendar_schedule(works, links, each, START) for each in (CALENDAR, fewer)
    )
    for before, after in zip(open_day.placements, closed_day.placements, strict=True):
        assert after.finish >= before.finish


@given(jobs())
def test_starting_at_the_latest_start_does_not_move_the_finish(job: Job) -> None:
    works, links = job
    timetable = calendar_schedule(works, links, CALENDAR, START)
    for place, each in enumerate(timetable.placements):
        delayed = list(works)
        delayed[place] = msgspec.structs.replace(works[place], release=each.latest_start)
        again = calendar_schedule(delayed, links, CALENDAR, START)
        assert again.finish == timetable.finish
        assert again.placements[place].start == each.latest_start


@given(jobs())
def test_the_driving_path_leads_to_the_finish(job: Job) -> None:
    works, links = job
    timetable = calendar_schedule(works, links, CALENDAR, START)
    placed = {each.id: each for each in timetable.placements}
    path = timetable.driving_path
    assert placed[path[-1]].finish == timetable.finish
    assert placed[path[0]].binding.cause in ("project_start", "release")
    for before, after in pairwise(path):
        assert placed[after].binding.predecessor == before
        assert placed[before].finish <= placed[after].binding.ready <= placed[after].start


def test_each_start_says_what_held_it_up() -> None:
    works = [
        Work("prepare", 2 * HOUR, crew="floor"),
        Work("coat-1", 2 * HOUR, one_shift=True, crew="floor"),
        Work("coat-2", HOUR, one_shift=True, crew="floor", gate=afternoon_closed),
        Work("tidy", HOUR, crew="floor"),
        Work("deliver", HOUR, release=local("2026-03-30T09:00")),
        Work("traffic", 0),
    ]
    links = [
        Link("prepare", "coat-1"),
        Link("coat-1", "coat-2", 16 * HOUR),
        Link("coat-2", "traffic", 72 * HOUR),
        Link("prepare", "tidy", HOUR, time="working"),
    ]
    timetable = calendar_schedule(works, links, CALENDAR, START)
    prepare, coat_1, coat_2, tidy, deliver, traffic = timetable.placements
    assert (prepare.binding.cause, prepare.binding.moved) == ("project_start", ("calendar",))
    assert prepare.start == local("2026-03-26T08:00")
    assert (coat_1.binding.cause, coat_1.binding.predecessor) == ("link", "prepare")
    assert coat_1.start == coat_1.binding.ready == local("2026-03-26T10:00")
    assert (coat_2.binding.cause, coat_2.binding.predecessor) == ("link", "coat-1")
    assert coat_2.binding.lag == 16 * HOUR
    assert coat_2.binding.ready == local("2026-03-27T04:00")
    assert coat_2.binding.moved == ("calendar", "gate")
    assert coat_2.start == local("2026-03-27T09:30")
    assert (tidy.binding.cause, tidy.binding.predecessor) == ("crew", "coat-2")
    assert tidy.start == local("2026-03-27T10:30")
    assert deliver.binding.cause == "release"
    assert deliver.start == local("2026-03-30T09:00")
    # 72 h of cure are elapsed time: the clock shows an hour more after the change of clocks.
    assert traffic.start == traffic.finish == local("2026-03-30T11:30")
    assert timetable.finish == traffic.finish
    assert timetable.driving_path == ("prepare", "coat-1", "coat-2", "traffic")
    assert [each.critical for each in timetable.placements] == [
        True,
        True,
        True,
        False,
        False,
        True,
    ]
    assert deliver.float_time == 1.5 * HOUR


def test_the_last_thing_that_moved_a_start_is_named_last() -> None:
    def not_before_noon(start: float, _duration: float) -> float:
        return max(start, local("2026-03-26T12:00"))

    works = [Work("coat", HOUR, one_shift=True, gate=not_before_noon)]
    (coat,) = calendar_schedule(works, [], CALENDAR, START).placements
    assert coat.start == local("2026-03-27T08:00")
    assert coat.binding.moved == ("gate", "calendar")


def test_the_recoat_window_that_a_weekend_overruns_is_reported() -> None:
    works = [Work("coat-1", 4 * HOUR, one_shift=True), Work("coat-2", 4 * HOUR, one_shift=True)]
    window = Link("coat-1", "coat-2", 12 * HOUR, 48 * HOUR)
    friday = local("2026-04-10T06:00")
    timetable = calendar_schedule(works, [window], CALENDAR, friday)
    (violation,) = timetable.violations
    assert (violation.predecessor, violation.successor) == ("coat-1", "coat-2")
    assert (violation.limit, violation.actual) == (48 * HOUR, 68 * HOUR)
    in_working_time = msgspec.structs.replace(window, minimum_lag=0, maximum_lag=0, time="working")
    assert calendar_schedule(works, [in_working_time], CALENDAR, friday).violations == ()


def test_work_that_has_no_place_is_reported_all_at_once() -> None:
    def never(_start: float, _duration: float) -> None:
        return None

    def always_later(start: float, _duration: float) -> float:
        return start + 60

    works = [
        Work("too-long", 5 * HOUR, one_shift=True),
        Work("after", HOUR),
        Work("too-cold", HOUR, gate=never),
        Work("too-long-as-well", 6 * HOUR, one_shift=True),
        Work("restless", HOUR, crew="floor", gate=always_later),
        Work("next-of-crew", HOUR, crew="floor", gate=never),
    ]
    links = [Link("too-long", "after"), Link("too-cold", "too-long-as-well")]
    with pytest.raises(BlockedError) as refused:
        calendar_schedule(works, links, CALENDAR, START)
    assert [(each.id, each.reason) for each in refused.value.blocked] == [
        ("too-long", "longer_than_shift"),
        ("too-cold", "gate_never_opens"),
        ("too-long-as-well", "longer_than_shift"),
        ("restless", "gate_never_opens"),
    ]
    assert refused.value.blocked[1].since == START


def test_a_cycle_is_refused() -> None:
    with pytest.raises(CycleError):
        calendar_schedule(
            [Work("a", HOUR), Work("b", HOUR)], [Link("a", "b"), Link("b", "a")], CALENDAR, START
        )


def test_an_empty_job_is_over_when_it_starts() -> None:
    timetable = calendar_schedule([], [], CALENDAR, START)
    assert (timetable.start, timetable.finish, timetable.driving_path) == (START, START, ())


@settings(max_examples=60, deadline=None)
@given(jobs(), st.integers(0, 20))
def test_a_plan_that_begins_with_what_was_placed_ends_as_one_placed_anew(
    job: Job, limit: int
) -> None:
    """A broken maximum lag stops the placing; the caller puts work in front of what broke it."""
    works, links = job
    if not links:
        return
    bounded = [
        msgspec.structs.replace(link, maximum_lag=link.minimum_lag + limit * STEP, time="elapsed")
        for link in links
    ]
    stopped = calendar_schedule(works, bounded, CALENDAR, START, only_sound=True)
    whole = calendar_schedule(works, bounded, CALENDAR, START)
    assert bool(stopped.violations) == bool(whole.violations)
    if not stopped.violations:
        assert stopped.placements == whole.placements
        return
    (broken,) = stopped.violations
    assert broken in whole.violations
    place = next(n for n, one in enumerate(works) if one.id == broken.successor)
    mended = [*works[:place], Work("mend", STEP, crew=works[place].crew), *works[place:]]
    chain = [
        msgspec.structs.replace(link, successor="mend", maximum_lag=None)
        if link.successor == broken.successor
        else msgspec.structs.replace(link, maximum_lag=None)
        for link in bounded
    ]
    chain.append(Link("mend", broken.successor))
    assert broken.successor not in stopped.placed
    resumed = calendar_schedule(mended, chain, CALENDAR, START, begun=stopped.placed)
    assert resumed == calendar_schedule(mended, chain, CALENDAR, START)
