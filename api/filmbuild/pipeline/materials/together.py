"""The needs of several jobs bought together, and what each of them bears of it."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from filmbuild.money import Currency, Exact, Money, rounded
from filmbuild.pipeline.materials.orders import buy
from filmbuild.pipeline.materials.purchasing import Need, needs_of, total_need
from filmbuild.pipeline.materials.stock import Stock
from filmbuild.pipeline.results import JobShare, Materials, PurchaseList, SupplierOrder
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.trace import Trace


def buy_together(jobs: Mapping[str, Materials], catalogue: Catalogue, stock: Stock) -> PurchaseList:
    """`jobs` by reference; products in the order in which they are first needed."""
    needs = {
        reference: needs_of(materials.coats, materials.aggregates, catalogue)
        for reference, materials in jobs.items()
    }
    by_product: dict[str, list[Need]] = {}
    for of_job in needs.values():
        for need in of_job:
            by_product.setdefault(need.product, []).append(need)
    bought, orders = buy([total_need(found) for found in by_product.values()], catalogue, stock)
    volumes = {
        product: sum([_volume(one) for one in found]) for product, found in by_product.items()
    }
    weights = {
        reference: {one.product: _volume(one) / volumes[one.product] for one in of_job}
        for reference, of_job in needs.items()
    }
    on_top = {
        reference: _of_orders(of_job, orders, by_product) for reference, of_job in needs.items()
    }
    costs = [one.cost for one in bought]
    cost = _total([*costs, *map(beside_goods, orders)], catalogue.currency)
    paid = {one.product: one.cost for one in bought}
    extra = {one.supplier: beside_goods(one) for one in orders}
    borne = {
        reference: [
            *[(paid[product], weight) for product, weight in weights[reference].items()],
            *[(extra[supplier], weight) for supplier, weight in on_top[reference].items()],
        ]
        for reference in jobs
    }
    shares = _shares(borne, cost)
    apart = {
        reference: _total(
            [
                *[one.cost for one in materials.purchases],
                *map(beside_goods, materials.orders),
            ],
            catalogue.currency,
        )
        for reference, materials in jobs.items()
    }
    whole = _total(list(apart.values()), catalogue.currency)
    return PurchaseList(
        purchases=bought,
        orders=orders,
        cost=cost,
        cost_apart=whole,
        saving=rounded(whole.amount - cost.amount, catalogue.currency),
        jobs=tuple(
            JobShare(
                reference=reference,
                cost=shares[reference],
                cost_apart=apart[reference],
                trace=Trace(
                    "materials.purchase",
                    {
                        "shares": weights[reference],
                        **({"shares_of_orders": on_top[reference]} if orders else {}),
                        "cost": cost,
                        "cost_apart": whole,
                    },
                    catalogue.revision,
                ),
            )
            for reference in jobs
        ),
    )


def _volume(need: Need) -> float:
    return sum([part.volume for part in need.parts.values()])


def _of_orders(
    needs: Sequence[Need],
    orders: Sequence[SupplierOrder],
    by_product: Mapping[str, Sequence[Need]],
) -> dict[str, float]:
    """Of each order, the share of these needs by mass."""
    own = {one.product: _mass(one) for one in needs}
    return {
        one.supplier: sum([own.get(product, 0.0) for product in one.products])
        / sum([_mass(need) for product in one.products for need in by_product[product]])
        for one in orders
        if not own.keys().isdisjoint(one.products)
    }


def beside_goods(order: SupplierOrder) -> Money:
    """Freight, and what is charged up to the least order."""
    return Money(Exact(order.freight.amount + order.short_of_minimum.amount), order.cost.currency)


def _mass(need: Need) -> float:
    return sum([part.mass for part in need.parts.values()])


def _total(amounts: Sequence[Money], currency: Currency) -> Money:
    return Money(Exact(sum((one.amount for one in amounts), Decimal(0))), currency)


def _shares(borne: Mapping[str, Sequence[tuple[Money, float]]], cost: Money) -> dict[str, Money]:
    """Rounded up to where each job's share ends in the whole, so that they add up to it."""
    shares: dict[str, Money] = {}
    exact, before = Decimal(0), Decimal(0)
    last = list(borne)[-1]
    for reference, shares_of in borne.items():
        for amount, weight in shares_of:
            exact += amount.amount * Decimal(weight)
        end = cost.amount if reference == last else rounded(exact, cost.currency).amount
        shares[reference] = rounded(end - before, cost.currency)
        before = end
    return shares
