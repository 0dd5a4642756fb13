"""Floor that runs on from one area into another without a wall between them."""

from bisect import bisect_left, insort
from collections import defaultdict
from collections.abc import Container, Iterator, Mapping, Sequence
from itertools import islice
from typing import TypeAlias

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff.contacts import APART, Contact, Plan, Probe
from filmbuild.pipeline.takeoff.stretches import SLACK, Sides, Stretch, by_side

DEEPEST_WALL = 1.0
"""[m] Rooms measured between their walls lie no farther apart than this (common practice)."""

Pair: TypeAlias = tuple[int, int]


class Link(msgspec.Struct, frozen=True, gc=False):
    """A way between two areas, with the stretch of each through which it leads where known."""

    first: int
    second: int
    name: str
    first_stretch: Stretch | None = None
    second_stretch: Stretch | None = None


class Stated:
    """The stretches of every area as they are found, those of a side at hand in order."""

    def __init__(self, stretches: list[list[Stretch]]) -> None:
        self.of_areas = stretches
        self._sides: dict[int, Sides] = {}

    def over(self, area: int, stretch: Stretch) -> list[Stretch]:
        """Those of an area that lie over a stretch of one of its sides."""
        own = self._of(area).get((stretch.ring, stretch.side), [])
        first = max(bisect_left(own, stretch.start, key=_start) - 1, 0)
        found = []
        for one in islice(own, first, None):
            if one.start >= stretch.end - SLACK:
                break
            if one.end > stretch.start + SLACK:
                found.append(one)
        return found

    def add(self, area: int, stretch: Stretch) -> None:
        self.of_areas[area].append(stretch)
        side = self._of(area).setdefault((stretch.ring, stretch.side), [])
        insort(side, stretch, key=_start)

    def add_joined(self, area: int, stretch: Stretch) -> Stretch | None:
        """Add what is new of it; or give back what the area states otherwise there."""
        reached = stretch.start
        for own in self.over(area, stretch):
            elsewhere = own.into is not None and own.into != stretch.into
            if own.kind != "joined" or (elsewhere and own.source):
                return own
            if own.start > reached + SLACK:
                self.add(area, msgspec.structs.replace(stretch, start=reached, end=own.start))
            reached = max(reached, own.end)
        if stretch.end > reached + SLACK:
            self.add(area, msgspec.structs.replace(stretch, start=reached))
        return None

    def _of(self, area: int) -> Sides:
        sides = self._sides.get(area)
        if sides is None:
            sides = self._sides[area] = by_side(self.of_areas[area])
        return sides


def _start(stretch: Stretch) -> float:
    return stretch.start


def pointed(area: int, stretch: Stretch) -> str:
    return "/".join(str(token) for token in ("areas", area, *stretch.source))


def site_joins(
    site: Site, plan: Plan, stated: Stated, numbers: Mapping[str, int], faults: Faults
) -> list[Link]:
    """The shared floor of the pairs that the site lists; adds it to the areas' stretches.

    Faults: an area that is not there or not on the same plan, a pair that shares no stretch, and
    a stretch that an area states otherwise.
    """
    wanted = dict(_wanted(site, plan, numbers, faults))
    if not wanted:
        return []
    probes = [probe for area in sorted({pair[0] for pair in wanted}) for probe in plan.sides(area)]
    links: dict[Pair, Link] = {}
    for contact in plan.contacts(probes, APART):
        probe = probes[contact.probe]
        pair = (probe.area, contact.area)
        if pair not in wanted:
            continue
        stretches = _both_sides(probe, contact)
        for area, stretch in zip(pair, stretches, strict=True):
            clash = _doorway_in(stated, area, stretch) or stated.add_joined(area, stretch)
            if clash is not None:
                _contradict(faults, wanted[pair], area, clash)
        links.setdefault(pair, Link(*pair, "the floor they share", *stretches))
    for pair in wanted.keys() - links.keys():
        names = " and ".join(site.areas[area].id for area in pair)
        faults.add(
            "no-shared-stretch",
            f"the outlines of {names} share no stretch: sides within {APART * 1e3:.0f} mm of one "
            "another would; draw them against one another, or give a doorway instead",
            "joins",
            wanted[pair],
        )
    return list(links.values())


def _wanted(
    site: Site, plan: Plan, numbers: Mapping[str, int], faults: Faults
) -> Iterator[tuple[Pair, int]]:
    for index, join in enumerate(site.joins):
        known = len(faults)
        for place, name in enumerate(join.between):
            if name not in numbers:
                detail = "name two areas of this site"
                faults.add("unknown-area", detail, "joins", index, "between", place)
        if len(faults) > known:
            continue
        first, second = sorted(numbers[name] for name in join.between)
        if first == second:
            detail = "name two different areas"
            faults.add("unknown-area", detail, "joins", index, "between", 1)
        elif not plan.are_together(first, second):
            faults.add(
                "not-on-one-plan",
                "both areas need a place on the plan of one level: give rectangles an origin, or "
                "state the stretches in the edges of both areas",
                "joins",
                index,
            )
        else:
            yield (first, second), index


def _both_sides(probe: Probe, contact: Contact) -> tuple[Stretch, Stretch]:
    start, end = _snapped(contact.start, contact.end, contact.length)
    other_start, other_end = _snapped(contact.other_start, contact.other_end, contact.other_length)
    return (
        Stretch(probe.ring, probe.side, start, end, "joined", (), contact.area),
        Stretch(contact.ring, contact.side, other_start, other_end, "joined", (), probe.area),
    )


def _snapped(start: float, end: float, length: float) -> tuple[float, float]:
    """To the ends of the side where it is within what counts as one place."""
    return (0.0 if start <= APART else start), (length if length - end <= APART else end)


def _doorway_in(stated: Stated, area: int, stretch: Stretch) -> Stretch | None:
    return next((one for one in stated.over(area, stretch) if one.doorway is not None), None)


def _contradict(faults: Faults, join: int, area: int, clash: Stretch) -> None:
    if clash.doorway is not None:
        detail = (
            f"joins/{join} says that there is no wall here; keep the doorway and leave out the "
            "join, or leave out the doorway"
        )
    elif clash.kind == "joined":
        detail = f"joins/{join} says that this stretch runs on into another area"
    else:
        detail = (
            f'joins/{join} says that the coating runs on here; this stretch says "{clash.kind}": '
            "leave out one of the two, or state the joined stretches in the edges of both areas"
        )
    faults.add("join-contradicted", detail, "areas", area, *clash.source)


def hand_joins(
    site: Site, plan: Plan, stated: Stated, listed: Container[Pair], faults: Faults
) -> tuple[list[Link], list[str]]:
    """The joined stretches that areas state themselves, and those that nothing else confirms.

    A stretch that only one area states and that faces the other on the plan is joined there too.
    """
    named: defaultdict[Pair, list[Stretch]] = defaultdict(list)
    for area, stretches in enumerate(stated.of_areas):
        for one in stretches:
            if one.source and one.into is not None:
                named[area, one.into].append(one)
    links = list(_links(named))
    lone = [
        (link.first, link.second, own)
        for link in links
        if (own := link.first_stretch) is not None
        and link.second_stretch is None
        and (min(link.first, link.second), max(link.first, link.second)) not in listed
    ]
    probes = [Probe(area, one.ring, one.side, one.start, one.end) for area, _, one in lone]
    confirmed: set[int] = set()
    for contact in plan.contacts(probes, DEEPEST_WALL):
        area, into, one = lone[contact.probe]
        if contact.area == into:
            confirmed.add(contact.probe)
            _mirror(stated, area, one, contact, faults)
    unconfirmed = [
        f"{site.areas[area].id} into {site.areas[into].id}"
        for number, (area, into, _) in enumerate(lone)
        if number not in confirmed
    ]
    return links, unconfirmed


def _links(named: Mapping[Pair, Sequence[Stretch]]) -> Iterator[Link]:
    """Those by joined stretches; each is taken to face the one in the same place of the list."""
    for (area, into), stretches in named.items():
        opposite = named.get((into, area), ())
        for place, one in enumerate(stretches):
            if one.doorway is None:
                facing = opposite[min(place, len(opposite) - 1)] if opposite else None
                yield Link(area, into, f"the joined edge on side {one.side}", one, facing)


def _mirror(stated: Stated, area: int, one: Stretch, contact: Contact, faults: Faults) -> None:
    stretch = Stretch(
        contact.ring,
        contact.side,
        contact.other_start,
        contact.other_end,
        "joined",
        (),
        area,
    )
    clash = stated.add_joined(contact.area, stretch)
    if clash is not None:
        faults.add(
            "join-contradicted",
            f"{pointed(area, one)} says that the coating runs on here from there; this stretch "
            f'says "{clash.kind}": say the same from both areas',
            "areas",
            contact.area,
            *clash.source,
        )
