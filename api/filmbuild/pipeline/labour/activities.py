"""The pieces of the schedule: which tasks are done together, what they follow and how they cure."""

from collections.abc import Sequence

import msgspec

from filmbuild.pipeline.labour.curing import Curing
from filmbuild.pipeline.labour.sequence import REPAIR_PRODUCTS, Step
from filmbuild.pipeline.labour.tasks import Planned, PlannedCoating, PlannedOrder
from filmbuild.pipeline.results import Activity, CureTimes
from filmbuild.pipeline.specification import Repairs, TaskCode
from filmbuild.pipeline.specification.products import Product
from filmbuild.quantities import Duration

_WHILE_IT_CURES: frozenset[TaskCode] = frozenset(
    ("set_up", "protect", "chase_cracks", "mask", "pull_tape", "demobilise", *REPAIR_PRODUCTS)
)
"""What may be done beside material that has not yet cured enough to be recoated."""


class _Waiting(msgspec.Struct):
    """What the next activity follows: the last one, and materials that nobody has waited for."""

    last: str | None = None
    curing: list[str] = []
    coat: str | None = None
    coat_can_be_late: bool = False

    def follow(self, *, waits: bool) -> tuple[str, ...]:
        names = [] if self.last is None else [self.last]
        if waits:
            names = [*self.curing, *names]
            self.curing = []
        return tuple(dict.fromkeys(names))


def plan_activities(
    order: PlannedOrder,
    crew: int,
    repairs: Repairs,
    products: dict[str, Product],
    curing: Curing,
) -> tuple[Activity, ...]:
    """In working order. Each follows the one before it; who may not step on it waits for the cure.

    A coat also follows the coat below it unless the floor was abraded since: only then does the
    recoat maximum hold.
    """
    waiting = _Waiting()
    found = [
        _single(one, _repair_cure(one.step, repairs, products, curing), waiting)
        for one in order.preparation
    ]
    for coating in order.coatings:
        found += [_single(one, None, waiting) for one in coating.before]
        if coating.placing:
            found.append(_coat(coating, crew, products, curing, waiting))
        found += [_single(one, None, waiting) for one in coating.after]
    found += [_single(one, None, waiting) for one in order.closing]
    return tuple(found)


def _single(one: Planned, cure: CureTimes | None, waiting: _Waiting) -> Activity:
    step = one.step
    waits = step.code not in _WHILE_IT_CURES
    after = waiting.follow(waits=waits)
    waiting.last = step.activity
    if cure is not None:
        waiting.curing.append(step.activity)
    if step.code == "abrade":
        waiting.coat = None
    return Activity(
        id=step.activity,
        name=step.activity_name,
        layer=None if step.layer is None else step.layer.id,
        duration=Duration(one.duration),
        one_shift=False,
        after=after,
        cure=cure,
        waits_for_cure=waits,
    )


def _coat(
    planned: PlannedCoating,
    crew: int,
    products: dict[str, Product],
    curing: Curing,
    waiting: _Waiting,
) -> Activity:
    layer, step = planned.coating.layer, planned.placing[0].step
    product = products.get(layer.product)
    cure = None if product is None else curing.of(product)
    after = waiting.follow(waits=True)
    abrasion = None
    if waiting.coat is not None:
        if waiting.coat not in after:
            after = (*after, waiting.coat)
        if waiting.coat_can_be_late and planned.abrasion is not None:
            abrasion = Duration(planned.abrasion.duration(crew))
    waiting.last = waiting.coat = step.activity
    waiting.curing = [step.activity]
    waiting.coat_can_be_late = cure is not None and cure.recoat_before is not None
    return Activity(
        id=step.activity,
        name=step.activity_name,
        layer=layer.id,
        duration=Duration(sum(one.duration for one in planned.placing)),
        one_shift=True,
        after=after,
        cure=cure,
        abrasion=abrasion,
    )


def _repair_cure(
    step: Step, repairs: Repairs, products: dict[str, Product], curing: Curing
) -> CureTimes | None:
    field = REPAIR_PRODUCTS.get(step.code)
    name = None if field is None else getattr(repairs, field)
    product = None if name is None else products.get(name)
    return None if product is None else curing.of(product)


def crew_time(activities: Sequence[Activity]) -> float:
    """[s] All activities one after the other, without waiting."""
    return sum(one.duration for one in activities)
