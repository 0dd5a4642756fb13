"""Whether the job's conditions let every product of the plan be placed."""

from collections.abc import Iterator

from filmbuild.errors import Faults
from filmbuild.pipeline.climate import ApplicationLimits, Breach, Conditions, gate
from filmbuild.pipeline.labour import REPAIR_PRODUCTS
from filmbuild.pipeline.results import Labour
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, Product
from filmbuild.pipeline.trace import Note

AIR = (-40.0, 60.0)
SURFACE = (-40.0, 80.0)
"""[degC] Where people lay floors, and the dew point formula holds well enough."""
_FIELDS = {
    "air_too_cold": "air_temperature",
    "air_too_warm": "air_temperature",
    "surface_too_cold": "surface_temperature",
    "surface_too_warm": "surface_temperature",
    "humidity_too_high": "relative_humidity_percent",
    "surface_too_near_dew_point": "surface_temperature",
}
STATES = {
    "air_too_cold": "the air is too cold",
    "air_too_warm": "the air is too warm",
    "surface_too_cold": "the surface is too cold",
    "surface_too_warm": "the surface is too warm",
    "humidity_too_high": "the air is too humid",
    "surface_too_near_dew_point": "the surface is too near the dew point",
}
UNITS = {"humidity_too_high": "%", "surface_too_near_dew_point": "K above it"}
_MEASURES = {
    "air_temperature": ("air", "degC"),
    "surface_temperature": ("surface", "degC"),
    "relative_humidity": ("relative humidity", "%"),
}


def conditions_of(selection: Selection, faults: Faults) -> Conditions:
    """Adds a fault where no dew point can be told; `faults` is rooted at the job."""
    given = selection.conditions
    for field, (least, most) in (("air_temperature", AIR), ("surface_temperature", SURFACE)):
        if not least <= getattr(given, field) <= most:
            detail = f"give a temperature from {least:g} to {most:g} degC"
            faults.add("conditions-out-of-range", detail, "conditions", field)
    return Conditions(
        given.air_temperature, given.surface_temperature, given.relative_humidity_percent
    )


def check_weather(
    labour: Labour,
    conditions: Conditions,
    selection: Selection,
    catalogue: Catalogue,
    faults: Faults,
    notes: list[Note],
    steady: bool,
) -> None:
    """Adds a fault for each limit of each product that steady conditions do not meet.

    As they are constant over the job, waiting would not help.
    """
    for product in _placed(labour, selection, catalogue):
        if product.application is None:
            notes.append(
                Note(
                    "application-limits-not-stated",
                    f"{product.id} states no limits of air, surface and humidity: only the margin "
                    "of 3 K above the dew point (ISO 8502-4) was checked.",
                )
            )
        for breach in gate(conditions, limits_of(product)) if steady else ():
            faults.add(
                "climate-gate-closed",
                _detail(product, breach),
                "conditions",
                _FIELDS[breach.condition],
            )


def _placed(labour: Labour, selection: Selection, catalogue: Catalogue) -> Iterator[Product]:
    """Each product once: of the repairs in the plan, then of its coats."""
    system, codes = selection.system, {task.code for task in labour.tasks}
    names = [
        getattr(system.repairs, field) for code, field in REPAIR_PRODUCTS.items() if code in codes
    ]
    coated = {one.layer for one in labour.activities if one.cure is not None}
    names += [layer.product for layer in system.layers if layer.id in coated]
    for name in dict.fromkeys(names):
        if name in catalogue.products:
            yield catalogue.products[name]


def limits_of(product: Product) -> ApplicationLimits:
    stated = product.application
    if stated is None:
        return ApplicationLimits()
    return ApplicationLimits(
        air_minimum=stated.air_minimum,
        air_maximum=stated.air_maximum,
        surface_minimum=stated.surface_minimum,
        surface_maximum=stated.surface_maximum,
        humidity_maximum=stated.relative_humidity_maximum_percent,
        dew_point_margin=stated.dew_point_margin,
    )


def _detail(product: Product, breach: Breach) -> str:
    unit = UNITS.get(breach.condition, "degC")
    ways = []
    for opening in breach.opens:
        measure, measured_in = _MEASURES[opening.measure]
        bound = opening.bound.replace("_", " ")
        ways.append(f"{measure} {bound} {opening.value:.1f} {measured_in}")
    return (
        f"{product.id}: {STATES[breach.condition]}, {breach.actual:.1f} {unit} where the limit "
        f"is {breach.limit:.1f}; it may be placed with {' or '.join(ways)}"
    )
