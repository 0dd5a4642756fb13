"""Suppliers' terms: bands of freight, and the packs that are to be shipped by mass."""

from filmbuild.catalogue.validate.common import check_unique
from filmbuild.catalogue.wire import CatalogueFile
from filmbuild.errors import Faults
from filmbuild.pipeline.specification import Supplier


def check_suppliers(file: CatalogueFile, faults: Faults) -> None:
    """`faults` stands at the document."""
    here = faults.at("suppliers")
    check_unique(file.suppliers, lambda one: one.id, here, "id")
    check_unique(file.suppliers, lambda one: (one.name, one.currency), here, "name")
    named = {product.supplier for product in file.products}
    for index, supplier in enumerate(file.suppliers):
        if supplier.name not in named:
            detail = f'no product names the supplier "{supplier.name}": write it as products do'
            here.add("unused-supplier", detail, index, "name")
        _check_freight(supplier, here.at(index))
    _check_masses(file, faults.at("packs"))


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


def _check_masses(file: CatalogueFile, faults: Faults) -> None:
    shipping = {one.name for one in file.suppliers if one.freight}
    shipped = {product.id for product in file.products if product.supplier in shipping}
    for index, pack in enumerate(file.packs):
        if pack.product in shipped and pack.gross_mass is None:
            detail = "its supplier ships by gross mass: state that of the filled pack"
            faults.add("no-gross-mass", detail, index, "gross_mass")
