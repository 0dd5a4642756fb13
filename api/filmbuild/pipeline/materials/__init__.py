"""Materials: from area to volume, mixes, packs and consumables."""

from filmbuild.pipeline.materials.consumables import (
    Work,
    areas_by_hardness,
    consumable_lines,
    driver_quantities,
    removed_from,
)
from filmbuild.pipeline.materials.occasions import occasions
from filmbuild.pipeline.materials.stage import plan_materials

__all__ = [
    "Work",
    "areas_by_hardness",
    "consumable_lines",
    "driver_quantities",
    "occasions",
    "plan_materials",
    "removed_from",
]
