"""The operations that compute, and those that keep what was computed."""

from collections.abc import Awaitable, Callable
from typing import TypeVar

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
from filmbuild.edge.paging import PageQuery
from filmbuild.estimates.service import CREATED, EstimateService
from filmbuild.estimates.wire import EstimatePage, StoredEstimate
from filmbuild.idempotency import IDEMPOTENCY_KEY, request_key
from filmbuild.pipeline.requests import (
    ComparisonRequest,
    EstimateRequest,
    LabourRequest,
    MaterialsRequest,
    ScheduleRequest,
    TakeoffRequest,
)
from filmbuild.pipeline.results import (
    ComparisonDocument,
    EstimateDocument,
    LabourDocument,
    MaterialsDocument,
    ScheduleDocument,
    TakeoffDocument,
)

R = TypeVar("R")
PATH = "/v1/estimates"
_POLICY = "default-src 'none'"
_REPEATABLE = (
    "Nothing is stored. The same body on the same catalogue revision always gets the same answer, "
    "byte for byte; `catalogue_revision` of the body chooses an earlier revision."
)


def stage_operations(service: EstimateService) -> tuple[AnyOperation, ...]:
    """Each stage from a site, or from the answer of the stage before it; nothing is stored."""
    return (
        _stage(
            "takeoff",
            "Measure a site",
            "Areas, bands, walls, cove, cracks, joints and tape of every area, and their sums. "
            "Reads nothing from the catalogue. `Accept` chooses between the whole takeoff, a "
            "drawing of it and a table of it.",
            TakeoffRequest,
            TakeoffDocument,
            service.takeoff,
            _takeoff_representations(service),
        ),
        _stage(
            "materials",
            "Coats, mixes, packs and consumables",
            "From a site, or from the answer of /v1/takeoff: give exactly one of `site` and "
            "`takeoff`.",
            MaterialsRequest,
            MaterialsDocument,
            service.materials,
        ),
        _stage(
            "labour",
            "Tasks, crew hours and machines",
            "From a site, or from the answer of /v1/materials: give exactly one of `site` and "
            "`materials`.",
            LabourRequest,
            LabourDocument,
            service.labour,
        ),
        _stage(
            "schedule",
            "Dates of the work, and when the floor may be used",
            "From a site, or from the answer of /v1/labour: give exactly one of `site` and "
            "`labour`. `job.start` is needed. `Accept` chooses between the whole schedule, a bar "
            "chart, a calendar file and a table of it.",
            ScheduleRequest,
            ScheduleDocument,
            service.schedule,
            _schedule_representations(service),
        ),
        Operation(
            method="POST",
            path="/v1/calculations",
            id="calculateEstimate",
            tag="estimates",
            summary="The whole estimate, without keeping it",
            description=f"Takeoff, materials, labour, schedule and price.\n\n{_REPEATABLE}",
            handler=_computing(service.calculation),
            query=NoQuery,
            body=EstimateRequest,
            answer=EstimateDocument,
        ),
        Operation(
            method="POST",
            path="/v1/comparisons",
            id="compareEstimates",
            tag="estimates",
            summary="The same job in several ways, side by side",
            description="The site is measured once, and the job estimated with each of up to 20 "
            "crews, starts, systems, calendars or conditions. Each variant has its figures, or "
            "why it cannot be done; the cheapest and the earliest are named. All are priced on "
            f"the same day.\n\n{_REPEATABLE}",
            handler=_computing(service.comparison),
            query=NoQuery,
            body=ComparisonRequest,
            answer=ComparisonDocument,
        ),
    )


def estimate_operations(service: EstimateService) -> tuple[AnyOperation, ...]:
    """The whole pipeline, kept: a stored estimate never changes."""

    async def create(call: Call[EstimateRequest, NoQuery]) -> Answer:
        key = request_key(call.headers, call.caller, f"POST {PATH}", call.content)
        made = await service.create(call.body, call.content, key)
        return Answer(made.content, (("location", f"{PATH}/{made.id}"),))

    async def get(call: Call[None, NoQuery]) -> Answer:
        return Answer(await service.get(call.path["estimate_id"]))

    async def find(call: Call[None, PageQuery]) -> Answer:
        page = await service.find(call.query, PATH)
        return Answer(encode(page, "us"), paging.link(call.query, PATH, page.next))

    return (
        Operation(
            method="POST",
            path=PATH,
            id="createEstimate",
            tag="estimates",
            summary="Make an estimate and keep it",
            description="The whole pipeline, stored with what it was asked. A stored estimate "
            "never changes, whatever happens to the catalogue.",
            handler=create,
            query=NoQuery,
            body=EstimateRequest,
            answer=StoredEstimate,
            status=CREATED,
            failures=("conflict",),
            headers=(IDEMPOTENCY_KEY,),
            answer_headers={"Location": "Where the estimate is kept."},
        ),
        Operation(
            method="GET",
            path=PATH,
            id="listEstimates",
            tag="estimates",
            summary="Stored estimates, newest first",
            description="One line for each estimate; the whole of it is at its own path.",
            handler=find,
            query=PageQuery,
            answer=EstimatePage,
            answer_headers={"Link": paging.LINK},
        ),
        Operation(
            method="GET",
            path=PATH + "/{estimate_id}",
            id="getEstimate",
            tag="estimates",
            summary="One stored estimate",
            description="The same bytes that its creation was answered with.",
            handler=get,
            query=NoQuery,
            answer=StoredEstimate,
            failures=("missing",),
            path_parameters=(
                PathParameter("estimate_id", "The estimate's `id`.", "^est_[0-9a-z]{26}$"),
            ),
        ),
    )


def _computing(
    compute: Callable[[R, bytes], Awaitable[bytes]],
    headers: tuple[tuple[str, str], ...] = (),
) -> Callable[[Call[R, NoQuery]], Awaitable[Answer]]:
    async def handler(call: Call[R, NoQuery]) -> Answer:
        return Answer(await compute(call.body, call.content), headers)

    return handler


def _stage(
    name: str,
    summary: str,
    description: str,
    body: type[R],
    answer: type,
    compute: Callable[[R, bytes], Awaitable[bytes]],
    representations: tuple[Representation[R, NoQuery], ...] = (),
) -> AnyOperation:
    return Operation(
        method="POST",
        path=f"/v1/{name}",
        id=f"compute{name.capitalize()}",
        tag="stages",
        summary=summary,
        description=f"{description}\n\n{_REPEATABLE}",
        handler=_computing(compute),
        query=NoQuery,
        body=body,
        answer=answer,
        representations=representations,
    )


def _takeoff_representations(
    service: EstimateService,
) -> tuple[Representation[TakeoffRequest, NoQuery], ...]:
    return (
        Representation(
            media_type="image/svg+xml",
            summary="A drawing of the takeoff",
            description="The plan of every level to scale, as wide as A4 paper: SVG 1.1 without "
            "scripts or references to anything outside of it.",
            handler=_computing(service.takeoff_drawing, (("content-security-policy", _POLICY),)),
        ),
        Representation(
            media_type="text/csv; charset=utf-8; header=present",
            summary="A table of the takeoff",
            description="A line for each area and one for all of them (RFC 4180). Titles give the "
            "units. Text that a spreadsheet would take for a formula has an apostrophe before it.",
            handler=_computing(service.takeoff_table),
        ),
    )


def _schedule_representations(
    service: EstimateService,
) -> tuple[Representation[ScheduleRequest, NoQuery], ...]:
    return (
        Representation(
            media_type="image/svg+xml",
            summary="A bar chart of the schedule",
            description="A row for each activity under days and dates in the site's time zone, as "
            "wide as A4 paper on its side: SVG 1.1 without scripts or references to anything "
            "outside of it.",
            handler=_computing(service.schedule_chart, (("content-security-policy", _POLICY),)),
        ),
        Representation(
            media_type="text/calendar; charset=utf-8",
            summary="A calendar of the schedule",
            description="An iCalendar file (RFC 5545) with an event for each day's work on an "
            "activity, each cure, and each opening of the site. Its events keep their UID when "
            "the same job is planned anew.",
            handler=_computing(service.schedule_calendar),
        ),
        Representation(
            media_type="text/csv; charset=utf-8; header=present",
            summary="A table of the schedule",
            description="A line for each activity, each cure, and each use that the site is "
            "closed to (RFC 4180), with times by the site's clock and in UTC. Text that a "
            "spreadsheet would take for a formula has an apostrophe before it.",
            handler=_computing(service.schedule_table),
        ),
    )
