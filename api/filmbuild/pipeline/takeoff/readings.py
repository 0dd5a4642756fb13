"""How many readings the standards ask for on a floor of this size."""

import math
from collections import Counter, defaultdict
from collections.abc import Sequence
from math import fsum

from filmbuild.pipeline.results import AreaTakeoff, ReadingsNeeded
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.substrate import MoistureReading
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Area

SQUARE_FOOT = 0.3048**2
_ROUNDING = 1e-9
_SPOTS = 5
_READINGS = 3


def moisture_tests(floor: float) -> int:
    """Three for the first 1000 ft2 and one for each further 1000 ft2 or part [m2]."""
    return 3 + _further(floor)


def film_areas(coated: float) -> int:
    """Areas of 100 ft2 to measure on `coated` [m2].

    Up to 300 ft2 every 100 ft2 or part, up to 1000 ft2 three, and one more for each further
    1000 ft2 or part.
    """
    hundreds = math.ceil(coated / (100 * SQUARE_FOOT) * (1 - _ROUNDING))
    return min(max(hundreds, 1), 3) + _further(coated)


def _further(area: float) -> int:
    return max(math.ceil(area / (1000 * SQUARE_FOOT) * (1 - _ROUNDING)) - 1, 0)


def readings_needed(areas: tuple[AreaTakeoff, ...]) -> tuple[ReadingsNeeded, ...]:
    """Moisture tests for the slab of each level; film thickness for all that is coated, per coat."""
    floors: dict[str, list[float]] = {}
    for area in areas:
        floors.setdefault(area.level, []).append(area.floor)
    needed = []
    for level, parts in floors.items():
        floor = Area(fsum(parts))
        tests = moisture_tests(floor)
        needed += [
            ReadingsNeeded(
                method=method,
                level=level,
                area=floor,
                places=tests,
                readings=tests,
                trace=Trace("takeoff.moisture-tests", {"floor": floor}),
            )
            for method in ("ASTM F1869", "ASTM F2170")
        ]
    coated = Area(fsum([area.floor + area.vertical for area in areas]))
    measured = film_areas(coated)
    spots = _SPOTS * measured
    inputs = {"coated": coated, "areas_measured": measured, "spots_per_area": _SPOTS}
    return (
        *needed,
        ReadingsNeeded(
            method="SSPC-PA 2",
            level=None,
            area=coated,
            places=spots,
            readings=_READINGS * spots,
            trace=Trace("takeoff.film-spots", inputs | {"readings_per_spot": _READINGS}),
        ),
    )


def too_few_readings(site: Site, needed: Sequence[ReadingsNeeded]) -> list[Note]:
    """For each level, of the methods that were read there, those read less often than asked for.

    The site's own readings count on each level that has an area without readings of its own.
    """
    given: defaultdict[str, Counter[str]] = defaultdict(Counter)
    general: set[str] = set()
    for area in site.areas:
        if area.substrate is None:
            general.add(area.level)
        elif area.substrate.moisture:
            given[area.level].update(_methods(area.substrate.moisture))
    if site.substrate.moisture:
        for level in general:
            given[level].update(_methods(site.substrate.moisture))
    if not given:
        return []
    asked = {(one.level, one.method): one.readings for one in needed if one.level is not None}
    notes = []
    for level, counts in sorted(given.items()):
        few = [
            f"{count} of {asked[level, method]} tests by {method}"
            for method, count in sorted(counts.items())
            if 0 < count < asked[level, method]
        ]
        if few:
            detail = f"level {level}: {' and '.join(few)} are given for a floor of its size"
            notes.append(Note("too-few-readings", detail))
    return notes


def _methods(readings: Sequence[MoistureReading]) -> Counter[str]:
    return Counter(
        {
            "ASTM F1869": sum([one.emission is not None for one in readings]),
            "ASTM F2170": sum([one.relative_humidity_percent is not None for one in readings]),
        }
    )
