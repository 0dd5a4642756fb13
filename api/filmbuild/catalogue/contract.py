"""The catalogue as callers see it."""

from datetime import date
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from filmbuild.catalogue.loader import Counts
from filmbuild.edge.paging import PageQuery
from filmbuild.money import Currency, UnitPrice
from filmbuild.pipeline.job import UnitSystem
from filmbuild.pipeline.results.base import Moment
from filmbuild.pipeline.site import Identifier
from filmbuild.pipeline.specification import (
    ConsumableRule,
    Content,
    PriceBreak,
    Product,
    ProductRole,
    RateBook,
    Supplier,
    System,
    TaxRule,
)
from filmbuild.quantities import PositiveMass

Units = Annotated[UnitSystem, Meta(description="The unit system of the answer.")]
RevisionNumber = Annotated[
    int, Meta(ge=1, le=2_147_483_647, description="A revision of the catalogue; else the newest.")
]
PriceCurrency = Annotated[Currency, Meta(description="The currency that prices are wanted in.")]
PriceDay = Annotated[
    date,
    Meta(
        description="The day whose prices are wanted; else the day on which the revision was made."
    ),
]
Words = Annotated[
    str,
    Meta(
        min_length=1,
        max_length=200,
        description="Words that all stand in the id or the name, in capitals or not.",
    ),
]
Retired = Annotated[
    bool,
    Meta(description="Those that were retired, as they were last, instead of those that hold."),
]
SupplierName = Annotated[
    str, Meta(max_length=200, description="The supplier's name, as products write it.")
]
TaxPlace = Annotated[str, Meta(max_length=200, description="The place, as tax rules write it.")]
ConsumableKind = Literal["consumable", "tool", "protective_equipment"]
OfCurrency = Annotated[Currency, Meta(description="The currency that the record is in.")]


class RecordQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    units: Units = "us"
    revision: RevisionNumber | None = None


class RecordsQuery(PageQuery, frozen=True, kw_only=True):
    units: Units = "us"
    revision: RevisionNumber | None = None
    q: Words | None = None
    retired: Retired = False


class ProductsQuery(RecordsQuery, frozen=True, kw_only=True):
    role: ProductRole | None = None
    supplier: SupplierName | None = None


class ConsumablesQuery(RecordsQuery, frozen=True, kw_only=True):
    kind: ConsumableKind | None = None
    currency: OfCurrency | None = None


class TaxesQuery(RecordsQuery, frozen=True, kw_only=True):
    place: TaxPlace | None = None


class InCurrencyQuery(RecordsQuery, frozen=True, kw_only=True):
    currency: OfCurrency | None = None


class PackQuery(RecordQuery, frozen=True, kw_only=True):
    currency: PriceCurrency = Currency("USD")
    priced_on: PriceDay | None = None


class PacksQuery(RecordsQuery, frozen=True, kw_only=True):
    product: Identifier | None = None
    currency: PriceCurrency = Currency("USD")
    priced_on: PriceDay | None = None


class CurrentRevision(msgspec.Struct, frozen=True, kw_only=True):
    """The newest revision, and how many records of each kind it holds."""

    revision: int
    created_at: Moment
    note: str
    records: dict[str, int]


class RevisionRecord(msgspec.Struct, frozen=True, kw_only=True):
    """One revision; `changes` says by kind of record what it changed."""

    revision: int
    created_at: Moment
    author: str
    note: str
    changes: dict[str, Counts]


class PackRecord(msgspec.Struct, frozen=True, kw_only=True):
    """A pack; `price` is null where it cannot be bought on that day in that currency."""

    id: str
    product: str
    name: str
    contents: tuple[Content, ...]
    minimum_order: int
    gross_mass: PositiveMass | None
    price: UnitPrice | None
    breaks: tuple[PriceBreak, ...]
    price_since: date | None
    priced_on: date


class RevisionPage(msgspec.Struct, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[RevisionRecord, ...]
    next: str | None


class _RecordPage(msgspec.Struct, frozen=True, kw_only=True):
    catalogue_revision: int
    next: str | None


class ProductPage(_RecordPage, frozen=True, kw_only=True):
    """Products in order of their ids."""

    items: tuple[Product, ...]


class PackPage(_RecordPage, frozen=True, kw_only=True):
    """Packs in order of their ids."""

    items: tuple[PackRecord, ...]


class SystemPage(_RecordPage, frozen=True, kw_only=True):
    """Coating systems in order of their ids."""

    items: tuple[System, ...]


class RateBookPage(_RecordPage, frozen=True, kw_only=True):
    """Rate books in order of their ids."""

    items: tuple[RateBook, ...]


class ConsumableRulePage(_RecordPage, frozen=True, kw_only=True):
    """Consumable rules in order of their ids."""

    items: tuple[ConsumableRule, ...]


class TaxRulePage(_RecordPage, frozen=True, kw_only=True):
    """Tax rules in order of their ids."""

    items: tuple[TaxRule, ...]


class SupplierPage(_RecordPage, frozen=True, kw_only=True):
    """Suppliers' terms in order of their ids."""

    items: tuple[Supplier, ...]
