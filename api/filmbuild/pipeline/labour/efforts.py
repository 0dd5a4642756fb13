"""How long a task takes a crew: its quantity at the rate book's rate."""

import math
from collections.abc import Mapping

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.labour.conditions import Ground, Pace, pace_of
from filmbuild.pipeline.results import Totals
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Driver, Layer, Product, Production, TaskCode
from filmbuild.pipeline.workdays import to_millisecond
from filmbuild.quantities import Area, Length, Quantity, Volume

_HOUR = 3600.0
_VOLUMES: dict[Driver, str] = {
    "crack_length": "crack_volume",
    "joint_length": "joint_volume",
    "cove_length": "cove_volume",
    "spall_area": "spall_volume",
}
_REPAIRED: tuple[Driver, ...] = ("crack_length", "joint_length", "spall_area")


class Effort(msgspec.Struct, frozen=True):
    """`quantity` is of the driver, and `rate` per second for one gang, or None without a rate."""

    production: Production
    quantity: float
    rate: float | None
    stated_rate: object
    pace: Pace

    def plain_time(self, crew: int) -> float:
        """[s] At the rate alone, without set-up, factors or minimum; endless without one gang."""
        gangs = self.gangs(crew)
        if self.rate is None:
            return 0.0
        return self.quantity / (self.rate * gangs) if gangs else math.inf

    def gangs(self, crew: int) -> int:
        return min(crew // self.production.workers, self.production.gangs_maximum)

    def duration(self, crew: int) -> float:
        """[s] To the millisecond, as it is written; endless for a crew without one gang."""
        production = self.production
        time: float = production.set_up
        if self.rate is not None:
            time += self.plain_time(crew) * self.pace.factor
        time = max(time, production.minimum)
        return time if time == math.inf else to_millisecond(time)


class Efforts:
    """The efforts of one job; what is missing for them goes to the faults, once per task."""

    def __init__(
        self,
        totals: Totals,
        selection: Selection,
        products: Mapping[str, Product],
        ground: Ground,
        faults: Faults,
    ) -> None:
        self._totals = totals
        self._products = products
        self._selection = selection
        self._ground = ground
        self._faults = faults
        self._refused: set[TaskCode] = set()

    def on(self, ground: Ground) -> "Efforts":
        """The same job's efforts on a part of its ground."""
        return Efforts(self._totals, self._selection, self._products, ground, self._faults)

    def production(self, code: TaskCode, layer: Layer | None) -> Production | None:
        """The rate book's for work on a layer, or outside all layers."""
        if layer is None:
            return self._selection.production_for(code)
        product = self._products.get(layer.product)
        return self._selection.production_for(code, layer.id, product.role if product else None)

    def of(
        self, code: TaskCode, drivers: Mapping[Driver, float], layer: Layer | None = None
    ) -> Effort | None:
        """None where it cannot be told, with the reason among the faults, or nothing is to do."""
        production = self.production(code, layer)
        if production is None:
            self._refuse(code, f"has no production for {code}, which this job needs")
            return None
        driver = production.driver
        quantity = drivers.get(driver, 0.0)
        if code == "grind_repairs" and driver in _REPAIRED:
            self._check_all_repairs(driver)
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

    def _check_all_repairs(self, driver: Driver) -> None:
        """Repairs that the driver does not see would be ground in no time."""
        others = [one for one in _REPAIRED if one != driver and getattr(self._totals, one) > 0]
        if others:
            self._refuse(
                "grind_repairs",
                f"drives grind_repairs by {driver}, and this site also has {' and '.join(others)}: "
                "only repair_area counts them all",
            )

    def _refuse(self, code: TaskCode, what: str) -> None:
        if code not in self._refused:
            self._refused.add(code)
            detail = f"rate book {self._selection.rate_book.id} {what}: complete it"
            self._faults.add("no-production", detail, "rate_book")
