"""The operations of those who offer."""

from filmbuild.edge import paging
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import (
    Answer,
    AnyOperation,
    Call,
    Failure,
    NoQuery,
    Operation,
    PathParameter,
    Representation,
)
from filmbuild.edge.paging import PageQuery
from filmbuild.edge.preconditions import ETAG, IF_MATCH
from filmbuild.idempotency import IDEMPOTENCY_KEY, request_key
from filmbuild.quotations.service import CREATED, Answered, QuotationService
from filmbuild.quotations.wire import (
    ChangeOrderRequest,
    Quotation,
    QuotationHistoryPage,
    QuotationPage,
    QuotationQuery,
    QuotationRequest,
    WithdrawalRequest,
)

PATH = "/v1/quotations"
ONE = f"{PATH}/{{quotation_id}}"
TAG = "quotations"
QUOTATION_ID = PathParameter("quotation_id", "the quotation's id", "quo_[0-9a-z]{26}")
_MADE = {"Location": "Where the quotation is.", **ETAG}
_CHANGING: tuple[Failure, ...] = (
    "missing",
    "conflict",
    "precondition-failed",
    "precondition-required",
)


def quotation_operations(
    service: QuotationService,
    representations: tuple[Representation[None, NoQuery], ...] = (),
) -> tuple[AnyOperation, ...]:
    """`representations` are other forms of one quotation, made of `service.show`."""
    return (*_reading(service, representations), *_making(service), *_moving(service))


def _reading(
    service: QuotationService, representations: tuple[Representation[None, NoQuery], ...]
) -> tuple[AnyOperation, ...]:
    async def find(call: Call[None, QuotationQuery]) -> Answer:
        page = await service.find(call.caller.organisation, call.query, PATH)
        return Answer(encode(page, "us"), paging.link(call.query, PATH, page.next))

    async def get(call: Call[None, NoQuery]) -> Answer:
        found = await service.get(call.caller.organisation, call.path["quotation_id"])
        return Answer(found.content, (("etag", found.tag),))

    async def history(call: Call[None, PageQuery]) -> Answer:
        name = call.path["quotation_id"]
        path = f"{PATH}/{name}/history"
        page = await service.history(call.caller.organisation, name, call.query, path)
        return Answer(encode(page, "us"), paging.link(call.query, path, page.next))

    return (
        Operation(
            method="GET",
            path=PATH,
            id="listQuotations",
            tag=TAG,
            summary="Quotations, newest first",
            description="Offers and change orders, all of them or those of one state.",
            handler=find,
            query=QuotationQuery,
            answer=QuotationPage,
            answer_headers={"Link": paging.LINK},
        ),
        Operation(
            method="GET",
            path=ONE,
            id="getQuotation",
            tag=TAG,
            summary="A quotation as its seller sees it",
            description="What the customer is shown, with the customer's link and what the work "
            "costs.",
            handler=get,
            query=NoQuery,
            answer=Quotation,
            path_parameters=(QUOTATION_ID,),
            answer_headers=ETAG,
            failures=("missing", "conflict"),
            representations=representations,
        ),
        Operation(
            method="GET",
            path=f"{ONE}/history",
            id="listQuotationHistory",
            tag=TAG,
            summary="What happened to a quotation",
            description="Every step with who took it and when, in order. Steps are added and "
            "never changed.",
            handler=history,
            query=PageQuery,
            answer=QuotationHistoryPage,
            path_parameters=(QUOTATION_ID,),
            answer_headers={"Link": paging.LINK},
            failures=("missing",),
        ),
    )


def _making(service: QuotationService) -> tuple[AnyOperation, ...]:
    async def create(call: Call[QuotationRequest, NoQuery]) -> Answer:
        key = request_key(call.headers, call.caller, f"POST {PATH}", call.content)
        return _made(await service.create(call.caller, call.body, key))

    async def revise(call: Call[QuotationRequest, NoQuery]) -> Answer:
        name = call.path["quotation_id"]
        key = request_key(call.headers, call.caller, f"POST {PATH}/{name}/revision", call.content)
        return _made(await service.revise(call.caller, name, call.body, key))

    async def change(call: Call[ChangeOrderRequest, NoQuery]) -> Answer:
        name = call.path["quotation_id"]
        path = f"POST {PATH}/{name}/change-orders"
        key = request_key(call.headers, call.caller, path, call.content)
        return _made(await service.change(call.caller, name, call.body, key))

    return (
        Operation(
            method="POST",
            path=PATH,
            id="createQuotation",
            cost=10,
            tag=TAG,
            summary="Draft a quotation",
            description="From one to six stored estimates, in the words of the organisation. The "
            "draft has no number, and no customer sees it: read it, then issue it.",
            handler=create,
            query=NoQuery,
            body=QuotationRequest,
            answer=Quotation,
            status=CREATED,
            headers=(IDEMPOTENCY_KEY,),
            answer_headers=_MADE,
            failures=("conflict",),
        ),
        Operation(
            method="POST",
            path=f"{ONE}/revision",
            id="reviseQuotation",
            cost=10,
            tag=TAG,
            summary="Draft what takes its place",
            description="A new draft, for an offer that is open or has expired. The old one stays "
            "as it is until the new one is issued, and is superseded then.",
            handler=revise,
            query=NoQuery,
            body=QuotationRequest,
            answer=Quotation,
            status=CREATED,
            headers=(IDEMPOTENCY_KEY,),
            path_parameters=(QUOTATION_ID,),
            answer_headers=_MADE,
            failures=("missing", "conflict"),
        ),
        Operation(
            method="POST",
            path=f"{ONE}/change-orders",
            id="createChangeOrder",
            cost=10,
            tag=TAG,
            summary="Draft a change to accepted work",
            description="A quotation over the difference between what was accepted, with the "
            "change orders that were accepted since, and what the work is to be now. One change "
            "order is open at a time.",
            handler=change,
            query=NoQuery,
            body=ChangeOrderRequest,
            answer=Quotation,
            status=CREATED,
            headers=(IDEMPOTENCY_KEY,),
            path_parameters=(QUOTATION_ID,),
            answer_headers=_MADE,
            failures=("missing", "conflict"),
        ),
    )


def _moving(service: QuotationService) -> tuple[AnyOperation, ...]:
    async def issue(call: Call[None, NoQuery]) -> Answer:
        return _changed(await service.issue(call.caller, call.path["quotation_id"], call.headers))

    async def withdraw(call: Call[WithdrawalRequest, NoQuery]) -> Answer:
        name, reason = call.path["quotation_id"], call.body.reason
        return _changed(await service.withdraw(call.caller, name, reason, call.headers))

    async def renew(call: Call[None, NoQuery]) -> Answer:
        return _changed(
            await service.renew_link(call.caller, call.path["quotation_id"], call.headers)
        )

    return (
        Operation(
            method="POST",
            path=f"{ONE}/issue",
            id="issueQuotation",
            cost=5,
            tag=TAG,
            summary="Issue a draft",
            description="Takes the next number, without gaps, and fixes what the customer is "
            "shown for good. `link` of the answer is what the customer is sent: whoever has it can "
            "accept or decline.",
            handler=issue,
            query=NoQuery,
            answer=Quotation,
            headers=(IF_MATCH,),
            path_parameters=(QUOTATION_ID,),
            answer_headers=ETAG,
            failures=_CHANGING,
        ),
        Operation(
            method="POST",
            path=f"{ONE}/withdrawal",
            id="withdrawQuotation",
            tag=TAG,
            summary="Withdraw a draft or an open offer",
            description="Its number stays taken, and its link says that it was withdrawn.",
            handler=withdraw,
            query=NoQuery,
            body=WithdrawalRequest,
            answer=Quotation,
            headers=(IF_MATCH,),
            path_parameters=(QUOTATION_ID,),
            answer_headers=ETAG,
            failures=_CHANGING,
        ),
        Operation(
            method="POST",
            path=f"{ONE}/link",
            id="renewQuotationLink",
            tag=TAG,
            summary="Give the customer a new link",
            description="Where the old one has come into wrong hands: from now on it leads nowhere.",
            handler=renew,
            query=NoQuery,
            answer=Quotation,
            headers=(IF_MATCH,),
            path_parameters=(QUOTATION_ID,),
            answer_headers=ETAG,
            failures=_CHANGING,
        ),
    )


def _made(found: Answered) -> Answer:
    return Answer(found.content, (("location", f"{PATH}/{found.id}"), ("etag", found.tag)))


def _changed(found: Answered) -> Answer:
    return Answer(found.content, (("etag", found.tag),))
