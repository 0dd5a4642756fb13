"""Coating systems: ordered layers, preparation and repair products."""

from typing import Annotated

from msgspec import Meta

from filmbuild.pipeline.site import Identifier, Label, Percentage
from filmbuild.pipeline.specification.base import Fraction, PositiveFraction, Record, TaskCode
from filmbuild.quantities import (
    MassPerArea,
    MoistureEmission,
    PositiveSpreadRate,
    PositiveThickness,
)


class Broadcast(Record, frozen=True, kw_only=True):
    """Aggregate thrown into the wet coat: at a stated rate, or until no more is taken up.

    To refusal, a bed of grains holds as much as has its voids filled by the wet film, and
    `swept_fraction` of all that is thrown is swept off. `reclaimed_fraction`, of all that is
    thrown too, is the part of it that can be used again, by later lifts. Left out, what is swept
    off is what is reclaimed. Two lifts are two layers, each with a broadcast of its own.
    """

    product: Identifier
    rate: MassPerArea | None = None
    to_refusal: bool = False
    swept_fraction: Fraction | None = None
    reclaimed_fraction: Fraction = 0.0

    @property
    def swept(self) -> float:
        """The share of what is thrown that does not stay."""
        return self.reclaimed_fraction if self.swept_fraction is None else self.swept_fraction


class Layer(Record, frozen=True, kw_only=True):
    """One coat of a system: exactly one of dry film, wet film and spread rate.

    `vertical` is the film on verticals in the same measure: thickness as `wet_film` or `dry_film`
    is, or absent where the coat stays off verticals. `texture_fill` is the share of the surface
    texture that the coat fills; it counts for the first coat on the concrete alone. `grain_fill` is
    the share of the voids among the topmost grains of the broadcast below that the coat fills, on
    top of its film.
    """

    id: Identifier
    name: Label
    product: Identifier
    dry_film: PositiveThickness | None = None
    wet_film: PositiveThickness | None = None
    spread_rate: PositiveSpreadRate | None = None
    vertical: PositiveThickness | None = None
    thinner_fraction: Fraction = 0.0
    loss_fraction: Fraction = 0.05
    texture_fill: PositiveFraction = 1.0
    grain_fill: PositiveFraction | None = None
    broadcast: Broadcast | None = None
    before: tuple[TaskCode, ...] = ()
    after: tuple[TaskCode, ...] = ()


class Repairs(Record, frozen=True, kw_only=True):
    """Which products fill what the takeoff finds; a site that needs a missing one is refused."""

    crack_filler: Identifier | None = None
    patch_mortar: Identifier | None = None
    cove_mortar: Identifier | None = None
    joint_filler: Identifier | None = None
    fill_aggregate: Identifier | None = None
    aggregate_fill_fraction: Fraction = 0.0
    loss_fraction: Fraction = 0.05


class MoistureLimits(Record, frozen=True, kw_only=True):
    """Highest readings at which the system may be laid."""

    emission: MoistureEmission | None = None
    relative_humidity_percent: Percentage | None = None
    age_days: Annotated[int, Meta(ge=0)] = 28


class System(Record, frozen=True, kw_only=True):
    """A floor build: preparation, ordered layers from the concrete up, and repair products."""

    id: Identifier
    name: Label
    description: str = ""
    preparation: tuple[TaskCode, ...]
    profile_minimum: Annotated[int, Meta(ge=1, le=10)] = 2
    profile_maximum: Annotated[int, Meta(ge=1, le=10)] = 3
    layers: Annotated[tuple[Layer, ...], Meta(min_length=1, max_length=12)]
    repairs: Repairs = Repairs()
    moisture: MoistureLimits = MoistureLimits()
    wet_slip_resistance: float | None = None
