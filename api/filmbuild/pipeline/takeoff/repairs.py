"""Repairs: cracks, broken and low surface, joints, and coating to be stripped."""

from collections.abc import Sequence

from filmbuild.errors import Faults
from filmbuild.pipeline.site import Site, SiteArea
from filmbuild.pipeline.site_places import FloorLine
from filmbuild.pipeline.site_work import Crack, Joint
from filmbuild.pipeline.takeoff.found import Found
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Area, Length, Thickness, UnitSystem, Volume, format_text

_ROUNDING = 1e-9
_UNFILLED = {"honour": "honoured_joint_length", "coat_over": "coated_joint_length"}
_KINDS = {"control": "control_joint_length", "expansion": "expansion_joint_length"}
_NAMED = 10


def measure_cracks(area: SiteArea, found: Found) -> None:
    cracks = area.cracks
    lengths = [_length(one) for one in cracks]
    voids = [chase_section(one) * _length(one) for one in cracks]
    found.length("crack_length", sum(lengths), Trace("takeoff.lengths", {"lengths": lengths}))
    found.volume(
        "crack_volume",
        sum(voids),
        Trace(
            "takeoff.crack-chase",
            {
                "lengths": lengths,
                "widths": [one.width for one in cracks],
                "depths": [one.depth for one in cracks],
                "sections": [one.section for one in cracks],
            },
        ),
    )
    _measure_sand(cracks, voids, found)


def _length(line: FloorLine) -> Length:
    """That of a path has been worked out."""
    return line.length or Length(0.0)


def _measure_sand(cracks: Sequence[Crack], voids: Sequence[float], found: Found) -> None:
    """Of those that state what share of their void is filled with sand."""
    shares = [one.sand_fraction for one in cracks]
    stated = [
        (Volume(void), share)
        for void, share in zip(voids, shares, strict=True)
        if share is not None
    ]
    if not stated:
        return
    void = sum([each for each, _ in stated])
    sand = sum([each * share for each, share in stated])
    inputs: dict[str, object] = {
        "voids": [each for each, _ in stated],
        "sand_fractions": [share for _, share in stated],
    }
    found.volume("crack_sand_volume", sand, Trace("takeoff.crack-sand", inputs))
    found.volume(
        "crack_liquid_volume",
        void - sand,
        Trace("takeoff.crack-liquid", {"void": Volume(void), "sand": Volume(sand)}),
    )


def chase_section(crack: Crack) -> float:
    """[m2] width x depth of a square chase, half of that of a V."""
    square = crack.width * crack.depth
    return square / 2 if crack.section == "v" else square


def measure_patches(
    area: SiteArea, floor: float, found: Found, faults: Faults, units: UnitSystem
) -> None:
    """Broken-out and low surface together: both are made up with the patching mortar."""
    areas: list[Area] = [one.area for one in area.spalls]
    if sum(areas) > floor * (1 + _ROUNDING):
        both = [format_text(Area(one), units) for one in (sum(areas), floor)]
        detail = "spalls cover {} of a floor of {}".format(*both)
        faults.add("exceeds-floor", detail, "spalls")
    areas += [Area(floor) if one.area is None else one.area for one in area.fills]
    for index, fill in enumerate(area.fills):
        if fill.area is not None and fill.area > floor * (1 + _ROUNDING):
            detail = f"the floor of this area is {format_text(Area(floor), units)}"
            faults.add("exceeds-floor", detail, "fills", index, "area")
    depths = [one.depth for one in area.spalls] + [one.depth for one in area.fills]
    found.area("spall_area", sum(areas), Trace("takeoff.patch-area", {"areas": areas}))
    found.volume(
        "spall_volume",
        sum([one * depth for one, depth in zip(areas, depths, strict=True)]),
        Trace("takeoff.spalls", {"areas": areas, "depths": depths}),
    )


def measure_joints(area: SiteArea, found: Found) -> None:
    by_treatment: dict[str, list[Joint]] = {}
    for joint in area.joints:
        by_treatment.setdefault(joint.treatment, []).append(joint)
    filled = by_treatment.get("fill", [])
    lengths = [_length(one) for one in filled]
    found.length("joint_length", sum(lengths), Trace("takeoff.lengths", {"lengths": lengths}))
    found.volume(
        "joint_volume",
        sum([_length(one) * one.width * one.depth for one in filled]),
        Trace(
            "takeoff.joints",
            {
                "lengths": lengths,
                "widths": [one.width for one in filled],
                "depths": [one.depth for one in filled],
            },
        ),
    )
    for treatment, field in _UNFILLED.items():
        lengths = [_length(one) for one in by_treatment.get(treatment, ())]
        found.length(field, sum(lengths), Trace("takeoff.lengths", {"lengths": lengths}))
    for kind, field in _KINDS.items():
        lengths = [_length(one) for one in area.joints if one.kind == kind]
        found.length(field, sum(lengths), Trace("takeoff.lengths", {"lengths": lengths}))


def moving_joints(site: Site) -> list[Note]:
    """A note where expansion joints are not left working."""
    areas = [
        area.id
        for area in site.areas
        if any(one.kind == "expansion" and one.treatment != "honour" for one in area.joints)
    ]
    if not areas:
        return []
    more = f" and {len(areas) - _NAMED} more" if len(areas) > _NAMED else ""
    detail = (
        f"areas {', '.join(areas[:_NAMED])}{more}: an expansion joint goes on moving, so that what "
        "is coated over it or filled into it without giving way will crack. Honour it, or fill it "
        "with a sealant made for the movement that its designer states (common practice, no "
        "source)"
    )
    return [Note("joint-moves", detail)]


def measure_stripping(
    area: SiteArea, floor: float, found: Found, faults: Faults, units: UnitSystem
) -> None:
    coatings = area.existing_coatings
    areas = [Area(floor) if one.area is None else one.area for one in coatings]
    if sum(areas) > floor * (1 + _ROUNDING):
        both = [format_text(Area(one), units) for one in (sum(areas), floor)]
        detail = "coatings to be stripped cover {} of a floor of {}".format(*both)
        faults.add("exceeds-floor", detail, "existing_coatings")
    depths = [one.thickness or Thickness(0.0) for one in coatings]
    found.area("strip_area", sum(areas), Trace("takeoff.strip-area", {"areas": areas}))
    found.volume(
        "strip_volume",
        sum([one * depth for one, depth in zip(areas, depths, strict=True)]),
        Trace("takeoff.strip-volume", {"areas": areas, "thicknesses": depths}),
    )
