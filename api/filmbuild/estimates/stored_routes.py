"""The operations on estimates that are kept, and on their revisions."""

from filmbuild.catalogue.snapshot import CatalogueSnapshots
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
from filmbuild.edge.preconditions import ETAG, IF_MATCH
from filmbuild.estimates.answers import Made
from filmbuild.estimates.comparing import recomputation, revision_differences
from filmbuild.estimates.service import CREATED, EstimateService
from filmbuild.estimates.wire import (
    DifferencesQuery,
    EstimatePage,
    EstimateRevision,
    EstimateRevisionPage,
    EstimatesQuery,
    Recomputation,
    RevisionDifferences,
    RevisionRequest,
    StoredEstimate,
)
from filmbuild.idempotency import IDEMPOTENCY_KEY, request_key
from filmbuild.pipeline.requests import EstimateRequest

PATH = "/v1/estimates"
ONE = PATH + "/{estimate_id}"
REVISIONS = ONE + "/revisions"
REVISION = REVISIONS + "/{revision}"
_ID = PathParameter("estimate_id", "The estimate's `id`.", "^est_[0-9a-z]{26}$")
_NUMBER = PathParameter("revision", "The number of the revision, from 1.", "^[1-9][0-9]{0,8}$")


def estimate_operations(
    service: EstimateService, snapshots: CatalogueSnapshots
) -> tuple[AnyOperation, ...]:
    return (
        _create(service),
        _list(service),
        _get(service),
        _list_revisions(service),
        _revise(service),
        _get_revision(service),
        _recompute(service, snapshots),
        _compare(service),
    )


def _create(service: EstimateService) -> AnyOperation:
    async def create(call: Call[EstimateRequest, NoQuery]) -> Answer:
        key = request_key(call.headers, call.caller, f"POST {PATH}", call.content)
        made = await service.create(call.caller, call.body, call.content, key)
        return Answer(made.content, (("location", f"{PATH}/{made.id}"), ("etag", made.tag)))

    return Operation(
        method="POST",
        path=PATH,
        id="createEstimate",
        cost=5,
        tag="estimates",
        summary="Make an estimate and keep it",
        description="The whole pipeline, stored with what it was asked as its first revision. A "
        "revision never changes, whatever happens to the catalogue.",
        handler=create,
        query=NoQuery,
        body=EstimateRequest,
        answer=StoredEstimate,
        status=CREATED,
        failures=("conflict",),
        headers=(IDEMPOTENCY_KEY,),
        answer_headers={"Location": "Where the estimate is kept.", **ETAG},
    )


def _list(service: EstimateService) -> AnyOperation:
    async def find(call: Call[None, EstimatesQuery]) -> Answer:
        page = await service.find(call.caller.organisation, call.query, PATH)
        return Answer(encode(page, "us"), paging.link(call.query, PATH, page.next))

    return Operation(
        method="GET",
        path=PATH,
        id="listEstimates",
        tag="estimates",
        summary="Stored estimates, newest first",
        description="One line for each estimate at its latest revision; the whole of it is at its "
        "own path.",
        handler=find,
        query=EstimatesQuery,
        answer=EstimatePage,
        answer_headers={"Link": paging.LINK},
    )


def _get(service: EstimateService) -> AnyOperation:
    async def get(call: Call[None, NoQuery]) -> Answer:
        return _shown(await service.get(call.caller.organisation, call.path["estimate_id"]))

    return Operation(
        method="GET",
        path=ONE,
        id="getEstimate",
        tag="estimates",
        summary="One stored estimate",
        description="At its latest revision: the request as it came, and the document with the "
        "bytes that it was first answered with.",
        handler=get,
        query=NoQuery,
        answer=StoredEstimate,
        failures=("missing",),
        path_parameters=(_ID,),
        answer_headers=ETAG,
    )


def _list_revisions(service: EstimateService) -> AnyOperation:
    async def find(call: Call[None, PageQuery]) -> Answer:
        name = call.path["estimate_id"]
        path = f"{PATH}/{name}/revisions"
        page, tag = await service.find_revisions(call.caller.organisation, name, call.query, path)
        link = paging.link(call.query, path, page.next)
        return Answer(encode(page, "us"), (*link, ("etag", tag)))

    return Operation(
        method="GET",
        path=REVISIONS,
        id="listEstimateRevisions",
        tag="estimates",
        summary="The revisions of an estimate, newest first",
        description="Who made each of them and why, on which catalogue revision and at the prices "
        "of which day, and what came out.",
        handler=find,
        query=PageQuery,
        answer=EstimateRevisionPage,
        failures=("missing",),
        path_parameters=(_ID,),
        answer_headers={"Link": paging.LINK, **ETAG},
    )


def _revise(service: EstimateService) -> AnyOperation:
    async def revise(call: Call[RevisionRequest, NoQuery]) -> Answer:
        name = call.path["estimate_id"]
        path = f"{PATH}/{name}/revisions"
        key = request_key(call.headers, call.caller, f"POST {path}", call.content)
        made = await service.revise(call.caller, name, call.body, call.content, call.headers, key)
        return _shown(made, ("location", f"{path}/{made.revision}"))

    return Operation(
        method="POST",
        path=REVISIONS,
        id="reviseEstimate",
        cost=5,
        tag="estimates",
        summary="Add a revision to an estimate",
        description="The whole pipeline over the request as it now is, stored with its `cause` as "
        "the estimate's next revision; those before it stay as they are. An estimate that has been "
        "accepted can be revised too: what was agreed on remains its accepted revision.",
        handler=revise,
        query=NoQuery,
        body=RevisionRequest,
        answer=EstimateRevision,
        status=CREATED,
        failures=("missing", "conflict", "precondition-failed", "precondition-required"),
        headers=(IDEMPOTENCY_KEY, IF_MATCH),
        path_parameters=(_ID,),
        answer_headers={"Location": "Where the revision is kept.", **ETAG},
    )


def _get_revision(service: EstimateService) -> AnyOperation:
    async def get(call: Call[None, NoQuery]) -> Answer:
        name, number = call.path["estimate_id"], int(call.path["revision"])
        made = await service.get_revision(call.caller.organisation, name, number)
        return Answer(made.content)

    return Operation(
        method="GET",
        path=REVISION,
        id="getEstimateRevision",
        tag="estimates",
        summary="One revision of an estimate",
        description="It never changes.",
        handler=get,
        query=NoQuery,
        answer=EstimateRevision,
        failures=("missing",),
        path_parameters=(_ID, _NUMBER),
    )


def _recompute(service: EstimateService, snapshots: CatalogueSnapshots) -> AnyOperation:
    async def recompute(call: Call[None, NoQuery]) -> Answer:
        name, number = call.path["estimate_id"], int(call.path["revision"])
        found = await recomputation(service, snapshots, call.caller.organisation, name, number)
        return Answer(encode(found, "us"))

    return Operation(
        method="POST",
        path=REVISION + "/recomputation",
        id="recomputeEstimateRevision",
        reads=True,
        cost=10,
        tag="estimates",
        summary="Compute a revision again",
        description="The stored request on the stored catalogue revision, at the prices of the "
        "stored day: says that every byte is the same, or what changed and why. Nothing is stored.",
        handler=recompute,
        query=NoQuery,
        answer=Recomputation,
        failures=("missing", "conflict"),
        path_parameters=(_ID, _NUMBER),
    )


def _compare(service: EstimateService) -> AnyOperation:
    async def compare(call: Call[None, DifferencesQuery]) -> Answer:
        found = await revision_differences(
            service, call.caller.organisation, call.path["estimate_id"], call.query
        )
        return Answer(encode(found, "us"))

    return Operation(
        method="GET",
        path=ONE + "/differences",
        id="compareEstimateRevisions",
        tag="estimates",
        summary="What one revision differs in from another",
        description="Line by line, each difference cut into the parts that more or less of it, its "
        "price, a rate, a rule, or the sum that it is a share of has brought about. The amounts of "
        "lines and terms add up to the difference of the totals. Only what differs is in it.",
        handler=compare,
        query=DifferencesQuery,
        answer=RevisionDifferences,
        failures=("missing", "conflict"),
        path_parameters=(_ID,),
    )


def _shown(made: Made, *headers: tuple[str, str]) -> Answer:
    return Answer(made.content, (*headers, ("etag", made.tag)))
