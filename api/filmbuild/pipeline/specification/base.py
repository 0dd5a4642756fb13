"""What all catalogue records share, and the words they use."""

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

Fraction = Annotated[float, Meta(ge=0, lt=1)]


OpenFraction = Annotated[float, Meta(gt=0, lt=1)]


PositiveFraction = Annotated[float, Meta(gt=0, le=1)]


Driver = Literal[
    "coated_area",
    "floor_area",
    "vertical_area",
    "machine_grind_area",
    "hand_grind_area",
    "cut_in_area",
    "edge_length",
    "tape_length",
    "crack_length",
    "joint_length",
    "cove_length",
    "spall_area",
    "repair_area",
    "dust_barrier_area",
    "sheeting_area",
    "strip_area",
    "drain_edge_length",
    "removed_volume",
    "coat",
    "mix",
    "coat_mix",
    "repair_mix",
    "worker",
    "shift",
    "visit",
    "job",
]


TaskCode = Literal[
    "set_up",
    "protect",
    "strip_coating",
    "machine_grind",
    "hand_grind",
    "vacuum",
    "chase_cracks",
    "fill_cracks",
    "patch_spalls",
    "fill_joints",
    "grind_repairs",
    "wash",
    "mask",
    "form_cove",
    "place_vertical",
    "place_cut_in",
    "place_field",
    "broadcast",
    "sweep_broadcast",
    "abrade",
    "solvent_wipe",
    "pull_tape",
    "demobilise",
]


Stage = Literal["prepare", "repair", "mask", "coat", "finish", "safety"]


class Record(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Base of all catalogue records."""
