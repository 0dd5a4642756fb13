"""Materials: from area to volume, mixes, packs and consumables."""

from filmbuild.pipeline.materials.consumables import consumable_lines, driver_quantities
from filmbuild.pipeline.materials.crew import crew_pace, working_life
from filmbuild.pipeline.materials.stage import plan_materials

__all__ = [
    "consumable_lines",
    "crew_pace",
    "driver_quantities",
    "plan_materials",
    "working_life",
]
