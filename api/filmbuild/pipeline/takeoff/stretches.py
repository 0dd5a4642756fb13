"""Stretches of side that a site states: checked and laid out along the sides."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import TypeAlias

import msgspec

from filmbuild.errors import Faults, Token
from filmbuild.pipeline.geometry import FloorShape, edge_lengths
from filmbuild.pipeline.site import EdgeKind, EdgeStretch, SiteArea
from filmbuild.pipeline.site_doors import Doorway

SLACK = 1e-6
"""[m] How far a stretch may run past its side and still be taken as ending there."""


class Stretch(msgspec.Struct, frozen=True, gc=False):
    """From `start` to `end` [m] along a side of ring 0, the outline, or n + 1, island n.

    `source` is where the area states it, empty where it follows from the plan. `into` is the
    number of the area on the other side, and `doorway` the id of a doorway.
    """

    ring: int
    side: int
    start: float
    end: float
    kind: EdgeKind
    source: tuple[Token, ...] = ()
    into: int | None = None
    doorway: str | None = None
    exit: bool = False

    @property
    def length(self) -> float:
        return self.end - self.start

    @property
    def middle(self) -> float:
        return (self.start + self.end) / 2


def stated_stretches(
    area: SiteArea, shape: FloorShape, numbers: Mapping[str, int], faults: Faults
) -> list[Stretch]:
    """The area's edges and then its doorways, in the order given.

    A doorway is open here, and gets its kind when both of its sides are known. Faults: a side
    that is not there, a stretch past the end of its side, two stretches over one another, a
    neighbour that is not on the site.
    """
    found = _Sides(shape, faults)
    for index, edge in enumerate(area.edges):
        if edge.joins is not None:
            _check_neighbour(area, edge, numbers, faults.at("edges", index))
        into = numbers.get(edge.joins) if edge.joins is not None else None
        found.add(
            Stretch(
                0,
                edge.side,
                edge.offset or 0.0,
                found.reach(0, edge.side, edge.offset, edge.length),
                edge.kind,
                ("edges", index),
                into,
                None,
                edge.exit,
            ),
            "length",
        )
    for index, doorway in enumerate(area.doorways):
        at = faults.at("doorways", index)
        if not _is_sound(area, doorway, numbers, at):
            continue
        start = float(doorway.offset)
        ring = 0 if doorway.island is None else doorway.island + 1
        into = numbers[doorway.to] if doorway.to is not None else None
        end = start + doorway.width
        source = ("doorways", index)
        stretch = Stretch(
            ring, doorway.side, start, end, "open", source, into, doorway.id or "", doorway.exit
        )
        found.add(stretch, "width")
    if len(found.stretches) > 1:
        _check_overlaps(found.stretches, faults)
    return found.stretches


Sides: TypeAlias = dict[tuple[int, int], list[Stretch]]
"""By ring and side."""


class _Sides:
    """Collects the stretches that lie on sides that are there."""

    def __init__(self, shape: FloorShape, faults: Faults) -> None:
        self._shape = shape
        self._faults = faults
        self._lengths: dict[int, list[float]] = {}
        self.stretches: list[Stretch] = []

    def _of(self, ring: int) -> list[float]:
        lengths = self._lengths.get(ring)
        if lengths is None:
            points = self._shape.outline if ring == 0 else self._shape.islands[ring - 1]
            lengths = self._lengths[ring] = edge_lengths(points)
        return lengths

    def reach(self, ring: int, side: int, offset: float | None, length: float | None) -> float:
        """Where a stretch ends that has a length, or that runs to the end of its side."""
        if length is not None:
            return (offset or 0.0) + length
        lengths = self._of(ring)
        return lengths[side] if side < len(lengths) else 0.0

    def add(self, stretch: Stretch, size: str) -> None:
        lengths = self._of(stretch.ring)
        if stretch.side >= len(lengths):
            what = "outline" if stretch.ring == 0 else "island"
            detail = f"the {what} has sides 0 to {len(lengths) - 1}"
            self._faults.add("no-such-side", detail, *stretch.source, "side")
            return
        whole = lengths[stretch.side]
        if stretch.start >= whole or stretch.end > whole + SLACK:
            self._faults.add(
                "past-end-of-side",
                f"side {stretch.side} is {whole:.3f} m long; this stretch runs from "
                f"{stretch.start:.3f} m to {max(stretch.start, stretch.end):.3f} m",
                *stretch.source,
                "offset" if stretch.start >= whole else size,
            )
            return
        if stretch.end > whole:
            stretch = msgspec.structs.replace(stretch, end=whole)
        self.stretches.append(stretch)


def by_side(stretches: Sequence[Stretch]) -> Sides:
    """Those of each ring and side, in order."""
    sides: Sides = defaultdict(list)
    for stretch in stretches:
        sides[stretch.ring, stretch.side].append(stretch)
    for own in sides.values():
        if len(own) > 1:
            own.sort(key=lambda one: (one.start, one.end))
    return sides


def _check_overlaps(stretches: Sequence[Stretch], faults: Faults) -> None:
    for own in by_side(stretches).values():
        for first, second in pairwise(own):
            if second.start < first.end - SLACK:
                name = "/".join(str(token) for token in first.source)
                faults.add(
                    "stretches-overlap",
                    f"starts at {second.start:.3f} m, before {name} ends at {first.end:.3f} m of "
                    "that side",
                    *second.source,
                )


def _check_neighbour(
    area: SiteArea, edge: EdgeStretch, numbers: Mapping[str, int], faults: Faults
) -> None:
    if edge.kind != "joined":
        faults.add(
            "joins-needs-joined", 'only a stretch of kind "joined" names a neighbour', "joins"
        )
    elif edge.joins == area.id or edge.joins not in numbers:
        faults.add("unknown-area", "name another area of this site", "joins")


def _is_sound(area: SiteArea, doorway: Doorway, numbers: Mapping[str, int], faults: Faults) -> bool:
    known = len(faults)
    if doorway.to is not None and (doorway.to == area.id or doorway.to not in numbers):
        faults.add("unknown-area", "name another area of this site", "to")
    if doorway.exit and doorway.to is not None:
        detail = "an exit leads off the coated floor; leave out either exit or to"
        faults.add("exit-into-area", detail, "exit")
    if doorway.island is not None and doorway.island >= len(area.islands):
        count = len(area.islands)
        detail = f"the area has islands 0 to {count - 1}" if count else "the area has no islands"
        faults.add("no-such-island", detail, "island")
    return len(faults) == known
