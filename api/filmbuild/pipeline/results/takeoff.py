"""What the takeoff finds."""

from filmbuild.pipeline.results.base import Result
from filmbuild.pipeline.site import Substrate
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Length, Volume


class AreaTakeoff(Result, frozen=True, kw_only=True):
    """One area taken off. `machine_grind + hand_grind = field + cut_in = floor`, exactly.

    `traces` holds, per field of this record that is not zero, how it was found.
    `placing_order` is 1 for the area coated first.
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


class Totals(Result, frozen=True, kw_only=True):
    """Sums over all areas of the site."""

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


class Takeoff(Result, frozen=True, kw_only=True):
    """Areas in the order the site gave them."""

    site: str
    areas: tuple[AreaTakeoff, ...]
    totals: Totals
