"""Job packs over HTTP: of a request, and of an estimate that is stored."""

import asyncio
from collections.abc import Awaitable, Callable
from datetime import date
from typing import Annotated, Protocol, TypeVar

import msgspec
from msgspec import Meta

from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import (
    Answer,
    AnyOperation,
    Call,
    Operation,
    PathParameter,
    Representation,
)
from filmbuild.organisations.parties import Language
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.specification import Catalogue
from filmbuild.quantities import UnitSystem
from filmbuild.quotations.documents.answers import HTML, PDF, file_name, page_answer
from filmbuild.quotations.documents.job_pack import JobPack, job_pack
from filmbuild.quotations.documents.pages import job_pack_page
from filmbuild.quotations.documents.pdf import job_pack_pdf

B = TypeVar("B")
Q = TypeVar("Q", bound="JobPackQuery")
_WHAT = (
    "All that the crew needs and none of the prices: the drawing, the plan day by day with the bar "
    "chart, when each area may be used, the loading list, the mixing sheet, and the cautions with "
    "their sources. `Accept` chooses between the data, a page and print."
)
_ESTIMATE_ID = PathParameter("estimate_id", "the estimate's id", "est_[0-9a-z]{26}")


class JobPackQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """`language` is that of the page and of print: English, unless it begins with "es"."""

    language: Language = "en"


class StoredJobPackQuery(JobPackQuery, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """`revision` is that of the estimate; left out, the newest."""

    revision: Annotated[int, Meta(ge=1, le=1_000_000)] | None = None


class Loaded(Protocol):
    """A stored revision of an estimate."""

    @property
    def request(self) -> EstimateRequest: ...
    @property
    def document(self) -> EstimateDocument: ...


CatalogueFor = Callable[[str, Job, int | None, date | None], Awaitable[Catalogue]]
"""Of an organisation: for a job, on a revision and on a day of prices."""
Load = Callable[[str, str, int | None], Awaitable[Loaded]]
"""An organisation's estimate by its id, at a revision."""
MakePack = Callable[[Call[B, Q]], Awaitable[JobPack]]


def job_pack_operations(catalogue_for: CatalogueFor, load: Load) -> tuple[AnyOperation, ...]:
    async def of_request(call: Call[EstimateRequest, JobPackQuery]) -> JobPack:
        request = call.body
        catalogue = await catalogue_for(
            call.caller.organisation, request.job, request.catalogue_revision, None
        )
        return await asyncio.to_thread(_made, request, catalogue)

    async def of_stored(call: Call[None, StoredJobPackQuery]) -> JobPack:
        organisation = call.caller.organisation
        found = await load(organisation, call.path["estimate_id"], call.query.revision)
        document = found.document
        catalogue = await catalogue_for(
            organisation, found.request.job, document.catalogue_revision, document.priced_on
        )
        return await asyncio.to_thread(job_pack, found.request, document, catalogue)

    return (
        Operation(
            method="POST",
            path="/v1/job-pack",
            id="writeJobPack",
            reads=True,
            cost=10,
            tag="stages",
            summary="The crew's papers for a job",
            description=f"{_WHAT}\n\nNothing is stored.",
            handler=_data(of_request),
            query=JobPackQuery,
            body=EstimateRequest,
            answer=JobPack,
            representations=_forms(of_request),
        ),
        Operation(
            method="GET",
            path="/v1/estimates/{estimate_id}/job-pack",
            id="getJobPack",
            tag="estimates",
            summary="The crew's papers for a stored estimate",
            description=f"{_WHAT}\n\nOf the revision that is asked for, on the catalogue that it "
            "was made on.",
            handler=_data(of_stored),
            query=StoredJobPackQuery,
            answer=JobPack,
            path_parameters=(_ESTIMATE_ID,),
            failures=("missing",),
            representations=_forms(of_stored),
        ),
    )


def _made(request: EstimateRequest, catalogue: Catalogue) -> JobPack:
    return job_pack(request, estimate_document(request, catalogue), catalogue)


def _data(make: MakePack[B, Q]) -> Callable[[Call[B, Q]], Awaitable[Answer]]:
    async def handler(call: Call[B, Q]) -> Answer:
        pack = await make(call)
        units: UnitSystem = "us" if pack.units == "us" else "si"
        return Answer(encode(pack, units))

    return handler


def _forms(make: MakePack[B, Q]) -> tuple[Representation[B, Q], ...]:
    async def as_page(call: Call[B, Q]) -> Answer:
        pack = await make(call)
        return page_answer(await asyncio.to_thread(job_pack_page, pack, call.query.language))

    async def as_print(call: Call[B, Q]) -> Answer:
        pack = await make(call)
        made = await asyncio.to_thread(job_pack_pdf, pack, call.query.language)
        name = file_name(pack.site, "pdf")
        return Answer(made, (("content-disposition", f'inline; filename="{name}"'),))

    return (
        Representation(
            media_type=HTML,
            summary="The job pack as a page",
            description="For screens of any size and for print, with its own style sheet and no "
            "scripts.",
            handler=as_page,
        ),
        Representation(
            media_type=PDF,
            summary="The job pack for print",
            description="A tagged PDF with the fonts in it; the same job on the same catalogue "
            "revision always has the same bytes.",
            handler=as_print,
        ),
    )
