"""What the service is sent and what it answers: systems.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from collections.abc import Sequence
from typing import Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.values import Answer, Choice, Input, Quantity


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
