"""What is ordered of each supplier: packs chosen with an eye on freight, and what comes on top."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from filmbuild.money import Currency, Money, UnitPrice, rounded
from filmbuild.pipeline.materials.purchasing import Need, Wanted, purchase_of, wanted
from filmbuild.pipeline.materials.shipping import Shipped, ship
from filmbuild.pipeline.materials.shipping import Wanted as Shipment
from filmbuild.pipeline.materials.stock import Stock
from filmbuild.pipeline.pack_frontier import weighed
from filmbuild.pipeline.packs import Cover
from filmbuild.pipeline.results import Purchase, SupplierOrder
from filmbuild.pipeline.specification import Catalogue, Supplier
from filmbuild.pipeline.trace import Note, Trace
from filmbuild.quantities import Mass

_NOISE = 1e-9  # of a need, as packs are searched


def buy(
    needs: Sequence[Need], catalogue: Catalogue, stock: Stock
) -> tuple[tuple[Purchase, ...], tuple[SupplierOrder, ...]]:
    """One purchase per need, and an order for each supplier that states terms and sells any."""
    all_wanted = [wanted(one, catalogue, stock.get(one.product, ())) for one in needs]
    covers = [one.least_cost() for one in all_wanted]
    of_suppliers: dict[str, list[int]] = {}
    for place, one in enumerate(all_wanted):
        if one.product.supplier in catalogue.suppliers and covers[place].counts:
            of_suppliers.setdefault(one.product.supplier, []).append(place)
    searched: dict[str, Shipped] = {}
    for name, places in of_suppliers.items():
        supplier = catalogue.suppliers[name]
        shipped = ship([_shipment(all_wanted[at], covers[at]) for at in places], supplier)
        for at, counts in zip(places, shipped.counts, strict=True):
            covers[at] = _covered(all_wanted[at], covers[at], counts, shipped)
        searched[name] = shipped
    bought = tuple(
        purchase_of(one, covered, catalogue)
        for one, covered in zip(all_wanted, covers, strict=True)
    )
    orders = tuple(
        order_of(
            [bought[at] for at in places], catalogue.suppliers[name], catalogue, searched[name]
        )
        for name, places in of_suppliers.items()
    )
    return bought, orders


def _shipment(one: Wanted, covered: Cover) -> Shipment:
    missing = tuple(
        max(amount * (1.0 - _NOISE) - held, 0.0)
        for amount, held in zip(one.needed.values(), one.in_stock.values(), strict=True)
    )
    taken = dict(covered.counts)
    counts = [taken.get(option.id, 0) for option in one.shelf.options]
    return Shipment(
        missing=missing,
        options=one.shelf.options,
        masses=one.shelf.masses,
        plain=weighed(counts, one.shelf.options, one.shelf.masses),
        at_least=covered.cost if covered.at_least is None else covered.at_least,
    )


def _covered(one: Wanted, plain: Cover, counts: Sequence[int], shipped: Shipped) -> Cover:
    """The plain cover, unless another was found to cost less with its freight."""
    named = [(option.id, n) for option, n in zip(one.shelf.options, counts, strict=True) if n]
    if dict(named) == dict(plain.counts):
        return plain
    held = list(one.in_stock.values())
    for option, count in zip(one.shelf.options, counts, strict=True):
        held = [has + count * more for has, more in zip(held, option.contents, strict=True)]
    pairs = zip(held, one.needed.values(), strict=True)
    return Cover(
        counts=tuple(named),
        cost=weighed(counts, one.shelf.options, one.shelf.masses).cost,
        surplus=tuple([max(0.0, has - amount) for has, amount in pairs]),
        proven=shipped.proven,
        at_least=None if shipped.proven else plain.at_least or plain.cost,
    )


def order_of(
    bought: Sequence[Purchase], supplier: Supplier, catalogue: Catalogue, searched: Shipped
) -> SupplierOrder:
    """`bought` is all of one supplier; money is rounded once for each amount that is charged."""
    currency = catalogue.currency
    goods = _sum([one.cost for one in bought])
    mass = Mass(sum([one.gross_mass for one in bought]))
    freight = rounded(supplier.freight_of(mass).price, currency)
    short = rounded(max(supplier.minimum_order - goods, Decimal(0)), currency)
    return SupplierOrder(
        supplier=supplier.id,
        name=supplier.name,
        products=tuple(one.product for one in bought),
        goods=rounded(goods, currency),
        gross_mass=mass,
        freight=freight,
        short_of_minimum=short,
        cost=rounded(goods + freight.amount + short.amount, currency),
        proven=searched.proven,
        cost_at_least=None if searched.proven else rounded(searched.at_least, currency),
        trace=Trace(
            "materials.supplier-order", _inputs(bought, supplier, currency), catalogue.revision
        ),
    )


def _inputs(
    bought: Sequence[Purchase], supplier: Supplier, currency: Currency
) -> dict[str, object]:
    """The band is left out where orders ship free, and what goes beyond it where nothing does."""
    inputs: dict[str, object] = {
        "costs": {one.product: one.cost for one in bought},
        "gross_masses": {one.product: one.gross_mass for one in bought},
        "minimum_order": UnitPrice(supplier.minimum_order, currency),
    }
    found = supplier.freight_of(sum([one.gross_mass for one in bought]))
    if found.band is not None:
        inputs["band_up_to"] = found.band.up_to
        inputs["band_price"] = UnitPrice(found.band.price, currency)
    if found.further and supplier.freight_beyond is not None:
        inputs["further"] = found.further
        inputs["further_each"] = supplier.freight_beyond.each
        inputs["further_price"] = UnitPrice(supplier.freight_beyond.price, currency)
    return inputs


def _sum(amounts: Iterable[Money]) -> Decimal:
    return sum((one.amount for one in amounts), Decimal(0))


def unproven_orders(orders: Iterable[SupplierOrder]) -> list[Note]:
    return [
        Note(
            "purchase-not-proven",
            f"{one.name}: the search for the order of least cost, freight and all, was cut off. "
            f"Another may cost less, though not less than {one.cost_at_least.amount:f}.",
        )
        for one in orders
        if one.cost_at_least is not None
    ]
