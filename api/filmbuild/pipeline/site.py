"""The site as measured: what a caller sends, and what the takeoff reads."""

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from filmbuild.quantities import (
    Coordinate,
    Dimension,
    Length,
    MoistureEmission,
    PositiveArea,
    PositiveDimension,
    PositiveLength,
    Thickness,
)

Identifier = Annotated[str, Meta(pattern=r"^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$(?!\n)")]
Label = Annotated[
    str, Meta(min_length=1, max_length=200, pattern=r"^[^\u0000-\u001f\u007f]*$(?!\n)")
]
CoordinateUnit = Literal["m", "cm", "mm", "ft", "in", "yd"]
EdgeKind = Literal["wall", "open", "joined"]
Porosity = Literal["low", "medium", "high"]
Hardness = Literal["soft", "medium", "hard"]
Percentage = Annotated[float, Meta(ge=0, le=100)]


class Input(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Base of what callers send: fields by name, nothing unknown."""


class Origin(Input, frozen=True, kw_only=True):
    """Where the first corner lies in the plan of its level."""

    x: Coordinate
    y: Coordinate


class Rectangle(Input, tag_field="kind", tag="rectangle", frozen=True, kw_only=True):
    """Length runs along x and width along y from `origin`.

    Sides are numbered from 0: along the length at the origin, then round against the clock.
    Without an origin the rectangle is measured but not placed on the plan: its own corner is
    (0, 0) for its islands, and it is not compared with other areas for overlap.
    """

    length: PositiveLength
    width: PositiveLength
    origin: Origin | None = None


class Polygon(Input, tag_field="kind", tag="polygon", frozen=True, kw_only=True):
    """Vertices in order round the outline, not repeated at the end; side n starts at vertex n."""

    unit: CoordinateUnit
    vertices: Annotated[tuple[tuple[float, float], ...], Meta(min_length=3, max_length=2_000)]


Outline = Rectangle | Polygon


class Island(Input, frozen=True, kw_only=True):
    """Floor inside the outline that is not coated: a column, a pad, a machine foot, a drain."""

    outline: Outline
    edge: Literal["wall", "open"] = "wall"
    name: Label | None = None


class EdgeStretch(Input, frozen=True, kw_only=True):
    """A stretch of one side that is not plain wall.

    `offset` is measured from the start of the side; without `length` the stretch runs to its end.
    `joined` means that the coating runs on into another coated area, named in `joins` when it is
    on this site. `exit` marks where the crew leaves.
    """

    side: Annotated[int, Meta(ge=0)]
    kind: EdgeKind
    offset: Length | None = None
    length: PositiveLength | None = None
    joins: Identifier | None = None
    exit: bool = False


class BaseWall(Input, frozen=True, kw_only=True):
    """Coated wall foot or footing; without `length` it follows every wall of the area."""

    height: PositiveDimension
    length: PositiveLength | None = None


class StepFlight(Input, frozen=True, kw_only=True):
    """A flight of equal steps; there is one tread fewer than there are risers.

    Treads are floor. They are usually inside the outline already; "added" treads are not and need
    their `going`.
    """

    risers: Annotated[int, Meta(ge=1, le=500)]
    width: PositiveLength
    rise: PositiveDimension
    going: PositiveDimension | None = None
    nosing: Dimension | None = None
    treads: Literal["in_outline", "added"] = "in_outline"


class Cove(Input, frozen=True, kw_only=True):
    """Concave cove base; without `length` it follows every wall of the area."""

    radius: PositiveDimension
    length: PositiveLength | None = None


class Curb(Input, frozen=True, kw_only=True):
    """A coated curb: both faces and its top."""

    length: PositiveLength
    height: PositiveDimension
    width: PositiveDimension
    faces: Annotated[int, Meta(ge=1, le=2)] = 2


class Crack(Input, frozen=True, kw_only=True):
    """A crack to be chased and filled: the section is that of the chase."""

    length: PositiveLength
    width: PositiveDimension
    depth: PositiveDimension
    section: Literal["v", "square"] = "v"


class Spall(Input, frozen=True, kw_only=True):
    """Broken-out surface to be patched to a mean depth."""

    area: PositiveArea
    depth: PositiveDimension


class Joint(Input, frozen=True, kw_only=True):
    """A control or expansion joint: filled, honoured (left working), or coated over."""

    length: PositiveLength
    width: PositiveDimension
    depth: PositiveDimension
    treatment: Literal["fill", "honour", "coat_over"] = "fill"


class Opening(Input, frozen=True, kw_only=True):
    """An opening without a door that needs a dust barrier."""

    width: PositiveLength
    height: PositiveLength


class MoistureReading(Input, frozen=True, kw_only=True):
    """A moisture test result: emission by ASTM F1869 or relative humidity by ASTM F2170."""

    emission: MoistureEmission | None = None
    relative_humidity_percent: Percentage | None = None


class Substrate(Input, frozen=True, kw_only=True):
    """The concrete. `profile` is the ICRI concrete surface profile after preparation."""

    profile: Annotated[int, Meta(ge=1, le=10)] | None = None
    texture_depth: Thickness | None = None
    porosity: Porosity = "medium"
    hardness: Hardness = "medium"
    existing_coating: bool = False
    age_days: Annotated[int, Meta(ge=0, le=100_000)] | None = None
    moisture: tuple[MoistureReading, ...] = ()


class SiteArea(Input, frozen=True, kw_only=True):
    """One room, bay or run of floor. Areas of one `level` share a plan and may not overlap."""

    id: Identifier
    outline: Outline
    name: Label | None = None
    level: Label = "ground"
    islands: Annotated[tuple[Island, ...], Meta(max_length=500)] = ()
    edges: Annotated[tuple[EdgeStretch, ...], Meta(max_length=2_000)] = ()
    base_walls: Annotated[tuple[BaseWall, ...], Meta(max_length=500)] = ()
    steps: Annotated[tuple[StepFlight, ...], Meta(max_length=500)] = ()
    coves: Annotated[tuple[Cove, ...], Meta(max_length=500)] = ()
    curbs: Annotated[tuple[Curb, ...], Meta(max_length=500)] = ()
    cracks: Annotated[tuple[Crack, ...], Meta(max_length=2_000)] = ()
    spalls: Annotated[tuple[Spall, ...], Meta(max_length=2_000)] = ()
    joints: Annotated[tuple[Joint, ...], Meta(max_length=2_000)] = ()
    openings: Annotated[tuple[Opening, ...], Meta(max_length=500)] = ()
    substrate: Substrate | None = None


class Site(Input, frozen=True, kw_only=True):
    """The whole job's floor; `substrate` holds for each area that states none of its own."""

    areas: Annotated[tuple[SiteArea, ...], Meta(min_length=1, max_length=20_000)]
    name: Label = "Site"
    substrate: Substrate = Substrate()
    hand_grind_width: PositiveDimension = PositiveDimension(0.100)
    cut_in_width: PositiveDimension = PositiveDimension(0.230)
