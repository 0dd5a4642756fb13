"""The takeoff of a whole site."""

from collections.abc import Container
from math import fsum
from operator import attrgetter

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.bands import band_areas_of
from filmbuild.pipeline.geometry import FloorShape
from filmbuild.pipeline.results import AreaTakeoff, Takeoff, Totals
from filmbuild.pipeline.site import Site, SiteArea, Substrate
from filmbuild.pipeline.takeoff.details import Details, measure_details
from filmbuild.pipeline.takeoff.edges import Edges, resolve_edges
from filmbuild.pipeline.takeoff.order import placing_order
from filmbuild.pipeline.takeoff.shapes import check_overlaps, shape_of
from filmbuild.pipeline.trace import Trace
from filmbuild.pipeline.walls import net_of
from filmbuild.quantities import Area, Length, Volume

_DETAIL_TRACES = {
    "added_treads": Trace("takeoff.treads", {"read": "steps"}),
    "base_walls": Trace("takeoff.base-walls", {"read": "base_walls"}),
    "risers": Trace("takeoff.risers", {"read": "steps"}),
    "curbs": Trace("takeoff.curbs", {"read": "curbs"}),
    "cove_face": Trace("takeoff.cove-face", {"read": "coves"}),
    "cove_volume": Trace("takeoff.cove-fillet", {"read": "coves"}),
    "crack_volume": Trace("takeoff.crack-chase", {"read": "cracks"}),
    "spall_volume": Trace("takeoff.spalls", {"read": "spalls"}),
    "joint_volume": Trace("takeoff.joints", {"read": "joints"}),
    "tape_length": Trace("takeoff.tape"),
    "dust_barrier": Trace("takeoff.dust-barrier", {"read": "openings"}),
}
_EDGES = Trace("takeoff.edges", {"read": "edges, islands"})
_REST_OF_GRINDING = Trace("takeoff.rest-of-floor", {"less": "hand_grind"})
_REST_OF_COATING = Trace("takeoff.rest-of-floor", {"less": "cut_in"})
_VERTICAL = Trace("takeoff.vertical", {"read": "base_walls, steps, curbs, coves"})


def take_off(site: Site, faults: Faults) -> Takeoff:
    """Measure every area; `faults` is rooted at the site. Raises InvalidInput with all of them.

    Totals are correctly rounded sums, so that the order of the areas does not move them.
    """
    names = _names(site, faults)
    shapes: list[FloorShape | None] = []
    edges: list[Edges] = []
    details: list[Details] = []
    for index, area in enumerate(site.areas):
        at = faults.at("areas", index)
        if area.substrate is not None:
            _check_moisture(area.substrate, at.at("substrate"))
        shape = shape_of(area, at)
        shapes.append(shape)
        if shape is not None:
            edge = resolve_edges(area, shape, names, at)
            edges.append(edge)
            details.append(measure_details(area, edge.wall_length, edge.open_length, at))
    _check_moisture(site.substrate, faults.at("substrate"))
    check_overlaps(site, shapes, faults)
    faults.raise_if_any()
    order = placing_order(site, edges)
    bands = _Bands(
        (site.hand_grind_width, site.cut_in_width),
        Trace("takeoff.band", {"width": site.hand_grind_width}),
        Trace("takeoff.band", {"width": site.cut_in_width}),
    )
    areas = tuple(
        [
            _area(area, site.substrate, edge, detail, bands, rank)
            for area, edge, detail, rank in zip(site.areas, edges, details, order, strict=True)
        ]
    )
    return Takeoff(site=site.name, areas=areas, totals=_totals(areas))


def _names(site: Site, faults: Faults) -> Container[str]:
    names: dict[str, int] = {}
    for index, area in enumerate(site.areas):
        first = names.setdefault(area.id, index)
        if first != index:
            detail = f"areas/{first} has this id already; ids are unique on a site"
            faults.add("duplicate-id", detail, "areas", index, "id")
    return names


def _check_moisture(substrate: Substrate, faults: Faults) -> None:
    for index, reading in enumerate(substrate.moisture):
        if reading.emission is None and reading.relative_humidity_percent is None:
            detail = "give emission (ASTM F1869) or relative_humidity_percent (ASTM F2170)"
            faults.add("missing-field", detail, "moisture", index)


class _Bands(msgspec.Struct, frozen=True):
    """Widths [m] of the bands that are ground by hand and cut in, and their traces."""

    widths: tuple[float, float]
    hand_grind: Trace
    cut_in: Trace


def _area(
    area: SiteArea,
    of_site: Substrate,
    edges: Edges,
    details: Details,
    bands: _Bands,
    rank: int,
) -> AreaTakeoff:
    """Added treads are floor that is ground by hand and cut in, being narrower than any machine."""
    rings = edges.rings
    hand_band, cut_in_band = band_areas_of(rings, bands.widths)
    net = net_of(rings)
    treads = details.added_treads
    vertical = Area(details.base_walls + details.risers + details.curbs + details.cove_face)
    return AreaTakeoff(
        id=area.id,
        name=area.name or area.id,
        level=area.level,
        substrate=area.substrate or of_site,
        placing_order=rank,
        exits_through=edges.exits[0] if edges.exits else None,
        floor=Area(net + treads),
        machine_grind=Area(net - hand_band),
        hand_grind=Area(hand_band + treads),
        field=Area(net - cut_in_band),
        cut_in=Area(cut_in_band + treads),
        wall_length=Length(edges.wall_length),
        open_length=Length(edges.open_length),
        joined_length=Length(edges.joined_length),
        added_treads=treads,
        base_walls=details.base_walls,
        risers=details.risers,
        curbs=details.curbs,
        cove_face=details.cove_face,
        vertical=vertical,
        cove_length=details.cove_length,
        cove_volume=details.cove_volume,
        crack_length=details.crack_length,
        crack_volume=details.crack_volume,
        spall_area=details.spall_area,
        spall_volume=details.spall_volume,
        joint_length=details.joint_length,
        joint_volume=details.joint_volume,
        tape_length=details.tape_length,
        dust_barrier=details.dust_barrier,
        traces=_traces(bands, rings[0].area, details, net, vertical),
    )


def _traces(
    bands: _Bands, outline: float, details: Details, net: float, vertical: float
) -> dict[str, Trace]:
    traces = {
        "floor": Trace(
            "takeoff.floor",
            {
                "outline": Area(outline),
                "islands": Area(outline - net),
                "added_treads": details.added_treads,
            },
        ),
        "hand_grind": bands.hand_grind,
        "machine_grind": _REST_OF_GRINDING,
        "cut_in": bands.cut_in,
        "field": _REST_OF_COATING,
        "wall_length": _EDGES,
        "open_length": _EDGES,
        "joined_length": _EDGES,
    }
    if vertical:
        traces["vertical"] = _VERTICAL
    return traces | {
        field: trace for field, trace in _DETAIL_TRACES.items() if getattr(details, field)
    }


def _totals(areas: tuple[AreaTakeoff, ...]) -> Totals:
    def area(field: str) -> Area:
        return Area(fsum(map(attrgetter(field), areas)))

    def length(field: str) -> Length:
        return Length(fsum(map(attrgetter(field), areas)))

    def volume(field: str) -> Volume:
        return Volume(fsum(map(attrgetter(field), areas)))

    return Totals(
        floor=area("floor"),
        machine_grind=area("machine_grind"),
        hand_grind=area("hand_grind"),
        field=area("field"),
        cut_in=area("cut_in"),
        vertical=area("vertical"),
        wall_length=length("wall_length"),
        open_length=length("open_length"),
        joined_length=length("joined_length"),
        cove_length=length("cove_length"),
        cove_volume=volume("cove_volume"),
        crack_length=length("crack_length"),
        crack_volume=volume("crack_volume"),
        spall_area=area("spall_area"),
        spall_volume=volume("spall_volume"),
        joint_length=length("joint_length"),
        joint_volume=volume("joint_volume"),
        tape_length=length("tape_length"),
        dust_barrier=area("dust_barrier"),
    )
