"""What the net price comes to by area of floor and by length of linear work."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

import msgspec

from filmbuild.money import Money
from filmbuild.pipeline.price.attribution import LINEAR
from filmbuild.pipeline.price.terms import WIDE, Settled
from filmbuild.pipeline.results import Totals, WorkShare
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Length

_METRES_PER_FOOT = Decimal("0.3048")


class Rates(msgspec.Struct, frozen=True):
    """Fields of the price, and their traces; by running length where there is linear work."""

    per_square_metre: Money
    per_square_foot: Money
    per_running_metre: Money | None
    per_running_foot: Money | None
    running: Length
    traces: dict[str, Trace]


def unit_rates(net: Money, shares: Sequence[WorkShare], totals: Totals, settled: Settled) -> Rates:
    """The net price is shared out by what the work costs; what is bought in is in neither rate."""
    whole = _cost(shares)
    linear = _cost(one for one in shares if one.work in LINEAR)
    floor = _cost(one for one in shares if one.work != "subcontract") - linear
    if not whole:
        floor = whole = Decimal(1)
    running = Length(totals.running_length + totals.joint_length)
    per_metre2 = _rate(net, floor, whole, totals.floor)
    costs = {"net": net, "direct_cost": settled.money(whole)}
    of_floor = Trace(
        "price.per-area", {**costs, "floor_cost": settled.money(floor), "floor": totals.floor}
    )
    traces = {"per_square_metre": of_floor, "per_square_foot": of_floor}
    per_metre = None
    if running:
        per_metre = _rate(net, linear, whole, running)
        runs = {"upright": totals.running_length, "joints": totals.joint_length}
        of_runs = Trace(
            "price.per-running-length",
            {**costs, "linear_cost": settled.money(linear), "running": running},
        )
        traces["running"] = Trace("price.running", runs)
        traces["per_running_metre"] = traces["per_running_foot"] = of_runs
    return Rates(
        per_square_metre=settled.money(per_metre2),
        per_square_foot=settled.money(WIDE.multiply(per_metre2, _METRES_PER_FOOT**2)),
        per_running_metre=None if per_metre is None else settled.money(per_metre),
        per_running_foot=(
            None if per_metre is None else settled.money(WIDE.multiply(per_metre, _METRES_PER_FOOT))
        ),
        running=running,
        traces=traces,
    )


def _cost(shares: Iterable[WorkShare]) -> Decimal:
    return sum((one.cost.amount for one in shares), Decimal(0))


def _rate(net: Money, cost: Decimal, whole: Decimal, size: float) -> Decimal:
    share = WIDE.divide(WIDE.multiply(net.amount, cost), whole)
    return WIDE.divide(share, Decimal(size))
