"""What the takeoff finds of edges that are not wall, of doorways, and of the way off the floor."""

from typing import Literal

from filmbuild.pipeline.results.base import Result
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Area, Coordinate, Length


class PlanPoint(Result, frozen=True, kw_only=True):
    """A place on the plan of its level."""

    x: Coordinate
    y: Coordinate


class EdgeRun(Result, frozen=True, kw_only=True):
    """A stretch of one side where there is no wall; `island` is absent on the outline.

    `into` is the area on the other side, where one is known, and `doorway` the doorway's id.
    """

    side: int
    kind: Literal["open", "joined"]
    offset: Length
    length: Length
    island: int | None = None
    into: str | None = None
    doorway: str | None = None
    exit: bool = False


class DoorwaySide(Result, frozen=True, kw_only=True):
    """Where a doorway lies in the wall of one area, and whether that area has the open edge."""

    area: str
    side: int
    offset: Length
    width: Length
    island: int | None = None
    open_edge: bool = False


class DoorwayTakeoff(Result, frozen=True, kw_only=True):
    """One doorway, whichever rooms it was given from.

    `between` names the area it was given in first, and the one on the other side; a doorway with
    one name leads off the coated floor. `kept_shut` leaves stay shut during dust work and cure.
    `barrier` is the sheeting that closes it where there is no leaf.
    """

    id: str
    between: tuple[str, ...]
    width: Length
    height: Length | None
    coating: Literal["runs_through", "stops"]
    door: bool
    exit: bool
    kept_shut: bool
    barrier: Area
    given_in: tuple[str, ...]
    sides: tuple[DoorwaySide, ...]
    traces: dict[str, Trace]


class TrafficStep(Result, frozen=True, kw_only=True):
    """An area in the order of work, and how the crew leaves it over floor not coated yet.

    `left_by` is the way out of it, `into` the area that leads into, if any, and `crossings` the
    number of areas crossed from there to an exit; all are absent where no exit is reached.
    `starts_at` is the corner farthest from the way out, and `ends_at` the middle of the way out.
    """

    area: str
    order: int
    reason: str
    left_by: str | None = None
    into: str | None = None
    crossings: int | None = None
    starts_at: PlanPoint | None = None
    ends_at: PlanPoint | None = None


class Traffic(Result, frozen=True, kw_only=True):
    """The way of the crew over the floor: areas in the order in which they are coated."""

    exits: tuple[str, ...]
    steps: tuple[TrafficStep, ...]
    traces: dict[str, Trace]
