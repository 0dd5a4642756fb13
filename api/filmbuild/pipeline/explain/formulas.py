"""The rules' equations in the names of their traces' inputs."""

from collections.abc import Mapping

_BROADCAST = {
    "placed": "rate * floor",
    "swept": "placed * swept_fraction",
    "retained": "placed - swept",
    "reclaimed": "placed * reclaimed_fraction",
    "ordered": "placed - reclaimed_before",
}
_COUNT = "max(ceil({need} / sold_in) * sold_in, minimum)"
_NEED = "* occasions * quantity / (1 - waste_fraction)"

FORMULAS: Mapping[str, Mapping[str, str]] = {
    "materials.coated-floor": {"floor": "floor_of_all_areas"},
    "materials.coated-verticals": {"vertical": "verticals_of_all_areas"},
    "materials.loss-stated": {"loss_fraction": "loss_fraction"},
    "materials.wet-film": {"wet_film": "dry_film * (1 + thinner_fraction) / volume_solids"},
    "materials.wet-film-stated": {"wet_film": "wet_film"},
    "materials.wet-film-from-spread-rate": {"wet_film": "1 / spread_rate"},
    "materials.dry-film": {"dry_film": "wet_film * volume_solids / (1 + thinner_fraction)"},
    "materials.dry-film-stated": {"dry_film": "dry_film"},
    "materials.spread-rate-stated": {"spread_rate": "spread_rate"},
    "materials.spread-rate": {"spread_rate": "1 / wet_film"},
    "materials.film-volume": {"film_volume": "floor * wet_film + vertical * vertical_wet_film"},
    "materials.texture": {"texture_volume": "mean_texture_depth * floor * texture_fill"},
    "materials.absorption": {
        "absorption_volume": "low * low_surface + medium * medium_surface + high * high_surface"
    },
    "materials.grain-voids": {"grain_volume": "grain_size * void_fraction * grain_fill * floor"},
    "materials.net-volume": {
        "net_volume": "floor_film + vertical_film + texture + absorption + grains"
    },
    "materials.void-found": {"void_volume": "void_volume"},
    "materials.void-volume": {"net_volume": "void_volume * (1 - aggregate_fill_fraction)"},
    "materials.void-mass": {
        "net_volume": "void_volume * (1 - aggregate_fill_fraction) * mass_per_void / mixed_density"
    },
    "materials.soak": {"soak": "applicators * applicator_soak"},
    "materials.residue": {"residue": "mixes * container_residue"},
    "materials.ordered-volume": {
        "ordered_volume": "net_volume / (1 - loss_fraction) + residue + soak"
    },
    "materials.crack-aggregate": {
        "placed": "void_volume * aggregate_fill_fraction * density",
        "ordered": "placed / (1 - loss_fraction)",
        "retained": "placed",
    },
    "materials.broadcast": _BROADCAST,
    "materials.broadcast-to-refusal": {
        **_BROADCAST,
        "placed": (
            "wet_film / void_fraction * (1 - void_fraction) * density / (1 - swept_fraction)"
            " * floor"
        ),
    },
    "materials.consumable": {"count": _COUNT.format(need=f"(driver_quantity / per {_NEED})")},
    "materials.wear": {
        "count": _COUNT.format(
            need="((soft_area / soft_life + medium_area / medium_life + hard_area / hard_life)"
            f" {_NEED})"
        )
    },
}
INSIDE: Mapping[str, tuple[str, str | None]] = {
    "net_volume": ("net_volume", None),
    "residue": ("residue", None),
    "soak": ("soak", None),
    "floor_film": ("film_volume", "floor * wet_film"),
    "vertical_film": ("film_volume", "vertical * vertical_wet_film"),
    "texture": ("texture_volume", None),
    "absorption": ("absorption_volume", None),
    "grains": ("grain_volume", None),
}
"""Inputs that are themselves explained by another trace of the coat, or by a part of its formula."""
PART_VOLUME = "ordered_volume / (1 + thinner_fraction) * part_ratio / sum_of_ratios"
PART_MASS = f"{PART_VOLUME} * part_density"
