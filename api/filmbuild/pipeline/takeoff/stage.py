"""The takeoff of a whole site."""

from collections.abc import Container
from math import fsum

from filmbuild.errors import Faults
from filmbuild.pipeline.bands import band_areas
from filmbuild.pipeline.geometry import FloorShape, net_area, ring_area
from filmbuild.pipeline.results import AreaTakeoff, Takeoff, Totals
from filmbuild.pipeline.site import Site, SiteArea, Substrate
from filmbuild.pipeline.takeoff.details import Details, measure_details
from filmbuild.pipeline.takeoff.edges import Edges, resolve_edges
from filmbuild.pipeline.takeoff.order import placing_order
from filmbuild.pipeline.takeoff.shapes import check_overlaps, shape_of
from filmbuild.pipeline.trace import Trace
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
    areas = tuple(
        [
            _area(site, area, shape, edge, detail, rank)
            for area, shape, edge, detail, rank in zip(
                site.areas, shapes, edges, details, order, strict=True
            )
            if shape is not None
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


def _check_moisture(substrate: Substrate | None, faults: Faults) -> None:
    if substrate is None:
        return
    for index, reading in enumerate(substrate.moisture):
        if reading.emission is None and reading.relative_humidity_percent is None:
            detail = "give emission (ASTM F1869) or relative_humidity_percent (ASTM F2170)"
            faults.add("missing-field", detail, "moisture", index)


def _area(
    site: Site, area: SiteArea, shape: FloorShape, edges: Edges, details: Details, rank: int
) -> AreaTakeoff:
    """Added treads are floor that is ground by hand and cut in, being narrower than any machine."""
    widths = (site.hand_grind_width, site.cut_in_width)
    hand_band, cut_in_band = band_areas(shape, edges.walls, widths)
    net = net_area(shape)
    treads = details.added_treads
    vertical = details.base_walls + details.risers + details.curbs + details.cove_face
    return AreaTakeoff(
        id=area.id,
        name=area.name or area.id,
        level=area.level,
        substrate=area.substrate or site.substrate,
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
        added_treads=Area(treads),
        base_walls=Area(details.base_walls),
        risers=Area(details.risers),
        curbs=Area(details.curbs),
        cove_face=Area(details.cove_face),
        vertical=Area(vertical),
        cove_length=Length(details.cove_length),
        cove_volume=Volume(details.cove_volume),
        crack_length=Length(details.crack_length),
        crack_volume=Volume(details.crack_volume),
        spall_area=Area(details.spall_area),
        spall_volume=Volume(details.spall_volume),
        joint_length=Length(details.joint_length),
        joint_volume=Volume(details.joint_volume),
        tape_length=Length(details.tape_length),
        dust_barrier=Area(details.dust_barrier),
        traces=_traces(site, shape, details, net, vertical),
    )


def _traces(
    site: Site, shape: FloorShape, details: Details, net: float, vertical: float
) -> dict[str, Trace]:
    outline = ring_area(shape.outline) if shape.islands else net
    traces = {
        "floor": Trace(
            "takeoff.floor",
            {
                "outline": Area(outline),
                "islands": Area(outline - net),
                "added_treads": Area(details.added_treads),
            },
        ),
        "hand_grind": Trace("takeoff.band", {"width": site.hand_grind_width}),
        "machine_grind": _REST_OF_GRINDING,
        "cut_in": Trace("takeoff.band", {"width": site.cut_in_width}),
        "field": _REST_OF_COATING,
        "wall_length": _EDGES,
        "open_length": _EDGES,
        "joined_length": _EDGES,
    }
    if vertical:
        traces["vertical"] = _VERTICAL
    traces.update(
        {field: trace for field, trace in _DETAIL_TRACES.items() if getattr(details, field)}
    )
    return traces


def _totals(areas: tuple[AreaTakeoff, ...]) -> Totals:
    def area(field: str) -> Area:
        return Area(fsum([getattr(one, field) for one in areas]))

    def length(field: str) -> Length:
        return Length(fsum([getattr(one, field) for one in areas]))

    def volume(field: str) -> Volume:
        return Volume(fsum([getattr(one, field) for one in areas]))

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
