"""The operations on repricings."""

from http import HTTPStatus

from filmbuild.db import Database
from filmbuild.edge import paging
from filmbuild.edge.closing import Closing
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
from filmbuild.idempotency import IDEMPOTENCY_KEY, request_key
from filmbuild.repricing.answers import answer
from filmbuild.repricing.events import LAST_EVENT_ID, Place, events
from filmbuild.repricing.records import Repricing as Record
from filmbuild.repricing.service import ACCEPTED, RepricingService
from filmbuild.repricing.wire import (
    RepricedEstimatePage,
    RepricedEstimatesQuery,
    Repricing,
    RepricingPage,
    RepricingRequest,
)

TAG = "repricings"
PATH = "/v1/repricings"
ONE = PATH + "/{repricing_id}"
_PARAMETER = (PathParameter("repricing_id", "The repricing's `id`.", "^rep_[0-9a-z]{26}$"),)


def repricing_operations(database: Database, closing: Closing) -> tuple[AnyOperation, ...]:
    service = RepricingService(database)
    return (
        _create(service),
        _list(service),
        _get(service),
        _list_estimates(service),
        _follow(service, database, closing),
        *_controls(service),
    )


def _answer(found: Record) -> Answer:
    return Answer(encode(answer(found), "us"), (("location", f"{PATH}/{found.id}"),))


def _create(service: RepricingService) -> AnyOperation:
    async def create(call: Call[RepricingRequest, NoQuery]) -> Answer:
        key = request_key(call.headers, call.caller, f"POST {PATH}", call.content)
        return _answer(await service.begin(call.caller, call.body, key))

    return Operation(
        method="POST",
        path=PATH,
        id="createRepricing",
        cost=50,
        tag=TAG,
        summary="Compute all open estimates at new prices",
        description="Begins work that goes on in the background, on one revision of the catalogue, "
        "and that survives whatever ends the service. Each estimate that is not accepted and whose "
        "price comes out otherwise gets a new revision, with `note` as its cause; its earlier "
        "revisions stay. Repeating it changes nothing more.",
        handler=create,
        query=NoQuery,
        body=RepricingRequest,
        answer=Repricing,
        status=ACCEPTED,
        failures=("conflict", "unavailable"),
        headers=(IDEMPOTENCY_KEY,),
        answer_headers={"Location": "Where its progress is told."},
    )


def _list(service: RepricingService) -> AnyOperation:
    async def find(call: Call[None, PageQuery]) -> Answer:
        page = await service.find(call.caller.organisation, call.query, PATH)
        return Answer(encode(page, "us"), paging.link(call.query, PATH, page.next))

    return Operation(
        method="GET",
        path=PATH,
        id="listRepricings",
        tag=TAG,
        summary="Repricings, newest first",
        description="Those that are done too.",
        handler=find,
        query=PageQuery,
        answer=RepricingPage,
        failures=("unavailable",),
        answer_headers={"Link": paging.LINK},
    )


def _get(service: RepricingService) -> AnyOperation:
    async def get(call: Call[None, NoQuery]) -> Answer:
        found = await service.get(call.caller.organisation, call.path["repricing_id"])
        return Answer(encode(answer(found), "us"))

    return Operation(
        method="GET",
        path=ONE,
        id="getRepricing",
        tag=TAG,
        summary="How far a repricing has come",
        description="Its counts, and by how much prices changed, in each currency: of all "
        "estimates once it is done, of those done so far until then.",
        handler=get,
        query=NoQuery,
        answer=Repricing,
        failures=("missing", "unavailable"),
        path_parameters=_PARAMETER,
    )


def _list_estimates(service: RepricingService) -> AnyOperation:
    async def find(call: Call[None, RepricedEstimatesQuery]) -> Answer:
        name = call.path["repricing_id"]
        path = f"{PATH}/{name}/estimates"
        page = await service.find_estimates(call.caller.organisation, name, call.query, path)
        return Answer(encode(page, "us"), paging.link(call.query, path, page.next))

    return Operation(
        method="GET",
        path=ONE + "/estimates",
        id="listRepricedEstimates",
        tag=TAG,
        summary="What became of each estimate",
        description="Those that are done, in the order in which they were: what each came to "
        "before and after, or why it was left as it was.",
        handler=find,
        query=RepricedEstimatesQuery,
        answer=RepricedEstimatePage,
        failures=("missing", "unavailable"),
        path_parameters=_PARAMETER,
        answer_headers={"Link": paging.LINK},
    )


def _follow(service: RepricingService, database: Database, closing: Closing) -> AnyOperation:
    async def follow(call: Call[None, NoQuery]) -> Answer:
        organisation, name = call.caller.organisation, call.path["repricing_id"]
        found = await service.get(organisation, name)
        place = Place(call.headers.get("last-event-id"))
        if place.is_end_of(found):
            return Answer(status=HTTPStatus.NO_CONTENT)
        headers = (("cache-control", "no-store"),)
        return Answer(headers=headers, pieces=events(database, organisation, name, place, closing))

    return Operation(
        method="GET",
        path=ONE + "/events",
        id="followRepricing",
        tag=TAG,
        summary="The progress of a repricing, as it is made",
        description="Server-sent events: `estimate` for each that is done, its data as in the list "
        "of estimates; `progress` after them, its data the repricing; and `end`, when the "
        "repricing is done, has failed or is stopped, after which the stream ends. After a "
        "connection that broke, `Last-Event-ID` goes on where it was; after `end` the answer is "
        "204, which keeps browsers from connecting again. Comments come now and then, so that the "
        "connection is not taken for dead.",
        handler=follow,
        query=NoQuery,
        answer=str,
        other_statuses=(HTTPStatus.NO_CONTENT,),
        media_type="text/event-stream",
        failures=("missing", "unavailable"),
        headers=(LAST_EVENT_ID,),
        path_parameters=_PARAMETER,
    )


def _controls(service: RepricingService) -> tuple[AnyOperation, ...]:
    async def stop(call: Call[None, NoQuery]) -> Answer:
        found = await service.stop(call.caller.organisation, call.path["repricing_id"])
        return Answer(encode(answer(found), "us"))

    async def resume(call: Call[None, NoQuery]) -> Answer:
        return _answer(await service.resume(call.caller.organisation, call.path["repricing_id"]))

    return (
        Operation(
            method="POST",
            path=ONE + "/stop",
            id="stopRepricing",
            tag=TAG,
            summary="Stop a repricing",
            description="Between two estimates: those that are done stay done, the others as they "
            "are. Stopping one that is stopped changes nothing.",
            handler=stop,
            query=NoQuery,
            answer=Repricing,
            failures=("missing", "conflict", "unavailable"),
            path_parameters=_PARAMETER,
        ),
        Operation(
            method="POST",
            path=ONE + "/resume",
            id="resumeRepricing",
            tag=TAG,
            summary="Go on with a repricing that is stopped or has failed",
            description="With the estimates that are not done, on the same revision of the "
            "catalogue. Resuming one that is running changes nothing.",
            handler=resume,
            query=NoQuery,
            answer=Repricing,
            status=ACCEPTED,
            failures=("missing", "conflict", "unavailable"),
            path_parameters=_PARAMETER,
            answer_headers={"Location": "Where its progress is told."},
        ),
    )
