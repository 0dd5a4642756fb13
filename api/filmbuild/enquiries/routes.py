"""The operations of the quote form and of enquiries."""

from filmbuild.catalogue.snapshot import CatalogueSnapshots
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
from filmbuild.edge.preconditions import ETAG, IF_MATCH
from filmbuild.enquiries.answers import enquiry_answer, tag
from filmbuild.enquiries.asking import EnquiryRequest, FloorQuestion
from filmbuild.enquiries.form import QuoteFormSettings
from filmbuild.enquiries.forms import FormService, Tagged
from filmbuild.enquiries.page_routes import page_operations
from filmbuild.enquiries.pricing import Clock
from filmbuild.enquiries.service import CREATED, EnquiryService
from filmbuild.enquiries.store import StoredEnquiry
from filmbuild.enquiries.wire import (
    Challenge,
    EnquiriesQuery,
    Enquiry,
    EnquiryChange,
    EnquiryPage,
    EnquiryReceipt,
    KeptQuoteForm,
    QuotedRange,
    QuoteForm,
    QuoteFormQuery,
)
from filmbuild.idempotency import IDEMPOTENCY_KEY, request_key

TAG = "enquiries"
FORM = "/v1/quote-form"
SETTINGS = f"{FORM}/settings"
PATH = "/v1/enquiries"
ONE = PATH + "/{enquiry_id}"
JSON = "application/json"
LARGEST_QUESTION_BYTES = 64_000
_ID = PathParameter("enquiry_id", "The enquiry's `id`.", "^enq_[0-9a-z]{26}$")
_IN_LANGUAGE = "What is wrong is told in the `language` of the body, or of Accept-Language."


def enquiry_operations(
    database: Database, snapshots: CatalogueSnapshots, clock: Clock
) -> tuple[AnyOperation, ...]:
    forms = FormService(database, snapshots, clock)
    service = EnquiryService(database, snapshots, forms, clock)
    return (
        *_settling(forms),
        *_showing(forms),
        *_asking(service),
        *_reading(service),
        *_changing(service),
        *page_operations(),
    )


def _settling(forms: FormService) -> tuple[AnyOperation, ...]:
    async def get(call: Call[None, NoQuery]) -> Answer:
        return _settled(await forms.get_settings(call.caller.organisation))

    async def put(call: Call[QuoteFormSettings, NoQuery]) -> Answer:
        return _settled(await forms.put_settings(call.caller.organisation, call.body, call.headers))

    return (
        Operation(
            method="GET",
            path=SETTINGS,
            id="getQuoteFormSettings",
            tag=TAG,
            summary="How the quote form is set up",
            description="Which systems are offered under which names, and the terms that price "
            "them. Pages read the form itself at /v1/quote-form.",
            handler=get,
            query=NoQuery,
            answer=KeptQuoteForm,
            answer_headers=ETAG,
            failures=("missing",),
        ),
        Operation(
            method="PUT",
            path=FORM,
            id="putQuoteForm",
            tag=TAG,
            summary="Set up the quote form",
            description="All of it in place of what there was. A plain room is priced in each "
            "finish first: what stands against that is told, and nothing is changed. Makes the "
            "record where there is none; after that If-Match is needed, with the ETag of "
            "/v1/quote-form/settings.",
            handler=put,
            query=NoQuery,
            body=QuoteFormSettings,
            answer=KeptQuoteForm,
            other_statuses=(CREATED,),
            headers=(IF_MATCH,),
            answer_headers=ETAG,
            cost=5,
            failures=("precondition-failed", "precondition-required", "unavailable"),
        ),
    )


def _showing(forms: FormService) -> tuple[AnyOperation, ...]:
    async def show(call: Call[None, QuoteFormQuery]) -> Answer:
        return Answer(await _shown(forms, call.caller.organisation, call.query.language))

    async def challenge(call: Call[None, NoQuery]) -> Answer:
        made = await forms.challenge(call.caller.organisation)
        return Answer(encode(made, "us"), (("cache-control", "no-store"),))

    return (
        Operation(
            method="GET",
            path=FORM,
            id="getQuoteForm",
            tag=TAG,
            publishable=True,
            summary="What a page needs to show the quote form",
            description="Finishes, units, limits and words in one language: the one asked for, or "
            "the form's first.",
            handler=show,
            query=QuoteFormQuery,
            answer=QuoteForm,
            failures=("missing",),
        ),
        Operation(
            method="GET",
            path=f"{FORM}/challenge",
            id="getQuoteFormChallenge",
            tag=TAG,
            publishable=True,
            summary="A challenge, to be solved before an enquiry is sent",
            description="By the altcha protocol, version 2, with the counter as four bytes. It is "
            "good for 20 minutes, and its solution for one enquiry.",
            handler=challenge,
            query=NoQuery,
            answer=Challenge,
            failures=("missing",),
        ),
    )


async def _shown(forms: FormService, organisation: str, language: str | None) -> bytes:
    form = await forms.show(organisation, language)
    return encode(form, form.units)


def _asking(service: EnquiryService) -> tuple[AnyOperation, ...]:
    async def price(call: Call[bytes, NoQuery]) -> Answer:
        accepted = call.headers.get("accept-language", "")
        found = await service.price(call.caller.organisation, call.content, accepted)
        return Answer(encode(found, "us"), (("cache-control", "no-store"),))

    async def create(call: Call[bytes, NoQuery]) -> Answer:
        key = request_key(call.headers, call.caller, f"POST {PATH}", call.content)
        accepted = call.headers.get("accept-language", "")
        return Answer(encode(await service.create(call.caller, call.content, accepted, key), "us"))

    return (
        Operation(
            method="POST",
            path=f"{FORM}/prices",
            id="priceQuoteForm",
            tag=TAG,
            reads=True,
            publishable=True,
            cost=5,
            summary="What a floor comes to, as a range",
            description="Computed by the whole pipeline under the form's terms, on today's prices. "
            f"Nothing is kept. {_IN_LANGUAGE}",
            handler=price,
            query=NoQuery,
            body=bytes,
            body_media_types=(JSON,),
            body_types={JSON: FloorQuestion},
            body_limit=LARGEST_QUESTION_BYTES,
            answer=QuotedRange,
            failures=("malformed", "missing", "unavailable"),
        ),
        Operation(
            method="POST",
            path=PATH,
            id="createEnquiry",
            tag=TAG,
            publishable=True,
            cost=10,
            summary="Send an enquiry",
            description="Keeps who asks and what for, with an estimate of it. A floor that cannot "
            f"be priced is an enquiry all the same, without a price. {_IN_LANGUAGE}",
            handler=create,
            query=NoQuery,
            body=bytes,
            body_media_types=(JSON,),
            body_types={JSON: EnquiryRequest},
            body_limit=LARGEST_QUESTION_BYTES,
            answer=EnquiryReceipt,
            status=CREATED,
            headers=(IDEMPOTENCY_KEY,),
            failures=("malformed", "missing", "conflict", "unavailable"),
        ),
    )


def _reading(service: EnquiryService) -> tuple[AnyOperation, ...]:
    async def find(call: Call[None, EnquiriesQuery]) -> Answer:
        page = await service.find(call.caller.organisation, call.query, PATH)
        return Answer(encode(page, "us"), paging.link(call.query, PATH, page.next))

    async def get(call: Call[None, NoQuery]) -> Answer:
        return _enquiry(await service.get(call.caller.organisation, call.path["enquiry_id"]))

    return (
        Operation(
            method="GET",
            path=PATH,
            id="listEnquiries",
            tag=TAG,
            summary="Enquiries, newest first",
            description="All of them, or those in one state.",
            handler=find,
            query=EnquiriesQuery,
            answer=EnquiryPage,
            answer_headers={"Link": paging.LINK},
        ),
        Operation(
            method="GET",
            path=ONE,
            id="getEnquiry",
            tag=TAG,
            summary="One enquiry",
            description="What was asked and by whom, the price that was told, and the estimate.",
            handler=get,
            query=NoQuery,
            answer=Enquiry,
            path_parameters=(_ID,),
            answer_headers=ETAG,
            failures=("missing",),
        ),
    )


def _changing(service: EnquiryService) -> tuple[AnyOperation, ...]:
    async def change(call: Call[EnquiryChange, NoQuery]) -> Answer:
        name = call.path["enquiry_id"]
        return _enquiry(
            await service.set_state(call.caller.organisation, name, call.body.state, call.headers)
        )

    async def erase(call: Call[None, NoQuery]) -> Answer:
        await service.erase(call.caller, call.path["enquiry_id"])
        return Answer()

    return (
        Operation(
            method="PATCH",
            path=ONE,
            id="changeEnquiry",
            tag=TAG,
            summary="Say how far an enquiry has come",
            description="It is new until it is answered or closed.",
            handler=change,
            query=NoQuery,
            body=EnquiryChange,
            answer=Enquiry,
            path_parameters=(_ID,),
            headers=(IF_MATCH,),
            answer_headers=ETAG,
            failures=("missing", "precondition-failed", "precondition-required"),
        ),
        Operation(
            method="DELETE",
            path=ONE,
            id="eraseEnquiry",
            tag=TAG,
            summary="Erase who asked",
            description="Name, addresses, telephone number and message are gone for good. What was "
            "asked and its estimate stay, and tell nothing of the person.",
            handler=erase,
            query=NoQuery,
            answer=None,
            status=204,
            path_parameters=(_ID,),
            failures=("missing",),
        ),
    )


def _settled(found: Tagged) -> Answer:
    status = CREATED if found.made else None
    return Answer(found.content, (("etag", found.tag),), status=status)


def _enquiry(found: StoredEnquiry) -> Answer:
    content = encode(enquiry_answer(found), "us" if found.units == "us" else "si")
    return Answer(content, (("etag", tag(found)),))
