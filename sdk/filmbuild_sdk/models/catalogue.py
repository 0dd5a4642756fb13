"""What the service is sent and what it answers: catalogue.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any, Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.models.common import PriceBreak
from filmbuild_sdk.values import Answer, Choice, Input, Moment, Money, Quantity


class RecordPatch(Input, frozen=True, kw_only=True):
    """A merge patch (RFC 7396) of one record as it was written."""

    kind: Choice[
        Literal["consumables", "packs", "products", "rate_books", "suppliers", "systems", "taxes"]
    ]
    id: str
    patch: Mapping[str, Any]


class ConsumableRuleInput(Input, frozen=True, kw_only=True):
    """A consumable rule to be written; its members are those of ConsumableRule."""

    id: str
    name: str
    kind: Choice[Literal["consumable", "protective_equipment", "tool"]]
    stage: Choice[Literal["coat", "finish", "mask", "prepare", "repair", "safety"]]
    driver: Choice[
        Literal[
            "coat",
            "coat_mix",
            "coated_area",
            "cove_length",
            "crack_length",
            "cut_in_area",
            "drain_edge_length",
            "dust_barrier_area",
            "edge_length",
            "floor_area",
            "hand_grind_area",
            "job",
            "joint_length",
            "machine_grind_area",
            "mix",
            "removed_volume",
            "repair_area",
            "repair_mix",
            "sheeting_area",
            "shift",
            "spall_area",
            "strip_area",
            "tape_length",
            "vertical_area",
            "visit",
            "worker",
        ]
    ]
    unit_price: Decimal
    currency: str
    charged_fraction: float | UnsetType = UNSET  # left out: 1.0
    grit: int | None = None
    minimum: int | UnsetType = UNSET  # left out: 0
    per_area: Quantity | str | None = None
    per_area_of: Mapping[str, Quantity | str] | None = None
    per_count: float | None = None
    per_length: Quantity | str | None = None
    per_volume: Quantity | str | None = None
    product: str | None = None
    quantity: float | UnsetType = UNSET  # left out: 1.0
    sold_in: int | UnsetType = UNSET  # left out: 1
    tasks: Sequence[
        Choice[
            Literal[
                "abrade",
                "broadcast",
                "chase_cracks",
                "demobilise",
                "fill_cracks",
                "fill_joints",
                "form_cove",
                "grind_repairs",
                "hand_grind",
                "machine_grind",
                "mask",
                "patch_spalls",
                "place_cut_in",
                "place_field",
                "place_vertical",
                "protect",
                "pull_tape",
                "set_up",
                "solvent_wipe",
                "strip_coating",
                "sweep_broadcast",
                "vacuum",
                "wash",
            ]
        ]
    ] = ()
    unit: str | UnsetType = UNSET  # left out: "each"
    waste_fraction: float | UnsetType = UNSET  # left out: 0.0


class Content(Input, frozen=True, kw_only=True):
    """What a pack holds of one part: exactly one of volume and mass."""

    part: str
    mass: Quantity | str | None = None
    volume: Quantity | str | None = None


class PackInput(Input, frozen=True, kw_only=True):
    """A pack to be written; what it costs is said by prices."""

    id: str
    product: str
    name: str
    contents: Sequence[Content]
    gross_mass: Quantity | str | None = None
    minimum_order: int | UnsetType = UNSET  # left out: 1


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


class LabourClass(Input, frozen=True, kw_only=True):
    """A trade class: its wage per hour, what the employer pays on top, and overtime."""

    id: str
    name: str
    wage: Decimal
    burden_percent: Decimal
    overtime_multiplier: float | UnsetType = UNSET  # left out: 1.5


class Equipment(Input, frozen=True, kw_only=True):
    """A machine at its own day rate or rental, with the shortest time it is charged for.

    `silica_entry` is the name of the matching row of 29 CFR 1926.1153 Table 1, where dust can rise.
    It draws `power` at `volts` and `phases` from `circuits` of its own (none: it shares those of
    others). `extraction` is the air that must be drawn off where it works, and `air_flow` what it
    draws off itself.
    """

    id: str
    name: str
    day_rate: Decimal
    air_flow: Quantity | str | None = None
    circuits: int | UnsetType = UNSET  # left out: 1
    extraction: Quantity | str | None = None
    minimum_days: int | UnsetType = UNSET  # left out: 1
    phases: Literal[1, 3] | UnsetType = UNSET  # left out: 1
    power: Quantity | str | None = None
    silica_entry: str | None = None
    volts: int | None = None


class Production(Input, frozen=True, kw_only=True):
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

    task: Choice[
        Literal[
            "abrade",
            "broadcast",
            "chase_cracks",
            "demobilise",
            "fill_cracks",
            "fill_joints",
            "form_cove",
            "grind_repairs",
            "hand_grind",
            "machine_grind",
            "mask",
            "patch_spalls",
            "place_cut_in",
            "place_field",
            "place_vertical",
            "protect",
            "pull_tape",
            "set_up",
            "solvent_wipe",
            "strip_coating",
            "sweep_broadcast",
            "vacuum",
            "wash",
        ]
    ]
    method: str
    driver: Choice[
        Literal[
            "coat",
            "coat_mix",
            "coated_area",
            "cove_length",
            "crack_length",
            "cut_in_area",
            "drain_edge_length",
            "dust_barrier_area",
            "edge_length",
            "floor_area",
            "hand_grind_area",
            "job",
            "joint_length",
            "machine_grind_area",
            "mix",
            "removed_volume",
            "repair_area",
            "repair_mix",
            "sheeting_area",
            "shift",
            "spall_area",
            "strip_area",
            "tape_length",
            "vertical_area",
            "visit",
            "worker",
        ]
    ]
    area_rate: Quantity | str | None = None
    beside: Sequence[
        Choice[
            Literal[
                "abrade",
                "broadcast",
                "chase_cracks",
                "demobilise",
                "fill_cracks",
                "fill_joints",
                "form_cove",
                "grind_repairs",
                "hand_grind",
                "machine_grind",
                "mask",
                "patch_spalls",
                "place_cut_in",
                "place_field",
                "place_vertical",
                "protect",
                "pull_tape",
                "set_up",
                "solvent_wipe",
                "strip_coating",
                "sweep_broadcast",
                "vacuum",
                "wash",
            ]
        ]
    ] = ()
    count_per_hour: float | None = None
    dry_for: dt.timedelta | UnsetType = UNSET  # left out: "PT0S"
    equipment: Sequence[str] = ()
    factors: Mapping[str, float] = {}
    gangs_maximum: int | UnsetType = UNSET  # left out: 1
    layers: Sequence[str] = ()
    length_rate: Quantity | str | None = None
    machine_width: Quantity | str | None = None
    minimum: dt.timedelta | UnsetType = UNSET  # left out: "PT0S"
    roles: Sequence[
        Choice[
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
    ] = ()
    set_up: dt.timedelta | UnsetType = UNSET  # left out: "PT0S"
    volume_rate: Quantity | str | None = None
    workers: int | UnsetType = UNSET  # left out: 1


class Travel(Input, frozen=True, kw_only=True):
    """What each visit costs before any work is done.

    `mobilisation` is paid for each visit; `hours_per_worker` are paid travel, `per` visit or per
    worked day. A visit ends when no work is done for `visit_ends_after_idle_days` days in a row,
    weekends and closed dates included; left out, the crew comes once and stays. Each worker is
    paid for `minimum_call_out` at least of each visit, travel aside.
    """

    mobilisation: Decimal
    hours_per_worker: dt.timedelta
    minimum_call_out: dt.timedelta | UnsetType = UNSET  # left out: "PT0S"
    per: Choice[Literal["day", "visit"]] | UnsetType = UNSET  # left out: "visit"
    visit_ends_after_idle_days: int | None = None


class RateBookInput(Input, frozen=True, kw_only=True):
    """A rate book to be written; its members are those of RateBook."""

    id: str
    name: str
    currency: str
    classes: Sequence[LabourClass]
    productions: Sequence[Production]
    travel: Travel
    applicator_soak: Quantity | str | UnsetType = UNSET  # left out: {"unit": "L", "value": 0.0}
    cold_up_to: Quantity | str | UnsetType = UNSET  # left out: {"unit": "degC", "value": 10.0}
    equipment: Sequence[Equipment] = ()
    hot_from: Quantity | str | UnsetType = UNSET  # left out: {"unit": "degC", "value": 30.0}
    minimum_paid_day: dt.timedelta | UnsetType = UNSET  # left out: "PT0S"
    small_area: Quantity | str | UnsetType = UNSET  # left out: {"unit": "m2", "value": 0.0}
    standard_day: dt.timedelta | UnsetType = UNSET  # left out: "PT8H"
    steep_from_percent: float | UnsetType = UNSET  # left out: 5.0


class FreightBand(Input, frozen=True, kw_only=True):
    """What an order of up to so much gross mass is shipped for."""

    up_to: Quantity | str
    price: Decimal


class FreightBeyond(Input, frozen=True, kw_only=True):
    """What each started further mass costs on top of the last band."""

    each: Quantity | str
    price: Decimal


class SupplierInput(Input, frozen=True, kw_only=True):
    """A supplier's terms to be written; its members are those of Supplier."""

    id: str
    name: str
    currency: str
    freight: Sequence[FreightBand] = ()
    freight_beyond: FreightBeyond | None = None
    minimum_order: Decimal | UnsetType = UNSET  # left out: "0"


class Broadcast(Input, frozen=True, kw_only=True):
    """Aggregate thrown into the wet coat: at a stated rate, or until no more is taken up.

    To refusal, a bed of grains holds as much as has its voids filled by the wet film, and
    `swept_fraction` of all that is thrown is swept off. `reclaimed_fraction`, of all that is
    thrown too, is the part of it that can be used again, by later lifts. Left out, what is swept
    off is what is reclaimed. Two lifts are two layers, each with a broadcast of its own.
    """

    product: str
    rate: Quantity | str | None = None
    reclaimed_fraction: float | UnsetType = UNSET  # left out: 0.0
    swept_fraction: float | None = None
    to_refusal: bool | UnsetType = UNSET  # left out: false


class Layer(Input, frozen=True, kw_only=True):
    """One coat of a system: exactly one of dry film, wet film and spread rate.

    `vertical` is the film on verticals in the same measure: thickness as `wet_film` or `dry_film`
    is, or absent where the coat stays off verticals. `texture_fill` is the share of the surface
    texture that the coat fills; it counts for the first coat on the concrete alone. `grain_fill` is
    the share of the voids among the topmost grains of the broadcast below that the coat fills, on
    top of its film.
    """

    id: str
    name: str
    product: str
    after: Sequence[
        Choice[
            Literal[
                "abrade",
                "broadcast",
                "chase_cracks",
                "demobilise",
                "fill_cracks",
                "fill_joints",
                "form_cove",
                "grind_repairs",
                "hand_grind",
                "machine_grind",
                "mask",
                "patch_spalls",
                "place_cut_in",
                "place_field",
                "place_vertical",
                "protect",
                "pull_tape",
                "set_up",
                "solvent_wipe",
                "strip_coating",
                "sweep_broadcast",
                "vacuum",
                "wash",
            ]
        ]
    ] = ()
    before: Sequence[
        Choice[
            Literal[
                "abrade",
                "broadcast",
                "chase_cracks",
                "demobilise",
                "fill_cracks",
                "fill_joints",
                "form_cove",
                "grind_repairs",
                "hand_grind",
                "machine_grind",
                "mask",
                "patch_spalls",
                "place_cut_in",
                "place_field",
                "place_vertical",
                "protect",
                "pull_tape",
                "set_up",
                "solvent_wipe",
                "strip_coating",
                "sweep_broadcast",
                "vacuum",
                "wash",
            ]
        ]
    ] = ()
    broadcast: Broadcast | None = None
    dry_film: Quantity | str | None = None
    grain_fill: float | None = None
    loss_fraction: float | UnsetType = UNSET  # left out: 0.05
    spread_rate: Quantity | str | None = None
    texture_fill: float | UnsetType = UNSET  # left out: 1.0
    thinner_fraction: float | UnsetType = UNSET  # left out: 0.0
    vertical: Quantity | str | None = None
    wet_film: Quantity | str | None = None


class MoistureLimits(Input, frozen=True, kw_only=True):
    """Highest readings at which the system may be laid."""

    age_days: int | UnsetType = UNSET  # left out: 28
    emission: Quantity | str | None = None
    relative_humidity_percent: float | None = None


class Repairs(Input, frozen=True, kw_only=True):
    """Which products fill what the takeoff finds; a site that needs a missing one is refused."""

    aggregate_fill_fraction: float | UnsetType = UNSET  # left out: 0.0
    cove_mortar: str | None = None
    crack_filler: str | None = None
    fill_aggregate: str | None = None
    joint_filler: str | None = None
    loss_fraction: float | UnsetType = UNSET  # left out: 0.05
    patch_mortar: str | None = None


class SystemInput(Input, frozen=True, kw_only=True):
    """A coating system to be written; its members are those of System."""

    id: str
    name: str
    preparation: Sequence[
        Choice[
            Literal[
                "abrade",
                "broadcast",
                "chase_cracks",
                "demobilise",
                "fill_cracks",
                "fill_joints",
                "form_cove",
                "grind_repairs",
                "hand_grind",
                "machine_grind",
                "mask",
                "patch_spalls",
                "place_cut_in",
                "place_field",
                "place_vertical",
                "protect",
                "pull_tape",
                "set_up",
                "solvent_wipe",
                "strip_coating",
                "sweep_broadcast",
                "vacuum",
                "wash",
            ]
        ]
    ]
    layers: Sequence[Layer]
    description: str | UnsetType = UNSET  # left out: ""
    moisture: MoistureLimits | UnsetType = UNSET
    profile_maximum: int | UnsetType = UNSET  # left out: 3
    profile_minimum: int | UnsetType = UNSET  # left out: 2
    repairs: Repairs | UnsetType = UNSET
    wet_slip_resistance: float | None = None


class TaxRuleInput(Input, frozen=True, kw_only=True):
    """A tax rule to be written; its members are those of TaxRule."""

    id: str
    name: str
    place: str
    category: str
    base: Choice[Literal["materials_cost", "sale", "sale_of_materials"]]
    rate_percent: Decimal
    effective_from: dt.date
    code: Choice[Literal["AE", "E", "G", "K", "L", "M", "O", "S", "Z"]] | None = None
    effective_to: dt.date | None = None
    exemption_reason: str | None = None
    on_request: bool | UnsetType = UNSET  # left out: false
    scheme: Choice[Literal["sales_tax", "vat"]] | UnsetType = UNSET  # left out: "sales_tax"


class RecordLists(Input, frozen=True, kw_only=True):
    """Records that are to be as they are written here, whether they are there already or not."""

    consumables: Sequence[ConsumableRuleInput] = ()
    packs: Sequence[PackInput] = ()
    products: Sequence[ProductInput] = ()
    rate_books: Sequence[RateBookInput] = ()
    suppliers: Sequence[SupplierInput] = ()
    systems: Sequence[SystemInput] = ()
    taxes: Sequence[TaxRuleInput] = ()


class RecordName(Input, frozen=True, kw_only=True):
    """One record of the catalogue."""

    kind: Choice[
        Literal["consumables", "packs", "products", "rate_books", "suppliers", "systems", "taxes"]
    ]
    id: str


class CatalogueChanges(Input, frozen=True, kw_only=True):
    """Changes across kinds that are made together, as one revision, or not at all.

    Each record may stand once. They are checked as they fit together in the end, in whatever order.
    """

    catalogue_revision: int
    check_only: bool | UnsetType = UNSET  # left out: false
    note: str | UnsetType = UNSET  # left out: "Several changes"
    patch: Sequence[RecordPatch] = ()
    put: RecordLists | UnsetType = UNSET
    retire: Sequence[RecordName] = ()


class PackPrice(Input, frozen=True, kw_only=True):
    """A pack's price from a date on, for customers of a `tier`; without one, for all others.

    `breaks` hold for all units: an order of at least so many packs pays their price for each.
    """

    pack: str
    amount: Decimal
    currency: str
    effective_from: dt.date
    breaks: Sequence[PriceBreak] = ()
    tier: str | UnsetType = UNSET  # left out: ""


class CatalogueImport(Input, frozen=True, kw_only=True):
    """A catalogue, or a part of one. `name` says what it is, for the history.

    Prices are only ever added: one of the same pack, currency and day corrects the one before.
    """

    name: str
    consumables: Sequence[ConsumableRuleInput] = ()
    packs: Sequence[PackInput] = ()
    prices: Sequence[PackPrice] = ()
    products: Sequence[ProductInput] = ()
    rate_books: Sequence[RateBookInput] = ()
    suppliers: Sequence[SupplierInput] = ()
    systems: Sequence[SystemInput] = ()
    taxes: Sequence[TaxRuleInput] = ()


class FieldChange(Answer, frozen=True, kw_only=True):
    """One field, by a JSON Pointer into the record as it was written ("" is the whole of it).

    Without `was` it is new, without `now` it is gone. Lists are compared place by place.
    """

    pointer: str
    now: Any | None = None
    was: Any | None = None


class RecordChange(Answer, frozen=True, kw_only=True):
    """What becomes of one record, field by field; of prices, `id` is that of the pack."""

    kind: str
    id: str
    action: str
    fields: tuple[FieldChange, ...]


class Counts(Answer, frozen=True, kw_only=True):
    """Records of one kind. Prices are never retired: those no longer named are unchanged."""

    changed: int = 0
    new: int = 0
    retired: int = 0
    unchanged: int = 0


class ChangesReport(Answer, frozen=True, kw_only=True):
    """What was changed from revision `based_on`, or would be where it was only checked.

    `revision` is the one that was made; null where nothing differs, or it was only checked.
    `counts` are by kind, of those where something differs.
    """

    revision: int | None
    based_on: int
    checked_only: bool
    counts: dict[str, Counts]
    changes: tuple[RecordChange, ...]


class ConsumableRule(Answer, frozen=True, kw_only=True):
    """How much of something else the job needs: `quantity` for each so much of the driver.

    Exactly one of `per_area`, `per_length`, `per_volume`, `per_count` and `per_area_of` is given,
    as
    the driver asks. The need, over what is not wasted, is rounded up to whole units, and those to
    whole cartons of `sold_in`. `per_area_of` is by the hardness of the concrete, for what wears on
    it. `grit` is that of an abrasive. `tasks`, where given, must be in the job for the rule to
    apply: an
    area or a length then counts for each time that one of them is done, and of "repair_mix" only
    the mixes of those repairs count.
    `charged_fraction` is the share of the price that one job bears for things that outlive it.
    `product` is the product that it is an amount of, such as a solvent, for its hazards.
    """

    id: str
    name: str
    kind: str
    stage: str
    driver: str
    unit_price: Decimal
    currency: str
    charged_fraction: float = 1.0
    grit: int | None = None
    minimum: int = 0
    per_area: Quantity | None = None
    per_area_of: dict[str, Quantity] | None = None
    per_count: float | None = None
    per_length: Quantity | None = None
    per_volume: Quantity | None = None
    product: str | None = None
    quantity: float = 1.0
    sold_in: int = 1
    tasks: tuple[str, ...] = ()
    unit: str = "each"
    waste_fraction: float = 0.0


class ConsumableRulePage(Answer, frozen=True, kw_only=True):
    """Consumable rules in order of their ids."""

    catalogue_revision: int
    next: str | None
    items: tuple[ConsumableRule, ...]


class CurrentRevision(Answer, frozen=True, kw_only=True):
    """The newest revision, and how many records of each kind it holds."""

    revision: int
    created_at: Moment
    note: str
    records: dict[str, int]


class PackRecord(Answer, frozen=True, kw_only=True):
    """A pack; `price` is null where it cannot be bought on that day in that currency."""

    id: str
    product: str
    name: str
    contents: tuple[Content, ...]
    minimum_order: int
    gross_mass: Quantity | None
    price: Money | None
    breaks: tuple[PriceBreak, ...]
    price_since: dt.date | None
    priced_on: dt.date


class PackPage(Answer, frozen=True, kw_only=True):
    """Packs in order of their ids."""

    catalogue_revision: int
    next: str | None
    items: tuple[PackRecord, ...]


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


class RateBook(Answer, frozen=True, kw_only=True):
    """Wages, production rates and machines of the contractor.

    Hours beyond `standard_day` are overtime; a day on which any work is done is paid for
    `minimum_paid_day` at least. Areas below `small_area` take the "small_area" factor, areas whose
    mean slope is `steep_from_percent` or more "steep", surfaces from `hot_from` on "hot", and those
    up to `cold_up_to` "cold". `applicator_soak` is what one roller or brush drinks in each coat
    before it gives any
    back.
    """

    id: str
    name: str
    currency: str
    classes: tuple[LabourClass, ...]
    productions: tuple[Production, ...]
    travel: Travel
    applicator_soak: Quantity = Quantity(0.0, "L")
    cold_up_to: Quantity = Quantity(10.0, "degC")
    equipment: tuple[Equipment, ...] = ()
    hot_from: Quantity = Quantity(30.0, "degC")
    minimum_paid_day: dt.timedelta = dt.timedelta(seconds=0.0)
    small_area: Quantity = Quantity(0.0, "m2")
    standard_day: dt.timedelta = dt.timedelta(seconds=28800.0)
    steep_from_percent: float = 5.0


class RateBookPage(Answer, frozen=True, kw_only=True):
    """Rate books in order of their ids."""

    catalogue_revision: int
    next: str | None
    items: tuple[RateBook, ...]


class RecordEvent(Answer, frozen=True, kw_only=True):
    """What one revision did to the record: who made it and when, and each field that changed."""

    revision: int
    created_at: Moment
    author: str
    note: str
    action: str
    fields: tuple[FieldChange, ...]


class RecordHistoryPage(Answer, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[RecordEvent, ...]
    next: str | None


class RevisionRecord(Answer, frozen=True, kw_only=True):
    """One revision; `changes` says by kind of record what it changed."""

    revision: int
    created_at: Moment
    author: str
    note: str
    changes: dict[str, Counts]


class RevisionPage(Answer, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[RevisionRecord, ...]
    next: str | None


class Supplier(Answer, frozen=True, kw_only=True):
    """The terms of a supplier in one currency; `name` is what its products call it.

    `freight` bands rise in mass and do not fall in price; without any, orders ship free. An order
    of packs for less than `minimum_order` is charged as much.
    """

    id: str
    name: str
    currency: str
    freight: tuple[FreightBand, ...] = ()
    freight_beyond: FreightBeyond | None = None
    minimum_order: Decimal = Decimal(0)


class SupplierPage(Answer, frozen=True, kw_only=True):
    """Suppliers' terms in order of their ids."""

    catalogue_revision: int
    next: str | None
    items: tuple[Supplier, ...]


class System(Answer, frozen=True, kw_only=True):
    """A floor build: preparation, ordered layers from the concrete up, and repair products."""

    id: str
    name: str
    preparation: tuple[str, ...]
    layers: tuple[Layer, ...]
    description: str = ""
    moisture: MoistureLimits = MoistureLimits(
        age_days=28, emission=None, relative_humidity_percent=None
    )
    profile_maximum: int = 3
    profile_minimum: int = 2
    repairs: Repairs = Repairs(
        aggregate_fill_fraction=0.0,
        cove_mortar=None,
        crack_filler=None,
        fill_aggregate=None,
        joint_filler=None,
        loss_fraction=0.05,
        patch_mortar=None,
    )
    wet_slip_resistance: float | None = None


class SystemPage(Answer, frozen=True, kw_only=True):
    """Coating systems in order of their ids."""

    catalogue_revision: int
    next: str | None
    items: tuple[System, ...]


class TaxRule(Answer, frozen=True, kw_only=True):
    """A tax of one place: what it is taken on, and from when to when.

    `base` is "sale" where the whole sale is taxed, "sale_of_materials" where only the materials of
    the sale are, or "materials_cost" where the contractor is the consumer of the materials and the
    tax is part of the cost. A rule `on_request` holds for those jobs alone whose terms name it.

    `code` is the category code of UNTDID 5305; without it, "S" is taken at a rate above zero, and
    else what `category` says in words. `exemption_reason` is why nothing is due.
    """

    id: str
    name: str
    place: str
    category: str
    base: str
    rate_percent: Decimal
    effective_from: dt.date
    code: str | None = None
    effective_to: dt.date | None = None
    exemption_reason: str | None = None
    on_request: bool = False
    scheme: str = "sales_tax"


class TaxRulePage(Answer, frozen=True, kw_only=True):
    """Tax rules in order of their ids."""

    catalogue_revision: int
    next: str | None
    items: tuple[TaxRule, ...]
