"""Work beside the open floor: verticals, coves, repairs, joints, and what is taped off."""

from math import pi

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.site import Crack, SiteArea, StepFlight


class Details(msgspec.Struct, frozen=True, kw_only=True):
    """Sums over one area [m, m2, m3]."""

    added_treads: float
    base_walls: float
    risers: float
    curbs: float
    cove_face: float
    cove_length: float
    cove_volume: float
    crack_length: float
    crack_volume: float
    spall_area: float
    spall_volume: float
    joint_length: float
    joint_volume: float
    tape_length: float
    dust_barrier: float


_NOTHING = Details(
    added_treads=0.0,
    base_walls=0.0,
    risers=0.0,
    curbs=0.0,
    cove_face=0.0,
    cove_length=0.0,
    cove_volume=0.0,
    crack_length=0.0,
    crack_volume=0.0,
    spall_area=0.0,
    spall_volume=0.0,
    joint_length=0.0,
    joint_volume=0.0,
    tape_length=0.0,
    dust_barrier=0.0,
)


def measure_details(
    area: SiteArea, wall_length: float, open_length: float, faults: Faults
) -> Details:
    """Everything of the area that is not plain floor.

    Tape runs along every wall and open edge, the foot of each base wall (its head is the wall's own
    run), the head and foot of each riser, and both feet of each curb.
    """
    edges = wall_length + open_length
    plain = not (area.base_walls or area.steps or area.coves or area.curbs or area.openings)
    if plain and not (area.cracks or area.spalls or area.joints):
        return msgspec.structs.replace(_NOTHING, tape_length=edges)
    base_runs = [(wall.length or wall_length, wall.height) for wall in area.base_walls]
    cove_runs = [(cove.length or wall_length, cove.radius) for cove in area.coves]
    filled = [joint for joint in area.joints if joint.treatment == "fill"]
    return Details(
        added_treads=sum(
            _treads(flight, faults.at("steps", index)) for index, flight in enumerate(area.steps)
        ),
        base_walls=sum(run * height for run, height in base_runs),
        risers=sum(flight.risers * flight.width * flight.rise for flight in area.steps),
        curbs=sum(curb.length * (curb.faces * curb.height + curb.width) for curb in area.curbs),
        cove_face=sum(run * pi / 2 * radius for run, radius in cove_runs),
        cove_length=sum(run for run, _ in cove_runs),
        cove_volume=sum(run * radius**2 * (1 - pi / 4) for run, radius in cove_runs),
        crack_length=sum(crack.length for crack in area.cracks),
        crack_volume=sum(chase_section(crack) * crack.length for crack in area.cracks),
        spall_area=sum(spall.area for spall in area.spalls),
        spall_volume=sum(spall.area * spall.depth for spall in area.spalls),
        joint_length=sum(joint.length for joint in filled),
        joint_volume=sum(joint.length * joint.width * joint.depth for joint in filled),
        tape_length=edges
        + sum(run for run, _ in base_runs)
        + sum(2 * flight.risers * flight.width for flight in area.steps)
        + sum(2 * curb.length for curb in area.curbs),
        dust_barrier=sum(opening.width * opening.height for opening in area.openings),
    )


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
