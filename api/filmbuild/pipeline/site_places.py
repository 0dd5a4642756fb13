"""Where on the plan of an area something lies, as a caller gives it."""

from typing import Annotated, Literal

from msgspec import Meta

from filmbuild.pipeline.inputs import Input
from filmbuild.quantities import Coordinate, PositiveLength

CoordinateUnit = Literal["m", "cm", "mm", "ft", "in", "yd"]
Place = float | Annotated[str, Meta(min_length=2, max_length=64, pattern=r"^[-+]?[0-9.]")]
Direction = Literal["x", "-x", "y", "-y"]


class Spot(Input, frozen=True, kw_only=True):
    """A point in the coordinates of the area's outline.

    Of an outline without an origin these start at its own first corner.
    """

    x: Coordinate
    y: Coordinate


class PlanPath(Input, frozen=True, kw_only=True):
    """A line from point to point in the coordinates of the area's outline, as of a polygon."""

    vertices: Annotated[tuple[tuple[Place, Place], ...], Meta(min_length=2, max_length=200)]
    unit: CoordinateUnit | None = None


class FloorLine(Input, frozen=True, kw_only=True):
    """Something that runs over the floor, by its `length`, its `path`, or both.

    With a path it is drawn. A length beside the path is the one measured and counts; the two
    agree within 1 %. The path keeps to the outline; what of it crosses islands is not counted.
    """

    length: PositiveLength | None = None
    path: PlanPath | None = None
