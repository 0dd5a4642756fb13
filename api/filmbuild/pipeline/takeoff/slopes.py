"""Ramps and sloped floors: how much larger they are than their plan."""

from math import hypot

from filmbuild.errors import Faults
from filmbuild.pipeline.site import SiteArea
from filmbuild.pipeline.site_work import Slope
from filmbuild.pipeline.takeoff.found import Found
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, UnitSystem, format_text

_ROUNDING = 1e-9


def measure_slopes(
    area: SiteArea, plan: float, found: Found, faults: Faults, units: UnitSystem
) -> None:
    """`plan` [m2] is the coated floor seen from above; sloped parts of it do not overlap."""
    parts, gradients = [], []
    for index, slope in enumerate(area.slopes):
        parts.append(Area(plan if slope.plan_area is None else slope.plan_area))
        gradients.append(_gradient(slope, faults.at("slopes", index)))
    if sum(parts) > plan * (1 + _ROUNDING):
        detail = (
            f"the sloped parts are {format_text(Area(sum(parts)), units)} in plan, more than the "
            f"{format_text(Area(plan), units)} of this area; state the plan area of each"
        )
        faults.add("exceeds-floor", detail, "slopes")
    both = zip(parts, gradients, strict=True)
    found.area(
        "added_by_slope",
        sum([part * (hypot(1.0, gradient) - 1.0) for part, gradient in both]),
        Trace("takeoff.slope", {"plan_areas": parts, "gradients": gradients}),
    )


def _gradient(slope: Slope, faults: Faults) -> float:
    """Rise over run."""
    rises = slope.rise is not None or slope.run is not None
    if [slope.percent is not None, slope.ratio is not None, rises].count(True) != 1:
        detail = "state the slope once: as percent, as ratio, or as rise and run"
        faults.add("slope-not-stated", detail)
        return 0.0
    if slope.percent is not None:
        return slope.percent / 100
    if slope.ratio is not None:
        return 1 / slope.ratio
    if slope.rise is None or slope.run is None:
        missing = "rise" if slope.rise is None else "run"
        faults.add("missing-field", "a rise is over a run: give both", missing)
        return 0.0
    if slope.rise > slope.run:
        detail = "a floor rises no more than it runs; give steeper work as a base wall"
        faults.add("too-steep", detail, "rise")
    return slope.rise / slope.run
