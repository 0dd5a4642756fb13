"""The operations that compute and keep nothing."""

from collections.abc import Awaitable, Callable
from typing import TypeVar

from filmbuild.edge.operations import (
    Answer,
    AnyOperation,
    Call,
    NoQuery,
    Operation,
    Representation,
)
from filmbuild.estimates.stages import Stages
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
_POLICY = "default-src 'none'"
_REPEATABLE = (
    "Nothing is stored. The same body on the same catalogue revision always gets the same answer, "
    "byte for byte; `catalogue_revision` of the body chooses an earlier revision."
)


def stage_operations(stages: Stages) -> tuple[AnyOperation, ...]:
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
            stages.takeoff,
            _takeoff_representations(stages),
        ),
        _stage(
            "materials",
            "Coats, mixes, packs and consumables",
            "From a site, or from the answer of /v1/takeoff: give exactly one of `site` and "
            "`takeoff`.",
            MaterialsRequest,
            MaterialsDocument,
            stages.materials,
        ),
        _stage(
            "labour",
            "Tasks, crew hours and machines",
            "From a site, or from the answer of /v1/materials: give exactly one of `site` and "
            "`materials`.",
            LabourRequest,
            LabourDocument,
            stages.labour,
        ),
        _stage(
            "schedule",
            "Dates of the work, and when the floor may be used",
            "From a site, or from the answer of /v1/labour: give exactly one of `site` and "
            "`labour`. `job.start` is needed. `Accept` chooses between the whole schedule, a bar "
            "chart, a calendar file and a table of it.",
            ScheduleRequest,
            ScheduleDocument,
            stages.schedule,
            _schedule_representations(stages),
        ),
        Operation(
            method="POST",
            path="/v1/calculations",
            id="calculateEstimate",
            reads=True,
            cost=5,
            tag="estimates",
            summary="The whole estimate, without keeping it",
            description=f"Takeoff, materials, labour, schedule and price.\n\n{_REPEATABLE}",
            handler=_computing(stages.calculation),
            query=NoQuery,
            body=EstimateRequest,
            answer=EstimateDocument,
        ),
        Operation(
            method="POST",
            path="/v1/comparisons",
            id="compareEstimates",
            reads=True,
            cost=20,
            tag="estimates",
            summary="The same job in several ways, side by side",
            description="The site is measured once, and the job estimated with each of up to 20 "
            "crews, starts, systems, calendars or conditions. Each variant has its figures, or "
            "why it cannot be done; the cheapest and the earliest are named. All are priced on "
            f"the same day.\n\n{_REPEATABLE}",
            handler=_computing(stages.comparison),
            query=NoQuery,
            body=ComparisonRequest,
            answer=ComparisonDocument,
        ),
    )


def _computing(
    compute: Callable[[str, R, bytes], Awaitable[bytes]],
    headers: tuple[tuple[str, str], ...] = (),
) -> Callable[[Call[R, NoQuery]], Awaitable[Answer]]:
    async def handler(call: Call[R, NoQuery]) -> Answer:
        content = await compute(call.caller.organisation, call.body, call.content)
        return Answer(content, headers)

    return handler


def _stage(
    name: str,
    summary: str,
    description: str,
    body: type[R],
    answer: type,
    compute: Callable[[str, R, bytes], Awaitable[bytes]],
    representations: tuple[Representation[R, NoQuery], ...] = (),
) -> AnyOperation:
    return Operation(
        method="POST",
        path=f"/v1/{name}",
        id=f"compute{name.capitalize()}",
        reads=True,
        cost=5,
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
    stages: Stages,
) -> tuple[Representation[TakeoffRequest, NoQuery], ...]:
    return (
        Representation(
            media_type="image/svg+xml",
            summary="A drawing of the takeoff",
            description="The plan of every level to scale, as wide as A4 paper: SVG 1.1 without "
            "scripts or references to anything outside of it.",
            handler=_computing(stages.takeoff_drawing, (("content-security-policy", _POLICY),)),
        ),
        Representation(
            media_type="text/csv; charset=utf-8; header=present",
            summary="A table of the takeoff",
            description="A line for each area and one for all of them (RFC 4180). Titles give the "
            "units. Text that a spreadsheet would take for a formula has an apostrophe before it.",
            handler=_computing(stages.takeoff_table),
        ),
    )


def _schedule_representations(
    stages: Stages,
) -> tuple[Representation[ScheduleRequest, NoQuery], ...]:
    return (
        Representation(
            media_type="image/svg+xml",
            summary="A bar chart of the schedule",
            description="A row for each activity under days and dates in the site's time zone, as "
            "wide as A4 paper on its side: SVG 1.1 without scripts or references to anything "
            "outside of it.",
            handler=_computing(stages.schedule_chart, (("content-security-policy", _POLICY),)),
        ),
        Representation(
            media_type="text/calendar; charset=utf-8",
            summary="A calendar of the schedule",
            description="An iCalendar file (RFC 5545) with an event for each day's work on an "
            "activity, each cure, and each opening of the site. Its events keep their UID when "
            "the same job is planned anew.",
            handler=_computing(stages.schedule_calendar),
        ),
        Representation(
            media_type="text/csv; charset=utf-8; header=present",
            summary="A table of the schedule",
            description="A line for each activity, each cure, and each use that the site is "
            "closed to (RFC 4180), with times by the site's clock and in UTC. Text that a "
            "spreadsheet would take for a formula has an apostrophe before it.",
            handler=_computing(stages.schedule_table),
        ),
    )
