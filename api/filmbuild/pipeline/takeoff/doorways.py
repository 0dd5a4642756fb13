"""Doorways: each found once, whichever rooms it was given from, with what it means for both."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from itertools import count

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.site_doors import Doorway
from filmbuild.pipeline.takeoff.contacts import Contact, Plan, Probe
from filmbuild.pipeline.takeoff.joins import DEEPEST_WALL, Pair, Stated
from filmbuild.pipeline.takeoff.stretches import Stretch

SAME_WIDTH = 0.02
"""[m] Widths of one doorway, taken in two rooms, differ by no more (common practice)."""
SAME_PLACE = 0.05
"""[m] Nor do the places of its middle."""
FACING_WALL = 0.5
"""[m] A doorway that does not say where it leads, leads to what lies this near behind the wall."""


class Door(msgspec.Struct, gc=False):
    """A doorway as one area gives it, or as two do: then `other` is the one given second.

    `is_next` where no other area lies between the doorway and the one that it leads to.
    """

    area: int
    place: int
    given: Doorway
    stretch: Stretch
    into: int | None
    contact: Contact | None = None
    name: str = ""
    other: "Door | None" = None
    is_second: bool = False
    is_next: bool = False

    @property
    def pointer(self) -> str:
        return f"areas/{self.area}/doorways/{self.given_place}"

    @property
    def given_place(self) -> int:
        return int(self.stretch.source[1])

    def both(self) -> "tuple[Door, ...]":
        return (self,) if self.other is None else (self, self.other)


def find_doorways(
    site: Site,
    plan: Plan,
    stretches: Sequence[Sequence[Stretch]],
    faults: Faults,
) -> list[Door]:
    """Every doorway once, in the order in which the site gives them first, with its id.

    Faults: a doorway that does not face the area it is said to lead to, two statements of one
    doorway that differ, an id given twice.
    """
    doors = [
        Door(area, place, site.areas[area].doorways[int(one.source[1])], one, one.into)
        for area, own in enumerate(stretches)
        for place, one in enumerate(own)
        if one.doorway is not None
    ]
    _see_what_they_face(site, plan, doors, faults)
    _lead_by_id(doors)
    pairs: defaultdict[Pair, tuple[list[Door], list[Door]]] = defaultdict(lambda: ([], []))
    for door in doors:
        if door.into is not None:
            low, high = min(door.area, door.into), max(door.area, door.into)
            pairs[low, high][door.area == high].append(door)
    for first, second in pairs.values():
        if first and second:
            _match(first, second, faults)
    _name(doors, faults)
    return [door for door in doors if not door.is_second]


def _see_what_they_face(site: Site, plan: Plan, doors: Sequence[Door], faults: Faults) -> None:
    asking = [door for door in doors if not door.given.exit and plan.is_placed(door.area)]
    facing: defaultdict[int, list[Contact]] = defaultdict(list)
    nearest: dict[int, float] = {}
    probes = [
        Probe(door.area, one.ring, one.side, one.start, one.end)
        for door in asking
        for one in (door.stretch,)
    ]
    for contact in plan.contacts(probes, DEEPEST_WALL):
        if contact.overlap > SAME_WIDTH:
            known = nearest.get(contact.probe, contact.gap)
            nearest[contact.probe] = min(known, contact.gap)
        if contact.overlap >= asking[contact.probe].given.width - SAME_WIDTH:
            facing[contact.probe].append(contact)
    for number, door in enumerate(asking):
        found = sorted(facing[number], key=lambda one: one.gap)
        if door.into is None:
            if found and found[0].gap <= FACING_WALL:
                door.contact, door.into = found[0], found[0].area
        else:
            door.contact = next((one for one in found if one.area == door.into), None)
        if door.contact is not None:
            door.is_next = door.contact.gap <= nearest.get(number, door.contact.gap)
        elif door.into is not None and plan.are_together(door.area, door.into):
            faults.add(
                "doorway-not-facing",
                f"no side of {site.areas[door.into].id} faces the whole width of this doorway "
                f"within {DEEPEST_WALL:g} m; check side and offset, or where it leads",
                *_where(door),
                "to",
            )


def _where(door: Door) -> tuple[str | int, ...]:
    return ("areas", door.area, "doorways", door.given_place)


def _lead_by_id(doors: Sequence[Door]) -> None:
    """Two rooms that give a doorway the same id lead into one another."""
    named: defaultdict[str, list[Door]] = defaultdict(list)
    for door in doors:
        if door.given.id is not None:
            named[door.given.id].append(door)
    for same in named.values():
        if len(same) == 2 and same[0].area != same[1].area:  # noqa: PLR2004 - the two rooms of a doorway
            for door, other in (same, same[::-1]):
                if door.into is None and not (door.given.exit or other.given.exit):
                    door.into = other.area


def _match(first: Sequence[Door], second: Sequence[Door], faults: Faults) -> None:
    """Find which statements of two rooms are of one doorway: by the plan, by id, by width."""
    for door in first:
        if door.contact is None:
            continue
        for other in second:
            if not other.is_second and _lies_over(door.contact, other):
                _unite(door, other, faults)
                break
    left = [door for door in first if door.contact is None]
    right = [door for door in second if door.contact is None and not door.is_second]
    _match_unplaced(left, right, faults)


def _lies_over(contact: Contact, door: Door) -> bool:
    one = door.stretch
    shared = min(contact.other_end, one.end) - max(contact.other_start, one.start)
    return (contact.ring, contact.side) == (one.ring, one.side) and 2 * shared > min(
        one.length, contact.other_end - contact.other_start
    )


def _match_unplaced(first: Sequence[Door], second: Sequence[Door], faults: Faults) -> None:
    """What is left over on both sides is either one doorway measured twice, or two: not told."""
    free = list(second)
    unlike: list[Door] = []
    for door in first:
        other = next((one for one in free if door.given.id and one.given.id == door.given.id), None)
        if other is None:
            other = next((one for one in free if _may_be_one(door, one)), None)
        if other is None:
            unlike.append(door)
        else:
            free.remove(other)
            _unite(door, other, faults)
    unlike = [door for door in unlike if door.given.id is None]
    if unlike and (other := next((one for one in free if one.given.id is None), None)):
        width = unlike[0].given.width
        faults.add(
            "doorway-differs",
            f"{other.given.width:.3f} m wide, and {unlike[0].pointer} back through it {width:.3f} "
            "m; give one width, or an id to each where they are two doorways",
            *_where(other),
            "width",
        )


def _may_be_one(door: Door, other: Door) -> bool:
    named = door.given.id is not None and other.given.id is not None
    return not named and abs(door.given.width - other.given.width) <= SAME_WIDTH


def _unite(door: Door, other: Door, faults: Faults) -> None:
    door.other, other.is_second = other, True
    for field, detail in _differences(door, other):
        faults.add(
            "doorway-differs",
            f"{detail} in {door.pointer}, which is the same doorway; say the same in both rooms",
            *_where(other),
            field,
        )


def _differences(door: Door, other: Door) -> Iterator[tuple[str, str]]:
    one, two = door.given, other.given
    if abs(one.width - two.width) > SAME_WIDTH:
        yield "width", f"{two.width:.3f} m here, {one.width:.3f} m"
    if door.contact is not None:
        middle = (door.contact.other_start + door.contact.other_end) / 2
        if abs(middle - other.stretch.middle) > SAME_PLACE:
            yield "offset", f"its middle is at {other.stretch.middle:.3f} m here, at {middle:.3f} m"
    if one.coating != two.coating:
        yield "coating", f'"{two.coating}" here, "{one.coating}"'
    if one.id is not None and two.id is not None and one.id != two.id:
        yield "id", f"{two.id} here, {one.id}"
    if one.height and two.height and abs(one.height - two.height) > SAME_WIDTH:
        yield "height", f"{two.height:.3f} m here, {one.height:.3f} m"


def _name(doors: Sequence[Door], faults: Faults) -> None:
    """Ids as given; the others are numbered in order."""
    used: Counter[str] = Counter()
    for door in doors:
        if not door.is_second:
            used.update({one.given.id for one in door.both() if one.given.id is not None})
    numbers = count(1)
    seen: set[str] = set()
    for door in doors:
        if door.is_second:
            continue
        given = next((one.given.id for one in door.both() if one.given.id is not None), None)
        if given is None:
            given = next(name for number in numbers if (name := f"D{number}") not in used)
        elif given in seen:
            detail = f"another doorway has the id {given}; ids of doorways are unique on a site"
            faults.add("duplicate-id", detail, *_where(door), "id")
        seen.add(given)
        door.name = given


def settle(doors: Sequence[Door], stated: Stated, faults: Faults) -> None:
    """Put each doorway into the walls of both its areas.

    Where the coating runs through, both are joined. Where it stops between two areas there is one
    edge: it is open in the area that comes first on the site, and the other runs up against it.
    Where only one area gives the doorway and its other side is not on the plan, the edge is there.
    """
    seen: list[tuple[Door, Stretch]] = []
    for door in doors:
        area_open = _open_in(door)
        for one in door.both():
            kind = "joined" if area_open != one.area else "open"
            into = one.into
            final = msgspec.structs.replace(
                one.stretch, kind=kind, into=into, doorway=door.name, exit=one.given.exit
            )
            stated.of_areas[one.area][one.place] = one.stretch = final
        if door.other is None and door.contact is not None:
            seen.append((door, _mirrored(door, area_open)))
    for door, stretch in seen:
        if door.into is not None:
            _put(door, door.into, stretch, stated, faults)


def _open_in(door: Door) -> int | None:
    """The area whose edge is open at the doorway."""
    if door.given.coating == "runs_through":
        return None
    if door.into is None or (door.other is None and door.contact is None):
        return door.area
    return min(door.area, door.into)


def _mirrored(door: Door, area_open: int | None) -> Stretch:
    contact = door.contact
    if contact is None:
        raise TypeError("only a doorway that faces a side has an opposite")
    return Stretch(
        contact.ring,
        contact.side,
        contact.other_start,
        contact.other_end,
        "open" if area_open == contact.area else "joined",
        (),
        door.area,
        door.name,
    )


def _put(door: Door, area: int, stretch: Stretch, stated: Stated, faults: Faults) -> None:
    """Open the wall of the other area, unless it says itself that its coating runs on there."""
    over = stated.over(area, stretch)
    if not over:
        stated.add(area, stretch)
        return
    own = over[0]
    covers = own.start <= stretch.start + SAME_WIDTH and own.end >= stretch.end - SAME_WIDTH
    runs_on = own.doorway is None and own.kind == "joined" and own.into in (None, door.area)
    if covers and runs_on and door.given.coating == "runs_through":
        return
    what = "another doorway" if own.doorway is not None else f'"{own.kind}"'
    faults.add(
        "doorway-contradicted",
        f"{door.pointer} opens the wall here; this stretch says {what}: say the same from both "
        "areas",
        "areas",
        area,
        *own.source,
    )
