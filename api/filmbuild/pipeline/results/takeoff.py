"""What the takeoff finds."""

from filmbuild.pipeline.results.base import Result
from filmbuild.pipeline.results.traffic import DoorwayTakeoff, EdgeRun, Traffic
from filmbuild.pipeline.site import Access, Substrate
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Length, Thickness, Volume


class AreaTakeoff(Result, frozen=True, kw_only=True):
    """One area taken off. `machine_grind + hand_grind = field + cut_in = floor`, exactly.

    `traces` holds, per field of this record that is not zero, how it was found.
    `placing_order` is 1 for the area coated first. `drain_area` and `collar_footprint` are not
    part of the floor; `drain_length` is part of `open_length`, and `added_by_slope`, `pit_floor`,
    `added_treads` and `thresholds` of the floor. `crack_sand_volume` and `crack_liquid_volume` share the void of
    those cracks that state their share of sand. Joints are told by treatment, and once more by
    kind. `running_length` is that of base walls, coves, curbs and the risers of steps, each by its
    own run. Fields with a default may be missing from records kept from
    earlier versions.
    """

    id: str
    name: str
    level: str
    substrate: Substrate
    placing_order: int
    exits_through: str | None
    floor: Area
    machine_grind: Area
    hand_grind: Area
    field: Area
    cut_in: Area
    wall_length: Length
    open_length: Length
    joined_length: Length
    added_treads: Area
    base_walls: Area
    risers: Area
    curbs: Area
    cove_face: Area
    vertical: Area
    cove_length: Length
    cove_volume: Volume
    crack_length: Length
    crack_volume: Volume
    spall_area: Area
    spall_volume: Volume
    joint_length: Length
    joint_volume: Volume
    tape_length: Length
    dust_barrier: Area
    traces: dict[str, Trace]
    added_by_slope: Area = Area(0.0)
    pit_floor: Area = Area(0.0)
    pit_sides: Area = Area(0.0)
    step_sides: Area = Area(0.0)
    collars: Area = Area(0.0)
    collar_footprint: Area = Area(0.0)
    drain_area: Area = Area(0.0)
    drain_length: Length = Length(0.0)
    honoured_joint_length: Length = Length(0.0)
    coated_joint_length: Length = Length(0.0)
    control_joint_length: Length = Length(0.0)
    expansion_joint_length: Length = Length(0.0)
    crack_sand_volume: Volume = Volume(0.0)
    crack_liquid_volume: Volume = Volume(0.0)
    strip_area: Area = Area(0.0)
    strip_volume: Volume = Volume(0.0)
    sheeting: Area = Area(0.0)
    thresholds: Area = Area(0.0)
    running_length: Length = Length(0.0)
    texture_depth: Thickness | None = None
    runs: tuple[EdgeRun, ...] = ()
    access: Access = "plain"


class Totals(Result, frozen=True, kw_only=True):
    """Sums over all areas of the site; `traces` holds one per field that is not zero."""

    floor: Area
    machine_grind: Area
    hand_grind: Area
    field: Area
    cut_in: Area
    vertical: Area
    wall_length: Length
    open_length: Length
    joined_length: Length
    cove_length: Length
    cove_volume: Volume
    crack_length: Length
    crack_volume: Volume
    spall_area: Area
    spall_volume: Volume
    joint_length: Length
    joint_volume: Volume
    tape_length: Length
    dust_barrier: Area
    drain_length: Length = Length(0.0)
    honoured_joint_length: Length = Length(0.0)
    coated_joint_length: Length = Length(0.0)
    control_joint_length: Length = Length(0.0)
    expansion_joint_length: Length = Length(0.0)
    crack_sand_volume: Volume = Volume(0.0)
    crack_liquid_volume: Volume = Volume(0.0)
    strip_area: Area = Area(0.0)
    strip_volume: Volume = Volume(0.0)
    sheeting: Area = Area(0.0)
    running_length: Length = Length(0.0)
    traces: dict[str, Trace] = {}


class ReadingsNeeded(Result, frozen=True, kw_only=True):
    """How many readings one method asks for; `level` is absent where it holds for the whole site.

    `places` counts the spots at which to measure, and `readings` the readings over all of them.
    """

    method: str
    level: str | None
    area: Area
    places: int
    readings: int
    trace: Trace


class Takeoff(Result, frozen=True, kw_only=True):
    """Areas in the order the site gave them; doorways in the order they were given first.

    `traffic` is absent where the site says nothing of ways between areas and of exits.
    """

    site: str
    areas: tuple[AreaTakeoff, ...]
    totals: Totals
    readings_needed: tuple[ReadingsNeeded, ...] = ()
    doorways: tuple[DoorwayTakeoff, ...] = ()
    traffic: Traffic | None = None
