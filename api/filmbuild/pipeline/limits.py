"""What the estimate at hand covers less than a full one would: said as notes, where it matters."""

from collections.abc import Iterator
from itertools import pairwise

from filmbuild.pipeline.job import Job, WorkCalendar
from filmbuild.pipeline.plausibility import shift_hours
from filmbuild.pipeline.results import Labour, Materials, Schedule, Takeoff
from filmbuild.pipeline.specification import Catalogue, Product, RateBook
from filmbuild.pipeline.trace import Note

_WEEK_HOURS = 40.0
"""Beyond these, overtime is paid by the week in the United States: 29 U.S.C. 207(a)(1)."""
_WEEKEND = frozenset(("sat", "sun"))
_ORDER = Note(
    "order-by-areas-crossed",
    "The order of work counts the areas crossed on the way out, not the metres walked, and takes "
    "an area that has been coated as closed until all are.",
)
_ONE_SYSTEM = Note(
    "one-system",
    "The concrete differs from area to area, and all areas get the same system: one job, one "
    "system.",
)
_RETURNS = Note(
    "no-returns",
    "Each supplier is ordered from once, in one shipment, and nothing comes back for what is left "
    "over.",
)
_VERTICAL_TEXTURE = Note(
    "texture-of-verticals-not-filled",
    "Material to fill the surface texture is counted on floors; verticals get none.",
)
_BROADCAST = Note(
    "broadcast-texture-not-filled",
    "A coat over a broadcast sinks into its grains. The system does not say how far it fills them, "
    "and nothing is added for that beyond the film that it states for the coat.",
)
_ONE_CREW = Note(
    "one-task-at-a-time",
    "One crew does one task after the other; only in the preparation, and where the rate book says "
    "so, do two tasks go on side by side.",
)
_ONE_VISIT = Note(
    "single-visit",
    "The rate book does not say when a visit ends: people and machines come once and stay until "
    "the floor is done. Days on which nothing is done are not paid.",
)
_OVERTIME = Note(
    "overtime-by-day",
    "Overtime is what goes beyond the standard day. Extra pay by the week, for weekends, nights or "
    "holidays is not counted.",
)
_CONSTANT = Note(
    "conditions-constant",
    "Air and surface are taken to stay as given from the first day to the last. With a forecast, or "
    "design values of the months, the plan waits for its windows and cures as the weather lets it.",
)
_DATES_ONLY = Note(
    "forecast-moves-dates-only",
    "The weather of the forecast moves dates and cure. Mixes and the pace of work are those of the "
    "job's conditions.",
)
_CURE = Note(
    "cure-by-temperature-alone",
    "Cure follows the surface temperature. Humidity, ventilation and thickness of film do not move "
    "it here.",
)
_BOUGHT_IN = Note(
    "subcontracts-without-dates",
    "Work bought in is priced and takes no time: the dates are those of the contractor's own work.",
)


def of_takeoff(takeoff: Takeoff) -> Iterator[Note]:
    if takeoff.traffic is not None and len(takeoff.areas) > 1:
        yield _ORDER


def of_materials(takeoff: Takeoff, materials: Materials, catalogue: Catalogue) -> Iterator[Note]:
    first = takeoff.areas[0].substrate
    if any(area.substrate != first for area in takeoff.areas):
        yield _ONE_SYSTEM
    if materials.purchases:
        yield _RETURNS
    yield from _without_terms(materials, catalogue)
    coats = materials.coats
    products = [catalogue.products[name] for name in dict.fromkeys(one.product for one in coats)]
    yield from _of_products(products)
    if any(coat.texture_volume > 0 and coat.vertical > 0 for coat in coats):
        yield _VERTICAL_TEXTURE
    thrown = {one.layer for one in materials.aggregates if one.rate is not None}
    if any(one.layer in thrown and not after.grain_volume for one, after in pairwise(coats)):
        yield _BROADCAST


def _without_terms(materials: Materials, catalogue: Catalogue) -> Iterator[Note]:
    bought = [catalogue.products[one.product].supplier for one in materials.purchases if one.packs]
    silent = [name for name in dict.fromkeys(bought) if name not in catalogue.suppliers]
    if silent:
        yield Note(
            "freight-not-stated",
            f"{', '.join(silent)}: the catalogue has no freight and no minimum order in "
            f"{catalogue.currency} for this supplier, and nothing is added for them.",
        )


def _of_products(products: list[Product]) -> Iterator[Note]:
    growing = [
        one.id
        for one in products
        if one.working_life
        and one.working_life_sample is None
        and one.largest_mix is None
        and one.parts[1:]
    ]
    if growing:
        yield Note(
            "working-life-sample-not-stated",
            f"{', '.join(growing)}: neither a largest mix is stated nor the amount that the working "
            "life was measured in. A larger mix sets faster; these are taken to last as the table "
            "says, whatever their size.",
        )
    keeping = [one.id for one in products if one.shelf_life is not None]
    if keeping:
        yield Note(
            "shelf-life-not-used",
            f"How long {', '.join(keeping)} may be stored is not compared with the dates of the "
            "work.",
        )


def of_labour(labour: Labour, calendar: WorkCalendar, rate_book: RateBook) -> Iterator[Note]:
    if len(labour.activities) > 1:
        yield _ONE_CREW
    if rate_book.travel.visit_ends_after_idle_days is None:
        yield _ONE_VISIT
    weekly = shift_hours(calendar) * len(calendar.working_days)
    if weekly > _WEEK_HOURS or not _WEEKEND.isdisjoint(calendar.working_days):
        yield _OVERTIME


def of_schedule(schedule: Schedule, job: Job) -> Iterator[Note]:
    if job.forecast or job.months:
        yield _DATES_ONLY
    elif schedule.first_day != schedule.last_day:
        yield _CONSTANT
    yield _CURE


def of_price(job: Job) -> Iterator[Note]:
    if job.subcontracts:
        yield _BOUGHT_IN
