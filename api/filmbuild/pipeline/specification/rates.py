"""Rate books, consumable rules and tax rules."""

from datetime import date
from typing import Annotated, Literal

from msgspec import Meta

from filmbuild.money import Currency, NonNegativeExact, Percent
from filmbuild.pipeline.site import Identifier, Label
from filmbuild.pipeline.specification.base import (
    Driver,
    Fraction,
    PositiveFraction,
    Record,
    Stage,
    TaskCode,
)
from filmbuild.pipeline.specification.products import ProductRole
from filmbuild.pipeline.substrate import Hardness
from filmbuild.quantities import (
    Area,
    Duration,
    PositiveAirFlow,
    PositiveArea,
    PositiveAreaRate,
    PositiveLength,
    PositiveLengthRate,
    PositivePower,
    PositiveSection,
    PositiveVolume,
    PositiveVolumeRate,
    Temperature,
    Volume,
)

Factor = Literal[
    "hard_concrete",
    "soft_concrete",
    "existing_coating",
    "small_area",
    "steep",
    "hard_access",
    "hot",
    "cold",
]


class LabourClass(Record, frozen=True, kw_only=True):
    """A trade class: its wage per hour, what the employer pays on top, and overtime."""

    id: Identifier
    name: Label
    wage: NonNegativeExact
    burden_percent: Percent
    overtime_multiplier: Annotated[float, Meta(ge=1, le=5)] = 1.5


class Production(Record, frozen=True, kw_only=True):
    """How fast `workers` together do a task, and what it takes beside them.

    Exactly one rate is given, and it decides what drives the task: an area, a length, a volume or
    a count per hour. A task with none takes `set_up` alone. More people than `workers` work as
    further gangs of that size, up to `gangs_maximum`. `dry_for` is the elapsed time that the floor
    then dries, nights included, before anything is placed on it or worked into it. The rate is that
    of a machine or tool of `machine_width`, where it has one.

    `roles` and `layers` restrict it to coats of products of those roles, and to system layers of
    those ids, with the work before and after them. The most specific production of a task counts:
    layers before roles before none. Work outside any layer takes one without restriction. In the
    preparation it may go on at the same time as the task of `beside` that stands next to it.
    """

    task: TaskCode
    method: Label
    driver: Driver
    workers: Annotated[int, Meta(ge=1, le=50)] = 1
    gangs_maximum: Annotated[int, Meta(ge=1, le=50)] = 1
    area_rate: PositiveAreaRate | None = None
    length_rate: PositiveLengthRate | None = None
    volume_rate: PositiveVolumeRate | None = None
    count_per_hour: Annotated[float, Meta(gt=0)] | None = None
    set_up: Duration = Duration(0.0)
    minimum: Duration = Duration(0.0)
    machine_width: PositiveSection | None = None
    dry_for: Duration = Duration(0.0)
    equipment: tuple[Identifier, ...] = ()
    roles: tuple[ProductRole, ...] = ()
    layers: tuple[Identifier, ...] = ()
    beside: tuple[TaskCode, ...] = ()
    factors: dict[Factor, Annotated[float, Meta(gt=0, le=20)]] = {}


class Equipment(Record, frozen=True, kw_only=True):
    """A machine at its own day rate or rental, with the shortest time it is charged for.

    `silica_entry` is the name of the matching row of 29 CFR 1926.1153 Table 1, where dust can rise.
    It draws `power` at `volts` and `phases` from `circuits` of its own (none: it shares those of
    others). `extraction` is the air that must be drawn off where it works, and `air_flow` what it
    draws off itself.
    """

    id: Identifier
    name: Label
    day_rate: NonNegativeExact
    minimum_days: Annotated[int, Meta(ge=0, le=365)] = 1
    silica_entry: Label | None = None
    power: PositivePower | None = None
    volts: Annotated[int, Meta(ge=12, le=1_000)] | None = None
    phases: Literal[1, 3] = 1
    circuits: Annotated[int, Meta(ge=0, le=20)] = 1
    extraction: PositiveAirFlow | None = None
    air_flow: PositiveAirFlow | None = None


class Travel(Record, frozen=True, kw_only=True):
    """What each visit costs before any work is done.

    `mobilisation` is paid for each visit; `hours_per_worker` are paid travel, `per` visit or per
    worked day. A visit ends when no work is done for `visit_ends_after_idle_days` days in a row,
    weekends and closed dates included; left out, the crew comes once and stays. Each worker is
    paid for `minimum_call_out` at least of each visit, travel aside.
    """

    mobilisation: NonNegativeExact
    hours_per_worker: Duration
    per: Literal["visit", "day"] = "visit"
    minimum_call_out: Duration = Duration(0.0)
    visit_ends_after_idle_days: Annotated[int, Meta(ge=1, le=365)] | None = None


class RateBook(Record, frozen=True, kw_only=True):
    """Wages, production rates and machines of the contractor.

    Hours beyond `standard_day` are overtime; a day on which any work is done is paid for
    `minimum_paid_day` at least. Areas below `small_area` take the "small_area" factor, areas whose
    mean slope is `steep_from_percent` or more "steep", surfaces from `hot_from` on "hot", and those
    up to `cold_up_to` "cold". `applicator_soak` is what one roller or brush drinks in each coat before it gives any
    back.
    """

    id: Identifier
    name: Label
    currency: Currency
    classes: Annotated[tuple[LabourClass, ...], Meta(min_length=1)]
    productions: Annotated[tuple[Production, ...], Meta(min_length=1)]
    equipment: tuple[Equipment, ...] = ()
    travel: Travel
    standard_day: Duration = Duration(8 * 3600.0)
    minimum_paid_day: Duration = Duration(0.0)
    hot_from: Temperature = Temperature(30.0)
    cold_up_to: Temperature = Temperature(10.0)
    steep_from_percent: Annotated[float, Meta(gt=0, le=100)] = 5.0
    small_area: Area = Area(0.0)
    applicator_soak: Volume = Volume(0.0)


class ConsumableRule(Record, frozen=True, kw_only=True):
    """How much of something else the job needs: `quantity` for each so much of the driver.

    Exactly one of `per_area`, `per_length`, `per_volume`, `per_count` and `per_area_of` is given, as
    the driver asks. The need, over what is not wasted, is rounded up to whole units, and those to
    whole cartons of `sold_in`. `per_area_of` is by the hardness of the concrete, for what wears on
    it. `grit` is that of an abrasive. `tasks`, where given, must be in the job for the rule to apply: an
    area or a length then counts for each time that one of them is done, and of "repair_mix" only
    the mixes of those repairs count.
    `charged_fraction` is the share of the price that one job bears for things that outlive it.
    `product` is the product that it is an amount of, such as a solvent, for its hazards.
    """

    id: Identifier
    name: Label
    kind: Literal["consumable", "tool", "protective_equipment"]
    stage: Stage
    driver: Driver
    per_area: PositiveArea | None = None
    per_length: PositiveLength | None = None
    per_volume: PositiveVolume | None = None
    per_count: Annotated[float, Meta(gt=0)] | None = None
    per_area_of: dict[Hardness, PositiveArea] | None = None
    waste_fraction: Fraction = 0.0
    sold_in: Annotated[int, Meta(ge=1, le=10_000)] = 1
    grit: Annotated[int, Meta(ge=6, le=10_000)] | None = None
    quantity: Annotated[float, Meta(gt=0)] = 1.0
    minimum: Annotated[int, Meta(ge=0)] = 0
    unit: Label = "each"
    unit_price: NonNegativeExact
    currency: Currency
    charged_fraction: PositiveFraction = 1.0
    tasks: tuple[TaskCode, ...] = ()
    product: Identifier | None = None


TaxCode = Literal["S", "Z", "E", "AE", "K", "G", "O", "L", "M"]
"""Duty or tax category codes of UNTDID 5305, as far as EN 16931 takes them."""


class TaxRule(Record, frozen=True, kw_only=True):
    """A tax of one place: what it is taken on, and from when to when.

    `base` is "sale" where the whole sale is taxed, "sale_of_materials" where only the materials of
    the sale are, or "materials_cost" where the contractor is the consumer of the materials and the
    tax is part of the cost. A rule `on_request` holds for those jobs alone whose terms name it.

    `code` is the category code of UNTDID 5305; without it, "S" is taken at a rate above zero, and
    else what `category` says in words. `exemption_reason` is why nothing is due.
    """

    id: Identifier
    name: Label
    place: Label
    category: Label
    base: Literal["sale", "sale_of_materials", "materials_cost"]
    rate_percent: Percent
    effective_from: date
    effective_to: date | None = None
    code: TaxCode | None = None
    scheme: Literal["vat", "sales_tax"] = "sales_tax"
    exemption_reason: Label | None = None
    on_request: bool = False
