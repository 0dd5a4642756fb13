"""Products: their parts, film, times, limits and hazards; packs and their prices."""

from datetime import date
from typing import Annotated, Literal

from msgspec import Meta

from filmbuild.money import Currency, NonNegativeExact
from filmbuild.pipeline.site import Identifier, Label, Percentage
from filmbuild.pipeline.specification.base import PositiveFraction, Record
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


class RecoatPoint(Record, frozen=True, kw_only=True):
    """The window, counted from the end of placing, in which the next coat may go on unabraded."""

    temperature: Temperature
    minimum: PositiveDuration
    maximum: PositiveDuration | None = None


class OutsideTable(Record, frozen=True, kw_only=True):
    """How times follow temperature beyond the stated points."""

    rule: Literal["arrhenius", "halving"] = "halving"
    activation_energy_joule_per_mole: Annotated[float, Meta(gt=0, le=500_000)] | None = None


class Part(Record, frozen=True, kw_only=True):
    """One component. `ratio_by_volume` is relative to the other parts of the product."""

    name: Identifier
    ratio_by_volume: Annotated[float, Meta(gt=0, le=1000)]
    density: PositiveDensity


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
    """A liquid, mortar or aggregate. Aggregates have one part and no film properties."""

    id: Identifier
    name: Label
    supplier: Label
    role: ProductRole
    parts: Annotated[tuple[Part, ...], Meta(min_length=1, max_length=3)]
    volume_solids: PositiveFraction | None = None
    wet_film_minimum: PositiveThickness | None = None
    wet_film_maximum: PositiveThickness | None = None
    working_life: tuple[TimePoint, ...] = ()
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
    shelf_life: PositiveDuration | None = None
    hazards: Hazards = Hazards()


class Content(Record, frozen=True, kw_only=True):
    """What a pack holds of one part: exactly one of volume and mass."""

    part: Identifier
    volume: PositiveVolume | None = None
    mass: PositiveMass | None = None


class Pack(Record, frozen=True, kw_only=True):
    """Something that can be bought: a kit of several parts, or one part alone."""

    id: Identifier
    product: Identifier
    name: Label
    contents: Annotated[tuple[Content, ...], Meta(min_length=1, max_length=3)]


class PackPrice(Record, frozen=True, kw_only=True):
    """A pack's price from a date on."""

    pack: Identifier
    amount: NonNegativeExact
    currency: Currency
    effective_from: date
