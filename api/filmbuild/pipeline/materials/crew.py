"""How long the crew has for a mix, and how fast it places one."""

import math
from collections.abc import Sequence
from typing import Literal

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.cure import Arrhenius, Halving, OutsideRule, TimePoint, time_at
from filmbuild.pipeline.job import WorkCalendar
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import (
    Driver,
    OutsideTable,
    Product,
    Production,
    ProductRole,
    TaskCode,
)
from filmbuild.quantities import Quantity

ACTIVATION_ENERGY = 50_000.0
"""[J/mol] Where a product names the Arrhenius rule without a value: it about halves times per 10 K
at room temperature."""
_MINUTES_PER_DAY = 24 * 60

Measured = Literal["area", "length", "volume"]


class Pace(msgspec.Struct, frozen=True):
    """How fast a task is done: `rate` by one gang, per second of `measured` [m2, m or m3].

    `stated` is the rate as the rate book has it, and `driver` what it is a rate of.
    """

    task: TaskCode
    driver: Driver
    rate: float
    stated: Quantity
    measured: Measured
    gangs: int
    gang: int
    gangs_maximum: int

    @property
    def workers(self) -> int:
        return self.gangs * self.gang

    @property
    def largest_crew(self) -> int:
        """More people change nothing."""
        return self.gang * self.gangs_maximum

    def time(self, crew: int | None = None) -> float:
        """[s] for one unit, by the gangs of the job or of another crew; endless without a gang."""
        gangs = self.gangs if crew is None else min(crew // self.gang, self.gangs_maximum)
        return 1 / (self.rate * gangs) if gangs else math.inf

    def inputs(self) -> dict[str, object]:
        return {"driver": self.driver, "rate": self.stated, "gangs": self.gangs}


class Life(msgspec.Struct, frozen=True):
    """How long a mix can be worked [s], from the start of mixing, and by which rule."""

    duration: float
    rule: str


class Crew:
    """The paces of one job's crew; each reason why there is none is among the faults once."""

    def __init__(self, selection: Selection, faults: Faults) -> None:
        self._selection = selection
        self._faults = faults
        self._refused: set[str] = set()

    def takes_no_time(self, task: TaskCode, layer: str, role: ProductRole) -> bool:
        """Cutting in or coating verticals without a rate is set up for, and done with the floor."""
        production = self._selection.production_for(task, layer, role)
        return (
            production is not None
            and task != "place_field"
            and _rate(production) is None
            and production.count_per_hour is None
        )

    def pace(
        self,
        task: TaskCode,
        accepted: Sequence[Measured],
        layer: str | None = None,
        role: ProductRole | None = None,
    ) -> Pace | None:
        """At a task for a layer whose product has a role, or a repair; None with the reason said."""
        book, workers = self._selection.rate_book, self._selection.workers
        production = self._selection.production_for(task, layer, role)
        found = _rate(production)
        if production is None or found is None or found[0] not in accepted:
            self._refuse(
                "no-production",
                f"rate book {book.id} needs a production rate for {task}, by "
                f"{' or '.join(accepted)} per hour",
                "rate_book",
            )
            return None
        measured, rate = found
        gangs = min(workers // production.workers, production.gangs_maximum)
        if gangs == 0:
            detail = f"{task} is work for {production.workers} people at least; the crew has "
            self._refuse("crew-too-small", f"{detail}{workers}", "crew")
            return None
        return Pace(
            task,
            production.driver,
            rate,
            rate,
            measured,
            gangs,
            production.workers,
            production.gangs_maximum,
        )

    def _refuse(self, code: str, detail: str, field: str) -> None:
        if detail not in self._refused:
            self._refused.add(detail)
            self._faults.add(code, detail, field)


def _rate(production: Production | None) -> tuple[Measured, Quantity] | None:
    if production is None:
        return None
    if production.area_rate is not None:
        return "area", production.area_rate
    if production.length_rate is not None:
        return "length", production.length_rate
    return None if production.volume_rate is None else ("volume", production.volume_rate)


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
