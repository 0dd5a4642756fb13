"""Bands along walls that reach into the next area where there is no wall between the two.

A floor that is cut in two has the band it had whole: along a wall that ends askew at the cut, and
round a corner at the cut that turns away from the floor.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import shapely

from filmbuild.errors import Faults
from filmbuild.pipeline.band_union import Piece, pieces_of
from filmbuild.pipeline.effort import Effort, TooMuchWorkError
from filmbuild.pipeline.geometry import Point
from filmbuild.pipeline.overlay import intersection
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.takeoff.edges import Edges
from filmbuild.pipeline.takeoff.figures import is_placed
from filmbuild.pipeline.takeoff.shared_corners import joined_corners
from filmbuild.pipeline.takeoff.stretches import Stretch

TOUCHING = 1e-6
"""[m] So near to the line that two areas share, a piece lies on it."""
EFFORT_OF_PIECE = 10
LEAST = 1e-9
"""[m2] Less is rounding."""
_NOBODY = -1


def reaching_in(
    site: Site,
    stretches: Sequence[Sequence[Stretch]],
    edges: Sequence[Edges],
    widths: Sequence[float],
    effort: Effort,
    faults: Faults,
) -> dict[int, list[list[Piece]]]:
    """For each area that the bands of others reach into, those pieces of the band of each width.

    `faults` is rooted at the site. Raises InvalidInput where it takes too long.
    """
    levels: defaultdict[str, dict[int, list[Stretch]]] = defaultdict(dict)
    for index, (area, own) in enumerate(zip(site.areas, stretches, strict=True)):
        if own and is_placed(area.outline):
            joined = [
                one
                for one in own
                if one.kind == "joined" and one.into is not None and one.doorway is None
            ]
            if joined:
                levels[area.level][index] = joined
    found: dict[int, list[list[Piece]]] = {}
    try:
        for members in levels.values():
            found |= _on_level(members, edges, widths, effort)
    except TooMuchWorkError:
        detail = "too many areas that run on into others lie round one another; join fewer at once"
        faults.add("too-much-work", detail, "areas")
        faults.raise_if_any()
    return found


def _on_level(
    members: Mapping[int, Sequence[Stretch]],
    edges: Sequence[Edges],
    widths: Sequence[float],
    effort: Effort,
) -> dict[int, list[list[Piece]]]:
    owners: list[int] = []
    by_width: list[list[Piece]] = [[] for _ in widths]
    for area in members:
        for place, width in enumerate(widths):
            by_width[place].extend(
                [piece for ring in edges[area].rings for piece in pieces_of(ring, width)]
            )
        owners.extend([area] * (len(by_width[0]) - len(owners)))
    for corner in joined_corners(members, {area: edges[area].rings for area in members}):
        for place, width in enumerate(widths):
            by_width[place].append(corner.piece(width))
        owners.append(_NOBODY)
    if not owners:
        return {}
    widest = max(zip(widths, by_width, strict=True))[1]
    pieces = _Pieces(owners, shapely.polygons([shapely.linearrings(one) for one in widest]), effort)
    found = {}
    for area, joined in members.items():
        reaching = pieces.reaching(area, joined, edges[area])
        if reaching:
            found[area] = [[own[one] for one in reaching] for own in by_width]
    return found


class _Pieces:
    """All pieces of the widest band on one level, and whose walls they lie along."""

    def __init__(self, owners: Sequence[int], figures: Any, effort: Effort) -> None:  # noqa: ANN401 - an array of numpy's, which is not imported
        self._owners = owners
        self._figures = figures
        self._tree = shapely.STRtree(figures)
        self._effort = effort

    def reaching(self, area: int, joined: Sequence[Stretch], edges: Edges) -> list[int]:
        """Those of others that cover floor of this area and touch what it shares with them."""
        own = edges.rings
        floor = shapely.Polygon(own[0].points, [island.points for island in own[1:]])
        near = self._tree.query(_shrunk(floor)).tolist()
        near = [one for one in near if self._owners[one] != area]
        if not near:
            return []
        self._effort.spend(EFFORT_OF_PIECE * len(near))
        lines = shapely.MultiLineString(list(_lines(joined, edges)))
        shapely.prepare(lines)
        at_line = shapely.dwithin(lines, self._figures[near], TOUCHING).tolist()
        touching = [one for one, touches in zip(near, at_line, strict=True) if touches]
        if not touching:
            return []
        shared = shapely.area(intersection(self._figures[touching], floor)).tolist()
        return [one for one, covered in zip(touching, shared, strict=True) if covered > LEAST]


def _shrunk(floor: shapely.Polygon) -> shapely.Polygon:
    left, bottom, right, top = floor.bounds
    step = 2 * TOUCHING
    return shapely.box(left + step, bottom + step, right - step, top - step)


def _lines(joined: Sequence[Stretch], edges: Edges) -> Iterator[tuple[Point, Point]]:
    for one in joined:
        ring = edges.rings[one.ring]
        yield ring.place(one.side, one.start), ring.place(one.side, one.end)
