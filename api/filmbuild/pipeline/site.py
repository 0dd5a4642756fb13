"""The site as measured: what a caller sends, and what the takeoff reads."""

from typing import Annotated, Literal

from msgspec import Meta

from filmbuild.pipeline.inputs import Identifier, Input, Label, Percentage
from filmbuild.pipeline.site_doors import Doorway, Join
from filmbuild.pipeline.site_places import CoordinateUnit, Place
from filmbuild.pipeline.site_work import (
    BaseWall,
    Collar,
    Cove,
    Cover,
    Crack,
    Curb,
    Drain,
    Joint,
    Opening,
    Pit,
    Sheeting,
    Slope,
    Spall,
    StepFlight,
    SurfaceFill,
)
from filmbuild.pipeline.substrate import ExistingCoating, MoistureReading, Substrate
from filmbuild.quantities import Coordinate, Length, PositiveLength, PositiveSection

__all__ = [
    "CoordinateUnit",
    "EdgeKind",
    "EdgeStretch",
    "Identifier",
    "Input",
    "Island",
    "LShape",
    "Label",
    "MoistureReading",
    "Origin",
    "Outline",
    "Percentage",
    "Place",
    "Polygon",
    "QuarterTurn",
    "Rectangle",
    "Site",
    "SiteArea",
    "Substrate",
    "TShape",
    "WellKnownText",
]

QuarterTurn = Literal[0, 90, 180, 270]
Access = Literal["plain", "hard"]
EdgeKind = Literal["wall", "open", "joined"]


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


class LShape(Input, tag_field="kind", tag="l_shape", frozen=True, kw_only=True):
    """An L by four of its walls, as a tape gives them; the two walls of the inner corner follow.

    The corner where the two full walls meet lies at `origin`. Side 0 is `length`, along x; side 1,
    `end_width`, is the short wall at its far end; sides 2 and 3 are those of the inner corner;
    side 4, `end_length`, is the short wall at the far end of the width; side 5 is `width`, along
    y, back to the origin. `rotation` turns the L about its first corner, against the clock, so
    that its notch may lie in any corner; the numbers of the sides go with it.
    """

    length: PositiveLength
    width: PositiveLength
    end_width: PositiveLength
    end_length: PositiveLength
    origin: Origin | None = None
    rotation: QuarterTurn = 0


class TShape(Input, tag_field="kind", tag="t_shape", frozen=True, kw_only=True):
    """A T by its walls: a bar along x, and a stem that leaves it in the direction of y.

    Side 0 is the bar's long wall, `length`, from `origin`; side 1 its end, `bar_width`; side 2 the
    far shoulder; sides 3 and 5 the stem's walls, `stem_length`; side 4 the stem's end,
    `stem_width`; side 6 the near `shoulder`; side 7 the bar's other end, back to the origin.
    Without `shoulder` the stem leaves the middle of the bar. `rotation` is as of an L.
    """

    length: PositiveLength
    bar_width: PositiveLength
    stem_width: PositiveLength
    stem_length: PositiveLength
    shoulder: PositiveLength | None = None
    origin: Origin | None = None
    rotation: QuarterTurn = 0


class Polygon(Input, tag_field="kind", tag="polygon", frozen=True, kw_only=True):
    """Vertices in order round the outline, not repeated at the end; side n starts at vertex n.

    Each coordinate is a number in `unit`, or a quantity as text such as "24 ft 6 in".
    """

    vertices: Annotated[tuple[tuple[Place, Place], ...], Meta(min_length=3, max_length=2_000)]
    unit: CoordinateUnit | None = None


class WellKnownText(Input, tag_field="kind", tag="wkt", frozen=True, kw_only=True):
    """A POLYGON in the well-known text of OGC 06-103r4, planar, in `unit`.

    Rings are closed: their last vertex repeats the first. Side n starts at vertex n of the
    exterior ring. Interior rings are islands, after those that the area names itself, and their
    edges are of the kind `interior_edge`.
    """

    unit: CoordinateUnit
    text: Annotated[str, Meta(min_length=1, max_length=200_000)]
    interior_edge: Literal["wall", "open"] = "wall"


Outline = Rectangle | LShape | TShape | Polygon | WellKnownText


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


class SiteArea(Input, frozen=True, kw_only=True):
    """One room, bay or run of floor. Areas of one `level` share a plan and may not overlap.

    `place_before` names areas that may only be coated after this one. `access` is hard where
    people, machines and materials get there slowly: by stairs, through hatches, between machines.
    """

    id: Identifier
    outline: Outline
    name: Label | None = None
    level: Label = "ground"
    islands: Annotated[tuple[Island, ...], Meta(max_length=500)] = ()
    edges: Annotated[tuple[EdgeStretch, ...], Meta(max_length=2_000)] = ()
    doorways: Annotated[tuple[Doorway, ...], Meta(max_length=2_000)] = ()
    place_before: Annotated[tuple[Identifier, ...], Meta(max_length=2_000)] = ()
    base_walls: Annotated[tuple[BaseWall, ...], Meta(max_length=500)] = ()
    steps: Annotated[tuple[StepFlight, ...], Meta(max_length=500)] = ()
    coves: Annotated[tuple[Cove, ...], Meta(max_length=500)] = ()
    curbs: Annotated[tuple[Curb, ...], Meta(max_length=500)] = ()
    cracks: Annotated[tuple[Crack, ...], Meta(max_length=2_000)] = ()
    spalls: Annotated[tuple[Spall, ...], Meta(max_length=2_000)] = ()
    joints: Annotated[tuple[Joint, ...], Meta(max_length=2_000)] = ()
    openings: Annotated[tuple[Opening, ...], Meta(max_length=500)] = ()
    slopes: Annotated[tuple[Slope, ...], Meta(max_length=100)] = ()
    pits: Annotated[tuple[Pit, ...], Meta(max_length=500)] = ()
    drains: Annotated[tuple[Drain, ...], Meta(max_length=500)] = ()
    collars: Annotated[tuple[Collar, ...], Meta(max_length=500)] = ()
    fills: Annotated[tuple[SurfaceFill, ...], Meta(max_length=500)] = ()
    existing_coatings: Annotated[tuple[ExistingCoating, ...], Meta(max_length=100)] = ()
    covers: Annotated[tuple[Cover, ...], Meta(max_length=500)] = ()
    substrate: Substrate | None = None
    access: Access = "plain"


class Site(Input, frozen=True, kw_only=True):
    """The whole job's floor; `substrate` holds for each area that states none of its own."""

    areas: Annotated[tuple[SiteArea, ...], Meta(min_length=1, max_length=20_000)]
    name: Label = "Site"
    joins: Annotated[tuple[Join, ...], Meta(max_length=100_000)] = ()
    substrate: Substrate = Substrate()
    sheeting: Sheeting | None = None
    hand_grind_width: PositiveSection = PositiveSection(0.100)
    cut_in_width: PositiveSection = PositiveSection(0.230)
