"""What people cost for the time that they are paid for."""

from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from filmbuild.money import Currency, Money, NonNegativeExact, UnitPrice, rounded
from filmbuild.pipeline.labour.crew_time import CrewTime, travel_per_worker
from filmbuild.pipeline.results import LabourCost
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import LabourClass
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Duration, Hours

_HOUR = 3600.0
_HUNDRED = Decimal(100)
_FINEST = Decimal("0.000001")  # as fine as a price is written


def labour_costs(time: CrewTime, selection: Selection, revision: int) -> tuple[LabourCost, ...]:
    """The whole crew is paid while anyone works: regular hours with travel, then overtime."""
    heads: dict[str, int] = {}
    classes: dict[str, LabourClass] = {}
    for labour_class, count in selection.crew:
        classes[labour_class.id] = labour_class
        heads[labour_class.id] = heads.get(labour_class.id, 0) + count
    travel = travel_per_worker(time, selection.rate_book)
    currency = selection.rate_book.currency
    costs = []
    for name, labour_class in classes.items():
        inputs: dict[str, object] = {
            "wage": labour_class.wage,
            "burden_percent": labour_class.burden_percent,
            "workers": heads[name],
            "overtime": Duration(time.overtime),
        }
        exact = labour_class.wage * (1 + labour_class.burden_percent / _HUNDRED)
        regular = heads[name] * (time.paid - time.overtime + time.call_out + travel)
        paid_by = {
            "paid_time": Duration(time.paid),
            "call_out": Duration(time.call_out),
            "travel_per_worker": Duration(travel),
        }
        trace = Trace("labour.wages", inputs | paid_by, revision)
        costs.append(_cost(labour_class, regular, exact, currency, trace))
        if time.overtime > 0:
            multiplier = labour_class.overtime_multiplier
            exact *= Decimal(repr(multiplier))
            trace = Trace("labour.overtime", inputs | {"multiplier": multiplier}, revision)
            costs.append(_cost(labour_class, heads[name] * time.overtime, exact, currency, trace))
    return tuple(costs)


def _cost(
    labour_class: LabourClass, paid: float, exact: Decimal, currency: Currency, trace: Trace
) -> LabourCost:
    overtime = trace.rule == "labour.overtime"
    rate = NonNegativeExact(exact.quantize(_FINEST, ROUND_HALF_UP).normalize())
    return LabourCost(
        labour_class=labour_class.id,
        name=f"{labour_class.name}, overtime" if overtime else labour_class.name,
        paid=Hours(paid),
        overtime=overtime,
        rate_per_hour=UnitPrice(rate, currency),
        amount=rounded(paid_hours(Hours(paid)) * rate, currency),
        trace=trace,
    )


def paid_hours(paid: Hours) -> Decimal:
    """[h] To six decimals, so that the quantity of a line times its rate is its amount."""
    return Decimal(str(round(paid / _HOUR, 6)))


def total_paid(costs: Sequence[LabourCost]) -> Hours:
    return Hours(sum(cost.paid for cost in costs))


def travel_cost(time: CrewTime, selection: Selection) -> Money:
    book = selection.rate_book
    return rounded(book.travel.mobilisation * time.visits, book.currency)


def cost_traces(time: CrewTime, selection: Selection, revision: int) -> dict[str, Trace]:
    """Of paid hours and of travel."""
    travel = selection.rate_book.travel
    return {
        "paid": Trace(
            "labour.paid",
            {
                "workers": selection.workers,
                "paid_time": Duration(time.paid),
                "call_out": Duration(time.call_out),
                "minimum_call_out": travel.minimum_call_out,
                "hours_per_worker": travel.hours_per_worker,
                "per": travel.per,
                "visits": time.visits,
                "days": time.days,
            },
            revision,
        ),
        "travel": Trace(
            "labour.travel", {"visits": time.visits, "mobilisation": travel.mobilisation}, revision
        ),
    }
