"""The needs of several jobs bought together, and what each of them bears of it."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from filmbuild.money import Currency, Exact, Money, rounded
from filmbuild.pipeline.materials.purchasing import Need, needs_of, purchase_of, total_need
from filmbuild.pipeline.materials.stock import Stock
from filmbuild.pipeline.results import JobShare, Materials, Purchase, PurchaseList
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
    purchases = {
        product: purchase_of(total_need(found), catalogue, stock.get(product, ()))
        for product, found in by_product.items()
    }
    volumes = {
        product: sum([_volume(one) for one in found]) for product, found in by_product.items()
    }
    weights = {
        reference: {one.product: _volume(one) / volumes[one.product] for one in of_job}
        for reference, of_job in needs.items()
    }
    cost = _total([one.cost for one in purchases.values()], catalogue.currency)
    shares = _shares(purchases, weights, cost)
    apart = {
        reference: _total([one.cost for one in materials.purchases], catalogue.currency)
        for reference, materials in jobs.items()
    }
    whole = _total(list(apart.values()), catalogue.currency)
    return PurchaseList(
        purchases=tuple(purchases.values()),
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
                    {"shares": weights[reference], "cost": cost, "cost_apart": whole},
                    catalogue.revision,
                ),
            )
            for reference in jobs
        ),
    )


def _volume(need: Need) -> float:
    return sum([part.volume for part in need.parts.values()])


def _total(amounts: Sequence[Money], currency: Currency) -> Money:
    return Money(Exact(sum((one.amount for one in amounts), Decimal(0))), currency)


def _shares(
    purchases: Mapping[str, Purchase], weights: Mapping[str, Mapping[str, float]], cost: Money
) -> dict[str, Money]:
    """Rounded up to where each job's share ends in the whole, so that they add up to it."""
    shares: dict[str, Money] = {}
    exact, before = Decimal(0), Decimal(0)
    last = list(weights)[-1]
    for reference, of_products in weights.items():
        for product, weight in of_products.items():
            exact += purchases[product].cost.amount * Decimal(weight)
        end = cost.amount if reference == last else rounded(exact, cost.currency).amount
        shares[reference] = rounded(end - before, cost.currency)
        before = end
    return shares
