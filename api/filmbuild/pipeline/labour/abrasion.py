"""What is done before a coat that misses its recoat window: the floor is abraded and cleaned."""

from filmbuild.errors import Faults
from filmbuild.pipeline.labour.conditions import ground_of
from filmbuild.pipeline.labour.efforts import Efforts
from filmbuild.pipeline.labour.sections import areas_of, drivers_over
from filmbuild.pipeline.labour.sequence import NAMES, Step
from filmbuild.pipeline.labour.tasks import Planned, layer_drivers, planned_steps
from filmbuild.pipeline.materials import driver_quantities
from filmbuild.pipeline.results import Materials, Section, Takeoff
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue, Layer, TaskCode

ABRASION: tuple[TaskCode, ...] = ("abrade", "vacuum", "solvent_wipe")
"""In this order, dust off before solvent on (common practice, no source)."""


def abrasion_before(
    coat: str,
    layer: Layer,
    takeoff: Takeoff,
    materials: Materials,
    selection: Selection,
    catalogue: Catalogue,
    faults: Faults,
    section: Section | None = None,
) -> tuple[Planned, ...]:
    """As far as the rate book has productions that this crew can do; nothing without abrading.

    Over the whole floor, or the `section` of the coat.
    """
    book, crew = selection.rate_book, selection.workers
    areas = takeoff.areas if section is None else areas_of(section, takeoff)
    ground = ground_of(areas, book, selection.conditions.surface_temperature)
    efforts = Efforts(takeoff.totals, selection, catalogue.products, ground, faults)
    drivers = layer_drivers(
        layer,
        driver_quantities(takeoff, materials.coats, crew),
        takeoff.totals,
        materials.coats,
    )
    if section is not None:
        drivers = drivers_over(areas, layer, drivers, takeoff.totals)
    steps = []
    for code in ABRASION:
        production = efforts.production(code, layer)
        if production is not None and production.workers <= crew:
            name, unique = f"{NAMES[code]}, {layer.name}", f"{code}:{coat}"
            if section is not None:
                name += f", section {section.number}"
            reason = f"{layer.name} misses the recoat window of the coat below it"
            steps.append(Step(unique, code, name, unique, name, layer, reason))
    planned = planned_steps(steps, drivers, efforts, crew)
    return planned if any(one.step.code == "abrade" for one in planned) else ()
