"""Materials: from area to volume, mixes, packs and consumables."""

from filmbuild.pipeline.materials.consumables import Work, consumable_lines, driver_quantities
from filmbuild.pipeline.materials.occasions import occasions
from filmbuild.pipeline.materials.stage import plan_materials

__all__ = [
    "Work",
    "consumable_lines",
    "driver_quantities",
    "occasions",
    "plan_materials",
]
