"""How long a task takes a crew: its quantity at the rate book's rate."""

import math
from collections.abc import Mapping

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.labour.conditions import Ground, Pace, pace_of
from filmbuild.pipeline.results import Totals
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Driver, Production, TaskCode
from filmbuild.quantities import Area, Length, Quantity, Volume

_HOUR = 3600.0
_VOLUMES: dict[Driver, str] = {
    "crack_length": "crack_volume",
    "joint_length": "joint_volume",
    "cove_length": "cove_volume",
    "spall_area": "spall_volume",
}


class Effort(msgspec.Struct, frozen=True):
    """`quantity` is of the driver, and `rate` per second for one gang, or None without a rate."""

    production: Production
    quantity: float
    rate: float | None
    stated_rate: object
    pace: Pace

    def gangs(self, crew: int) -> int:
        return min(crew // self.production.workers, self.production.gangs_maximum)

    def duration(self, crew: int) -> float:
        """[s]; endless for a crew that does not make one gang."""
        production = self.production
        time: float = production.set_up
        if self.rate is not None:
            gangs = self.gangs(crew)
            if not gangs:
                return math.inf
            time += self.quantity / (self.rate * gangs) * self.pace.factor
        return max(time, production.minimum)


class Efforts:
    """The efforts of one job; what is missing for them goes to the faults, once per task."""

    def __init__(
        self, totals: Totals, selection: Selection, ground: Ground, faults: Faults
    ) -> None:
        self._totals = totals
        self._selection = selection
        self._ground = ground
        self._faults = faults
        self._refused: set[TaskCode] = set()

    def of(self, code: TaskCode, drivers: Mapping[Driver, float]) -> Effort | None:
        """None where it cannot be told, with the reason among the faults, or nothing is to do."""
        production = self._selection.productions.get(code)
        if production is None:
            self._refuse(code, f"has no production for {code}, which this job needs")
            return None
        driver = production.driver
        quantity = drivers.get(driver, 0.0)
        if production.volume_rate is not None and driver in _VOLUMES:
            quantity = Volume(getattr(self._totals, _VOLUMES[driver]))
        elif driver == "shift":
            self._refuse(code, f"lets shifts drive {code}, but shifts follow from the work")
            return None
        rate, stated = self._rate(production, quantity)
        if rate is not None and not quantity > 0:
            return None
        return Effort(production, quantity, rate, stated, pace_of(production, self._ground))

    def _rate(self, production: Production, quantity: float) -> tuple[float | None, object]:
        kinds: tuple[tuple[float | None, bool], ...] = (
            (production.area_rate, isinstance(quantity, Area)),
            (production.length_rate, isinstance(quantity, Length)),
            (production.volume_rate, isinstance(quantity, Volume)),
        )
        for rate, fits in kinds:
            if rate is not None:
                if not fits:
                    self._refuse(
                        production.task,
                        f"has a rate for {production.task} that does not fit its driver, "
                        f"{production.driver}",
                    )
                return float(rate), rate
        if production.count_per_hour is None:
            return None, None
        if isinstance(quantity, Quantity):
            self._refuse(
                production.task,
                f"counts {production.task} per hour, but its driver {production.driver} is measured",
            )
        return production.count_per_hour / _HOUR, production.count_per_hour

    def _refuse(self, code: TaskCode, what: str) -> None:
        if code not in self._refused:
            self._refused.add(code)
            detail = f"rate book {self._selection.rate_book.id} {what}: complete it"
            self._faults.add("no-production", detail, "rate_book")
