"""What a reading of a drawing is asked with, and what it answers."""

from typing import Annotated

import msgspec
from msgspec import Meta

from filmbuild.pipeline.site import CoordinateUnit, Island, Polygon

LayerName = Annotated[str, Meta(min_length=1, max_length=255)]


class PlanQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Which parts of the drawing are what, by the names of its layers, in any case."""

    layers: (
        Annotated[
            str,
            Meta(
                min_length=1,
                max_length=2_000,
                description="Layers whose closed shapes are areas, as are loose lines that close "
                "end to end; with commas between their names. Without it the answer lists the layers and reads no areas.",
            ),
        ]
        | None
    ) = None
    islands_layer: (
        Annotated[LayerName, Meta(description="The layer whose closed shapes are islands.")] | None
    ) = None
    names_layer: (
        Annotated[
            LayerName,
            Meta(description="The layer whose texts name the areas in which they are inserted."),
        ]
        | None
    ) = None
    unit: (
        Annotated[
            CoordinateUnit,
            Meta(
                description="The drawing's unit, where the file states none. One that "
                "contradicts the file's own is refused."
            ),
        ]
        | None
    ) = None


class PlanArea(msgspec.Struct, frozen=True, kw_only=True):
    """An area of the drawing, in the form in which a site takes it."""

    id: str
    outline: Polygon
    name: str | None = None
    islands: tuple[Island, ...] = ()


class PlanLayer(msgspec.Struct, frozen=True, kw_only=True):
    """What a layer of the drawing's model space holds, blocks taken apart."""

    name: str
    closed_shapes: int
    open_shapes: int
    texts: int


class PlanNote(msgspec.Struct, frozen=True, kw_only=True):
    """What was skipped or changed, and why."""

    code: str
    detail: str


class PlanReading(msgspec.Struct, frozen=True, kw_only=True):
    """`unit` is that of the outlines, and `source_unit` what the file itself states."""

    unit: str
    source_unit: str | None
    areas: tuple[PlanArea, ...]
    layers: tuple[PlanLayer, ...]
    notes: tuple[PlanNote, ...]
