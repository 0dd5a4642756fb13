"""The operations on invoices."""

from filmbuild.edge import paging
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import (
    Answer,
    AnyOperation,
    Call,
    NoQuery,
    Operation,
    PathParameter,
    Representation,
)
from filmbuild.idempotency import IDEMPOTENCY_KEY, request_key
from filmbuild.quotations.invoices.lines_csv import invoice_lines_csv
from filmbuild.quotations.invoices.records import InvoiceRequest
from filmbuild.quotations.invoices.series_routes import series_operations
from filmbuild.quotations.invoices.service import CREATED, InvoiceService
from filmbuild.quotations.invoices.wire import (
    InvoicePage,
    InvoiceQuery,
    LinesToInvoice,
    StoredInvoice,
)

PATH = "/v1/invoices"
_OF_QUOTATION = "/v1/quotations/{quotation_id}"
_CSV = "text/csv; charset=utf-8; header=present"
_QUOTATION_ID = PathParameter("quotation_id", "The quotation's `id`.", "^quo_[0-9a-z]{26}$")
_INVOICE_ID = PathParameter("invoice_id", "The invoice's `id`.", "^inv_[0-9a-z]{26}$")
_TABLE = (
    "A row for each line (RFC 4180), amounts with a point and their currency beside them. Text "
    "that a spreadsheet would take for a formula has an apostrophe before it."
)


def invoice_operations(service: InvoiceService) -> tuple[AnyOperation, ...]:
    """What an accepted quotation comes to, its invoices, and the series of their numbers."""
    return (
        _lines_operation(service),
        _create_operation(service),
        _list_operation(service),
        _get_operation(service),
        *series_operations(service.series),
    )


def _lines_operation(service: InvoiceService) -> AnyOperation:
    async def lines(call: Call[None, NoQuery]) -> Answer:
        found = await service.lines(call.caller.organisation, call.path["quotation_id"])
        return Answer(encode(found, "si"))

    async def table(call: Call[None, NoQuery]) -> Answer:
        found = await service.lines(call.caller.organisation, call.path["quotation_id"])
        rows = (line for stage in found.stages for line in stage.lines)
        return Answer(invoice_lines_csv(rows).encode())

    return Operation(
        method="GET",
        path=_OF_QUOTATION + "/invoice-lines",
        id="getInvoiceLines",
        tag="invoices",
        summary="What there is to invoice",
        description="Of an accepted quotation with its accepted change orders: the lines of the "
        "work, and the same sums by stage of payment with what has been invoiced. Units are codes "
        "of UNECE Recommendation 20, tax categories those of UNTDID 5305. As a table, the lines "
        "of the stages.",
        handler=lines,
        query=NoQuery,
        answer=LinesToInvoice,
        failures=("missing", "conflict"),
        path_parameters=(_QUOTATION_ID,),
        representations=(
            Representation(
                media_type=_CSV, summary="The lines as a table", description=_TABLE, handler=table
            ),
        ),
    )


def _create_operation(service: InvoiceService) -> AnyOperation:
    async def create(call: Call[InvoiceRequest, NoQuery]) -> Answer:
        quotation = call.path["quotation_id"]
        operation = f"POST /v1/quotations/{quotation}/invoices"
        key = request_key(call.headers, call.caller, operation, call.content)
        made = await service.create(call.caller.organisation, quotation, call.body, key)
        return Answer(made.content, (("location", f"{PATH}/{made.id}"),))

    return Operation(
        method="POST",
        path=_OF_QUOTATION + "/invoices",
        id="createInvoice",
        cost=5,
        tag="invoices",
        summary="Invoice stages of an accepted quotation",
        description="One invoice for the stages that are named, or for the next that has not been "
        "invoiced; a credit note where they come to less than nothing. Each stage is invoiced "
        "once, and all of them together are the offer: its net, each tax and its total. Without a "
        "`number` the next of the organisation's series is taken, which has no gaps. Where the "
        "taxes are value added tax, all that EN 16931 asks for must be there; what lacks is "
        "listed before a number is taken. An invoice never changes.",
        handler=create,
        query=NoQuery,
        body=InvoiceRequest,
        answer=StoredInvoice,
        status=CREATED,
        failures=("missing", "conflict"),
        headers=(IDEMPOTENCY_KEY,),
        path_parameters=(_QUOTATION_ID,),
        answer_headers={"Location": "Where the invoice is kept."},
    )


def _list_operation(service: InvoiceService) -> AnyOperation:
    async def find(call: Call[None, InvoiceQuery]) -> Answer:
        page = await service.find(call.caller.organisation, call.query, PATH)
        return Answer(encode(page, "si"), paging.link(call.query, PATH, page.next))

    return Operation(
        method="GET",
        path=PATH,
        id="listInvoices",
        tag="invoices",
        summary="Invoices and credit notes, newest first",
        description="All of them, or those of one `quotation`.",
        handler=find,
        query=InvoiceQuery,
        answer=InvoicePage,
        answer_headers={"Link": paging.LINK},
    )


def _get_operation(service: InvoiceService) -> AnyOperation:
    async def get(call: Call[None, NoQuery]) -> Answer:
        return Answer(await service.get(call.caller.organisation, call.path["invoice_id"]))

    async def document(call: Call[None, NoQuery]) -> Answer:
        return Answer(await service.document(call.caller.organisation, call.path["invoice_id"]))

    async def table(call: Call[None, NoQuery]) -> Answer:
        invoice = await service.invoice(call.caller.organisation, call.path["invoice_id"])
        return Answer(invoice_lines_csv(invoice.lines).encode())

    return Operation(
        method="GET",
        path=PATH + "/{invoice_id}",
        id="getInvoice",
        tag="invoices",
        summary="One invoice or credit note",
        description="The same bytes that its creation was answered with. `Accept` chooses between "
        "these, an XML document and a table of its lines.",
        handler=get,
        query=NoQuery,
        answer=StoredInvoice,
        failures=("missing",),
        path_parameters=(_INVOICE_ID,),
        representations=(
            Representation(
                media_type="application/xml",
                summary="UBL 2.1",
                description="An Invoice or CreditNote of the Universal Business Language 2.1 "
                "(OASIS). Where its taxes are value added tax it keeps the rules of EN 16931 and "
                "says so; others, such as sales taxes, are written in the same form, without that "
                "claim. The bytes stay the same.",
                handler=document,
            ),
            Representation(
                media_type=_CSV, summary="Its lines as a table", description=_TABLE, handler=table
            ),
        ),
    )
