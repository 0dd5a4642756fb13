"""The operations on the series of invoice numbers."""

from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation
from filmbuild.edge.preconditions import ETAG, IF_MATCH, tag_of
from filmbuild.quotations.invoices.series import SeriesService
from filmbuild.quotations.invoices.wire import InvoiceSeries

PATH = "/v1/invoice-series"


def series_operations(service: SeriesService) -> tuple[AnyOperation, ...]:
    async def get(call: Call[None, NoQuery]) -> Answer:
        return _answer(await service.get(call.caller.organisation))

    async def put(call: Call[InvoiceSeries, NoQuery]) -> Answer:
        return _answer(await service.put(call.caller.organisation, call.body, call.headers))

    return (
        Operation(
            method="GET",
            path=PATH,
            id="getInvoiceSeries",
            tag="invoices",
            summary="The series of invoice numbers",
            description="What the next invoice is numbered that brings no number of its own.",
            handler=get,
            query=NoQuery,
            answer=InvoiceSeries,
            answer_headers=ETAG,
        ),
        Operation(
            method="PUT",
            path=PATH,
            id="putInvoiceSeries",
            tag="invoices",
            summary="Say how invoices are numbered",
            description="To go on from the numbers of other software, or to begin a new series. "
            "With the same prefix `next` never goes back, so that no number is given twice.",
            handler=put,
            query=NoQuery,
            body=InvoiceSeries,
            answer=InvoiceSeries,
            failures=("precondition-required", "precondition-failed"),
            headers=(IF_MATCH,),
            answer_headers=ETAG,
        ),
    )


def _answer(content: bytes) -> Answer:
    return Answer(content, (("etag", tag_of(content)),))
