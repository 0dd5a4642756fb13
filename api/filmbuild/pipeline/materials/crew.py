"""How fast the crew places a mix, and who of it does."""

import math
from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from itertools import chain
from typing import Literal

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.results import Placer
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import (
    Driver,
    Production,
    ProductRole,
    TaskCode,
)
from filmbuild.quantities import Quantity

Measured = Literal["area", "length", "volume"]


class Pace(msgspec.Struct, frozen=True):
    """How fast a task is done: `rate` by one gang, per second of `measured` [m2, m or m3].

    `stated` is the rate as the rate book has it, `driver` what it is a rate of, and `people` has
    the class of labour of each of the crew, in the order of the job.
    """

    task: TaskCode
    driver: Driver
    rate: float
    stated: Quantity
    measured: Measured
    gangs: int
    gang: int
    gangs_maximum: int
    people: tuple[str, ...] = ()

    @property
    def workers(self) -> int:
        return self.gangs * self.gang

    @property
    def largest_crew(self) -> int:
        """More people change nothing."""
        return self.gang * self.gangs_maximum

    def time(self, crew: int | None = None) -> float:
        """[s] for one unit, by the gangs of the job or of another crew; endless without a gang."""
        gangs = self.gangs if crew is None else self.gangs_of(crew)
        return 1 / (self.rate * gangs) if gangs else math.inf

    def gangs_of(self, crew: int) -> int:
        return min(crew // self.gang, self.gangs_maximum)

    def placers(self) -> tuple[Placer, ...]:
        """The gangs are filled one after the other, in the order of the crew."""
        return _placers(self.task, self.gang, self.people[: self.workers])

    def people_inputs(self) -> dict[str, int]:
        return _counted(self.people)

    def inputs(self) -> dict[str, object]:
        return {"driver": self.driver, "rate": self.stated, "gangs": self.gangs}


@lru_cache(maxsize=1_024)
def _placers(task: TaskCode, gang: int, people: tuple[str, ...]) -> tuple[Placer, ...]:
    """Remembered: the same few crews do every job."""
    ends = range(gang, len(people) + 1, gang)
    return tuple(
        Placer(task=task, gang=number, people=_counted(people[end - gang : end]))
        for number, end in enumerate(ends, 1)
    )


@lru_cache(maxsize=1_024)
def _counted(people: tuple[str, ...]) -> dict[str, int]:
    return dict(Counter(people))


class Crew:
    """The paces of one job's crew; each reason why there is none is among the faults once."""

    def __init__(self, selection: Selection, faults: Faults) -> None:
        self._selection = selection
        self._faults = faults
        self._refused: set[str] = set()
        self._people = tuple(chain.from_iterable([one.id] * count for one, count in selection.crew))

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
            self._people,
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
