"""From a step of the working order to a task with its hours."""

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.labour.efforts import Effort, Efforts
from filmbuild.pipeline.labour.sequence import Coating, Order, Step
from filmbuild.pipeline.results import Coat, Task, Totals
from filmbuild.pipeline.specification import Driver
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Duration, Hours, Quantity


class Planned(msgspec.Struct, frozen=True):
    """A step that has something to do, and how long it takes the crew [s]."""

    step: Step
    effort: Effort
    gangs: int
    duration: float


class PlannedCoating(msgspec.Struct, frozen=True):
    """`abrasion` is what abrading before the coat would take, where the rate book says how."""

    coating: Coating
    before: tuple[Planned, ...]
    placing: tuple[Planned, ...]
    after: tuple[Planned, ...]
    abrasion: Effort | None


class PlannedOrder(msgspec.Struct, frozen=True):
    preparation: tuple[Planned, ...]
    coatings: tuple[PlannedCoating, ...]
    closing: tuple[Planned, ...]

    def all(self) -> Iterable[Planned]:
        yield from self.preparation
        for coating in self.coatings:
            yield from coating.before
            yield from coating.placing
            yield from coating.after
        yield from self.closing


def plan_order(
    order: Order,
    drivers: Mapping[Driver, float],
    totals: Totals,
    coats: Sequence[Coat],
    efforts: Efforts,
    crew: int,
    *,
    abradable: bool,
) -> PlannedOrder:
    mixes = {coat.layer: len(coat.mixes) for coat in coats}
    coatings = []
    for coating in order.coatings:
        layer = coating.layer
        vertical = totals.vertical if layer.vertical is not None else 0.0
        of_layer: dict[Driver, float] = {
            **drivers,
            "coat": 1,
            "mix": mixes.get(layer.id, 0),
            "vertical_area": Area(vertical),
            "coated_area": Area(totals.floor + vertical),
        }
        coatings.append(
            PlannedCoating(
                coating,
                _planned(coating.before, of_layer, efforts, crew),
                _planned(coating.placing, of_layer, efforts, crew),
                _planned(coating.after, of_layer, efforts, crew),
                efforts.of("abrade", of_layer) if abradable else None,
            )
        )
    return PlannedOrder(
        _planned(order.preparation, drivers, efforts, crew),
        tuple(coatings),
        _planned(order.closing, drivers, efforts, crew),
    )


def _planned(
    steps: Iterable[Step], drivers: Mapping[Driver, float], efforts: Efforts, crew: int
) -> tuple[Planned, ...]:
    found = []
    for step in steps:
        effort = efforts.of(step.code, drivers)
        if effort is not None:
            found.append(Planned(step, effort, effort.gangs(crew), effort.duration(crew)))
    return tuple(found)


def check_crew(planned: Iterable[Planned], crew: int, faults: Faults) -> None:
    """One fault for all tasks that the crew is too small for, naming the smallest that works."""
    short = [one for one in planned if one.effort.production.workers > crew]
    if not short:
        return
    needed = max(one.effort.production.workers for one in short)
    names = ", ".join(sorted({one.step.code for one in short}))
    faults.add(
        "crew-too-small",
        f"the crew has {crew} and the rate book asks for more people at once for {names}: the "
        f"smallest crew that works is {needed}",
        "crew",
    )


def task_of(planned: Planned, revision: int) -> Task:
    """Hours of a crew that `check_crew` passed."""
    step, effort = planned.step, planned.effort
    production, quantity = effort.production, effort.quantity
    gangs, duration = planned.gangs, planned.duration
    workers = gangs * production.workers
    measured = isinstance(quantity, Quantity)
    return Task(
        id=step.id,
        code=step.code,
        name=step.name,
        activity=step.activity,
        layer=None if step.layer is None else step.layer.id,
        method=production.method,
        quantity=quantity if isinstance(quantity, Quantity) else None,
        count=None if measured else float(quantity),
        workers=workers,
        labour=Hours(duration * workers),
        duration=Duration(duration),
        equipment=production.equipment,
        reason=step.reason,
        trace=Trace(
            "labour.task",
            {
                "driver": production.driver,
                "quantity": quantity,
                "rate": effort.stated_rate,
                "gangs": gangs,
                "workers_per_gang": production.workers,
                "factor": effort.pace.factor,
                "factors": effort.pace.applied,
                "set_up": production.set_up,
                "minimum": production.minimum,
            },
            revision,
        ),
    )
