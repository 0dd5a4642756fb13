"""Suppliers' terms: bands of freight, and the packs that are to be shipped by mass."""

from collections.abc import Collection, Mapping, Sequence

from filmbuild.catalogue.validate.common import check_unique
from filmbuild.errors import Faults
from filmbuild.pipeline.specification import Pack, Product, Supplier


def check_suppliers(suppliers: Sequence[Supplier], named: Collection[str], faults: Faults) -> None:
    """`named` are the suppliers that products name."""
    check_unique(suppliers, lambda one: one.id, faults, "id")
    check_unique(suppliers, lambda one: (one.name, one.currency), faults, "name")
    for index, supplier in enumerate(suppliers):
        if supplier.name not in named:
            detail = f'no product names the supplier "{supplier.name}": write it as products do'
            faults.add("unused-supplier", detail, index, "name")
        _check_freight(supplier, faults.at(index))


def _check_freight(supplier: Supplier, faults: Faults) -> None:
    mass, price = 0.0, None
    for index, band in enumerate(supplier.freight):
        at = faults.at("freight", index)
        if band.up_to <= mass:
            detail = f"each band goes up to more than the one before it: more than {mass:g} kg"
            at.add("bands-not-rising", detail, "up_to")
        if price is not None and band.price < price:
            detail = f"a heavier order ships for no less than a lighter one: {price:f} or more"
            at.add("freight-falling", detail, "price")
        mass, price = band.up_to, band.price
    if supplier.freight and supplier.freight_beyond is None:
        detail = "say what each further mass costs beyond the last band"
        faults.add("no-freight-beyond", detail, "freight_beyond")
    if supplier.freight_beyond is not None and not supplier.freight:
        detail = "give a band of freight first, for it to go beyond"
        faults.add("no-freight-band", detail, "freight")


def check_masses(
    packs: Sequence[Pack],
    products: Mapping[str, Product],
    shipping: Collection[str],
    faults: Faults,
) -> None:
    """`shipping` are the suppliers that ask for freight."""
    for index, pack in enumerate(packs):
        product = products.get(pack.product)
        if product is not None and product.supplier in shipping and pack.gross_mass is None:
            detail = "its supplier ships by gross mass: state that of the filled pack"
            faults.add("no-gross-mass", detail, index, "gross_mass")
