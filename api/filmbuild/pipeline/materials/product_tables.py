"""Whether the products' tables reach to the temperature of the floor."""

from collections.abc import Iterable

from filmbuild.errors import Faults
from filmbuild.pipeline.job import Conditions
from filmbuild.pipeline.specification import Product

_TIMES = ("working_life", "wet_edge_time", "recoat", "foot_traffic", "vehicle_traffic", "full_cure")


def check_tables(products: Iterable[Product], conditions: Conditions, faults: Faults) -> None:
    """Adds a fault for each product that states no times there; `faults` is rooted at the job."""
    floor = conditions.surface_temperature
    for product in dict.fromkeys(products):
        if product.outside_table.rule != "refuse":
            continue
        tables = [table for name in _TIMES if (table := getattr(product, name))]
        least = max((table[0].temperature for table in tables), default=floor)
        most = min((table[-1].temperature for table in tables), default=floor)
        if not least <= floor <= most:
            faults.add(
                "outside-product-table",
                f"{product.id} states its times from {least:g} to {most:g} degC, and no rule "
                f"beyond: give a surface temperature in between, or choose another system",
                "conditions",
                "surface_temperature",
            )
