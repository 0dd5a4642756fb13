"""The kinds of records as callers meet them: what they are called, filtered by, and shown as."""

from bisect import bisect_left
from collections.abc import Callable
from hashlib import sha256
from typing import Any, NamedTuple

from filmbuild.catalogue import store
from filmbuild.catalogue.contents import CatalogueSnapshot
from filmbuild.catalogue.contract import (
    ConsumableRulePage,
    ConsumablesQuery,
    InCurrencyQuery,
    PackPage,
    PackQuery,
    PackRecord,
    PacksQuery,
    ProductPage,
    ProductsQuery,
    RateBookPage,
    RecordQuery,
    RecordsQuery,
    SupplierPage,
    SystemPage,
    TaxesQuery,
    TaxRulePage,
)
from filmbuild.catalogue.inputs import (
    ConsumableRuleInput,
    PackInput,
    ProductInput,
    RateBookInput,
    SupplierInput,
    SystemInput,
    TaxRuleInput,
)
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import PathParameter
from filmbuild.money import NonNegativeExact, UnitPrice
from filmbuild.pipeline.specification import (
    ConsumableRule,
    Pack,
    Product,
    RateBook,
    Record,
    Supplier,
    System,
    TaxRule,
)

TAG = "catalogue"
ID_PATTERN = "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"
_STORED = {kind.name: kind for kind in store.KINDS}


def _same(_snapshot: CatalogueSnapshot, record: Any, _query: Any) -> Any:  # noqa: ANN401 - any kind
    return record


def _with_price(
    snapshot: CatalogueSnapshot, pack: Pack, query: PackQuery | PacksQuery
) -> PackRecord:
    day = query.priced_on or snapshot.made.created_at.date()
    priced = snapshot.priced_packs(query.currency, day).get(pack.product, ())
    place = bisect_left(priced, pack.id, key=lambda one: one.pack.id)
    found = priced[place] if place < len(priced) and priced[place].pack.id == pack.id else None
    return PackRecord(
        id=pack.id,
        product=pack.product,
        name=pack.name,
        contents=pack.contents,
        minimum_order=pack.minimum_order,
        gross_mass=pack.gross_mass,
        price=UnitPrice(NonNegativeExact(found.price), query.currency) if found else None,
        breaks=found.breaks if found else (),
        price_since=found.effective_from if found else None,
        priced_on=day,
    )


class ResourceKind(NamedTuple):
    """One kind: `stored` as the catalogue keeps it, `body` as it is sent, `record` as it is shown."""

    name: str
    words: str
    stored: store.Kind
    body: type[Record]
    record: type
    page: type
    query: type[RecordsQuery] = RecordsQuery
    one_query: type[RecordQuery] = RecordQuery
    filters: tuple[str, ...] = ()
    show: Callable[[CatalogueSnapshot, Any, Any], Any] = _same

    @property
    def path(self) -> str:
        return f"/v1/{self.words.replace(' ', '-')}s"

    @property
    def one_path(self) -> str:
        return f"{self.path}/{{{self.parameter}}}"

    @property
    def parameter(self) -> str:
        return f"{self.words.replace(' ', '_')}_id"

    @property
    def path_parameters(self) -> tuple[PathParameter, ...]:
        return (PathParameter(self.parameter, f"The {self.words}'s `id`.", ID_PATTERN),)


RESOURCES = (
    ResourceKind(
        name="Product",
        words="product",
        stored=_STORED["products"],
        body=ProductInput,
        record=Product,
        page=ProductPage,
        query=ProductsQuery,
        filters=("role", "supplier"),
    ),
    ResourceKind(
        name="Pack",
        words="pack",
        stored=_STORED["packs"],
        body=PackInput,
        record=PackRecord,
        page=PackPage,
        query=PacksQuery,
        one_query=PackQuery,
        filters=("product",),
        show=_with_price,
    ),
    ResourceKind("System", "system", _STORED["systems"], SystemInput, System, SystemPage),
    ResourceKind(
        name="RateBook",
        words="rate book",
        stored=_STORED["rate_books"],
        body=RateBookInput,
        record=RateBook,
        page=RateBookPage,
        query=InCurrencyQuery,
        filters=("currency",),
    ),
    ResourceKind(
        name="ConsumableRule",
        words="consumable rule",
        stored=_STORED["consumables"],
        body=ConsumableRuleInput,
        record=ConsumableRule,
        page=ConsumableRulePage,
        query=ConsumablesQuery,
        filters=("kind", "currency"),
    ),
    ResourceKind(
        name="Supplier",
        words="supplier",
        stored=_STORED["suppliers"],
        body=SupplierInput,
        record=Supplier,
        page=SupplierPage,
        query=InCurrencyQuery,
        filters=("currency",),
    ),
    ResourceKind(
        name="TaxRule",
        words="tax rule",
        stored=_STORED["taxes"],
        body=TaxRuleInput,
        record=TaxRule,
        page=TaxRulePage,
        query=TaxesQuery,
        filters=("place",),
    ),
)


def record_part(record: Record) -> str:
    """The part of a tag that tells one content of a record from another, in whatever units."""
    return sha256(encode(record, "si")).hexdigest()[:20]


def tag_of(record: Record, content: bytes) -> str:
    """A strong tag: of the record, and of the bytes that this caller sees of it.

    The second part tells apart what differs by units or by the day of a price; only the first is
    compared when the record is to be changed.
    """
    return f'"{record_part(record)}-{sha256(content).hexdigest()[:12]}"'
