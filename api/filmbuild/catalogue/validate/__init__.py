"""What a catalogue document must satisfy beyond its form: its records have to fit together.

Each fault carries a JSON Pointer into the document.
"""

from collections.abc import Collection, Mapping
from typing import NamedTuple

from filmbuild.catalogue.validate.packs import check_packs, check_parts_sold, check_prices
from filmbuild.catalogue.validate.products import check_products
from filmbuild.catalogue.validate.rates import check_consumables, check_rate_books
from filmbuild.catalogue.validate.suppliers import check_masses, check_suppliers
from filmbuild.catalogue.validate.systems import check_systems, used_products
from filmbuild.catalogue.validate.taxes import check_taxes
from filmbuild.catalogue.wire import CatalogueFile
from filmbuild.errors import Fault, Faults
from filmbuild.pipeline.specification import Product

__all__ = ["Whole", "check_part", "validate", "warnings_of"]


class Whole(NamedTuple):
    """What records of a part of the catalogue may refer to: what is in the whole of it.

    `suppliers` are those that products name, and `shipping` those that ask for freight.
    """

    products: Mapping[str, Product]
    packs: Collection[str]
    suppliers: Collection[str]
    shipping: Collection[str]


def validate(file: CatalogueFile) -> None:
    """Raises `InvalidInput` with every fault there is."""
    faults = Faults()
    whole = Whole(
        products={one.id: one for one in file.products},
        packs={one.id for one in file.packs},
        suppliers={one.supplier for one in file.products},
        shipping={one.name for one in file.suppliers if one.freight},
    )
    check_part(file, whole, faults)
    faults.raise_if_any("The catalogue is not valid.")


def check_part(part: CatalogueFile, whole: Whole, faults: Faults) -> None:
    """Notes what is wrong with the records of `part`, and with what they refer to."""
    check_products(part.products, faults.at("products"))
    check_packs(part.packs, whole.products, faults.at("packs"))
    check_prices(part.prices, whole.packs, faults.at("prices"))
    check_systems(part.systems, whole.products, faults.at("systems"))
    check_rate_books(part.rate_books, faults.at("rate_books"))
    check_consumables(part.consumables, whole.products, faults.at("consumables"))
    check_taxes(part.taxes, faults.at("taxes"))
    check_suppliers(part.suppliers, whole.suppliers, faults.at("suppliers"))
    check_masses(part.packs, whole.products, whole.shipping, faults.at("packs"))


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
