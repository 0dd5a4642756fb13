"""From a step of the working order to a task with its hours."""

from collections.abc import Iterable, Mapping, Sequence

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.labour.efforts import Effort, Efforts
from filmbuild.pipeline.labour.sequence import REPAIR_PRODUCTS, Coating, Order, Step
from filmbuild.pipeline.results import Coat, Task, Totals
from filmbuild.pipeline.specification import Driver, Layer
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Duration, Hours, Quantity


class Planned(msgspec.Struct, frozen=True):
    """A step that has something to do, and how long it takes the crew [s]."""

    step: Step
    effort: Effort
    gangs: int
    duration: float


class PlannedCoating(msgspec.Struct, frozen=True):
    coating: Coating
    before: tuple[Planned, ...]
    placing: tuple[Planned, ...]
    after: tuple[Planned, ...]


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
) -> PlannedOrder:
    coatings = []
    for coating in order.coatings:
        of_layer = layer_drivers(coating.layer, drivers, totals, coats)
        coatings.append(
            PlannedCoating(
                coating,
                planned_steps(coating.before, of_layer, efforts, crew),
                planned_steps(coating.placing, of_layer, efforts, crew),
                planned_steps(coating.after, of_layer, efforts, crew),
            )
        )
    return PlannedOrder(
        side_by_side(planned_steps(order.preparation, drivers, efforts, crew), crew),
        tuple(coatings),
        planned_steps(order.closing, drivers, efforts, crew),
    )


def layer_drivers(
    layer: Layer, drivers: Mapping[Driver, float], totals: Totals, coats: Sequence[Coat]
) -> dict[Driver, float]:
    """What drives work on one layer: its own mixes, and verticals only where it covers them."""
    vertical = totals.vertical if layer.vertical is not None else 0.0
    mixes = next((len(coat.mixes) for coat in coats if coat.layer == layer.id), 0)
    return {
        **drivers,
        "coat": 1,
        "mix": mixes,
        "coat_mix": mixes,
        "repair_mix": 0,
        "vertical_area": Area(vertical),
        "coated_area": Area(totals.floor + vertical),
    }


def planned_steps(
    steps: Iterable[Step], drivers: Mapping[Driver, float], efforts: Efforts, crew: int
) -> tuple[Planned, ...]:
    found = []
    for step in steps:
        effort = efforts.of(step.code, drivers, step.layer)
        if effort is not None:
            found.append(Planned(step, effort, effort.gangs(crew), effort.duration(crew)))
    return tuple(found)


def side_by_side(planned: Sequence[Planned], crew: int) -> tuple[Planned, ...]:
    """Neighbours that the rate book lets go on at once, where that takes less time.

    Each has people and machines of its own. More people never make it slower, as the same split
    stays open to them.
    """
    found: list[Planned] = []
    for one in planned:
        if found and not found[-1].step.beside and _may_go_beside(found[-1], one):
            both = _split(found[-1], one, crew)
            if both is not None:
                found[-1:] = both
                continue
        found.append(one)
    return tuple(found)


def _may_go_beside(first: Planned, second: Planned) -> bool:
    one, other = first.effort.production, second.effort.production
    said = other.task in one.beside or one.task in other.beside
    return (
        said
        and one.task not in REPAIR_PRODUCTS
        and other.task not in REPAIR_PRODUCTS
        and set(one.equipment).isdisjoint(other.equipment)
    )


def _split(first: Planned, second: Planned, crew: int) -> tuple[Planned, Planned] | None:
    """The crew divided so that both are done soonest; None where one after the other is sooner."""
    one, other = first.effort, second.effort
    gangs = range(1, one.production.gangs_maximum + 1)
    splits = [count * one.production.workers for count in gangs]
    best = first.duration + second.duration
    people = 0
    for split in splits:
        if crew - split >= other.production.workers:
            time = max(one.duration(split), other.duration(crew - split))
            if time < best:
                best, people = time, split
    if not people:
        return None
    return _beside(first, second, people), _beside(second, first, crew - people, after=True)


def _beside(planned: Planned, other: Planned, people: int, *, after: bool = False) -> Planned:
    first, second = (other, planned) if after else (planned, other)
    step = msgspec.structs.replace(
        planned.step,
        activity=f"{first.step.activity}+{second.step.activity}",
        activity_name=f"{first.step.activity_name} and {second.step.activity_name.lower()}",
        beside=(other.step.id,),
    )
    effort = planned.effort
    return Planned(step, effort, effort.gangs(people), effort.duration(people))


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
        gangs=gangs,
        workers=workers,
        labour=Hours(duration * workers),
        duration=Duration(duration),
        equipment=production.equipment,
        reason=step.reason,
        beside=step.beside,
        machine_width=production.machine_width,
        set_up=production.set_up,
        trace=Trace(
            "labour.task",
            {
                "driver": production.driver,
                "quantity": quantity,
                "rate": effort.stated_rate,
                "gangs": gangs,
                "workers_per_gang": production.workers,
                **effort.pace.inputs(),
                "set_up": production.set_up,
                "minimum": production.minimum,
            },
            revision,
        ),
    )
