"""Whether the labour that was handed in hangs together.

Whether its activities make a network is what the schedule tells.
"""

from decimal import Decimal
from typing import get_args

from filmbuild.money import rounded
from filmbuild.pipeline.intake.marks import MILLISECOND, Marks, minor_unit
from filmbuild.pipeline.intake.purchases import check_consumables
from filmbuild.pipeline.results import CureTimes, Labour, LabourCost, Takeoff
from filmbuild.pipeline.specification import TaskCode
from filmbuild.quantities import Area, Duration

_CODES = frozenset(get_args(TaskCode))
_HOUR = Decimal(3600)
_SHARE = 1e-6


def check_labour(labour: Labour, takeoff: Takeoff, currency: str, marks: Marks) -> None:
    """`marks` stands at the labour."""
    _check_tasks(labour, marks)
    _check_beside(labour, marks)
    _check_activities(labour, marks)
    _check_sections(labour, takeoff, marks)
    marks.unique(
        ((one.labour_class, one.overtime) for one in labour.labour), "labour", field="labour_class"
    )
    for index, cost in enumerate(labour.labour):
        _check_cost(cost, currency, marks.at("labour", index))
    for index, machine in enumerate(labour.equipment):
        place = ("equipment", index)
        if machine.days < 0:
            marks.add("negative", "days are counted from 0", *place, "days")
        marks.counted(machine.amount, machine.day_rate, machine.days, currency, *place)
    marks.paid(labour.travel, currency, "travel")
    check_consumables(labour.consumables, currency, marks.at("consumables"))
    productive = sum([task.labour for task in labour.tasks])
    rule = "the productive hours are those of the tasks"
    marks.same(labour.productive, productive, "totals-mismatch", rule, "productive")
    paid = sum([cost.paid for cost in labour.labour])
    rule = "the paid hours are those of all classes"
    marks.same(labour.paid, paid, "totals-mismatch", rule, "paid")
    if labour.shifts < 1:
        marks.add("not-positive", "the work fills one shift at least", "shifts")


def _check_tasks(labour: Labour, marks: Marks) -> None:
    if not labour.tasks:
        marks.add("empty", "a job has one task at least", "tasks")
    marks.unique((task.id for task in labour.tasks), "tasks", field="id")
    known = {one.id for one in labour.activities}
    for index, task in enumerate(labour.tasks):
        if task.code not in _CODES:
            marks.add("unknown-task", f"one of {', '.join(_CODES)}", "tasks", index, "code")
        if task.activity not in known:
            detail = f"there is no activity {task.activity}"
            marks.add("unknown-activity", detail, "tasks", index, "activity")
        if not 1 <= task.workers <= labour.crew:
            detail = f"a task takes from 1 to the {labour.crew} people of the crew"
            marks.add("out-of-range", detail, "tasks", index, "workers")
        elif abs(task.labour - task.duration * task.workers) > MILLISECOND * task.workers:
            hours = marks.shown(type(task.labour), task.duration * task.workers)
            detail = f"the labour of a task is its duration for each of its workers: {hours}"
            marks.add("parts-mismatch", detail, "tasks", index, "labour")


def _check_beside(labour: Labour, marks: Marks) -> None:
    """Nobody is in two places: those who work side by side are of one crew."""
    tasks = {task.id: task for task in labour.tasks}
    for index, task in enumerate(labour.tasks):
        unknown = [name for name in task.beside if name not in tasks]
        if unknown:
            marks.add("unknown-task", f"there is no task {unknown[0]}", "tasks", index, "beside")
            continue
        people = task.workers + sum(tasks[name].workers for name in task.beside)
        if task.beside and people > labour.crew:
            detail = f"side by side they are {people}, of a crew of {labour.crew}"
            marks.add("out-of-range", detail, "tasks", index, "workers")


def _check_activities(labour: Labour, marks: Marks) -> None:
    marks.unique((one.id for one in labour.activities), "activities", field="id")
    durations: dict[str, list[float]] = {}
    for task in labour.tasks:
        durations.setdefault(task.activity, []).append(task.duration)
    for index, one in enumerate(labour.activities):
        tasks = durations.get(one.id, [])
        time = max(tasks, default=0.0) if one.side_by_side else sum(tasks)
        if abs(one.duration - time) > MILLISECOND * (1 + len(tasks)):
            whole = marks.shown(Duration, time)
            how = "side by side" if one.side_by_side else "one after the other"
            detail = f"an activity takes as long as its tasks, {how}: {whole}"
            marks.add("parts-mismatch", detail, "activities", index, "duration")
        if one.cure is not None:
            _check_cure(one.cure, marks.at("activities", index, "cure"))


def _check_sections(labour: Labour, takeoff: Takeoff, marks: Marks) -> None:
    areas = {area.id: area for area in takeoff.areas}
    left = dict.fromkeys(areas, 1.0)
    for index, one in enumerate(labour.sections):
        at = marks.at("sections", index)
        if one.number != index + 1:
            at.add("out-of-order", "sections are numbered from 1, in their order", "number")
        if len(one.shares) != len(one.areas):
            at.add("parts-mismatch", "each area of a section has its share", "shares")
            continue
        unknown = [name for name in one.areas if name not in areas]
        if unknown:
            at.add("unknown-area", f"there is no area {unknown[0]}", "areas")
            continue
        both = list(zip(one.areas, one.shares, strict=True))
        floor = Area(sum(areas[name].floor * share for name, share in both))
        rule = "the floor of a section is that of its shares of areas"
        at.same(one.floor, floor, "parts-mismatch", rule, "floor")
        for name, share in both:
            left[name] -= share
    if labour.sections and any(abs(rest) > _SHARE for rest in left.values()):
        detail = "the sections together are the whole floor, each share of an area in one of them"
        marks.add("parts-mismatch", detail, "sections")
    for index, activity in enumerate(labour.activities):
        section = activity.section
        if section is not None and not 1 <= section <= len(labour.sections):
            detail = f"there are {len(labour.sections)} sections"
            marks.add("unknown-section", detail, "activities", index, "section")


def _check_cure(cure: CureTimes, marks: Marks) -> None:
    for field in ("recoat_after", "foot_traffic", "vehicle_traffic", "full_cure"):
        if not getattr(cure, field) > 0:
            marks.add("not-positive", "nothing cures in no time", field)
    if cure.recoat_before is not None and cure.recoat_before < cure.recoat_after:
        marks.add("parts-mismatch", "a recoat window closes after it opens", "recoat_before")


def _check_cost(cost: LabourCost, currency: str, marks: Marks) -> None:
    fits = marks.currency(cost.rate_per_hour, currency, "rate_per_hour")
    if not (marks.currency(cost.amount, currency, "amount") and fits):
        return
    exact = Decimal(cost.paid) / _HOUR * cost.rate_per_hour.amount
    expected = rounded(exact, cost.amount.currency).amount
    if abs(cost.amount.amount - expected) > minor_unit(cost.amount):
        detail = f"the hours at their rate are {expected:f}, and not {cost.amount.amount:f}"
        marks.add("amount-mismatch", detail, "amount", "amount")
