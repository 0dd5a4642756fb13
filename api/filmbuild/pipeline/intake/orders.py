"""Whether the orders that were handed in hang together with the purchases, and with the terms."""

from decimal import Decimal

from filmbuild.money import rounded
from filmbuild.pipeline.intake.known import Known
from filmbuild.pipeline.intake.marks import Marks
from filmbuild.pipeline.results import Materials, SupplierOrder


def check_orders(materials: Materials, currency: str, marks: Marks) -> None:
    """`marks` stands at the list."""
    marks.unique((one.supplier for one in materials.orders), field="supplier")
    bought = {one.product: one for one in materials.purchases}
    listed = [name for one in materials.orders for name in one.products]
    for index, one in enumerate(materials.orders):
        at = marks.at(index)
        unknown = [name for name in one.products if name not in bought]
        if unknown or any(listed.count(name) > 1 for name in one.products):
            detail = "each is among the purchases, and in one order"
            at.add("order-mismatch", detail, "products")
            continue
        of_order = [bought[name] for name in one.products]
        mass = sum([purchase.gross_mass for purchase in of_order])
        at.same(
            one.gross_mass, mass, "order-mismatch", "the mass is that of its packs", "gross_mass"
        )
        for field in ("freight", "short_of_minimum"):
            at.paid(getattr(one, field), currency, field)
        goods = sum((purchase.cost.amount for purchase in of_order), Decimal(0))
        _check_sums(one, goods, currency, at)


def _check_sums(one: SupplierOrder, goods: Decimal, currency: str, marks: Marks) -> None:
    cost = goods + one.freight.amount + one.short_of_minimum.amount
    expected = (
        ("goods", goods, "its packs cost"),
        ("cost", cost, "packs, freight and what is charged up to the minimum cost"),
    )
    for field, amount, rule in expected:
        found = getattr(one, field)
        if marks.currency(found, currency, field) and found.amount != amount:
            detail = f"{rule} {amount:f} together, and not {found.amount:f}"
            marks.add("amount-mismatch", detail, field, "amount")


def check_orders_known(materials: Materials, known: Known, marks: Marks) -> None:
    """`marks` stands at the list. On another revision of the catalogue terms may have changed."""
    catalogue = known.catalogue
    if not known.same_revision:
        return
    expected: dict[str, list[str]] = {}
    for one in materials.purchases:
        product = catalogue.products.get(one.product)
        if one.packs and product is not None and product.supplier in catalogue.suppliers:
            expected.setdefault(product.supplier, []).append(one.product)
    listed = {one.name for one in materials.orders}
    missing = [name for name in expected if name not in listed]
    if missing:
        marks.add("missing-order", f"nothing is ordered of {', '.join(missing)}")
    for index, order in enumerate(materials.orders):
        at = marks.at(index)
        supplier = catalogue.suppliers.get(order.name)
        if supplier is None or supplier.id != order.supplier:
            at.add("unknown-supplier", f"the catalogue has no terms of {order.name}", "supplier")
            continue
        of_supplier = expected.get(order.name, [])
        if list(order.products) != of_supplier:
            detail = f"what is bought of this supplier: {', '.join(of_supplier) or 'nothing'}"
            at.add("order-mismatch", detail, "products")
            continue
        currency = catalogue.currency
        short = max(supplier.minimum_order - order.goods.amount, Decimal(0))
        terms = (
            (
                "freight",
                supplier.freight_of(order.gross_mass).price,
                "so much gross mass ships for",
            ),
            ("short_of_minimum", short, "up to the minimum order is charged"),
        )
        for field, amount, rule in terms:
            found, asked = getattr(order, field).amount, rounded(amount, currency).amount
            if found != asked:
                detail = f"{rule} {asked:f}, and not {found:f}"
                at.add("amount-mismatch", detail, field, "amount")
