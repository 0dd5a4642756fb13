"""What each side of an outline is: wall unless the site says open or joined."""

from collections import defaultdict
from collections.abc import Container, Sequence
from itertools import pairwise
from typing import TypeAlias

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.geometry import FloorShape, edge_lengths
from filmbuild.pipeline.site import EdgeStretch, SiteArea
from filmbuild.pipeline.walls import RingWalls, Run, merged_runs, walled_ring

SLACK = 1e-6
"""[m] How far a stretch may run past its side and still be taken as ending there."""

_Placed: TypeAlias = tuple[float, float, int]
"""A stretch's start and end along its side [m], and its place among the area's edges."""


class Edges(msgspec.Struct, frozen=True, kw_only=True):
    """All edges of one area's floor: `rings` are the outline and the islands, with their walls.

    `joins` are the neighbours named; `exits` the sides through which a crew leaves.
    """

    rings: list[RingWalls]
    wall_length: float
    open_length: float
    joined_length: float
    joins: tuple[str, ...]
    exits: tuple[str, ...]


def resolve_edges(
    area: SiteArea, shape: FloorShape, areas: Container[str], faults: Faults
) -> Edges:
    """Sort an area's stretches on to its sides; what is left over is wall.

    Faults: a side that is not there, a stretch past the end of its side, two stretches over one
    another, a neighbour that is not on the site.
    """
    lengths = edge_lengths(shape.outline)
    totals = {"open": 0.0, "joined": 0.0}
    walls: list[tuple[Run, ...]] = [((0.0, one),) if one > SLACK else () for one in lengths]
    placed = _placed(area, lengths, areas, faults) if area.edges else {}
    for side in sorted(placed):
        walls[side] = _walls_beside(placed[side], area.edges, lengths[side], totals)
    wall_length = sum([end - start for runs in walls for start, end in runs])
    for side in placed:
        walls[side] = merged_runs(walls[side], lengths[side])
    rings = [walled_ring(shape.outline, lengths, walls, outline=True)]
    for island, ring in zip(area.islands, shape.islands, strict=True):
        around = edge_lengths(ring)
        if island.edge == "open":
            totals["open"] += sum(around)
            walls = [() for _ in around]
        else:
            wall_length += sum(around)
            walls = [((0.0, length),) for length in around]
        rings.append(walled_ring(ring, around, walls, outline=False))
    return Edges(
        rings=rings,
        wall_length=wall_length,
        open_length=totals["open"],
        joined_length=totals["joined"],
        joins=tuple([edge.joins for edge in area.edges if edge.joins is not None]),
        exits=tuple([f"side {edge.side}" for edge in area.edges if edge.exit]),
    )


def _walls_beside(
    stretches: list[_Placed],
    edges: Sequence[EdgeStretch],
    length: float,
    totals: dict[str, float],
) -> tuple[Run, ...]:
    """What the stretches that are not wall leave of a side; those are added to the totals."""
    walls = []
    reached = 0.0
    for start, end, index in stretches:
        kind = edges[index].kind
        if kind != "wall":
            totals[kind] += end - start
            if start - reached > SLACK:
                walls.append((reached, start))
            reached = end
    if length - reached > SLACK:
        walls.append((reached, length))
    return tuple(walls)


def _placed(
    area: SiteArea, lengths: list[float], areas: Container[str], faults: Faults
) -> dict[int, list[_Placed]]:
    """The stretches of each side in order."""
    placed: dict[int, list[_Placed]] = defaultdict(list)
    for index, edge in enumerate(area.edges):
        if edge.joins is not None:
            _check_neighbour(area, edge, areas, faults.at("edges", index))
        if edge.side >= len(lengths):
            detail = f"the outline has sides 0 to {len(lengths) - 1}"
            faults.add("no-such-side", detail, "edges", index, "side")
            continue
        whole = lengths[edge.side]
        start = edge.offset or 0.0
        end = whole if edge.length is None else start + edge.length
        if start >= whole or end > whole + SLACK:
            faults.add(
                "past-end-of-side",
                f"side {edge.side} is {whole:.3f} m long; this stretch runs from {start:.3f} m to "
                f"{max(start, end):.3f} m",
                "edges",
                index,
                "offset" if start >= whole else "length",
            )
            continue
        placed[edge.side].append((start, min(end, whole), index))
    for stretches in placed.values():
        if len(stretches) > 1:
            stretches.sort()
            _check_overlap(stretches, faults)
    return placed


def _check_overlap(stretches: list[_Placed], faults: Faults) -> None:
    for (_, end, first), (start, _, second) in pairwise(stretches):
        if start < end - SLACK:
            faults.add(
                "stretches-overlap",
                f"starts at {start:.3f} m, before edges/{first} ends at {end:.3f} m of that side",
                "edges",
                second,
            )


def _check_neighbour(
    area: SiteArea, edge: EdgeStretch, areas: Container[str], faults: Faults
) -> None:
    if edge.kind != "joined":
        faults.add(
            "joins-needs-joined", 'only a stretch of kind "joined" names a neighbour', "joins"
        )
    elif edge.joins == area.id or edge.joins not in areas:
        faults.add("unknown-area", "name another area of this site", "joins")
