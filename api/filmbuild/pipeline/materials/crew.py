"""How long the crew has for a mix, and how fast it places one."""

from collections.abc import Sequence
from typing import Literal

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.cure import Arrhenius, Halving, OutsideRule, TimePoint, time_at
from filmbuild.pipeline.job import WorkCalendar
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import OutsideTable, Product, Production, TaskCode

ACTIVATION_ENERGY = 50_000.0
"""[J/mol] Where a product names the Arrhenius rule without a value: it about halves times per 10 K
at room temperature."""
_MINUTES_PER_DAY = 24 * 60

Measured = Literal["area", "length", "volume"]


class Pace(msgspec.Struct, frozen=True):
    """The rate of all gangs together, per second of the `measured` quantity [m2, m or m3]."""

    rate: float
    measured: Measured
    gangs: int
    gang: int
    gangs_maximum: int

    @property
    def workers(self) -> int:
        return self.gangs * self.gang


class Life(msgspec.Struct, frozen=True):
    """How long a mix can be worked [s], from the start of mixing, and by which rule."""

    duration: float
    rule: str


def crew_pace(
    task: TaskCode, accepted: Sequence[Measured], selection: Selection, faults: Faults
) -> Pace | None:
    """The crew's pace at a task, or None with the reason among the faults."""
    production = selection.productions.get(task)
    measured, rate = _rate(production)
    if production is None or measured not in accepted or rate is None:
        detail = (
            f"rate book {selection.rate_book.id} needs a production rate for {task}, by "
            f"{' or '.join(accepted)} per hour"
        )
        faults.add("no-production", detail, "rate_book")
        return None
    gangs = min(selection.workers // production.workers, production.gangs_maximum)
    if gangs == 0:
        detail = (
            f"{task} is work for {production.workers} people at least; the crew has "
            f"{selection.workers}"
        )
        faults.add("crew-too-small", detail, "crew")
        return None
    return Pace(rate * gangs, measured, gangs, production.workers, production.gangs_maximum)


def _rate(production: Production | None) -> tuple[Measured, float | None]:
    if production is None:
        return "area", None
    if production.area_rate is not None:
        return "area", production.area_rate
    if production.length_rate is not None:
        return "length", production.length_rate
    return "volume", production.volume_rate


def working_life(
    product: Product, selection: Selection, calendar: WorkCalendar, faults: Faults
) -> Life | None:
    """How long a mix can be worked at the surface temperature: no longer than the shift.

    A product of several parts without a stated working life is a fault: its mixes cannot be
    planned.
    """
    shift = Life(_shift(calendar), "shift")
    if not product.working_life:
        if len(product.parts) == 1:
            return shift
        detail = f"product {product.id} has {len(product.parts)} parts and needs a working life"
        faults.add("no-working-life", detail, "system")
        return None
    found = time_at(
        [TimePoint(one.temperature, one.duration) for one in product.working_life],
        selection.conditions.surface_temperature,
        _outside(product.outside_table),
    )
    return shift if found.duration > shift.duration else Life(found.duration, found.rule)


def _outside(table: OutsideTable) -> OutsideRule:
    if table.rule == "halving":
        return Halving()
    return Arrhenius(table.activation_energy_joule_per_mole or ACTIVATION_ENERGY)


def _shift(calendar: WorkCalendar) -> float:
    minutes = _minutes(calendar.shift_end) - _minutes(calendar.shift_start)
    return 60.0 * (minutes if minutes > 0 else minutes + _MINUTES_PER_DAY)


def _minutes(clock: str) -> int:
    return 60 * int(clock[:2]) + int(clock[3:])
