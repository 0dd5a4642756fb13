"""Products: their parts, film, times, limits and hazards; packs and their prices."""

from datetime import date
from typing import Annotated, Literal

from msgspec import Meta, field
from msgspec.structs import force_setattr, replace

from filmbuild.money import Currency, NonNegativeExact
from filmbuild.pipeline.site import Identifier, Label, Percentage
from filmbuild.pipeline.specification.base import OpenFraction, PositiveFraction, Record
from filmbuild.quantities import (
    Duration,
    PositiveDensity,
    PositiveDuration,
    PositiveMass,
    PositiveThickness,
    PositiveVolume,
    Temperature,
    TemperatureDifference,
    Thickness,
)

ProductRole = Literal[
    "primer",
    "body_coat",
    "topcoat",
    "crack_filler",
    "patch_mortar",
    "cove_mortar",
    "joint_filler",
    "broadcast_aggregate",
    "solvent",
]


class TimePoint(Record, frozen=True, kw_only=True):
    """A time that holds at one temperature."""

    temperature: Temperature
    duration: PositiveDuration


class WorkingLifeSample(Record, frozen=True, kw_only=True):
    """The amount that the working life was measured in: exactly one of mass and volume.

    A larger mix sets faster: its life is that of the sample times (sample / mix) ** `exponent`, no
    less than the `shortest_share` and no more than the `longest_share` of it.
    """

    mass: PositiveMass | None = None
    volume: PositiveVolume | None = None
    exponent: Annotated[float, Meta(ge=0, le=1)] | None = None
    shortest_share: PositiveFraction = 0.25
    longest_share: Annotated[float, Meta(ge=1, le=10)] = 1.0


class RecoatPoint(Record, frozen=True, kw_only=True):
    """The window, counted from the end of placing, in which the next coat may go on unabraded."""

    temperature: Temperature
    minimum: PositiveDuration
    maximum: PositiveDuration | None = None


class OutsideTable(Record, frozen=True, kw_only=True):
    """How times follow temperature beyond the stated points.

    By `refuse` they do not, and no work is planned there.
    """

    rule: Literal["arrhenius", "halving", "refuse"] = "refuse"
    activation_energy_joule_per_mole: Annotated[float, Meta(gt=0, le=500_000)] | None = None


class Part(Record, frozen=True, kw_only=True):
    """One component, by one of three measures.

    `ratio_by_volume` and `ratio_by_mass` are relative to the other parts; `mass_per_liquid` is the
    mass of an aggregate or filler in each volume of the parts that are measured otherwise. Where
    `ratio_by_volume` is left out it follows from the other measure by the densities.
    """

    name: Identifier
    ratio_by_volume: Annotated[float, Meta(gt=0, le=1000)] = field(default_factory=float)
    ratio_by_mass: Annotated[float, Meta(gt=0, le=1000)] | None = None
    mass_per_liquid: PositiveDensity | None = None
    density: PositiveDensity


_UNIT_DENSITY = 1000.0
"""[kg/m3] Scales ratios by mass to ratios by volume; it cancels out."""


def ratios_by_volume(parts: tuple[Part, ...]) -> tuple[float, ...]:
    """v_i = m_i / density_i, or mass per liquid / density_i x the sum over the liquid parts."""
    liquids = [
        0.0
        if part.mass_per_liquid is not None
        else part.ratio_by_volume
        if part.ratio_by_mass is None
        else part.ratio_by_mass * _UNIT_DENSITY / part.density
        for part in parts
    ]
    whole = sum(liquids)
    return tuple(
        liquid if part.mass_per_liquid is None else part.mass_per_liquid / part.density * whole
        for part, liquid in zip(parts, liquids, strict=True)
    )


class ApplicationLimits(Record, frozen=True, kw_only=True):
    """Conditions in which the product may be placed and left for its early cure."""

    air_minimum: Temperature
    air_maximum: Temperature
    surface_minimum: Temperature
    surface_maximum: Temperature
    relative_humidity_maximum_percent: Percentage = 85.0
    dew_point_margin: TemperatureDifference = TemperatureDifference(3.0)


class Absorption(Record, frozen=True, kw_only=True):
    """Liquid drawn into the concrete by the first coat, as depth of film, by porosity."""

    low: Thickness
    medium: Thickness
    high: Thickness


class Hazards(Record, frozen=True, kw_only=True):
    """What the safety data sheet warns of, as far as it decides which cautions are shown.

    `isocyanate_kind` tells aromatic (MDI) from aliphatic (HDI) hardeners, which have limits of
    their own. An aggregate that does not say whether it is `crystalline_silica` is taken as such,
    the stricter case.
    """

    skin_sensitiser: bool = False
    isocyanate: bool = False
    isocyanate_kind: Literal["mdi", "hdi", "other"] | None = None
    crystalline_silica: bool | None = None
    exotherm: bool = False
    flash_point: Temperature | None = None
    initial_boiling_point: Temperature | None = None


class Product(Record, frozen=True, kw_only=True):
    """A liquid, mortar or aggregate. Aggregates have one part and no film properties.

    `laid_density` is the mass of a mortar in each volume of void that it fills, compacted; left
    out, the mix fills as much as its parts measure. `grain_size` is the mean size of an
    aggregate's grains, and `void_fraction` the share of a bed of them that is no grain.
    """

    id: Identifier
    name: Label
    supplier: Label
    role: ProductRole
    parts: Annotated[tuple[Part, ...], Meta(min_length=1, max_length=3)]
    volume_solids: PositiveFraction | None = None
    wet_film_minimum: PositiveThickness | None = None
    wet_film_maximum: PositiveThickness | None = None
    working_life: tuple[TimePoint, ...] = ()
    working_life_sample: WorkingLifeSample | None = None
    wet_edge_time: tuple[TimePoint, ...] = ()
    premix_time: Duration = Duration(0.0)
    mixing_time: Duration = Duration(0.0)
    recoat: tuple[RecoatPoint, ...] = ()
    foot_traffic: tuple[TimePoint, ...] = ()
    vehicle_traffic: tuple[TimePoint, ...] = ()
    full_cure: tuple[TimePoint, ...] = ()
    outside_table: OutsideTable = OutsideTable()
    application: ApplicationLimits | None = None
    absorption: Absorption | None = None
    container: PositiveVolume | None = None
    container_residue: PositiveVolume | None = None
    largest_mix: PositiveVolume | None = None
    laid_density: PositiveDensity | None = None
    grain_size: PositiveThickness | None = None
    void_fraction: OpenFraction | None = None
    shelf_life: PositiveDuration | None = None
    one_lot: bool = False
    hazards: Hazards = Hazards()

    def __post_init__(self) -> None:
        if not all(part.ratio_by_volume for part in self.parts):
            ratios = zip(self.parts, ratios_by_volume(self.parts), strict=True)
            parts = tuple(
                part if part.ratio_by_volume else replace(part, ratio_by_volume=ratio)
                for part, ratio in ratios
            )
            force_setattr(self, "parts", parts)

    @property
    def mixed_density(self) -> float:
        """[kg/m3] Sum of volume x density over the sum of volumes: mixing is ideal."""
        whole = sum(part.ratio_by_volume for part in self.parts)
        return sum(part.ratio_by_volume * part.density for part in self.parts) / whole


class Content(Record, frozen=True, kw_only=True):
    """What a pack holds of one part: exactly one of volume and mass."""

    part: Identifier
    volume: PositiveVolume | None = None
    mass: PositiveMass | None = None


class Pack(Record, frozen=True, kw_only=True):
    """Something that can be bought: a kit of several parts, or one part alone.

    Fewer than `minimum_order` of it are not sold. `gross_mass` is that of the filled pack.
    """

    id: Identifier
    product: Identifier
    name: Label
    contents: Annotated[tuple[Content, ...], Meta(min_length=1, max_length=3)]
    minimum_order: Annotated[int, Meta(ge=1, le=1_000)] = 1
    gross_mass: PositiveMass | None = None


TierOrNone = Annotated[str, Meta(pattern=r"^([A-Za-z0-9][A-Za-z0-9._-]{0,63})?$(?!\n)")]
"""Customers of one kind, who have a price list of their own; empty for the usual list."""


class PriceBreak(Record, frozen=True, kw_only=True):
    """From so many packs on, what each pack of the whole order costs."""

    from_packs: Annotated[int, Meta(ge=2, le=1_000)]
    amount: NonNegativeExact


class PackPrice(Record, frozen=True, kw_only=True):
    """A pack's price from a date on, for customers of a `tier`; without one, for all others.

    `breaks` hold for all units: an order of at least so many packs pays their price for each.
    """

    pack: Identifier
    amount: NonNegativeExact
    currency: Currency
    tier: TierOrNone = ""
    effective_from: date
    breaks: Annotated[tuple[PriceBreak, ...], Meta(max_length=8)] = ()
