"""The labour stage: tasks and their hours, activities and their cure, people and machines."""

from filmbuild.errors import Faults, Infeasible
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.labour.activities import crew_time, plan_activities
from filmbuild.pipeline.labour.conditions import ground_of
from filmbuild.pipeline.labour.costs import (
    equipment_costs,
    labour_costs,
    packed,
    total_paid,
    travel_cost,
)
from filmbuild.pipeline.labour.curing import LONGEST_CURE, Curing
from filmbuild.pipeline.labour.efforts import Efforts
from filmbuild.pipeline.labour.fitting import check_coats, check_mixes
from filmbuild.pipeline.labour.sequence import REPAIR_PRODUCTS, working_order
from filmbuild.pipeline.labour.shift import shift_length
from filmbuild.pipeline.labour.tasks import PlannedOrder, check_crew, plan_order, task_of
from filmbuild.pipeline.materials import consumable_lines, driver_quantities
from filmbuild.pipeline.results import Activity, ConsumableLine, Labour, Materials, Takeoff
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, System, TaskCode
from filmbuild.pipeline.tasks_present import task_codes
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import Hours


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
    planned = _planned(takeoff, materials, selection, faults)
    check_crew(planned.all(), crew, faults)
    _check_products(planned, selection.system, catalogue, faults)
    faults.raise_if_any()
    if shift is None:
        msg = "a calendar without faults has a shift"
        raise AssertionError(msg)
    curing = Curing(surface, revision, faults, notes)
    activities = plan_activities(
        planned, crew, selection.system.repairs, catalogue.products, curing
    )
    equipment = equipment_costs(planned.all(), shift, rate_book, faults, revision)
    faults.raise_if_any()
    _check_feasible(planned, materials, activities, curing, crew, shift, faults, notes)
    worked = packed(crew_time(activities), shift, rate_book.standard_day)
    tasks = tuple(task_of(one, revision) for one in planned.all())
    labour = labour_costs(worked, selection, rate_book.currency, revision)
    notes.append(
        Note(
            "single-visit",
            "Travel is counted for one visit: people and machines stay until the floor is done. "
            "Days spent waiting for cure are not paid.",
        )
    )
    return Labour(
        rate_book=rate_book.id,
        crew=crew,
        tasks=tasks,
        activities=activities,
        labour=labour,
        equipment=equipment,
        travel=travel_cost(rate_book),
        consumables=_consumables(worked.shifts, task_codes(takeoff, selection.system), catalogue),
        productive=Hours(sum(task.labour for task in tasks)),
        paid=total_paid(labour),
        shifts=worked.shifts,
    )


def _planned(
    takeoff: Takeoff, materials: Materials, selection: Selection, faults: Faults
) -> PlannedOrder:
    book = selection.rate_book
    ground = ground_of(takeoff.areas, book.small_area, selection.conditions.surface_temperature)
    abrading = selection.productions.get("abrade")
    return plan_order(
        working_order(takeoff, selection.system, faults),
        driver_quantities(takeoff, materials.coats, selection.workers),
        takeoff.totals,
        materials.coats,
        Efforts(takeoff.totals, selection, ground, faults),
        selection.workers,
        abradable=abrading is not None and abrading.workers <= selection.workers,
    )


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
    shifts: int, tasks: frozenset[TaskCode], catalogue: Catalogue
) -> tuple[ConsumableLine, ...]:
    return consumable_lines(
        catalogue.consumables,
        {"shift": shifts},
        tasks,
        catalogue.currency,
        catalogue.revision,
        shift_driven=True,
    )
