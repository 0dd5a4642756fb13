"""The records as callers write them, of the same members as those that are answered.

They have names of their own in the contract: what is asked for is closed and takes quantities as
text, what is answered may grow and has them as value and unit.
"""

from typing import Annotated

from msgspec import Meta

from filmbuild.pipeline.site import Input, Label
from filmbuild.pipeline.specification import (
    ConsumableRule,
    Pack,
    PackPrice,
    Product,
    RateBook,
    Supplier,
    System,
    TaxRule,
)

MOST_RECORDS = 1_000


class ProductInput(Product, frozen=True, kw_only=True):
    """A product to be written; its members are those of Product."""


class PackInput(Pack, frozen=True, kw_only=True):
    """A pack to be written; what it costs is said by prices."""


class SystemInput(System, frozen=True, kw_only=True):
    """A coating system to be written; its members are those of System."""


class RateBookInput(RateBook, frozen=True, kw_only=True):
    """A rate book to be written; its members are those of RateBook."""


class ConsumableRuleInput(ConsumableRule, frozen=True, kw_only=True):
    """A consumable rule to be written; its members are those of ConsumableRule."""


class TaxRuleInput(TaxRule, frozen=True, kw_only=True):
    """A tax rule to be written; its members are those of TaxRule."""


class SupplierInput(Supplier, frozen=True, kw_only=True):
    """A supplier's terms to be written; its members are those of Supplier."""


class CatalogueImport(Input, frozen=True, kw_only=True):
    """A catalogue, or a part of one. `name` says what it is, for the history.

    Prices are only ever added: one of the same pack, currency and day corrects the one before.
    """

    name: Label
    products: tuple[ProductInput, ...] = ()
    packs: tuple[PackInput, ...] = ()
    prices: tuple[PackPrice, ...] = ()
    systems: tuple[SystemInput, ...] = ()
    rate_books: tuple[RateBookInput, ...] = ()
    consumables: tuple[ConsumableRuleInput, ...] = ()
    taxes: tuple[TaxRuleInput, ...] = ()
    suppliers: tuple[SupplierInput, ...] = ()


class RecordLists(Input, frozen=True, kw_only=True):
    """Records that are to be as they are written here, whether they are there already or not."""

    products: Annotated[tuple[ProductInput, ...], Meta(max_length=MOST_RECORDS)] = ()
    packs: Annotated[tuple[PackInput, ...], Meta(max_length=MOST_RECORDS)] = ()
    systems: Annotated[tuple[SystemInput, ...], Meta(max_length=MOST_RECORDS)] = ()
    rate_books: Annotated[tuple[RateBookInput, ...], Meta(max_length=MOST_RECORDS)] = ()
    consumables: Annotated[tuple[ConsumableRuleInput, ...], Meta(max_length=MOST_RECORDS)] = ()
    taxes: Annotated[tuple[TaxRuleInput, ...], Meta(max_length=MOST_RECORDS)] = ()
    suppliers: Annotated[tuple[SupplierInput, ...], Meta(max_length=MOST_RECORDS)] = ()
