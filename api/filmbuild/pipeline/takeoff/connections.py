"""How the areas of a site hang together: stretches without wall, doorways, ways and exits."""

from collections import defaultdict
from collections.abc import Mapping, Sequence

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.geometry import FloorShape
from filmbuild.pipeline.results.traffic import DoorwaySide, DoorwayTakeoff
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.site_work import Opening
from filmbuild.pipeline.takeoff.contacts import Plan, TangledError
from filmbuild.pipeline.takeoff.doorways import Door, find_doorways, settle
from filmbuild.pipeline.takeoff.joins import Link, Stated, hand_joins, site_joins
from filmbuild.pipeline.takeoff.protection import sheet_area
from filmbuild.pipeline.takeoff.stretches import Stretch
from filmbuild.pipeline.takeoff.thresholds import Threshold, threshold_of
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Area, Length, PositiveLength

_LISTED = 6


class Connections(msgspec.Struct, frozen=True):
    """`stretches`, `barriers` and `thresholds` are those of each area.

    A barrier closes a doorway; a threshold is the floor in it.
    """

    stretches: list[list[Stretch]]
    doorways: tuple[DoorwayTakeoff, ...]
    links: list[Link]
    barriers: Mapping[int, list[Opening]]
    thresholds: Mapping[int, list[Threshold]] = {}


def connect(
    site: Site,
    shapes: Sequence[FloorShape | None],
    stated: list[list[Stretch]],
    numbers: Mapping[str, int],
    faults: Faults,
    notes: list[Note],
) -> Connections:
    """Complete what the areas state by what the plan shows. `faults` is rooted at the site.

    A plan that has faults already is not looked at.
    """
    if not site.joins and not any(
        one.into is not None or one.doorway is not None for own in stated for one in own
    ):
        return Connections(stated, (), [], {})
    if len(faults):
        return Connections(stated, (), [], {})
    plan = Plan(site, shapes)
    all_stated = Stated(stated)
    try:
        doors = find_doorways(site, plan, stated, faults)
        settle(doors, all_stated, faults)
        shared = site_joins(site, plan, all_stated, numbers, faults)
        listed = {(link.first, link.second) for link in shared}
        by_hand, unconfirmed = hand_joins(site, plan, all_stated, listed, faults)
    except TangledError:
        detail = "sides lie round one another in too many places to be compared; cut long ones up"
        faults.add("areas-entangled", detail, "areas")
        return Connections(stated, (), [], {})
    _tell(site, doors, unconfirmed, notes)
    through = [
        Link(door.area, door.into, f"doorway {door.name}", *_stretches_of(door, all_stated))
        for door in doors
        if door.into is not None
    ]
    barriers: defaultdict[int, list[Opening]] = defaultdict(list)
    for door in doors:
        if (opening := _barrier(door)) is not None:
            barriers[door.area].append(opening)
    thresholds: defaultdict[int, list[Threshold]] = defaultdict(list)
    for door in doors:
        if (threshold := threshold_of(door)) is not None:
            thresholds[door.area].append(threshold)
    found = tuple([_doorway(site, door, all_stated) for door in doors])
    return Connections(stated, found, [*through, *shared, *by_hand], barriers, thresholds)


def _stretches_of(door: Door, stated: Stated) -> tuple[Stretch, Stretch | None]:
    if door.other is not None:
        return door.stretch, door.other.stretch
    if door.contact is None or door.into is None:
        return door.stretch, None
    opposite = (one for one in stated.of_areas[door.into] if one.doorway == door.name)
    return door.stretch, next(opposite, None)


def _height(door: Door) -> PositiveLength | None:
    return next((one.given.height for one in door.both() if one.given.height is not None), None)


def _has_leaf(door: Door) -> bool:
    return any(one.given.door for one in door.both())


def _barrier(door: Door) -> Opening | None:
    """Dust is kept on the floor that is worked on: doorways off it are closed."""
    height = _height(door)
    if door.into is not None or _has_leaf(door) or height is None:
        return None
    return Opening(width=door.given.width, height=height)


def _doorway(site: Site, door: Door, stated: Stated) -> DoorwayTakeoff:
    width, height = Length(door.given.width), _height(door)
    opening = _barrier(door)
    barrier = Area(
        sheet_area(opening.width, opening.height, site.sheeting) if opening is not None else 0.0
    )
    leaf = _has_leaf(door)
    opposite = _stretches_of(door, stated)[1]
    sides = [(door.area, door.stretch)]
    if opposite is not None and door.into is not None:
        sides.append((door.into, opposite))
    traces = {"width": Trace("takeoff.doorways", {"read": ", ".join(map(_pointer, door.both()))})}
    if barrier:
        traces["barrier"] = Trace("takeoff.doorway-barrier", {"width": width, "height": height})
    return DoorwayTakeoff(
        id=door.name,
        between=tuple([site.areas[one].id for one in (door.area, door.into) if one is not None]),
        width=width,
        height=Length(height) if height is not None else None,
        coating=door.given.coating,
        door=leaf,
        exit=door.given.exit,
        kept_shut=leaf and (door.into is None or door.given.coating == "stops"),
        barrier=barrier,
        given_in=tuple([site.areas[one.area].id for one in door.both()]),
        sides=tuple([_side(site, area, one) for area, one in sides]),
        traces=traces,
    )


def _pointer(door: Door) -> str:
    return door.pointer


def _side(site: Site, area: int, stretch: Stretch) -> DoorwaySide:
    return DoorwaySide(
        area=site.areas[area].id,
        side=stretch.side,
        offset=Length(stretch.start),
        width=Length(stretch.length),
        island=stretch.ring - 1 if stretch.ring else None,
        open_edge=stretch.kind == "open",
    )


def _tell(site: Site, doors: Sequence[Door], unconfirmed: Sequence[str], notes: list[Note]) -> None:
    if unconfirmed:
        notes.append(
            Note(
                "join-one-sided",
                f"Only one area says that the coating runs on, and the plan does not show it: "
                f"{listed(unconfirmed)}. The other area is measured with a wall there; give the "
                "stretch in its edges too, or place both areas on the plan.",
            )
        )
    one_sided = [
        f"{door.name} from {site.areas[door.area].id} into {site.areas[door.into].id}"
        for door in doors
        if door.into is not None and door.other is None and door.contact is None
    ]
    if one_sided:
        notes.append(
            Note(
                "doorway-one-sided",
                f"Given from one room only, and the plan does not show where the other has it: "
                f"{listed(one_sided)}. The other room is measured with a wall there; give the "
                "doorway in it too, or place both areas on the plan.",
            )
        )
    low = [
        door.name
        for door in doors
        if door.into is None and not _has_leaf(door) and _height(door) is None
    ]
    if low:
        notes.append(
            Note(
                "doorway-without-height",
                f"No dust barrier is counted for doorways without a leaf and without a height: "
                f"{listed(low)}. Give their height.",
            )
        )


def listed(names: Sequence[str]) -> str:
    shown = ", ".join(names[:_LISTED])
    more = len(names) - _LISTED
    return f"{shown} and {more} more" if more > 0 else shown
