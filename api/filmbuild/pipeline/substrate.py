"""The concrete under the floor: what was seen, stated and measured of it."""

from typing import Annotated, Literal

from msgspec import Meta

from filmbuild.pipeline.inputs import Input, Percentage
from filmbuild.quantities import (
    MoistureEmission,
    PositiveArea,
    PositiveSection,
    PositiveSmallVolume,
    PositiveThickness,
    Thickness,
)

Porosity = Literal["low", "medium", "high"]
Hardness = Literal["soft", "medium", "hard"]


class MoistureReading(Input, frozen=True, kw_only=True):
    """A moisture test result: emission by ASTM F1869 or relative humidity by ASTM F2170."""

    emission: MoistureEmission | None = None
    relative_humidity_percent: Percentage | None = None


class SandPatch(Input, frozen=True, kw_only=True):
    """One reading of surface texture by ASTM E965: so much sand was spread to a round patch.

    The patch is measured across in at least four directions.
    """

    volume: PositiveSmallVolume
    diameters: Annotated[tuple[PositiveSection, ...], Meta(min_length=4, max_length=24)]


class Substrate(Input, frozen=True, kw_only=True):
    """The concrete. `profile` is the ICRI concrete surface profile after preparation.

    The depth of its texture is `texture_depth` where that is given, else the mean of the
    `sand_patches`, else what is assumed for the `profile`; without any of them nothing is added
    for texture. `existing_coating` says that the floor is coated and that grinding takes it off, at
    the rate book's slower pace; list the area's `existing_coatings` to strip them beforehand.
    """

    profile: Annotated[int, Meta(ge=1, le=10)] | None = None
    texture_depth: Thickness | None = None
    sand_patches: Annotated[tuple[SandPatch, ...], Meta(max_length=200)] = ()
    porosity: Porosity = "medium"
    hardness: Hardness = "medium"
    existing_coating: bool = False
    age_days: Annotated[int, Meta(ge=0, le=100_000)] | None = None
    moisture: tuple[MoistureReading, ...] = ()


class ExistingCoating(Input, frozen=True, kw_only=True):
    """Coating to be stripped, a task of its own; without `area`, from the whole floor."""

    area: PositiveArea | None = None
    thickness: PositiveThickness | None = None
