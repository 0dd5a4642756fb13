"""Work beside the open floor: verticals, coves, repairs, joints, and what is taped off."""

from math import pi
from typing import Any

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.site import Crack, SiteArea, StepFlight
from filmbuild.quantities import Area, Length, Volume


class Details(msgspec.Struct, frozen=True, kw_only=True):
    """Sums over one area."""

    tape_length: Length
    added_treads: Area = Area(0.0)
    base_walls: Area = Area(0.0)
    risers: Area = Area(0.0)
    curbs: Area = Area(0.0)
    cove_face: Area = Area(0.0)
    cove_length: Length = Length(0.0)
    cove_volume: Volume = Volume(0.0)
    crack_length: Length = Length(0.0)
    crack_volume: Volume = Volume(0.0)
    spall_area: Area = Area(0.0)
    spall_volume: Volume = Volume(0.0)
    joint_length: Length = Length(0.0)
    joint_volume: Volume = Volume(0.0)
    dust_barrier: Area = Area(0.0)


def measure_details(
    area: SiteArea, wall_length: float, open_length: float, faults: Faults
) -> Details:
    """Everything of the area that is not plain floor.

    Tape runs along every wall and open edge, the foot of each base wall (its head is the wall's own
    run), the head and foot of each riser, and both feet of each curb.
    """
    found: dict[str, Any] = {}
    tape = wall_length + open_length
    if area.base_walls:
        runs = [(wall.length or wall_length, wall.height) for wall in area.base_walls]
        found["base_walls"] = Area(sum([run * height for run, height in runs]))
        tape += sum([run for run, _ in runs])
    if area.steps:
        found |= _steps(area.steps, faults)
        tape += sum([2 * flight.risers * flight.width for flight in area.steps])
    if area.curbs:
        found["curbs"] = Area(
            sum([one.length * (one.faces * one.height + one.width) for one in area.curbs])
        )
        tape += sum([2 * curb.length for curb in area.curbs])
    if area.coves:
        found |= _coves(area, wall_length)
    if area.cracks or area.spalls or area.joints:
        found |= _repairs(area)
    if area.openings:
        found["dust_barrier"] = Area(sum([one.width * one.height for one in area.openings]))
    return Details(tape_length=Length(tape), **found)


def _steps(steps: tuple[StepFlight, ...], faults: Faults) -> dict[str, Any]:
    treads = [_treads(flight, faults.at("steps", index)) for index, flight in enumerate(steps)]
    risers = [flight.risers * flight.width * flight.rise for flight in steps]
    return {"added_treads": Area(sum(treads)), "risers": Area(sum(risers))}


def _coves(area: SiteArea, wall_length: float) -> dict[str, Any]:
    runs = [(cove.length or wall_length, cove.radius) for cove in area.coves]
    return {
        "cove_face": Area(sum([run * pi / 2 * radius for run, radius in runs])),
        "cove_length": Length(sum([run for run, _ in runs])),
        "cove_volume": Volume(sum([run * radius**2 * (1 - pi / 4) for run, radius in runs])),
    }


def _repairs(area: SiteArea) -> dict[str, Any]:
    cracks, spalls = area.cracks, area.spalls
    filled = [joint for joint in area.joints if joint.treatment == "fill"]
    return {
        "crack_length": Length(sum([crack.length for crack in cracks])),
        "crack_volume": Volume(sum([chase_section(crack) * crack.length for crack in cracks])),
        "spall_area": Area(sum([spall.area for spall in spalls])),
        "spall_volume": Volume(sum([spall.area * spall.depth for spall in spalls])),
        "joint_length": Length(sum([joint.length for joint in filled])),
        "joint_volume": Volume(sum([one.length * one.width * one.depth for one in filled])),
    }


def chase_section(crack: Crack) -> float:
    """[m2] width x depth of a square chase, half of that of a V."""
    square = crack.width * crack.depth
    return square / 2 if crack.section == "v" else square


def _treads(flight: StepFlight, faults: Faults) -> float:
    """[m2] Treads that the outline does not hold, and the nosings of all treads."""
    treads = flight.risers - 1
    depth = flight.nosing or 0.0
    if flight.treads == "added":
        if flight.going is None:
            faults.add("missing-field", 'treads that are "added" need the going of one', "going")
            return 0.0
        depth += flight.going
    return treads * flight.width * depth
