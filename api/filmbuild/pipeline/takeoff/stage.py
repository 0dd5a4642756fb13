"""The takeoff of a whole site."""

from filmbuild.errors import Faults
from filmbuild.pipeline.results import Takeoff
from filmbuild.pipeline.site import Site, Substrate
from filmbuild.pipeline.takeoff.area import area_takeoff
from filmbuild.pipeline.takeoff.connections import connect
from filmbuild.pipeline.takeoff.details import measure_details
from filmbuild.pipeline.takeoff.edges import Edges, resolve_edges
from filmbuild.pipeline.takeoff.found import Found
from filmbuild.pipeline.takeoff.in_bands import details_in_bands
from filmbuild.pipeline.takeoff.positions import with_lengths
from filmbuild.pipeline.takeoff.protection import check_sheeting
from filmbuild.pipeline.takeoff.readings import readings_needed, too_few_readings
from filmbuild.pipeline.takeoff.repairs import moving_joints
from filmbuild.pipeline.takeoff.shapes import floors_of
from filmbuild.pipeline.takeoff.shared_bands import reaching_in
from filmbuild.pipeline.takeoff.stretches import stated_stretches
from filmbuild.pipeline.takeoff.totals import totals_of
from filmbuild.pipeline.takeoff.traffic import plan_route
from filmbuild.pipeline.trace import Note
from filmbuild.quantities import UnitSystem


def take_off(
    site: Site, faults: Faults, units: UnitSystem = "si", notes: list[Note] | None = None
) -> Takeoff:
    """Measure every area; `faults` is rooted at the site. Raises InvalidInput with all of them.

    Places are told in `units` where a figure has no unit of its own; what had to be assumed is
    added to `notes`.
    Totals are correctly rounded sums, so that the order of the areas does not move them.
    """
    notes = [] if notes is None else notes
    numbers = _numbers(site, faults)
    floors = floors_of(site, faults, units)
    site = floors.site
    stated = [
        stated_stretches(area, shape, numbers, faults.at("areas", index))
        if shape is not None and (area.edges or area.doorways)
        else []
        for index, (area, shape) in enumerate(zip(site.areas, floors.shapes, strict=True))
    ]
    links = connect(site, floors.shapes, stated, numbers, faults, notes)
    edges: list[Edges] = []
    details: list[Found] = []
    for index, area in enumerate(site.areas):
        at = faults.at("areas", index)
        if area.substrate is not None:
            _check_moisture(area.substrate, at.at("substrate"))
        shape = floors.shapes[index]
        if shape is not None:
            edge = resolve_edges(
                site,
                area,
                shape,
                links.stretches[index],
                links.barriers.get(index, ()),
                links.thresholds.get(index, ()),
            )
            edges.append(edge)
            located = with_lengths(area, shape, units, floors.effort, at)
            details.append(measure_details(located, edge, site.sheeting, at, units))
    _check_moisture(site.substrate, faults.at("substrate"))
    check_sheeting(site, faults)
    faults.raise_if_any()
    route = plan_route(site, floors.shapes, links, numbers, faults, notes)
    faults.raise_if_any()
    widths = (site.hand_grind_width, site.cut_in_width)
    beyond = reaching_in(site, links.stretches, edges, widths, floors.effort, faults)
    areas = tuple(
        [
            area_takeoff(
                area,
                area.substrate or site.substrate,
                edges[index],
                details[index],
                floors.bands(index, edges[index].rings, widths, faults, beyond.get(index, ())),
                widths,
                route.ranks[index],
            )
            for index, area in enumerate(site.areas)
        ]
    )
    needed = readings_needed(areas)
    notes += too_few_readings(site, needed)
    notes += moving_joints(site)
    notes += details_in_bands(site.areas, edges, max(widths), floors.effort)
    return Takeoff(
        site=site.name,
        areas=areas,
        totals=totals_of(areas),
        readings_needed=needed,
        doorways=links.doorways,
        traffic=route.traffic,
    )


def _numbers(site: Site, faults: Faults) -> dict[str, int]:
    numbers: dict[str, int] = {}
    for index, area in enumerate(site.areas):
        first = numbers.setdefault(area.id, index)
        if first != index:
            detail = f"areas/{first} has this id already; ids are unique on a site"
            faults.add("duplicate-id", detail, "areas", index, "id")
    return numbers


def _check_moisture(substrate: Substrate, faults: Faults) -> None:
    for index, reading in enumerate(substrate.moisture):
        if reading.emission is None and reading.relative_humidity_percent is None:
            detail = "give emission (ASTM F1869) or relative_humidity_percent (ASTM F2170)"
            faults.add("missing-field", detail, "moisture", index)
