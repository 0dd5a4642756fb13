"""What the service is sent and what it answers: products.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence
from typing import Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.values import Answer, Choice, Input, Quantity


class Absorption(Input, frozen=True, kw_only=True):
    """Liquid drawn into the concrete by the first coat, as depth of film, by porosity."""

    low: Quantity | str
    medium: Quantity | str
    high: Quantity | str


class ApplicationLimits(Input, frozen=True, kw_only=True):
    """Conditions in which the product may be placed and left for its early cure."""

    air_minimum: Quantity | str
    air_maximum: Quantity | str
    surface_minimum: Quantity | str
    surface_maximum: Quantity | str
    dew_point_margin: Quantity | str | UnsetType = (
        UNSET  # left out: {"unit": "delta_degC", "value": 3.0}
    )
    relative_humidity_maximum_percent: float | UnsetType = UNSET  # left out: 85.0


class TimePoint(Input, frozen=True, kw_only=True):
    """A time that holds at one temperature."""

    temperature: Quantity | str
    duration: dt.timedelta


class Hazards(Input, frozen=True, kw_only=True):
    """What the safety data sheet warns of, as far as it decides which cautions are shown.

    `isocyanate_kind` tells aromatic (MDI) from aliphatic (HDI) hardeners, which have limits of
    their own. An aggregate that does not say whether it is `crystalline_silica` is taken as such,
    the stricter case.
    """

    crystalline_silica: bool | None = None
    exotherm: bool | UnsetType = UNSET  # left out: false
    flash_point: Quantity | str | None = None
    initial_boiling_point: Quantity | str | None = None
    isocyanate: bool | UnsetType = UNSET  # left out: false
    isocyanate_kind: Choice[Literal["hdi", "mdi", "other"]] | None = None
    skin_sensitiser: bool | UnsetType = UNSET  # left out: false


class OutsideTable(Input, frozen=True, kw_only=True):
    """How times follow temperature beyond the stated points.

    By `refuse` they do not, and no work is planned there.
    """

    activation_energy_joule_per_mole: float | None = None
    rule: Choice[Literal["arrhenius", "halving", "refuse"]] | UnsetType = (
        UNSET  # left out: "refuse"
    )


class Part(Input, frozen=True, kw_only=True):
    """One component, by one of three measures.

    `ratio_by_volume` and `ratio_by_mass` are relative to the other parts; `mass_per_liquid` is the
    mass of an aggregate or filler in each volume of the parts that are measured otherwise. Where
    `ratio_by_volume` is left out it follows from the other measure by the densities.
    """

    name: str
    density: Quantity | str
    mass_per_liquid: Quantity | str | None = None
    ratio_by_mass: float | None = None
    ratio_by_volume: float | UnsetType = UNSET


class RecoatPoint(Input, frozen=True, kw_only=True):
    """The window, counted from the end of placing, in which the next coat may go on unabraded."""

    temperature: Quantity | str
    minimum: dt.timedelta
    maximum: dt.timedelta | None = None


class WorkingLifeSample(Input, frozen=True, kw_only=True):
    """The amount that the working life was measured in: exactly one of mass and volume.

    A larger mix sets faster: its life is that of the sample times (sample / mix) ** `exponent`, no
    less than the `shortest_share` and no more than the `longest_share` of it.
    """

    exponent: float | None = None
    longest_share: float | UnsetType = UNSET  # left out: 1.0
    mass: Quantity | str | None = None
    shortest_share: float | UnsetType = UNSET  # left out: 0.25
    volume: Quantity | str | None = None


class ProductInput(Input, frozen=True, kw_only=True):
    """A product to be written; its members are those of Product."""

    id: str
    name: str
    supplier: str
    role: Choice[
        Literal[
            "body_coat",
            "broadcast_aggregate",
            "cove_mortar",
            "crack_filler",
            "joint_filler",
            "patch_mortar",
            "primer",
            "solvent",
            "topcoat",
        ]
    ]
    parts: Sequence[Part]
    absorption: Absorption | None = None
    application: ApplicationLimits | None = None
    container: Quantity | str | None = None
    container_residue: Quantity | str | None = None
    foot_traffic: Sequence[TimePoint] = ()
    full_cure: Sequence[TimePoint] = ()
    grain_size: Quantity | str | None = None
    hazards: Hazards | UnsetType = UNSET
    laid_density: Quantity | str | None = None
    largest_mix: Quantity | str | None = None
    mixing_time: dt.timedelta | UnsetType = UNSET  # left out: "PT0S"
    one_lot: bool | UnsetType = UNSET  # left out: false
    outside_table: OutsideTable | UnsetType = UNSET
    premix_time: dt.timedelta | UnsetType = UNSET  # left out: "PT0S"
    recoat: Sequence[RecoatPoint] = ()
    shelf_life: dt.timedelta | None = None
    vehicle_traffic: Sequence[TimePoint] = ()
    void_fraction: float | None = None
    volume_solids: float | None = None
    wet_edge_time: Sequence[TimePoint] = ()
    wet_film_maximum: Quantity | str | None = None
    wet_film_minimum: Quantity | str | None = None
    working_life: Sequence[TimePoint] = ()
    working_life_sample: WorkingLifeSample | None = None


class Product(Answer, frozen=True, kw_only=True):
    """A liquid, mortar or aggregate. Aggregates have one part and no film properties.

    `laid_density` is the mass of a mortar in each volume of void that it fills, compacted; left
    out, the mix fills as much as its parts measure. `grain_size` is the mean size of an
    aggregate's grains, and `void_fraction` the share of a bed of them that is no grain.
    """

    id: str
    name: str
    supplier: str
    role: str
    parts: tuple[Part, ...]
    absorption: Absorption | None = None
    application: ApplicationLimits | None = None
    container: Quantity | None = None
    container_residue: Quantity | None = None
    foot_traffic: tuple[TimePoint, ...] = ()
    full_cure: tuple[TimePoint, ...] = ()
    grain_size: Quantity | None = None
    hazards: Hazards = Hazards(
        crystalline_silica=None,
        exotherm=False,
        flash_point=None,
        initial_boiling_point=None,
        isocyanate=False,
        isocyanate_kind=None,
        skin_sensitiser=False,
    )
    laid_density: Quantity | None = None
    largest_mix: Quantity | None = None
    mixing_time: dt.timedelta = dt.timedelta(seconds=0.0)
    one_lot: bool = False
    outside_table: OutsideTable = OutsideTable(activation_energy_joule_per_mole=None, rule="refuse")
    premix_time: dt.timedelta = dt.timedelta(seconds=0.0)
    recoat: tuple[RecoatPoint, ...] = ()
    shelf_life: dt.timedelta | None = None
    vehicle_traffic: tuple[TimePoint, ...] = ()
    void_fraction: float | None = None
    volume_solids: float | None = None
    wet_edge_time: tuple[TimePoint, ...] = ()
    wet_film_maximum: Quantity | None = None
    wet_film_minimum: Quantity | None = None
    working_life: tuple[TimePoint, ...] = ()
    working_life_sample: WorkingLifeSample | None = None


class ProductPage(Answer, frozen=True, kw_only=True):
    """Products in order of their ids."""

    catalogue_revision: int
    next: str | None
    items: tuple[Product, ...]
