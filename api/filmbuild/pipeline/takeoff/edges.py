"""The edges of one area: wall, unless a stretch says that the floor is open or runs on."""

from collections.abc import Sequence

import msgspec

from filmbuild.pipeline.geometry import FloorShape, Ring, edge_lengths
from filmbuild.pipeline.results.traffic import EdgeRun
from filmbuild.pipeline.site import Site, SiteArea
from filmbuild.pipeline.site_work import Opening
from filmbuild.pipeline.takeoff.stretches import SLACK, Sides, Stretch, by_side
from filmbuild.pipeline.takeoff.thresholds import Threshold
from filmbuild.pipeline.takeoff.traffic import way_out
from filmbuild.pipeline.walls import RingWalls, Run, merged_runs, walled_ring
from filmbuild.quantities import Length


class Edges(msgspec.Struct, frozen=True, kw_only=True, gc=False):
    """All edges of one area's floor: `rings` are the outline and the islands, with their walls.

    `exits` are the ways by which a crew leaves, `runs` the stretches without wall, `barriers`
    the doorways that are closed against dust, and `thresholds` the floor in others. `reveals` of
    those are part of `wall_length`, and of no ring.
    """

    rings: list[RingWalls]
    wall_length: float
    open_length: float
    joined_length: float
    exits: tuple[str, ...]
    runs: tuple[EdgeRun, ...]
    barriers: tuple[Opening, ...] = ()
    thresholds: tuple[Threshold, ...] = ()
    reveals: float = 0.0


class _Lengths(msgspec.Struct):
    """[m] In sum, round the whole floor."""

    wall: float = 0.0
    open: float = 0.0
    joined: float = 0.0


def resolve_edges(
    site: Site,
    area: SiteArea,
    shape: FloorShape,
    stretches: Sequence[Stretch],
    barriers: Sequence[Opening] = (),
    thresholds: Sequence[Threshold] = (),
) -> Edges:
    """Sort an area's stretches on to its sides; what is left over is wall.

    An island's edge is what the island says, wall or open, but for the stretches on it.
    """
    sides: Sides = by_side(stretches) if stretches else {}
    lengths = _Lengths()
    rings = [_ring(0, shape.outline, sides, lengths, walled=True)]
    if area.islands:
        for number, (island, ring) in enumerate(
            zip(area.islands, shape.islands, strict=True), start=1
        ):
            rings.append(_ring(number, ring, sides, lengths, walled=island.edge == "wall"))
    reveals = sum([one.reveals for one in thresholds])
    return Edges(
        rings=rings,
        wall_length=lengths.wall + reveals,
        open_length=lengths.open,
        joined_length=lengths.joined,
        exits=tuple([way_out(one) for one in stretches if one.exit]),
        runs=tuple([_run(site, one) for one in stretches if one.kind != "wall"]),
        barriers=tuple(barriers),
        thresholds=tuple(thresholds),
        reveals=reveals,
    )


def _ring(number: int, ring: Ring, sides: Sides, sums: _Lengths, *, walled: bool) -> RingWalls:
    lengths = edge_lengths(ring)
    left: list[tuple[Run, ...]] = [((0.0, one),) for one in lengths]
    for (of_ring, side), stretches in sides.items():
        if of_ring == number:
            beside = _beside(stretches, lengths[side], sums)
            left[side] = merged_runs(beside, lengths[side]) if walled else beside
    if walled:
        found = walled_ring(ring, lengths, left, outline=number == 0)
        sums.wall += found.total
        return found
    sums.open += sum([end - start for of_side in left for start, end in of_side])
    return walled_ring(ring, lengths, [() for _ in lengths], outline=number == 0)


def _beside(stretches: Sequence[Stretch], length: float, sums: _Lengths) -> tuple[Run, ...]:
    """What the stretches that are not wall leave of a side; those are added to the sums."""
    left = []
    reached = 0.0
    for one in stretches:
        if one.kind == "wall":
            continue
        start = max(one.start, reached)
        if one.end <= start:
            continue
        if one.kind == "open":
            sums.open += one.end - start
        else:
            sums.joined += one.end - start
        if start - reached > SLACK:
            left.append((reached, start))
        reached = one.end
    if length - reached > SLACK:
        left.append((reached, length))
    return tuple(left)


def _run(site: Site, stretch: Stretch) -> EdgeRun:
    return EdgeRun(
        side=stretch.side,
        kind="open" if stretch.kind == "open" else "joined",
        offset=Length(stretch.start),
        length=Length(stretch.length),
        island=stretch.ring - 1 if stretch.ring else None,
        into=site.areas[stretch.into].id if stretch.into is not None else None,
        doorway=stretch.doorway,
        exit=stretch.exit,
    )
