"""One revision of the catalogue, priced for a day and a currency."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal

import msgspec

from filmbuild.money import Currency
from filmbuild.pipeline.specification.products import Pack, PriceBreak, Product
from filmbuild.pipeline.specification.rates import ConsumableRule, RateBook, TaxRule
from filmbuild.pipeline.specification.suppliers import Supplier
from filmbuild.pipeline.specification.systems import System


class PricedPack(msgspec.Struct, frozen=True, kw_only=True):
    """A pack with the price that holds on the day and in the currency of the estimate.

    `tier` is that of the price list it stands in: empty for the usual list.
    """

    pack: Pack
    price: Decimal
    effective_from: date
    breaks: tuple[PriceBreak, ...] = ()
    tier: str = ""


class Catalogue(msgspec.Struct, frozen=True, kw_only=True):
    """One immutable revision of the catalogue, priced for one day and one currency.

    `packs` maps a product to its priced packs; a product without a price on that day has none.
    `suppliers` has the terms in this currency by the name that products give: one that is not there
    ships free and has no least order. `tier` is that of the customer, whose price list goes before
    the usual one.
    """

    revision: int
    currency: Currency
    priced_on: date
    products: dict[str, Product]
    packs: Mapping[str, tuple[PricedPack, ...]]
    systems: dict[str, System]
    rate_books: dict[str, RateBook]
    consumables: tuple[ConsumableRule, ...]
    taxes: tuple[TaxRule, ...]
    suppliers: dict[str, Supplier] = {}
    tier: str = ""
