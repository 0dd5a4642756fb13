"""Everything of an area that is not plain floor, brought together."""

from filmbuild.errors import Faults
from filmbuild.pipeline.site import SiteArea
from filmbuild.pipeline.site_work import Sheeting
from filmbuild.pipeline.takeoff.edges import Edges
from filmbuild.pipeline.takeoff.footprints import measure_collars, measure_drains, measure_pits
from filmbuild.pipeline.takeoff.found import Found
from filmbuild.pipeline.takeoff.protection import measure_sheeting
from filmbuild.pipeline.takeoff.repairs import (
    measure_cracks,
    measure_joints,
    measure_patches,
    measure_stripping,
)
from filmbuild.pipeline.takeoff.slopes import measure_slopes
from filmbuild.pipeline.takeoff.thresholds import measure_thresholds
from filmbuild.pipeline.takeoff.verticals import (
    measure_base_walls,
    measure_coves,
    measure_curbs,
    measure_steps,
)
from filmbuild.pipeline.trace import Trace
from filmbuild.pipeline.walls import net_of
from filmbuild.quantities import Area, UnitSystem, format_text

_UPRIGHT = ("base_walls", "risers", "step_sides", "curbs", "cove_face", "pit_sides", "collars")


def measure_details(
    area: SiteArea,
    edges: Edges,
    sheet: Sheeting | None,
    faults: Faults,
    units: UnitSystem = "si",
) -> Found:
    found = Found(net_of(edges.rings))
    if edges.wall_length:
        found.along("walls", edges.wall_length)
    _verticals(area, edges, found, faults)
    _floor_parts(area, found, faults, units)
    if edges.thresholds:
        measure_thresholds(edges.thresholds, found)
    found.along("open_edges", edges.open_length + found.amounts.get("drain_length", 0.0))
    plan = found.net - found.uncoated
    if area.slopes:
        measure_slopes(area, plan, found, faults, units)
    floor = plan + sum(found.sum_of(("added_by_slope", "thresholds")).values())
    _repairs(area, floor, found, faults, units)
    if area.openings or edges.barriers or area.covers:
        measure_sheeting(area, edges.barriers, sheet, found)
    upright = found.sum_of(_UPRIGHT)
    if upright:
        found.area("vertical", sum(upright.values()), Trace("takeoff.vertical", upright))
    runs = found.running
    found.length("running_length", sum(runs.values()), Trace("takeoff.running-length", runs))
    found.length("tape_length", sum(found.tape.values()), Trace("takeoff.tape", found.tape))
    return found


def _verticals(area: SiteArea, edges: Edges, found: Found, faults: Faults) -> None:
    if area.base_walls:
        measure_base_walls(area, edges, found, faults)
    if area.steps:
        measure_steps(area, found, faults)
    if area.curbs:
        measure_curbs(area, found)
    if area.coves:
        measure_coves(area, edges, found, faults)


def _floor_parts(area: SiteArea, found: Found, faults: Faults, units: UnitSystem) -> None:
    if not (area.drains or area.collars or area.pits):
        return
    measure_drains(area, found, faults)
    measure_collars(area, found, faults)
    measure_pits(area, found, faults)
    net = found.net
    taken = found.uncoated + found.amounts.get("pit_floor", 0.0)
    if taken > net:
        detail = (
            f"drains, pits, pipes and posts take {format_text(Area(taken), units)} of this area, "
            f"which has {format_text(Area(net), units)} of floor"
        )
        faults.add("exceeds-floor", detail)
    elif found.uncoated == net:
        faults.add("no-floor-left", "nothing of the floor is left to coat")


def _repairs(area: SiteArea, floor: float, found: Found, faults: Faults, units: UnitSystem) -> None:
    """`floor` [m2] as it slopes, without added treads."""
    if area.cracks:
        measure_cracks(area, found)
    if area.spalls or area.fills:
        measure_patches(area, floor, found, faults, units)
    if area.joints:
        measure_joints(area, found)
    if area.existing_coatings:
        measure_stripping(area, floor, found, faults, units)
