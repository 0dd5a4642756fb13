"""What all cautions share: whom they defer to, and which products the job brings to the site."""

from filmbuild.pipeline.results import Takeoff
from filmbuild.pipeline.specification import Catalogue, Product, System

DEFERS = (
    " The product's safety data sheet, local codes and licensed practice stand above this caution."
)


def products_of(
    takeoff: Takeoff, system: System, catalogue: Catalogue, present: frozenset[str]
) -> list[Product]:
    """Those of the layers, of the repairs this site needs, and of the consumables."""
    totals = takeoff.totals
    repairs = system.repairs
    named = [layer.product for layer in system.layers]
    named += [layer.broadcast.product for layer in system.layers if layer.broadcast]
    for product, amount in (
        (repairs.crack_filler, totals.crack_length),
        (repairs.fill_aggregate, totals.crack_length * repairs.aggregate_fill_fraction),
        (repairs.patch_mortar, totals.spall_area),
        (repairs.joint_filler, totals.joint_length),
        (repairs.cove_mortar, totals.cove_length),
    ):
        if product is not None and amount > 0:
            named.append(product)
    named += [
        rule.product
        for rule in catalogue.consumables
        if rule.product is not None and (not rule.tasks or not present.isdisjoint(rule.tasks))
    ]
    return [catalogue.products[name] for name in dict.fromkeys(named) if name in catalogue.products]
