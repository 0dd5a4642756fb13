"""Which machines the tasks use, and what they cost by the day."""

import math
from collections.abc import Callable, Iterable, Mapping
from decimal import Decimal

import msgspec

from filmbuild.errors import Faults
from filmbuild.money import UnitPrice, rounded
from filmbuild.pipeline.labour.crew_time import ROUNDING
from filmbuild.pipeline.results import EquipmentCost, Task
from filmbuild.pipeline.specification import Equipment, RateBook
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Duration, Hours


class MachineUse(msgspec.Struct):
    """`used` is crew time [s]; the gangs of the busiest task have a machine each."""

    used: float = 0.0
    machines: int = 0
    activities: list[str] = []


def machines_used(
    tasks: Iterable[Task], rate_book: RateBook, faults: Faults
) -> dict[str, MachineUse]:
    """By machine; one that the rate book lacks is a fault."""
    known = {one.id for one in rate_book.equipment}
    found: dict[str, MachineUse] = {}
    for task in tasks:
        for name in task.equipment:
            if name not in known:
                detail = f"rate book {rate_book.id} has no equipment {name}, which it asks for"
                faults.add("unknown-equipment", detail, "rate_book")
                continue
            use = found.setdefault(name, MachineUse())
            use.used += task.duration
            use.machines = max(use.machines, task.gangs)
            use.activities.append(task.activity)
    return found


def equipment_costs(
    uses: Mapping[str, MachineUse],
    days_of: Callable[[MachineUse], tuple[int, dict[str, object]]],
    rule: str,
    rate_book: RateBook,
    revision: int,
) -> tuple[EquipmentCost, ...]:
    """`days_of` says on how many days a machine is used, and from which inputs that is known."""
    machines = {one.id: one for one in rate_book.equipment}
    costs = []
    for name, use in uses.items():
        days, inputs = days_of(use)
        costs.append(_cost(machines[name], use, days, rule, inputs, rate_book, revision))
    return tuple(costs)


def _cost(
    machine: Equipment,
    use: MachineUse,
    days_used: int,
    rule: str,
    inputs: dict[str, object],
    rate_book: RateBook,
    revision: int,
) -> EquipmentCost:
    days = use.machines * max(days_used, machine.minimum_days)
    return EquipmentCost(
        equipment=machine.id,
        name=machine.name,
        used=Hours(round(use.used, 3)),
        days=days,
        day_rate=UnitPrice(machine.day_rate, rate_book.currency),
        amount=rounded(Decimal(days) * machine.day_rate, rate_book.currency),
        trace=Trace(
            rule,
            {
                **inputs,
                "machines": use.machines,
                "minimum_days": machine.minimum_days,
                "day_rate": machine.day_rate,
            },
            revision,
        ),
    )


def in_full_shifts(use: MachineUse, shift: float) -> tuple[int, dict[str, object]]:
    """Days as if the machine's work filled shifts [s]."""
    days = math.ceil(use.used / shift - ROUNDING)
    return days, {"used": Hours(use.used), "shift": Duration(shift)}
