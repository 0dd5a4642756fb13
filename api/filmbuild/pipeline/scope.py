"""Some areas of a site on their own: what is not done is bare floor beside them."""

from collections.abc import Iterator
from collections.abc import Set as AbstractSet

import msgspec

from filmbuild.errors import Fault
from filmbuild.pipeline.results import AreaTakeoff, DoorwaySide, DoorwayTakeoff, EdgeRun, Takeoff
from filmbuild.pipeline.site import EdgeStretch, Island, Site, SiteArea
from filmbuild.pipeline.site_doors import Doorway
from filmbuild.quantities import PositiveLength

_SAME_PLACE = 1e-3
"""[m] Offsets along a side closer than this are one."""


class Part(msgspec.Struct, frozen=True):
    """Areas of a site; `numbers` are those that they have on the whole site."""

    site: Site
    numbers: tuple[int, ...]

    def pointed(self, fault: Fault) -> Fault:
        """The fault where the whole site has it."""
        _, root, areas, number, *rest = [*fault.pointer.split("/"), "", "", ""]
        if (root, areas) != ("site", "areas") or not number.isdigit():
            return fault
        after = "".join(f"/{one}" for one in rest if one)
        pointer = f"/site/areas/{self.numbers[int(number)]}{after}"
        return msgspec.structs.replace(fault, pointer=pointer)


def part_of(site: Site, left_out: AbstractSet[str], whole: Takeoff) -> Part:
    """The site without some of its areas; `whole` is the takeoff of all of it.

    Where the coating ran on into what is left out, it stops in an open edge, and so it does in
    doorways there; people leave over that floor as it stays bare.
    """
    if not left_out:
        return Part(site, tuple(range(len(site.areas))))
    kept = [
        (number, area, measured)
        for number, (area, measured) in enumerate(zip(site.areas, whole.areas, strict=True))
        if area.id not in left_out
    ]
    doors = _doors_into(whole, left_out)
    leaves = whole.traffic is not None
    areas = tuple(
        _cut(area, measured, doors.get(area.id, []), left_out, leaves=leaves)
        for _, area, measured in kept
    )
    joins = tuple(one for one in site.joins if left_out.isdisjoint(one.between))
    return Part(
        msgspec.structs.replace(site, areas=areas, joins=joins),
        tuple(number for number, _, _ in kept),
    )


def _doors_into(whole: Takeoff, left_out: AbstractSet[str]) -> dict[str, list[DoorwayTakeoff]]:
    """By the area that is done, its doorways into one that is not."""
    found: dict[str, list[DoorwayTakeoff]] = {}
    for door in whole.doorways:
        done = [name for name in door.between if name not in left_out]
        if len(done) == 1 and len(door.between) > 1:
            found.setdefault(done[0], []).append(door)
    return found


def _cut(
    area: SiteArea,
    measured: AreaTakeoff,
    doors: list[DoorwayTakeoff],
    left_out: AbstractSet[str],
    *,
    leaves: bool,
) -> SiteArea:
    ends = [run for run in measured.runs if run.into in left_out and run.doorway is None]
    if not (doors or ends or not left_out.isdisjoint(area.place_before)):
        return area
    return msgspec.structs.replace(
        area,
        edges=(
            *(one for one in area.edges if not _replaced(one, ends, left_out)),
            *(_open(run, leaves=leaves) for run in ends if run.island is None),
        ),
        islands=tuple(_islands(area, ends)),
        doorways=tuple(_doorways(area, doors)),
        place_before=tuple(one for one in area.place_before if one not in left_out),
    )


def _replaced(edge: EdgeStretch, ends: list[EdgeRun], left_out: AbstractSet[str]) -> bool:
    if edge.joins in left_out:
        return True
    return edge.kind == "joined" and any(
        run.island is None
        and run.side == edge.side
        and abs(run.offset - (edge.offset or 0.0)) < _SAME_PLACE
        for run in ends
    )


def _open(run: EdgeRun, *, leaves: bool) -> EdgeStretch:
    return EdgeStretch(
        side=run.side,
        kind="open",
        offset=run.offset,
        length=PositiveLength(run.length),
        exit=leaves,
    )


def _islands(area: SiteArea, ends: list[EdgeRun]) -> Iterator[Island]:
    cut = {run.island for run in ends if run.island is not None}
    for number, island in enumerate(area.islands):
        yield msgspec.structs.replace(island, edge="open") if number in cut else island


def _doorways(area: SiteArea, doors: list[DoorwayTakeoff]) -> Iterator[Doorway]:
    """Those into what is left out, wherever they were given, with the coating ending there."""
    sides = [(door, side) for door in doors for side in door.sides if side.area == area.id]
    for one in area.doorways:
        into = [pair for pair in sides if _is_at(one, pair[1])]
        if into:
            sides = [pair for pair in sides if pair not in into]
            yield msgspec.structs.replace(one, to=None, coating="stops", exit=True)
        else:
            yield one
    for door, side in sides:
        yield Doorway(
            side=side.side,
            offset=side.offset,
            width=PositiveLength(side.width),
            island=side.island,
            coating="stops",
            door=door.door,
            exit=True,
            height=None if door.height is None else PositiveLength(door.height),
        )


def _is_at(one: Doorway, side: DoorwaySide) -> bool:
    return (
        one.side == side.side
        and one.island == side.island
        and abs(one.offset - side.offset) < _SAME_PLACE
    )
