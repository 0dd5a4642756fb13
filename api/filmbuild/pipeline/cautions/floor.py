"""The floor against the system's limits: moisture, age and profile of the concrete; slip."""

from collections.abc import Callable, Iterator

from filmbuild.pipeline.cautions.common import DEFERS
from filmbuild.pipeline.readings import exceeds
from filmbuild.pipeline.results import AreaTakeoff, Takeoff
from filmbuild.pipeline.specification import System
from filmbuild.pipeline.trace import Caution

_WET_DCOF = 0.42


def floor_cautions(takeoff: Takeoff, system: System) -> Iterator[Caution]:
    for caution, holds in _checks(system):
        areas = tuple(area.id for area in takeoff.areas if holds(area))
        if areas:
            yield Caution(
                code=caution.code,
                title=caution.title,
                detail=caution.detail + DEFERS,
                source=caution.source,
                applies_to=areas,
            )


def _checks(system: System) -> Iterator[tuple[Caution, Callable[[AreaTakeoff], bool]]]:
    yield from _moisture(system)
    yield from _profile(system)
    limit = system.moisture.age_days
    yield (
        Caution(
            code="young-concrete",
            title="Concrete younger than the system allows",
            detail=f"{system.name} asks for concrete at least {limit} days old.",
            source="the system's stated limit; 28 days is common practice, no source",
        ),
        lambda area: area.substrate.age_days is not None and area.substrate.age_days < limit,
    )


def _moisture(system: System) -> Iterator[tuple[Caution, Callable[[AreaTakeoff], bool]]]:
    yield (
        Caution(
            code="moisture-limit-exceeded",
            title="Moisture above the system's limit",
            detail=f"Readings exceed the limits of {system.name}: do not coat before the cause is "
            "found and a moisture measure is agreed. The two test methods do not convert into one "
            "another; the failing one counts.",
            source="ASTM F1869 and ASTM F2170 readings against the system's stated limits",
        ),
        lambda area: exceeds(area.substrate.moisture, system.moisture),
    )
    yield (
        Caution(
            code="moisture-not-measured",
            title="Moisture not measured",
            detail="No moisture reading was given for these areas. Test before coating.",
            source="ASTM F1869, ASTM F2170",
        ),
        lambda area: not area.substrate.moisture,
    )


def _profile(system: System) -> Iterator[tuple[Caution, Callable[[AreaTakeoff], bool]]]:
    least, most = system.profile_minimum, system.profile_maximum
    asked = f"{system.name} asks for a concrete surface profile of CSP {least} to {most}"
    source = "the system's stated limits; profiles by ICRI 310.2R"
    yield (
        Caution(
            code="profile-out-of-range",
            title="Surface profile outside the system's range",
            detail=f"{asked}; these areas are stated to have another after preparation. Too smooth "
            "and the floor may let go; too rough and the film may not cover it. Prepare them "
            "otherwise, or choose a system for that profile.",
            source=source,
        ),
        lambda area: (
            area.substrate.profile is not None and not least <= area.substrate.profile <= most
        ),
    )
    yield (
        Caution(
            code="profile-not-stated",
            title="Surface profile not stated",
            detail=f"{asked}; none was given for these areas. Compare the prepared floor with the "
            "profile chips before coating.",
            source=source,
        ),
        lambda area: area.substrate.profile is None,
    )


def slip(system: System) -> Iterator[Caution]:
    stated = system.wet_slip_resistance
    if stated is not None and stated >= _WET_DCOF:
        return
    known = "is not stated" if stated is None else f"is stated as {stated:g}"
    yield Caution(
        code="slip-resistance",
        title="Slippery when wet",
        detail=f"The wet dynamic coefficient of friction of this build {known}; level interior "
        "floors walked on when wet call for at least 0.42. A test value does not predict slips."
        + DEFERS,
        source="ANSI A326.3-2021",
        applies_to=(system.id,),
    )
