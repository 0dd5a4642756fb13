"""Hazards of the work as planned: the usual caution, its published source, and who decides.

A caution is never a pass. What the product's safety data sheet, local codes or a licensed person
say stands above it.
"""

from filmbuild.pipeline.cautions.common import products_of
from filmbuild.pipeline.cautions.floor import floor_cautions, slip
from filmbuild.pipeline.cautions.products import flammable_category, product_cautions
from filmbuild.pipeline.cautions.silica import handheld_hours, machine_silica, material_silica
from filmbuild.pipeline.results import Labour, Takeoff
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.tasks_present import task_codes
from filmbuild.pipeline.trace import Caution

__all__ = ["cautions_of", "flammable_category", "handheld_hours"]


def cautions_of(
    takeoff: Takeoff,
    labour: Labour | None,
    selection: Selection,
    catalogue: Catalogue,
    added: frozenset[str] = frozenset(),
) -> tuple[Caution, ...]:
    """Every caution the job calls for, in a fixed order.

    `added` are the tasks that its dates call for, beyond those of the system and the site.
    """
    present = task_codes(takeoff, selection.system) | added
    products = products_of(takeoff, selection.system, catalogue, present)
    return (
        *machine_silica(present, labour, selection, catalogue),
        *material_silica(products),
        *product_cautions(products),
        *floor_cautions(takeoff, selection.system),
        *slip(selection.system),
    )
