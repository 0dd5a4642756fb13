"""The operations that read the catalogue."""

from collections.abc import Callable
from typing import Any, NamedTuple

import msgspec

from filmbuild.catalogue import service
from filmbuild.catalogue.contract import (
    ConsumableRulePage,
    CurrentRevision,
    PackPage,
    PackQuery,
    PackRecord,
    PacksQuery,
    ProductPage,
    ProductsQuery,
    RateBookPage,
    RecordQuery,
    RecordsQuery,
    RevisionPage,
    RevisionRecord,
    SupplierPage,
    SystemPage,
    TaxRulePage,
)
from filmbuild.catalogue.loader import Counts
from filmbuild.catalogue.organisation import ORGANISATION
from filmbuild.catalogue.snapshot import CatalogueSnapshot, CatalogueSnapshots
from filmbuild.catalogue.store import Revision
from filmbuild.db import Database
from filmbuild.edge import paging
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import (
    Answer,
    AnyOperation,
    Call,
    NoQuery,
    Operation,
    PathParameter,
)
from filmbuild.edge.paging import PageQuery
from filmbuild.errors import Fault, InvalidInput, NotFound
from filmbuild.money import NonNegativeExact, UnitPrice
from filmbuild.pipeline.specification import (
    ConsumableRule,
    Pack,
    Product,
    RateBook,
    Supplier,
    System,
    TaxRule,
)

TAG = "catalogue"
REVISIONS = "/v1/catalogue/revisions"
_ID = "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"
_CHANGES = msgspec.json.Decoder(dict[str, Counts])


def catalogue_operations(
    database: Database, snapshots: CatalogueSnapshots
) -> tuple[AnyOperation, ...]:
    return (
        *_revision_operations(database, snapshots),
        *(one for kind in _KINDS for one in (_list(kind, snapshots), _get(kind, snapshots))),
    )


def _same(_snapshot: CatalogueSnapshot, record: Any, _query: Any) -> Any:  # noqa: ANN401 - any kind
    return record


def _with_price(
    snapshot: CatalogueSnapshot, pack: Pack, query: PackQuery | PacksQuery
) -> PackRecord:
    day = query.priced_on or snapshot.made.created_at.date()
    priced = snapshot.priced_packs(query.currency, day).get(pack.product, ())
    found = next((one for one in priced if one.pack.id == pack.id), None)
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


class _Kind(NamedTuple):
    """One kind of record: what it is called, how it is found, and what is shown of it."""

    name: str
    words: str
    record: type
    page: type
    find: Callable[..., service.Page[Any]]
    get: Callable[[CatalogueSnapshot, str], Any]
    query: type[RecordsQuery] = RecordsQuery
    one_query: type[RecordQuery] = RecordQuery
    filters: tuple[str, ...] = ()
    show: Callable[[CatalogueSnapshot, Any, Any], Any] = _same

    @property
    def path(self) -> str:
        return f"/v1/{self.words.replace(' ', '-')}s"

    @property
    def parameter(self) -> str:
        return f"{self.words.replace(' ', '_')}_id"


_KINDS = (
    _Kind(
        name="Product",
        words="product",
        record=Product,
        page=ProductPage,
        find=service.products,
        get=service.product,
        query=ProductsQuery,
        filters=("role",),
    ),
    _Kind(
        name="Pack",
        words="pack",
        record=PackRecord,
        page=PackPage,
        find=service.packs,
        get=service.pack,
        query=PacksQuery,
        one_query=PackQuery,
        filters=("product",),
        show=_with_price,
    ),
    _Kind("System", "system", System, SystemPage, service.systems, service.system),
    _Kind("RateBook", "rate book", RateBook, RateBookPage, service.rate_books, service.rate_book),
    _Kind(
        "ConsumableRule",
        "consumable rule",
        ConsumableRule,
        ConsumableRulePage,
        service.consumables,
        service.consumable,
    ),
    _Kind("Supplier", "supplier", Supplier, SupplierPage, service.suppliers, service.supplier),
    _Kind("TaxRule", "tax rule", TaxRule, TaxRulePage, service.taxes, service.tax),
)


def _list(kind: _Kind, snapshots: CatalogueSnapshots) -> AnyOperation:
    async def find(call: Call[None, RecordsQuery]) -> Answer:
        query = call.query
        after = paging.after(query, kind.path)
        snapshot = await _snapshot(snapshots, query.revision)
        filters = {name: getattr(query, name) for name in kind.filters}
        found = kind.find(snapshot, **filters, after=after, limit=query.limit)
        following = None
        if found.more:
            following = paging.cursor(query, kind.path, found.records[-1].id)
        page = kind.page(
            catalogue_revision=found.revision,
            items=tuple(kind.show(snapshot, one, query) for one in found.records),
            next=following,
        )
        return Answer(encode(page, query.units), paging.link(query, kind.path, following))

    return Operation(
        method="GET",
        path=kind.path,
        id=f"list{kind.name}s",
        tag=TAG,
        summary=f"The catalogue's {kind.words}s, a page at a time",
        description="In order of id. Pages of one walk agree where they name the same `revision`.",
        handler=find,
        query=kind.query,
        answer=kind.page,
        failures=("unavailable",),
        answer_headers={"Link": paging.LINK},
    )


def _get(kind: _Kind, snapshots: CatalogueSnapshots) -> AnyOperation:
    async def get(call: Call[None, RecordQuery]) -> Answer:
        snapshot = await _snapshot(snapshots, call.query.revision)
        record = kind.get(snapshot, call.path[kind.parameter])
        return Answer(encode(kind.show(snapshot, record, call.query), call.query.units))

    return Operation(
        method="GET",
        path=f"{kind.path}/{{{kind.parameter}}}",
        id=f"get{kind.name}",
        tag=TAG,
        summary=f"One {kind.words}",
        description=f"The {kind.words} as it is in the newest revision, or in that of `revision`.",
        handler=get,
        query=kind.one_query,
        answer=kind.record,
        failures=("missing", "unavailable"),
        path_parameters=(PathParameter(kind.parameter, f"The {kind.words}'s `id`.", _ID),),
    )


async def _snapshot(snapshots: CatalogueSnapshots, revision: int | None) -> CatalogueSnapshot:
    if revision is None:
        return await snapshots.current(ORGANISATION)
    try:
        return await snapshots.at(ORGANISATION, revision)
    except NotFound as missing:
        fault = Fault("/revision", "unknown-revision", missing.detail)
        raise InvalidInput("The query is not valid.", (fault,)) from missing


def _revision_operations(
    database: Database, snapshots: CatalogueSnapshots
) -> tuple[AnyOperation, ...]:
    async def current(_call: Call[None, NoQuery]) -> Answer:
        snapshot = await snapshots.current(ORGANISATION)
        return Answer(msgspec.json.encode(_current(snapshot)))

    async def find(call: Call[None, PageQuery]) -> Answer:
        after = paging.after(call.query, REVISIONS)
        found, more = await service.revisions(
            database,
            ORGANISATION,
            before=None if after is None else int(after),
            limit=call.query.limit,
        )
        following = paging.cursor(call.query, REVISIONS, str(found[-1].revision)) if more else None
        page = RevisionPage(items=tuple(_revision(one) for one in found), next=following)
        return Answer(msgspec.json.encode(page), paging.link(call.query, REVISIONS, following))

    return (
        Operation(
            method="GET",
            path="/v1/catalogue",
            id="getCatalogue",
            tag=TAG,
            summary="The newest revision of the catalogue",
            description="Its number, when it was made, and how many records it holds.",
            handler=current,
            query=NoQuery,
            answer=CurrentRevision,
            failures=("unavailable",),
        ),
        Operation(
            method="GET",
            path=REVISIONS,
            id="listCatalogueRevisions",
            tag=TAG,
            summary="All revisions of the catalogue, newest first",
            description="Every revision stays readable: name it in `revision` of a reading, or in "
            "`catalogue_revision` of a calculation.",
            handler=find,
            query=PageQuery,
            answer=RevisionPage,
            answer_headers={"Link": paging.LINK},
        ),
    )


def _current(snapshot: CatalogueSnapshot) -> CurrentRevision:
    return CurrentRevision(
        revision=snapshot.revision,
        created_at=snapshot.made.created_at,
        note=snapshot.made.note,
        records={
            "products": len(snapshot.products.ids),
            "packs": len(snapshot.packs.ids),
            "systems": len(snapshot.systems.ids),
            "rate_books": len(snapshot.rate_books.ids),
            "consumables": len(snapshot.consumables.ids),
            "taxes": len(snapshot.taxes.ids),
            "suppliers": len(snapshot.suppliers.ids),
        },
    )


def _revision(made: Revision) -> RevisionRecord:
    return RevisionRecord(
        revision=made.revision,
        created_at=made.created_at,
        author=made.author,
        note=made.note,
        changes=_CHANGES.decode(made.summary),
    )
