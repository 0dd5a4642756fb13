"""The pieces of the schedule: which tasks are done together, what they follow and how they cure."""

from collections.abc import Sequence
from itertools import groupby

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
    coats: dict[int | None, str] = {}
    placed: tuple[str, ...] = ()

    def follow(self, *, cure: bool, drying: bool) -> tuple[str, ...]:
        names = [] if self.last is None else [self.last]
        if drying:
            names = [*self.drying, *names]
            self.drying = []
        if cure:
            names = [*self.curing, *names]
            self.curing = []
        return tuple(dict.fromkeys(names))

    def follow_coat(self) -> tuple[str, ...]:
        """What every section of a coat follows: of a coat below, only its own section counts."""
        followed = self.follow(cure=True, drying=True)
        sections = len(self.placed) > 1
        return tuple(name for name in followed if not sections or name not in self.placed)


def plan_activities(
    order: PlannedOrder,
    repairs: Repairs,
    products: dict[str, Product],
    curing: Curing,
) -> tuple[Activity, ...]:
    """In working order. Each follows the one before it; who may not step on it waits for the cure.

    A coat also follows the coat below it unless the floor was abraded since: only then does the
    recoat maximum hold. A section's coat waits for the coat below it in that section alone: the
    crew goes from section to section while those behind it cure.
    """
    waiting = _Waiting()
    found = []
    for _, together in groupby(order.preparation, lambda one: one.step.activity):
        some = list(together)
        cure = _repair_cure(some[0].step, repairs, products, curing) if len(some) == 1 else None
        found.append(_together(some, cure, waiting))
    for coating in order.coatings:
        found += [_single(one, None, waiting) for one in coating.before]
        if coating.placing:
            found += _coats(coating, products, curing, waiting)
        found += [_single(one, None, waiting) for one in coating.after]
    found += [_single(one, None, waiting) for one in order.closing]
    return tuple(found)


def _single(one: Planned, cure: CureTimes | None, waiting: _Waiting) -> Activity:
    return _together((one,), cure, waiting)


def _together(some: Sequence[Planned], cure: CureTimes | None, waiting: _Waiting) -> Activity:
    """Of one task, or of tasks that go on side by side."""
    step = some[0].step
    waits = any(one.step.code not in _WHILE_IT_CURES for one in some)
    waits_for_drying = any(one.step.code not in _WHILE_IT_DRIES for one in some)
    after = waiting.follow(cure=waits, drying=waits_for_drying)
    waiting.last, waiting.placed = step.activity, ()
    dry_for = max(one.effort.production.dry_for for one in some)
    if cure is not None:
        waiting.curing.append(step.activity)
    if dry_for > 0:
        waiting.drying.append(step.activity)
    if any(one.step.code == "abrade" for one in some):
        waiting.coats = {}
    return Activity(
        id=step.activity,
        name=step.activity_name,
        layer=None if step.layer is None else step.layer.id,
        duration=Duration(max(one.duration for one in some)),
        one_shift=False,
        after=after,
        cure=cure,
        waits_for_cure=waits,
        dry_for=dry_for if dry_for > 0 else None,
        waits_for_drying=waits_for_drying,
        side_by_side=len(some) > 1,
    )


def _coats(
    planned: PlannedCoating,
    products: dict[str, Product],
    curing: Curing,
    waiting: _Waiting,
) -> list[Activity]:
    """One, or one for each section."""
    layer = planned.coating.layer
    product = products.get(layer.product)
    cure = None if product is None else curing.of(product)
    first = waiting.follow_coat()
    found = []
    for section, placing in groupby(planned.placing, lambda one: one.step.section):
        tasks = list(placing)
        step, below = tasks[0].step, waiting.coats.get(section)
        after = first if below is None or below in first else (*first, below)
        found.append(
            Activity(
                id=step.activity,
                name=step.activity_name,
                layer=layer.id,
                duration=Duration(sum(one.duration for one in tasks)),
                one_shift=True,
                after=after,
                cure=cure,
                section=section,
            )
        )
    waiting.coats = {one.section: one.id for one in found}
    waiting.curing = [one.id for one in found]
    waiting.placed = tuple(waiting.curing)
    waiting.last = found[-1].id
    return found


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
