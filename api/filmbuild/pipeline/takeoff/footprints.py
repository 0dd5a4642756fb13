"""Things of a stated size in or on the floor: drains, pipes and posts, pits and trenches."""

from math import pi

from filmbuild.errors import Faults
from filmbuild.pipeline.site import SiteArea
from filmbuild.pipeline.site_work import Footprint, Pit
from filmbuild.pipeline.takeoff.found import Found, Rim
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Length

_SQUARE = 4.0


def measure_drains(area: SiteArea, found: Found, faults: Faults) -> None:
    """Their rims are open edges; the floor inside is not coated."""
    perimeters, areas = _shapes(area.drains, "drains", faults)
    counts = [one.count for one in area.drains]
    value = _summed(areas, counts)
    inputs: dict[str, object] = {"counts": counts}
    found.area("drain_area", value, Trace("takeoff.footprint", inputs | {"areas": areas}))
    found.length(
        "drain_length",
        _summed(perimeters, counts),
        Trace("takeoff.drain-edge", inputs | {"perimeters": perimeters}),
    )
    found.uncoated += value


def measure_collars(area: SiteArea, found: Found, faults: Faults) -> None:
    """Coated all round to their height, taped at head and foot; machines keep clear of them."""
    collars = area.collars
    perimeters, areas = _shapes(collars, "collars", faults)
    counts = [one.count for one in collars]
    standing = _summed(areas, counts)
    found.area(
        "collars",
        sum(
            [
                one.count * around * one.height
                for one, around in zip(collars, perimeters, strict=True)
            ]
        ),
        Trace(
            "takeoff.collars",
            {
                "counts": counts,
                "perimeters": perimeters,
                "heights": [one.height for one in collars],
            },
        ),
    )
    found.area(
        "collar_footprint",
        standing,
        Trace("takeoff.footprint", {"counts": counts, "areas": areas}),
    )
    found.uncoated += standing
    found.along("collars", 2 * _summed(perimeters, counts))
    found.rims += [
        Rim(around, pi if one.diameter is not None else _SQUARE, one.count)
        for one, around in zip(collars, perimeters, strict=True)
    ]


def measure_pits(area: SiteArea, found: Found, faults: Faults) -> None:
    """The floor of a pit replaces the floor it is sunk in; sides are taped at head and foot."""
    pits = area.pits
    _, areas = _shapes(pits, "pits", faults)
    counts = [one.count for one in pits]
    sides = [Length(_sides(one)) for one in pits]
    depths = [Length(_side_depth(one, faults.at("pits", index))) for index, one in enumerate(pits)]
    coated = [
        one.count * plan if one.floor_coated else 0.0 for one, plan in zip(pits, areas, strict=True)
    ]
    found.area(
        "pit_floor",
        sum(coated),
        Trace(
            "takeoff.pit-floor",
            {"counts": counts, "areas": areas, "coated": [one.floor_coated for one in pits]},
        ),
    )
    found.area(
        "pit_sides",
        sum([count * run * depth for count, run, depth in zip(counts, sides, depths, strict=True)]),
        Trace("takeoff.pit-sides", {"counts": counts, "sides": sides, "depths": depths}),
    )
    found.uncoated += _summed(areas, counts) - sum(coated)
    found.along("pits", 2 * _summed(sides, counts))


def _summed(values: list[Area] | list[Length], counts: list[int]) -> float:
    return sum([count * value for count, value in zip(counts, values, strict=True)])


def _shapes(
    footprints: tuple[Footprint, ...], field: str, faults: Faults
) -> tuple[list[Length], list[Area]]:
    """Perimeter [m] and plan area [m2] of one of each."""
    for index, one in enumerate(footprints):
        if (one.diameter is None) == (one.width is None):
            detail = "give either the diameter or the width, with or without a length"
            faults.add("shape-not-stated", detail, field, index)
        elif one.diameter is not None and one.length is not None:
            detail = "a length goes with a width; what is round has its diameter alone"
            faults.add("shape-not-stated", detail, field, index, "length")
    return (
        [Length(perimeter(one)) for one in footprints],
        [Area(plan_area(one)) for one in footprints],
    )


def perimeter(one: Footprint) -> float:
    """[m] Of one of them."""
    if one.diameter is not None:
        return pi * one.diameter
    width = one.width or 0.0
    return 2 * (width + (one.length or width))


def plan_area(one: Footprint) -> float:
    """[m2] Of one of them."""
    if one.diameter is not None:
        return pi / 4 * one.diameter**2
    width = one.width or 0.0
    return width * (one.length or width)


def _sides(pit: Pit) -> float:
    """[m] Round one pit, or along both sides of a trench and its coated ends."""
    if pit.diameter is not None:
        return pi * pit.diameter
    width = pit.width or 0.0
    return 2 * (pit.length or width) + pit.ends * width


def _side_depth(pit: Pit, faults: Faults) -> float:
    rebate = pit.rebate or 0.0
    if rebate >= pit.depth:
        detail = f"the rebate is shallower than the pit, which is {pit.depth:.3f} m deep"
        faults.add("rebate-too-deep", detail, "rebate")
    return pit.depth - rebate
