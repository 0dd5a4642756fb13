"""What the service is sent and what it answers: consumable rules.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.values import Answer, Choice, Input, Quantity


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
