"""What people and machines cost for the hours of the work."""

import math
from collections.abc import Iterable, Sequence
from decimal import ROUND_HALF_UP, Decimal

import msgspec

from filmbuild.errors import Faults
from filmbuild.money import Currency, Money, NonNegativeExact, UnitPrice, rounded
from filmbuild.pipeline.labour.tasks import Planned
from filmbuild.pipeline.results import EquipmentCost, LabourCost
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Equipment, LabourClass, RateBook
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Duration, Hours

VISITS = 1
"""People and machines come once and stay until the floor is done."""
_HOUR = Decimal(3600)
_HUNDRED = Decimal(100)
_FINEST = Decimal("0.000001")  # as fine as a price is written
_ROUNDING = 1e-9


class Worked(msgspec.Struct, frozen=True):
    """Crew time [s] packed into shifts: what of it is within the standard day, and beyond it."""

    total: float
    overtime: float
    shifts: int


def packed(total: float, shift: float, standard_day: float) -> Worked:
    """Whole shifts and a rest; each has overtime beyond the standard day."""
    shifts = math.ceil(total / shift - _ROUNDING)
    beyond = max(shift - standard_day, 0.0)
    if not beyond:
        return Worked(total, 0.0, shifts)
    whole = math.floor(total / shift + _ROUNDING)
    rest = max(total - whole * shift, 0.0)
    return Worked(total, whole * beyond + max(rest - standard_day, 0.0), shifts)


def labour_costs(
    worked: Worked, selection: Selection, currency: Currency, revision: int
) -> tuple[LabourCost, ...]:
    """The whole crew is paid while anyone works: regular hours with travel, then overtime."""
    heads: dict[str, int] = {}
    classes: dict[str, LabourClass] = {}
    for labour_class, count in selection.crew:
        classes[labour_class.id] = labour_class
        heads[labour_class.id] = heads.get(labour_class.id, 0) + count
    travel = selection.rate_book.travel.hours_per_worker * VISITS
    costs = []
    for name, labour_class in classes.items():
        count = heads[name]
        regular = (worked.total - worked.overtime + travel) * count
        costs.append(_cost(labour_class, count, regular, travel, currency, revision))
        if worked.overtime > 0:
            overtime = worked.overtime * count
            costs.append(_cost(labour_class, count, overtime, None, currency, revision))
    return tuple(costs)


def _cost(
    labour_class: LabourClass,
    count: int,
    paid: float,
    travel: float | None,
    currency: Currency,
    revision: int,
) -> LabourCost:
    """The travel of each head is among regular hours; hours without travel are overtime."""
    exact = labour_class.wage * (1 + labour_class.burden_percent / _HUNDRED)
    inputs: dict[str, object] = {
        "wage": labour_class.wage,
        "burden_percent": labour_class.burden_percent,
        "workers": count,
    }
    overtime = travel is None
    if travel is None:
        exact *= Decimal(repr(labour_class.overtime_multiplier))
        inputs["overtime_multiplier"] = labour_class.overtime_multiplier
    else:
        inputs["travel_per_worker"] = Duration(travel)
    rate = NonNegativeExact(exact.quantize(_FINEST, ROUND_HALF_UP).normalize())
    return LabourCost(
        labour_class=labour_class.id,
        name=f"{labour_class.name}, overtime" if overtime else labour_class.name,
        paid=Hours(paid),
        overtime=overtime,
        rate_per_hour=UnitPrice(rate, currency),
        amount=rounded(Decimal(paid) / _HOUR * rate, currency),
        trace=Trace("labour.overtime" if overtime else "labour.wages", inputs, revision),
    )


def equipment_costs(
    planned: Iterable[Planned],
    shift: float,
    rate_book: RateBook,
    faults: Faults,
    revision: int,
) -> tuple[EquipmentCost, ...]:
    """Each gang has its own machine; those of the busiest task serve all other tasks."""
    machines = {one.id: one for one in rate_book.equipment}
    used: dict[str, tuple[float, int]] = {}
    for one in planned:
        for name in one.effort.production.equipment:
            if name not in machines:
                detail = f"rate book {rate_book.id} has no equipment {name}, which it asks for"
                faults.add("unknown-equipment", detail, "rate_book")
                continue
            before, most = used.get(name, (0.0, 0))
            used[name] = (before + one.duration, max(most, one.gangs))
    return tuple(
        _machine(machines[name], time, count, shift, rate_book.currency, revision)
        for name, (time, count) in used.items()
    )


def _machine(
    machine: Equipment, used: float, count: int, shift: float, currency: Currency, revision: int
) -> EquipmentCost:
    shifts = max(math.ceil(used / shift - _ROUNDING), machine.minimum_days)
    days = count * shifts
    return EquipmentCost(
        equipment=machine.id,
        name=machine.name,
        used=Hours(used),
        days=days,
        day_rate=UnitPrice(machine.day_rate, currency),
        amount=rounded(machine.day_rate * days, currency),
        trace=Trace(
            "labour.equipment",
            {
                "used": Hours(used),
                "shift": Duration(shift),
                "machines": count,
                "minimum_days": machine.minimum_days,
                "day_rate": machine.day_rate,
            },
            revision,
        ),
    )


def total_paid(costs: Sequence[LabourCost]) -> Hours:
    return Hours(sum(cost.paid for cost in costs))


def travel_cost(rate_book: RateBook) -> Money:
    return rounded(rate_book.travel.mobilisation * VISITS, rate_book.currency)
