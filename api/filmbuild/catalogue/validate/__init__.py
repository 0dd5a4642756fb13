"""What a catalogue document must satisfy beyond its form: its records have to fit together.

Each fault carries a JSON Pointer into the document.
"""

from filmbuild.catalogue.validate.packs import check_packs, check_parts_sold, check_prices
from filmbuild.catalogue.validate.products import check_products
from filmbuild.catalogue.validate.rates import check_consumables, check_rate_books
from filmbuild.catalogue.validate.suppliers import check_suppliers
from filmbuild.catalogue.validate.systems import check_systems, used_products
from filmbuild.catalogue.validate.taxes import check_taxes
from filmbuild.catalogue.wire import CatalogueFile
from filmbuild.errors import Fault, Faults

__all__ = ["validate", "warnings_of"]


def validate(file: CatalogueFile) -> None:
    """Raises `InvalidInput` with every fault there is."""
    faults = Faults()
    products = {one.id: one for one in file.products}
    check_products(file.products, faults.at("products"))
    check_packs(file.packs, products, faults.at("packs"))
    check_prices(file.prices, {one.id for one in file.packs}, faults.at("prices"))
    check_systems(file.systems, products, faults.at("systems"))
    check_rate_books(file.rate_books, faults.at("rate_books"))
    check_consumables(file.consumables, products, faults.at("consumables"))
    check_taxes(file.taxes, faults.at("taxes"))
    check_suppliers(file, faults)
    faults.raise_if_any("The catalogue is not valid.")


def warnings_of(file: CatalogueFile) -> tuple[Fault, ...]:
    """What may stand in a valid catalogue, but makes an estimate that needs it be refused."""
    sold = {part.product for part in file.packs}
    faults = Faults()
    for index, system in enumerate(file.systems):
        for product, *place in used_products(system):
            if product not in sold:
                faults.add(
                    "no-pack",
                    f'product "{product}" has no pack: estimates of {system.id} that need it are '
                    "refused until one is added",
                    "systems",
                    index,
                    *place,
                )
    check_parts_sold(file.packs, {one.id: one for one in file.products}, faults.at("packs"))
    return faults.found
