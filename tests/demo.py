"""The demo catalogue as the pipeline reads it, without a database."""

from datetime import date

from filmbuild.catalogue import wire
from filmbuild.money import Currency
from filmbuild.pipeline.specification import Catalogue, PackPrice, PricedPack


def priced_demo(currency: str, day: date) -> Catalogue:
    """A pack's price is the newest that holds on the day."""
    file = wire.read(wire.demo()).file
    prices: dict[str, PackPrice] = {}
    for price in sorted(file.prices, key=lambda one: one.effective_from):
        if price.currency == currency and price.effective_from <= day:
            prices[price.pack] = price
    packs: dict[str, list[PricedPack]] = {}
    for pack in file.packs:
        if pack.id in prices:
            found = prices[pack.id]
            packs.setdefault(pack.product, []).append(
                PricedPack(
                    pack=pack,
                    price=found.amount,
                    effective_from=found.effective_from,
                    breaks=found.breaks,
                )
            )
    return Catalogue(
        revision=1,
        currency=Currency(currency),
        priced_on=day,
        products={one.id: one for one in file.products},
        packs={product: tuple(found) for product, found in packs.items()},
        systems={one.id: one for one in file.systems},
        rate_books={one.id: one for one in file.rate_books},
        consumables=tuple(one for one in file.consumables if one.currency == currency),
        taxes=file.taxes,
        suppliers={one.name: one for one in file.suppliers if one.currency == currency},
    )
