"""One area's takeoff, put together from its edges, its bands and its details."""

from typing import Any

import msgspec

from filmbuild.pipeline.results import AreaTakeoff
from filmbuild.pipeline.site import SiteArea, Substrate
from filmbuild.pipeline.takeoff.edges import Edges
from filmbuild.pipeline.takeoff.found import Found
from filmbuild.pipeline.takeoff.texture import texture_of
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Dimension, Length, Volume

_REST = "takeoff.rest-of-floor"
_DEFAULTS: dict[str, Any] = {
    "added_treads": Area(0.0),
    "base_walls": Area(0.0),
    "risers": Area(0.0),
    "curbs": Area(0.0),
    "cove_face": Area(0.0),
    "vertical": Area(0.0),
    "cove_length": Length(0.0),
    "cove_volume": Volume(0.0),
    "crack_length": Length(0.0),
    "crack_volume": Volume(0.0),
    "spall_area": Area(0.0),
    "spall_volume": Volume(0.0),
    "joint_length": Length(0.0),
    "joint_volume": Volume(0.0),
    "tape_length": Length(0.0),
    "dust_barrier": Area(0.0),
}


def area_takeoff(
    area: SiteArea,
    substrate: Substrate,
    edges: Edges,
    found: Found,
    bands: tuple[float, ...],
    widths: tuple[Dimension, Dimension],
    rank: int,
) -> AreaTakeoff:
    """`bands` [m2] along the walls are those of `widths` [m]."""
    amounts, traces = found.amounts, found.traces
    plan = found.net - found.uncoated
    sloped = plan + amounts.get("added_by_slope", 0.0)
    floor = Area(sloped + amounts.get("added_treads", 0.0) + amounts.get("thresholds", 0.0))
    stretch = sloped / plan
    by_hand, cut_in = [
        _worked_by_hand(floor, plan, stretch, band, width, found)
        for band, width in zip(bands, widths, strict=True)
    ]
    drains = amounts.get("drain_length", 0.0)
    texture = texture_of(substrate)
    if texture is not None:
        amounts["texture_depth"], traces["texture_depth"] = texture
    traces["floor"] = Trace("takeoff.floor", _floor_terms(edges.rings[0].area, found))
    traces["hand_grind"] = by_hand.trace
    traces["machine_grind"] = Trace(_REST, {"floor": floor, "hand_grind": by_hand.area})
    traces["cut_in"] = cut_in.trace
    traces["field"] = Trace(_REST, {"floor": floor, "cut_in": cut_in.area})
    traces["placing_order"] = Trace(
        "takeoff.placing-order", {"exits": edges.exits, "place_before": area.place_before}
    )
    of_edges = _edge_trace(edges, drains)
    traces["wall_length"] = traces["open_length"] = traces["joined_length"] = of_edges
    machine_grind, field = Area(floor - by_hand.area), Area(floor - cut_in.area)
    return AreaTakeoff(
        id=area.id,
        name=area.name or area.id,
        level=area.level,
        substrate=substrate,
        placing_order=rank,
        exits_through=edges.exits[0] if edges.exits else None,
        floor=floor,
        machine_grind=machine_grind,
        hand_grind=by_hand.area,
        field=field,
        cut_in=cut_in.area,
        wall_length=Length(edges.wall_length),
        open_length=Length(edges.open_length + drains),
        joined_length=Length(edges.joined_length),
        runs=edges.runs,
        access=area.access,
        traces=traces,
        **(_DEFAULTS | amounts),
    )


class _Band(msgspec.Struct, frozen=True, gc=False):
    area: Area
    trace: Trace


def _worked_by_hand(
    floor: Area, plan: float, stretch: float, band: float, width: Dimension, found: Found
) -> _Band:
    """What a machine or wide roller does not reach.

    Pit floors, added treads and thresholds are narrower than any machine. Round what stands on the floor
    there is a band as along walls. A sloped floor is larger than its plan by `stretch`, the band
    with it.
    """
    inputs: dict[str, object] = {"width": width, "along_walls": Area(band)}
    by_hand = band
    if "pit_floor" in found.amounts:
        inputs["pit_floor"] = pit_floor = found.amounts["pit_floor"]
        by_hand += pit_floor
    if found.rims:
        inputs["around_collars"] = around = Area(sum([rim.band(width) for rim in found.rims]))
        by_hand += around
    if stretch != 1:
        inputs["floor_to_plan"] = stretch
    beside = found.sum_of(("added_treads", "thresholds"))
    inputs |= beside
    whole = by_hand >= plan
    area = floor if whole else Area(min(by_hand * stretch + sum(beside.values()), floor))
    return _Band(area, Trace("takeoff.band", inputs))


def _floor_terms(outline: float, found: Found) -> dict[str, object]:
    terms: dict[str, object] = {"outline": Area(outline)}
    islands = outline - found.net
    if islands:
        terms["islands"] = Area(islands)
    if found.uncoated:
        terms["uncoated"] = Area(found.uncoated)
    return terms | found.sum_of(("added_by_slope", "added_treads", "thresholds"))


def _edge_trace(edges: Edges, drains: float) -> Trace:
    """One trace for all three: each is what the other two leave of the whole length of edges."""
    inputs = {
        "edges": Length(
            edges.wall_length - edges.reveals + edges.open_length + edges.joined_length
        ),
        "open": Length(edges.open_length),
        "joined": Length(edges.joined_length),
    }
    if edges.reveals:
        inputs["reveals"] = Length(edges.reveals)
    if drains:
        inputs["drains"] = Length(drains)
    return Trace("takeoff.edges", inputs)
