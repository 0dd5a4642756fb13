"""The operations on price lists."""

from datetime import UTC, date, datetime
from typing import Any

from filmbuild.catalogue.snapshot import CatalogueSnapshot, CatalogueSnapshots
from filmbuild.edge import paging
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import Answer, AnyOperation, Call, Operation, PathParameter
from filmbuild.errors import Fault, InvalidInput, NotFound
from filmbuild.pricelists import reading
from filmbuild.pricelists.wire import (
    PackPrices,
    PackPricesQuery,
    PriceListPage,
    PriceListRecord,
    PriceListsQuery,
)

TAG = "prices"
LISTS = "/v1/price-lists"
_PACK = PathParameter("pack_id", "The pack's `id`.", "^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$")


def price_list_operations(snapshots: CatalogueSnapshots) -> tuple[AnyOperation, ...]:
    async def explain(call: Call[None, PackPricesQuery]) -> Answer:
        query = call.query
        snapshot = await _snapshot(snapshots, call)
        day = query.on or snapshot.made.created_at.date()
        pack = call.path["pack_id"]
        found = reading.pack_prices(snapshot, pack, query.currency, query.tier or "", day)
        return Answer(encode(found, "us"))

    async def find(call: Call[None, PriceListsQuery]) -> Answer:
        snapshot = await _snapshot(snapshots, call)
        records = reading.list_records(snapshot, call.query.currency)
        items, following = paging.cut(records, _name, call.query, LISTS)
        page = PriceListPage(catalogue_revision=snapshot.revision, items=items, next=following)
        return Answer(encode(page, "us"), paging.link(call.query, LISTS, following))

    return (
        Operation(
            method="GET",
            path="/v1/packs/{pack_id}/prices",
            id="explainPackPrice",
            tag=TAG,
            summary="The price of a pack on a day, and why it is that one",
            description="Of the list of the customer's `tier` holds the price with the latest "
            "`effective_from` up to the day; where that list has none, the usual list is looked "
            "in by the same rule. `listed` are all prices of both lists, the latest first, each "
            "with what is made of it. Prices that were corrected are in the revisions before.",
            handler=explain,
            query=PackPricesQuery,
            answer=PackPrices,
            failures=("missing", "unavailable"),
            path_parameters=(_PACK,),
        ),
        Operation(
            method="GET",
            path=LISTS,
            id="listPriceLists",
            tag=TAG,
            summary="The price lists: one for each currency and customers' tier",
            description="How many packs and prices each has, and the first and last day on which "
            "a price of it begins to hold. The usual list's tier is empty.",
            handler=find,
            query=PriceListsQuery,
            answer=PriceListPage,
            failures=("unavailable",),
            answer_headers={"Link": paging.LINK},
        ),
    )


def _name(one: PriceListRecord) -> str:
    return f"{one.currency} {one.tier}"


async def _snapshot(snapshots: CatalogueSnapshots, call: Call[None, Any]) -> CatalogueSnapshot:
    organisation, revision = call.caller.organisation, call.query.revision
    if revision is None:
        return await snapshots.current(organisation)
    try:
        return await snapshots.at(organisation, revision)
    except NotFound as missing:
        fault = Fault("/revision", "unknown-revision", missing.detail)
        raise InvalidInput("The query is not valid.", (fault,)) from missing


def today() -> date:
    return datetime.now(UTC).date()
