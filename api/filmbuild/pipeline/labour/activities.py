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
_WHILE_IT_DRIES: frozenset[TaskCode] = frozenset(("set_up", "protect", "mask", "demobilise"))
"""What may be done beside a floor that is still wet from washing."""


class _Waiting(msgspec.Struct):
    """What the next activity follows: the last one, and materials that nobody has waited for."""

    last: str | None = None
    curing: list[str] = []
    drying: list[str] = []
    coat: str | None = None

    def follow(self, *, cure: bool, drying: bool) -> tuple[str, ...]:
        names = [] if self.last is None else [self.last]
        if drying:
            names = [*self.drying, *names]
            self.drying = []
        if cure:
            names = [*self.curing, *names]
            self.curing = []
        return tuple(dict.fromkeys(names))


def plan_activities(
    order: PlannedOrder,
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
            found.append(_coat(coating, products, curing, waiting))
        found += [_single(one, None, waiting) for one in coating.after]
    found += [_single(one, None, waiting) for one in order.closing]
    return tuple(found)


def _single(one: Planned, cure: CureTimes | None, waiting: _Waiting) -> Activity:
    step = one.step
    waits = step.code not in _WHILE_IT_CURES
    waits_for_drying = step.code not in _WHILE_IT_DRIES
    after = waiting.follow(cure=waits, drying=waits_for_drying)
    waiting.last = step.activity
    dry_for = one.effort.production.dry_for
    if cure is not None:
        waiting.curing.append(step.activity)
    if dry_for > 0:
        waiting.drying.append(step.activity)
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
        dry_for=dry_for if dry_for > 0 else None,
        waits_for_drying=waits_for_drying,
    )


def _coat(
    planned: PlannedCoating,
    products: dict[str, Product],
    curing: Curing,
    waiting: _Waiting,
) -> Activity:
    layer, step = planned.coating.layer, planned.placing[0].step
    product = products.get(layer.product)
    cure = None if product is None else curing.of(product)
    after = waiting.follow(cure=True, drying=True)
    if waiting.coat is not None and waiting.coat not in after:
        after = (*after, waiting.coat)
    waiting.last = waiting.coat = step.activity
    waiting.curing = [step.activity]
    return Activity(
        id=step.activity,
        name=step.activity_name,
        layer=layer.id,
        duration=Duration(sum(one.duration for one in planned.placing)),
        one_shift=True,
        after=after,
        cure=cure,
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
