"""What each side of an outline is: wall unless the site says open or joined."""

from collections import defaultdict
from collections.abc import Container
from itertools import pairwise

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.geometry import FloorShape, edge_lengths
from filmbuild.pipeline.site import EdgeStretch, SiteArea
from filmbuild.pipeline.walls import WallStretch

SLACK = 1e-6
"""[m] How far a stretch may run past its side and still be taken as ending there."""


class Edges(msgspec.Struct, frozen=True, kw_only=True):
    """All edges of one area's floor, islands included.

    `joins` are the neighbours named; `exits` the sides through which a crew leaves.
    """

    walls: tuple[WallStretch, ...]
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
    walls: list[WallStretch] = []
    placed = _placed(area, lengths, areas, faults) if area.edges else {}
    for side, length in enumerate(lengths):
        reached = 0.0
        for start, end, stretch in placed.get(side, ()):
            if stretch.kind != "wall":
                totals[stretch.kind] += end - start
                if start - reached > SLACK:
                    walls.append(WallStretch(0, side, reached, start))
                reached = end
        if length - reached > SLACK:
            walls.append(WallStretch(0, side, reached, length))
    for number, (island, ring) in enumerate(zip(area.islands, shape.islands, strict=True), start=1):
        around = edge_lengths(ring)
        if island.edge == "open":
            totals["open"] += sum(around)
        else:
            walls += [WallStretch(number, side, 0.0, length) for side, length in enumerate(around)]
    return Edges(
        walls=tuple(walls),
        wall_length=sum([wall.end - wall.start for wall in walls]),
        open_length=totals["open"],
        joined_length=totals["joined"],
        joins=tuple([edge.joins for edge in area.edges if edge.joins is not None]),
        exits=tuple([f"side {edge.side}" for edge in area.edges if edge.exit]),
    )


def _placed(
    area: SiteArea, lengths: list[float], areas: Container[str], faults: Faults
) -> dict[int, list[tuple[float, float, EdgeStretch]]]:
    placed: dict[int, list[tuple[float, float, int]]] = defaultdict(list)
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
    return {
        side: [(start, end, area.edges[index]) for start, end, index in stretches]
        for side, stretches in placed.items()
    }


def _check_overlap(stretches: list[tuple[float, float, int]], faults: Faults) -> None:
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
