"""Drains, pits and posts that lie so near a wall that they meet the band along it."""

from collections.abc import Iterator, Sequence

import shapely

from filmbuild.pipeline.effort import Effort, TooMuchWorkError
from filmbuild.pipeline.geometry import Ring
from filmbuild.pipeline.site import SiteArea
from filmbuild.pipeline.takeoff.edges import Edges
from filmbuild.pipeline.takeoff.plan_marks import centred_ring, cornered_ring
from filmbuild.pipeline.trace import Note
from filmbuild.pipeline.walls import RingWalls

_LISTED = 6
_WALLS_FOR_EFFORT = 20


def details_in_bands(
    areas: Sequence[SiteArea], edges: Sequence[Edges], widest: float, effort: Effort
) -> list[Note]:
    """`widest` [m] is the width of the wider band. What is too much to compare may meet it."""
    names = [
        area.name or area.id
        for area, found in zip(areas, edges, strict=True)
        if (area.drains or area.pits or area.collars)
        and found.wall_length
        and _meet(area, found.rings, widest, effort)
    ]
    if not names:
        return []
    more = f" and {len(names) - _LISTED} more" if len(names) > _LISTED else ""
    return [
        Note(
            "detail-in-band",
            f"Drains, pits, pipes or posts lie within reach of the band along walls in "
            f"{', '.join(names[:_LISTED])}{more}. Hand grinding and cutting in are counted as if "
            "they stood clear of it: floor of a pit or round a post in the band twice, and the "
            "band not less for a drain in it.",
        )
    ]


def _meet(area: SiteArea, rings: Sequence[RingWalls], width: float, effort: Effort) -> bool:
    floor = [centred_ring(one, one.at) for one in area.drains if one.at is not None]
    floor += [cornered_ring(one, one.at) for one in area.pits if one.at is not None]
    posts = [centred_ring(one, one.at) for one in area.collars if one.at is not None]
    if not floor and not posts:
        return False
    lines = list(_walls(rings))
    try:
        effort.spend((len(floor) + len(posts)) * (2 + len(lines) // _WALLS_FOR_EFFORT))
    except TooMuchWorkError:
        return True
    walls = shapely.MultiLineString(lines)
    shapely.prepare(walls)
    # Round a post there is a band of its own, as wide.
    return _near(floor, walls, width) or _near(posts, walls, 2 * width)


def _near(rings: Sequence[Ring], walls: shapely.MultiLineString, reach: float) -> bool:
    if not rings:
        return False
    figures = shapely.polygons([shapely.linearrings(ring) for ring in rings])
    return bool((shapely.distance(walls, figures) < reach).any())


def _walls(rings: Sequence[RingWalls]) -> Iterator[Ring]:
    for ring in rings:
        for edge, runs in enumerate(ring.runs):
            for start, end in runs:
                yield ring.place(edge, start), ring.place(edge, end)
