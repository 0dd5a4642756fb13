"""What changing weather does to a plan: gates that a coat waits behind, and lags that bend."""

from collections.abc import Iterator, Mapping

from filmbuild.pipeline.climate import (
    ApplicationLimits,
    Conditions,
    dew_point_margin,
    gate,
    is_open,
)
from filmbuild.pipeline.labour import REPAIR_PRODUCTS
from filmbuild.pipeline.results import Activity, Labour
from filmbuild.pipeline.schedule.courses import (
    CureCourse,
    ProductCure,
    product_cure,
    window_of,
)
from filmbuild.pipeline.schedule.forecast import NEVER, Weather
from filmbuild.pipeline.schedule.sentences import Closed
from filmbuild.pipeline.schedule.weather import limits_of
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, Product
from filmbuild.pipeline.workdays import DAY, WorkingCalendar, to_millisecond

_PRODUCTS: dict[str, str] = dict(REPAIR_PRODUCTS.items())
LONGEST_WAIT = 366 * DAY
"""[s] A plan waits so long for weather."""


class PlacingGate:
    """Open when a product's limits are met from the start of placing until it takes a coat."""

    def __init__(
        self, weather: Weather, product: Product, limits: ApplicationLimits, cure: ProductCure
    ) -> None:
        self.product = product
        self.cure = cure
        self.limits = limits
        self.weather = weather
        self._open: list[bool | None] = []

    def __call__(self, start: float, elapsed: float) -> float | None:
        until = self.until(start + elapsed)
        weather = self.weather
        first = weather.index(start)
        last = weather.index(until)
        for place in range(last, first - 1, -1):
            step = weather.steps[place]
            if step.start >= until and place > first:
                continue
            if not step.known:
                return None
            if not self._opens(place):
                if step.end == NEVER or step.end > weather.begin + LONGEST_WAIT:
                    return None
                return step.end
        return start

    def until(self, finish: float) -> float:
        """The end of the early cure."""
        return to_millisecond(self.cure.minimum.done(finish))

    def closed(self, start: float, finish: float) -> Iterator[Closed]:
        """What is not met, from a start to the end of the early cure."""
        for step in self.weather.between(start, self.until(finish)):
            for breach in gate(step.conditions, self.limits):
                yield Closed(max(step.start, start), breach)

    def closed_before(self, ready: float, start: float) -> Closed | None:
        """The last that was not met before a start which waited for it."""
        for step in reversed(self.weather.between(ready, start)):
            for breach in gate(step.conditions, self.limits):
                return Closed(max(step.start, ready), breach)
        return None

    def tightest(self, start: float, finish: float) -> Conditions:
        """Where the surface is least above the dew point."""
        steps = self.weather.between(start, self.until(finish))
        return min((one.conditions for one in steps), key=dew_point_margin)

    def starts(self, since: float, calendar: WorkingCalendar) -> Iterator[float]:
        """Where work might begin, a step of the weather after another."""
        moment = since
        while moment < self.weather.begin + LONGEST_WAIT:
            begin = calendar.next_working_moment(moment)
            step = self.weather.steps[self.weather.index(begin)]
            if not step.known:
                return
            yield begin
            if step.end == NEVER:
                return
            moment = step.end

    def _opens(self, place: int) -> bool:
        known = self._open
        if len(known) <= place:
            known.extend([None] * (place + 1 - len(known)))
        found = known[place]
        if found is None:
            found = is_open(self.weather.steps[place].conditions, self.limits)
            known[place] = found
        return found


class Weathered:
    """Gates and cures of a plan's activities, each product read once."""

    def __init__(self, weather: Weather, products: Mapping[str, Product]) -> None:
        """`products` are by activity, and state a full cure."""
        self.weather = weather
        self._gates: dict[str, PlacingGate] = {}
        by_product: dict[str, PlacingGate] = {}
        for activity, product in products.items():
            found = by_product.get(product.id)
            if found is None:
                cure = product_cure(product, weather)
                found = PlacingGate(weather, product, limits_of(product), cure)
                by_product[product.id] = found
            self._gates[activity] = found
        self.products = by_product

    def gate(self, activity: str) -> PlacingGate | None:
        return self._gates.get(activity)

    def course(self, before: Activity, after: Activity, drying: float) -> CureCourse | None:
        found = self._gates.get(before.id)
        if found is None or before.cure is None or not after.waits_for_cure:
            return None
        return CureCourse(found.cure, drying, window=window_of(before, after))


def products_placed(
    labour: Labour, selection: Selection, catalogue: Catalogue
) -> dict[str, Product]:
    """By activity, of the coats and the repairs in the plan."""
    system = selection.system
    layers = {layer.id: layer.product for layer in system.layers}
    repairs = {
        task.activity: getattr(system.repairs, _PRODUCTS[task.code])
        for task in labour.tasks
        if task.code in _PRODUCTS
    }
    found = {}
    for one in labour.activities:
        if one.cure is not None:
            name = repairs.get(one.id) or layers.get(one.layer or "")
            product = catalogue.products.get(name or "")
            if product is not None and product.full_cure:
                found[one.id] = product
    return found
