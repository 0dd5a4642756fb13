"""Work of an area beside its plain floor, as measured: verticals, pits, repairs, protection."""

from typing import Annotated, Literal

from msgspec import Meta

from filmbuild.pipeline.inputs import Count, Input, SideNumber
from filmbuild.pipeline.site_places import Direction, FloorLine, Spot
from filmbuild.quantities import (
    Dimension,
    Length,
    PositiveArea,
    PositiveHeight,
    PositiveLength,
    PositiveSection,
)


class WallRun(Input, frozen=True, kw_only=True):
    """Where along the walls something runs.

    Without `length` and `side` it follows every wall of the area, those of islands too. `length`
    alone is a run as measured. With `side` it follows the walls on that side of the outline, from
    `offset` on, for `length` or to the side's end; doorways in between are left out.
    """

    length: PositiveLength | None = None
    side: SideNumber | None = None
    offset: Length | None = None


class WallOpening(Input, frozen=True, kw_only=True):
    """A part of a base wall that is not coated; without `height` as high as the base wall."""

    width: PositiveLength
    height: PositiveHeight | None = None
    count: Count = 1


class BaseWall(WallRun, frozen=True, kw_only=True):
    """Coated wall foot or footing."""

    height: PositiveHeight
    openings: Annotated[tuple[WallOpening, ...], Meta(max_length=100)] = ()


class Cove(WallRun, frozen=True, kw_only=True):
    """Concave cove base: a quarter circle and, where `height` is given, a straight face above it.

    `height` is the whole height of the cove, radius included.
    """

    radius: PositiveSection
    height: PositiveHeight | None = None


class StepFlight(Input, frozen=True, kw_only=True):
    """A flight of equal steps; there is one tread fewer than there are risers.

    Treads are floor. They are usually inside the outline already; "added" treads are not and need
    their `going`. `open_sides` stand free of walls; with `coat_open_sides` their stepped faces are
    coated, which needs the `going`. A flight stands on the floor, its sides solid, unless `waist`
    gives the thickness of the slab below its steps, square to the slope. Treads in the outline
    are drawn where `at` gives the corner of least x and y of all treads together, and `up` the
    way that the flight rises.
    """

    risers: Annotated[int, Meta(ge=1, le=500)]
    width: PositiveLength
    rise: PositiveHeight
    going: PositiveHeight | None = None
    nosing: Dimension | None = None
    treads: Literal["in_outline", "added"] = "in_outline"
    open_sides: Annotated[int, Meta(ge=0, le=2)] = 0
    coat_open_sides: bool = False
    waist: PositiveHeight | None = None
    at: Spot | None = None
    up: Direction = "y"


class Curb(Input, frozen=True, kw_only=True):
    """A coated curb: both faces and its top."""

    length: PositiveLength
    height: PositiveHeight
    width: PositiveHeight
    faces: Annotated[int, Meta(ge=1, le=2)] = 2


class Footprint(Input, frozen=True, kw_only=True):
    """Round by `diameter`; or square by `width`, or a rectangle with its `length` as well.

    One that lies `at` a place on the plan is drawn there, its length `along` x or y.
    """

    diameter: PositiveHeight | None = None
    width: PositiveLength | None = None
    length: PositiveLength | None = None
    count: Count = 1
    at: Spot | None = None
    along: Literal["x", "y"] = "x"


class Drain(Footprint, frozen=True, kw_only=True):
    """A drain, gully or cover of this size that stays uncoated.

    Its rim is an open edge of the floor. Its middle lies `at` a place on the floor.
    """


class Collar(Footprint, frozen=True, kw_only=True):
    """A pipe or post that stands on the floor and is coated to this height.

    Its middle stands `at` a place on the floor.
    """

    height: PositiveHeight


class Pit(Footprint, frozen=True, kw_only=True):
    """A pit or trench: its floor takes the place of the floor that it is sunk in.

    `ends` counts the ends of a trench, sides of `width`, that are coated. The top of the sides,
    down to `rebate`, carries a grating or cover and stays uncoated. A pit with `floor_coated`
    false is coated on its sides alone. Its corner of least x and y lies `at` a place on the floor;
    of a round one, that of the square round it.
    """

    depth: PositiveHeight
    ends: Annotated[int, Meta(ge=0, le=2)] = 2
    rebate: Dimension | None = None
    floor_coated: bool = True


class Slope(Input, frozen=True, kw_only=True):
    """Floor that is not level: a ramp, or falls to a drain. It is larger than its plan.

    State it in one of three ways: `percent`, `ratio` (the run to a rise of one: 12 is 1 in 12), or
    `rise` over `run`. Without `plan_area` the whole area slopes.
    """

    plan_area: PositiveArea | None = None
    percent: Annotated[float, Meta(gt=0, le=100)] | None = None
    ratio: Annotated[float, Meta(ge=1, le=10_000)] | None = None
    rise: PositiveHeight | None = None
    run: PositiveLength | None = None


class Crack(FloorLine, frozen=True, kw_only=True):
    """A crack to be chased and filled: the section is that of the chase.

    `sand_fraction` is the share of the void that grains of dry sand fill; where it is given it goes
    before the one of the system.
    """

    width: PositiveSection
    depth: PositiveSection
    section: Literal["v", "square"] = "v"
    sand_fraction: Annotated[float, Meta(ge=0, le=0.8)] | None = None


class Spall(Input, frozen=True, kw_only=True):
    """Broken-out surface to be patched to a mean depth."""

    area: PositiveArea
    depth: PositiveSection


class SurfaceFill(Input, frozen=True, kw_only=True):
    """Worn or low floor to be made up by a mean depth; without `area`, the whole floor."""

    depth: PositiveSection
    area: PositiveArea | None = None


class Joint(FloorLine, frozen=True, kw_only=True):
    """A control or expansion joint: filled, honoured (left working), or coated over.

    A control joint lets the slab crack in a straight line; an expansion joint goes right through
    it and goes on moving.
    """

    width: PositiveSection
    depth: PositiveSection
    treatment: Literal["fill", "honour", "coat_over"] = "fill"
    kind: Literal["control", "expansion"] = "control"


class Opening(Input, frozen=True, kw_only=True):
    """An opening without a door that needs a dust barrier."""

    width: PositiveLength
    height: PositiveLength


class Cover(Input, frozen=True, kw_only=True):
    """Something to be covered with sheeting: stock, a machine, floor that stays as it is."""

    length: PositiveLength
    width: PositiveLength
    count: Count = 1


class Sheeting(Input, frozen=True, kw_only=True):
    """The sheet that barriers and covers are made of.

    Neighbouring sheets of this `width` overlap by `overlap`; the outer edges run past what is
    closed or covered by `lap` on every side.
    """

    width: PositiveHeight
    overlap: Dimension = Dimension(0.0)
    lap: Dimension = Dimension(0.0)
