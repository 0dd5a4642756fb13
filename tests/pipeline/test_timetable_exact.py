"""The plan against the best there is, found by CP-SAT on small jobs."""

from collections.abc import Callable
from random import Random

from ortools.sat.python import cp_model

from filmbuild.pipeline.network import Link
from filmbuild.pipeline.timetable import Work, calendar_schedule, earliest_finish
from filmbuild.pipeline.workdays import WorkingCalendar, WorkingRules

HOUR = 3_600.0
CALENDAR = WorkingCalendar(
    WorkingRules(
        shift_start=WorkingRules().shift_start.replace(hour=0),
        shift_end=WorkingRules().shift_end.replace(hour=22),
    )
)
START = CALENDAR.next_working_moment(1.7e9)


def random_job(seed: int) -> tuple[list[Work], list[Link]]:
    """Two crews, tasks of one or two hours, lags up to two: all of it inside one long shift."""
    chance = Random(seed)  # noqa: S311 - draws test cases
    count = 5
    works = [
        Work(f"t{n}", chance.randint(1, 2) * HOUR, crew=chance.choice(("north", "south")))
        for n in range(count)
    ]
    pairs = [(a, b) for b in range(count) for a in range(b) if chance.random() < 0.4]
    return works, [Link(f"t{a}", f"t{b}", chance.randint(0, 2) * HOUR) for a, b in pairs]


def shortest(works: list[Work], links: list[Link]) -> float:
    model = cp_model.CpModel()
    starts = {one.id: model.new_int_var(0, 40, one.id) for one in works}
    hours = {one.id: round(one.labour / HOUR) for one in works}
    spans = {
        one.id: model.new_fixed_size_interval_var(starts[one.id], hours[one.id], f"s{one.id}")
        for one in works
    }
    for crew in ("north", "south"):
        model.add_no_overlap([spans[one.id] for one in works if one.crew == crew])
    for link in links:
        lag = hours[link.predecessor] + round(link.minimum_lag / HOUR)
        model.add(starts[link.successor] >= starts[link.predecessor] + lag)
    end = model.new_int_var(0, 80, "end")
    model.add_max_equality(end, [starts[name] + hours[name] for name in starts])
    model.minimize(end)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return solver.objective_value * HOUR


def test_the_plan_lies_between_the_best_and_the_bound(
    record_property: Callable[[str, object], None],
) -> None:
    """Working order is given, so the plan may end later than the best: the gap is recorded."""
    gaps = []
    for seed in range(40):
        works, links = random_job(seed)
        least = shortest(works, links)
        plan = calendar_schedule(works, links, CALENDAR, START).finish - START
        alone = [Work(one.id, one.labour) for one in works]
        by_crew = max(
            sum(one.labour for one in works if one.crew == crew) for crew in ("north", "south")
        )
        bound = max(earliest_finish(alone, links, CALENDAR, START) - START, by_crew)
        assert bound <= least + 1e-3
        assert least <= plan + 1e-3
        gaps.append(plan / least - 1)
    record_property("mean_gap", sum(gaps) / len(gaps))
    assert gaps.count(0.0) > len(gaps) / 2
