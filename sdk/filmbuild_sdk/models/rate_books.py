"""What the service is sent and what it answers: rate books.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.values import Answer, Choice, Input, Quantity


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
