"""What people, machines and consumables cost on the days on which the work falls."""

from collections.abc import Iterable, Iterator

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.labour.costs import cost_traces, labour_costs, total_paid, travel_cost
from filmbuild.pipeline.labour.crew_time import CrewTime
from filmbuild.pipeline.labour.machines import MachineUse, equipment_costs, machines_used
from filmbuild.pipeline.materials import (
    Work,
    areas_by_hardness,
    consumable_lines,
    driver_quantities,
    occasions,
    removed_from,
)
from filmbuild.pipeline.results import (
    ConsumableLine,
    CrewCosts,
    Labour,
    Materials,
    Takeoff,
    Task,
    WorkedDay,
)
from filmbuild.pipeline.schedule.days import Days
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, ConsumableRule, Driver, TaskCode
from filmbuild.pipeline.tasks_present import task_codes
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Hours


class Plan(msgspec.Struct, frozen=True):
    """What the dated costs are made from: `added` are tasks that the dates call for."""

    takeoff: Takeoff
    materials: Materials
    labour: Labour
    added: tuple[Task, ...]
    added_codes: tuple[TaskCode, ...]


def dated_costs(
    plan: Plan,
    days: Days,
    worked: tuple[WorkedDay, ...],
    time: CrewTime,
    selection: Selection,
    catalogue: Catalogue,
    faults: Faults,
) -> CrewCosts:
    """Adds a fault for a machine that the rate book lacks."""
    book, revision = selection.rate_book, catalogue.revision
    labour, added = plan.labour, plan.added
    costs = labour_costs(time, selection, revision)

    def days_used(use: MachineUse) -> tuple[int, dict[str, object]]:
        count = days.of(set(use.activities))
        return count, {"days_used": count}

    machines = machines_used((*labour.tasks, *added), book, faults)
    return CrewCosts(
        labour=costs,
        equipment=equipment_costs(machines, days_used, "schedule.equipment", book, revision),
        travel=travel_cost(time, selection),
        consumables=_consumables(plan, time, selection, catalogue),
        productive=Hours(round(sum([labour.productive, *[one.labour for one in added]]), 3)),
        paid=total_paid(costs),
        shifts=time.days,
        visits=time.visits,
        traces={
            "shifts": Trace("schedule.shifts", {"days": [one.date for one in worked]}),
            "visits": Trace(
                "schedule.visits",
                {"idle_days": book.travel.visit_ends_after_idle_days},
                revision,
            ),
            "productive": Trace(
                "schedule.productive",
                {"labour": labour.productive, "added": {one.id: one.labour for one in added}},
            ),
            **cost_traces(time, selection, revision),
        },
    )


def _consumables(
    plan: Plan, time: CrewTime, selection: Selection, catalogue: Catalogue
) -> tuple[ConsumableLine, ...]:
    """Those driven by days; what the added tasks take; and what visits beyond the first take."""
    takeoff, system = plan.takeoff, selection.system
    before = occasions(system, task_codes(takeoff, system))
    added: dict[TaskCode, int] = {}
    for code in plan.added_codes:
        added[code] = added.get(code, 0) + 1
    both = {**before, **{code: before.get(code, 0) + times for code, times in added.items()}}
    rules = catalogue.consumables
    lines = list(_lines(rules, Work({"shift": time.days}, both), catalogue, shift_driven=True))
    if added:
        drivers = driver_quantities(takeoff, plan.materials.coats, selection.workers)
        lines += _lines(_of_added(rules, before), _added_work(takeoff, drivers, added), catalogue)
    if time.visits > 1:
        lines += _lines(rules, Work({"visit": time.visits - 1}, both), catalogue)
    return tuple(lines)


def _added_work(takeoff: Takeoff, drivers: dict[Driver, float], added: dict[TaskCode, int]) -> Work:
    hardness, removed = areas_by_hardness(takeoff), removed_from(takeoff)
    return Work(drivers, added, hardness=hardness, removed_from=removed)


def _of_added(
    rules: Iterable[ConsumableRule], before: Iterable[TaskCode]
) -> Iterator[ConsumableRule]:
    """Rules of tasks: what is counted once for the job is there if such a task was before."""
    known = frozenset(before)
    for rule in rules:
        if rule.tasks and (rule.per_count is None or known.isdisjoint(rule.tasks)):
            yield rule


def _lines(
    rules: Iterable[ConsumableRule],
    work: Work,
    catalogue: Catalogue,
    *,
    shift_driven: bool = False,
) -> tuple[ConsumableLine, ...]:
    return consumable_lines(
        rules, work, catalogue.currency, catalogue.revision, shift_driven=shift_driven
    )
