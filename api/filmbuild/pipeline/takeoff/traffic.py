"""The crew's way over the floor: which area is coated when, and by which way it is left."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from math import dist

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.geometry import FloorShape, Point
from filmbuild.pipeline.results.traffic import PlanPoint, Traffic, TrafficStep
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff.connections import Connections, listed
from filmbuild.pipeline.takeoff.figures import is_placed
from filmbuild.pipeline.takeoff.joins import Link
from filmbuild.pipeline.takeoff.order import (
    Floors,
    Order,
    blocking,
    cycle_of,
    placing_order,
    with_exit,
    without,
)
from filmbuild.pipeline.takeoff.stretches import Stretch
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Coordinate

_MOST_TRIED = 8
_RULE = Trace("takeoff.placing-order", {"read": "doorways, edges, joins, place_before"})


class Route(msgspec.Struct, frozen=True):
    """`ranks` are those of the areas in the site's order."""

    ranks: list[int]
    traffic: Traffic | None


def plan_route(
    site: Site,
    shapes: Sequence[FloorShape | None],
    connections: Connections,
    numbers: Mapping[str, int],
    faults: Faults,
    notes: list[Note],
) -> Route:
    """The order of work. `faults` is rooted at the site.

    Faults: `place_before` that names no other area, runs in a circle, or leaves no order in which
    every area can be left.
    """
    both = zip(site.areas, connections.stretches, strict=True)
    if not connections.links and not any(
        area.place_before or any(one.exit for one in own) for area, own in both
    ):
        _tell_no_exit([area.id for area in site.areas], notes)
        return Route(list(range(1, len(site.areas) + 1)), None)
    floors = _floors(site, connections, numbers, faults)
    if floors is None:
        return Route([0] * len(site.areas), None)
    order = placing_order(floors)
    if not all(order.ranks):
        _explain(site, floors, order, faults)
        return Route(order.ranks, None)
    _tell(site, floors, order, notes)
    if not any(floors.exits) and not connections.links:
        return Route(order.ranks, None)
    return Route(order.ranks, _traffic(site, shapes, connections, floors, order))


def _floors(
    site: Site, connections: Connections, numbers: Mapping[str, int], faults: Faults
) -> Floors | None:
    neighbours: list[list[int]] = [[] for _ in site.areas]
    for link in connections.links:
        neighbours[link.first].append(link.second)
        neighbours[link.second].append(link.first)
    exits = [any(one.exit for one in own) for own in connections.stretches]
    before: list[list[int]] = [[] for _ in site.areas]
    known = len(faults)
    for index, area in enumerate(site.areas):
        for place, name in enumerate(area.place_before):
            if name == area.id or name not in numbers:
                detail = "name another area of this site"
                faults.add("unknown-area", detail, "areas", index, "place_before", place)
            else:
                before[index].append(numbers[name])
    if len(faults) > known:
        return None
    if any(before) and (cycle := cycle_of(before)):
        first = cycle[0]
        then = cycle[1 % len(cycle)]
        names = [site.areas[one].id for one in (*cycle, first)]
        faults.add(
            "order-in-a-circle",
            f"areas to be coated before one another in a circle: {listed(names)}; leave out one",
            "areas",
            first,
            "place_before",
            site.areas[first].place_before.index(site.areas[then].id),
        )
        return None
    return Floors(neighbours, exits, before)


def _explain(site: Site, floors: Floors, order: Order, faults: Faults) -> None:
    """Say of each constraint that blocks the way out what would free it."""
    for tried, (area, later) in enumerate(blocking(floors, order)):
        if tried == _MOST_TRIED:
            break
        first, second = site.areas[area].id, site.areas[later].id
        fixes = []
        if all(placing_order(without(floors, area, later)).ranks):
            fixes.append(f"let {second} be coated before {first}")
        if all(placing_order(with_exit(floors, later)).ranks):
            fixes.append(f"give {second} an exit, or a doorway that does not lead through {first}")
        fix = "either " * (len(fixes) > 1) + ", or ".join(fixes)
        faults.add(
            "order-impossible",
            f"{second} is to be coated after {first}, but can only be left through it: "
            f"{fix or 'this alone is not all that stands in the way'}",
            "areas",
            area,
            "place_before",
            site.areas[area].place_before.index(second),
        )


def _tell(site: Site, floors: Floors, order: Order, notes: list[Note]) -> None:
    if not order.doors:
        return
    names = [site.areas[one].id for one in sorted(order.doors)]
    if not any(floors.exits):
        _tell_no_exit(names, notes)
        return
    notes.append(
        Note(
            "no-way-to-exit",
            f"No way leads to an exit from {listed(names)}, nor from what hangs together with "
            "them: each is taken to have a door of its own. Give the doorways that lead on, or an "
            "exit.",
        )
    )


def _tell_no_exit(names: Sequence[str], notes: list[Note]) -> None:
    notes.append(
        Note(
            "no-exit",
            "No area has an exit, so that the order of work does not know where the crew leaves. "
            f"Taken to have a door of its own: {listed(names)}. Mark an edge or a doorway as exit.",
        )
    )


def _traffic(
    site: Site,
    shapes: Sequence[FloorShape | None],
    connections: Connections,
    floors: Floors,
    order: Order,
) -> Traffic:
    ways: defaultdict[tuple[int, int], list[Link]] = defaultdict(list)
    for link in connections.links:
        ways[link.first, link.second].append(link)
        ways[link.second, link.first].append(link)
    steps = [
        _step(site, shapes[area], area, order, ways, connections.stretches[area])
        for area in sorted(range(len(order.ranks)), key=order.ranks.__getitem__)
    ]
    exits = tuple([area.id for area, leads in zip(site.areas, floors.exits, strict=True) if leads])
    return Traffic(exits=exits, steps=tuple(steps), traces={"steps": _RULE})


def _step(
    site: Site,
    shape: FloorShape | None,
    index: int,
    order: Order,
    ways: Mapping[tuple[int, int], Sequence[Link]],
    stretches: Sequence[Stretch],
) -> TrafficStep:
    area, rank, into = site.areas[index], order.ranks[index], order.into[index]
    crossings = order.crossings[index]
    way: str | None = None
    stretch: Stretch | None = None
    if into is not None:
        link = ways[index, into][0]
        way = link.name
        stretch = link.first_stretch if link.first == index else link.second_stretch
        reason = f"left by {way} into {site.areas[into].id}, {_onward(crossings, len(site.areas))}"
    elif crossings == 0:
        stretch = next(one for one in stretches if one.exit)
        way = way_out(stretch)
        reason = f"left by {way}, an exit"
    else:
        reason = "no way to an exit is given: taken to have a door of its own"
    start = end = None
    if stretch is not None and shape is not None and is_placed(area.outline):
        start, end = _ends(shape, stretch)
    return TrafficStep(
        area=area.id,
        order=rank,
        reason=reason,
        left_by=way,
        into=site.areas[into].id if into is not None else None,
        crossings=crossings if crossings < len(site.areas) else None,
        starts_at=start,
        ends_at=end,
    )


def way_out(stretch: Stretch) -> str:
    return f"side {stretch.side}" if stretch.doorway is None else f"doorway {stretch.doorway}"


def _onward(crossings: int, areas: int) -> str:
    if crossings >= areas:
        return "from where no way to an exit is given"
    if crossings == 1:
        return "then the exit"
    more = crossings - 1
    return f"then through {more} more area{'s' * (more > 1)} to the exit"


def _ends(shape: FloorShape, stretch: Stretch) -> tuple[PlanPoint, PlanPoint]:
    """The corner farthest from the way out in a straight line, and the middle of the way out."""
    ring = shape.outline if stretch.ring == 0 else shape.islands[stretch.ring - 1]
    (x, y), (next_x, next_y) = ring[stretch.side], ring[(stretch.side + 1) % len(ring)]
    share = stretch.middle / dist((x, y), (next_x, next_y))
    end = x + share * (next_x - x), y + share * (next_y - y)
    start = max(shape.outline, key=lambda corner: dist(corner, end))
    return _point(start), _point(end)


def _point(point: Point) -> PlanPoint:
    return PlanPoint(x=Coordinate(point[0]), y=Coordinate(point[1]))
