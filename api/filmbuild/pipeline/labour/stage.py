"""The labour stage: tasks and their hours, activities and their cure, people and machines."""

from filmbuild.errors import Faults, Infeasible
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.labour.activities import crew_time, plan_activities
from filmbuild.pipeline.labour.costs import cost_traces, labour_costs, total_paid, travel_cost
from filmbuild.pipeline.labour.crew_time import packed, packing_trace
from filmbuild.pipeline.labour.curing import LONGEST_CURE, Curing
from filmbuild.pipeline.labour.fitting import check_coats, check_mixes
from filmbuild.pipeline.labour.machines import equipment_costs, in_full_shifts, machines_used
from filmbuild.pipeline.labour.sequence import REPAIR_PRODUCTS
from filmbuild.pipeline.labour.shift import shift_length, working_length
from filmbuild.pipeline.labour.tasks import PlannedOrder, check_crew, task_of
from filmbuild.pipeline.labour.work import in_sections, planned_work, section_notes
from filmbuild.pipeline.materials import Work, consumable_lines, occasions
from filmbuild.pipeline.results import Activity, ConsumableLine, Labour, Materials, Takeoff, Task
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, System
from filmbuild.pipeline.tasks_present import task_codes
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Hours

_UNDATED = Note(
    "labour-undated",
    "The labour has no dates: crew time is packed into full shifts, in one visit, and no day is cut "
    "short by a coat that cures. A schedule counts people, machines and consumables by the days on "
    "which the work falls; its costs are the ones that are priced.",
)


def plan_labour(
    takeoff: Takeoff,
    materials: Materials,
    job: Job,
    selection: Selection,
    catalogue: Catalogue,
    faults: Faults,
    notes: list[Note],
) -> Labour:
    """Who works how long; `faults` is rooted at the job. Raises InvalidInput and Infeasible."""
    crew, rate_book, revision = selection.workers, selection.rate_book, catalogue.revision
    surface = selection.conditions.surface_temperature
    shift = shift_length(job.calendar, faults)
    work = planned_work(takeoff, materials.coats, selection, catalogue, faults)
    check_crew(work.planned.all(), crew, faults)
    _check_products(work.planned, selection.system, catalogue, faults)
    faults.raise_if_any()
    if shift is None:
        msg = "a calendar without faults has a shift"
        raise AssertionError(msg)
    planned, sections = in_sections(work, takeoff, shift, revision)
    notes += section_notes(work, sections, materials.coats, shift)
    curing = Curing(surface, revision, faults, notes)
    activities = plan_activities(planned, selection.system.repairs, catalogue.products, curing)
    tasks = tuple([task_of(one, revision) for one in planned.all()])
    machines = machines_used(tasks, rate_book, faults)
    faults.raise_if_any()
    _check_feasible(planned, materials, activities, curing, crew, shift, faults, notes)
    working = working_length(job.calendar)
    time = packed(crew_time(activities), working, rate_book)
    labour = labour_costs(time, selection, revision)
    notes.append(_UNDATED)
    return Labour(
        rate_book=rate_book.id,
        crew=crew,
        tasks=tasks,
        activities=activities,
        sections=sections,
        labour=labour,
        equipment=equipment_costs(
            machines,
            lambda use: in_full_shifts(use, working),
            "labour.equipment",
            rate_book,
            revision,
        ),
        travel=travel_cost(time, selection),
        consumables=_consumables(time.days, takeoff, selection.system, catalogue),
        productive=Hours(round(sum([task.labour for task in tasks]), 3)),
        paid=total_paid(labour),
        shifts=time.days,
        visits=time.visits,
        traces={
            "shifts": packing_trace(time, working, rate_book, revision),
            "productive": _productive(tasks),
            **cost_traces(time, selection, revision),
            **({} if selection.choice is None else {"crew": selection.choice}),
        },
    )


def _productive(tasks: tuple[Task, ...]) -> Trace:
    return Trace("labour.productive", {"tasks": {task.id: task.labour for task in tasks}})


def _check_products(
    planned: PlannedOrder, system: System, catalogue: Catalogue, faults: Faults
) -> None:
    needed: list[tuple[str, str | None]] = [
        (f"layer {layer.id}", layer.product) for layer in system.layers
    ]
    for one in planned.preparation:
        field = REPAIR_PRODUCTS.get(one.step.code)
        if field is not None:
            needed.append((field, getattr(system.repairs, field)))
    for where, name in needed:
        if name is None:
            detail = f"the site needs a product that system {system.id} does not name as {where}"
            faults.add("no-repair-product", detail, "system")
        elif name not in catalogue.products:
            faults.add("unknown-product", f"{where}: the catalogue has no product {name}", "system")


def _check_feasible(
    planned: PlannedOrder,
    materials: Materials,
    activities: tuple[Activity, ...],
    curing: Curing,
    crew: int,
    shift: float,
    faults: Faults,
    notes: list[Note],
) -> None:
    curing.refuse_slow()
    check_coats(planned.coatings, crew, shift, faults)
    check_mixes(planned.coatings, materials.coats, crew, faults, notes)
    if crew_time(activities) > LONGEST_CURE:
        detail = f"{crew} people would work for more than ten years: divide the site"
        faults.add("work-too-long", detail, "crew")
    faults.raise_if_any("The job cannot be done as it stands.", Infeasible)


def _consumables(
    shifts: int, takeoff: Takeoff, system: System, catalogue: Catalogue
) -> tuple[ConsumableLine, ...]:
    return consumable_lines(
        catalogue.consumables,
        Work({"shift": shifts}, occasions(system, task_codes(takeoff, system))),
        catalogue.currency,
        catalogue.revision,
        shift_driven=True,
    )
