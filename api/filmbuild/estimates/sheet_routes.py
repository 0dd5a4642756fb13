"""What the materials say to people: the mixing sheet, the loading list, and each figure explained."""

from collections.abc import Awaitable, Callable
from typing import TypeVar

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import Answer, AnyOperation, Call, NoQuery, Operation, Representation
from filmbuild.estimates.assemble import catalogue_for
from filmbuild.estimates.sheets import Page, Paper, loading_page, mixing_page
from filmbuild.estimates.stages import run
from filmbuild.estimates.wire import SheetQuery
from filmbuild.pipeline import papers
from filmbuild.pipeline.requests import SheetRequest
from filmbuild.pipeline.results import ExplanationDocument, LoadingListDocument, MixingSheetDocument
from filmbuild.pipeline.sheets import loading_table, mixing_table
from filmbuild.pipeline.specification import Catalogue
from filmbuild.quantities import UnitSystem

D = TypeVar("D", MixingSheetDocument, LoadingListDocument, ExplanationDocument)
Made = TypeVar("Made")
Q = TypeVar("Q")
SheetCall = Call[SheetRequest, SheetQuery]
Answering = Callable[[SheetCall], Awaitable[Answer]]
Document = Callable[[SheetRequest, Catalogue], D]
HTML = "text/html"
CSV = "text/csv; charset=utf-8; header=present"
_FROM = (
    "From a site, or from the answer of /v1/materials: give exactly one of `site` and `materials`. "
    "`Accept` chooses between the data and what is made of them.\n\nNothing is stored. The "
    "same request on the same catalogue revision always gets the same answer, byte for byte."
)
_PAGE = (
    "HTML in black on white with its own style sheet and no scripts, for A4 or US Letter by "
    "`paper`. Rows are not cut in half, and titles stand on every page."
)
_TABLE = (
    "RFC 4180. Titles give the units. Text that a spreadsheet would take for a formula has an "
    "apostrophe before it."
)


def sheet_operations(snapshots: CatalogueSnapshots) -> tuple[AnyOperation, ...]:
    return (
        Operation(
            method="POST",
            path="/v1/mixing-sheet",
            id="writeMixingSheet",
            reads=True,
            cost=5,
            tag="stages",
            summary="The mixing sheet",
            description="Every mix in placing order: its parts by volume and mass, when it is put "
            f"together, and by when it must be down.\n\n{_FROM}",
            handler=_data(snapshots, papers.mixing_sheet_document),
            query=SheetQuery,
            body=SheetRequest,
            answer=MixingSheetDocument,
            representations=_forms(
                snapshots,
                papers.mixing_sheet_document,
                mixing_page,
                lambda one, units: mixing_table(one.sheet, units),
                "mixing sheet",
                "A line for each mix",
            ),
        ),
        Operation(
            method="POST",
            path="/v1/loading-list",
            id="writeLoadingList",
            reads=True,
            cost=5,
            tag="stages",
            summary="The loading list",
            description="Packs, machines, tools, protective equipment and consumables by the stage "
            "of the job that needs them first, and the power and dust extraction that the machines "
            "need at once. Without dates: what more days or visits would take is not in it.\n\n"
            f"{_FROM}",
            handler=_data(snapshots, papers.loading_list_document),
            query=SheetQuery,
            body=SheetRequest,
            answer=LoadingListDocument,
            representations=_forms(
                snapshots,
                papers.loading_list_document,
                loading_page,
                lambda one, _units: loading_table(one.loading_list),
                "loading list",
                "A line for each thing to load",
            ),
        ),
    )


def explanation_operations(snapshots: CatalogueSnapshots) -> tuple[AnyOperation, ...]:
    document = papers.explanation_document

    async def as_data(call: Call[SheetRequest, NoQuery]) -> Answer:
        units = call.body.units
        return Answer(await _computed(snapshots, call, document, lambda one: encode(one, units)))

    async def as_text(call: Call[SheetRequest, NoQuery]) -> Answer:
        lines = await _computed(snapshots, call, document, _lines)
        return Answer(lines.encode())

    return (
        Operation(
            method="POST",
            path="/v1/explanations",
            id="explainMaterials",
            reads=True,
            cost=5,
            tag="stages",
            summary="The figures of the materials as sentences",
            description="How each volume, mass, film and count of the materials stage came about: "
            "the figures it was worked from, with their units, as steps for machines and as a "
            f"sentence.\n\n{_FROM}",
            handler=as_data,
            query=NoQuery,
            body=SheetRequest,
            answer=ExplanationDocument,
            representations=(
                Representation(
                    media_type="text/plain",
                    summary="The sentences alone",
                    description="A line for each figure, in the order of the answer of "
                    "/v1/materials.",
                    handler=as_text,
                ),
            ),
        ),
    )


def _lines(document: ExplanationDocument) -> str:
    return "".join(f"{one.text}\n" for one in document.explanations)


def _forms(
    snapshots: CatalogueSnapshots,
    document: Document[D],
    page: Callable[[D, Paper | None, UnitSystem], Page],
    table: Callable[[D, UnitSystem], str],
    name: str,
    lines: str,
) -> tuple[Representation[SheetRequest, SheetQuery], ...]:
    async def as_page(call: SheetCall) -> Answer:
        units = call.body.units
        made = await _computed(
            snapshots, call, document, lambda one: page(one, call.query.paper, units)
        )
        return Answer(made.content.encode(), (("content-security-policy", made.policy),))

    async def as_table(call: SheetCall) -> Answer:
        units = call.body.units
        made = await _computed(snapshots, call, document, lambda one: table(one, units))
        return Answer(made.encode())

    return (
        Representation(
            media_type=HTML,
            summary=f"The {name} as a page to print",
            description=_PAGE,
            handler=as_page,
        ),
        Representation(
            media_type=CSV,
            summary=f"The {name} as a table",
            description=f"{lines}: {_TABLE}",
            handler=as_table,
        ),
    )


def _data(snapshots: CatalogueSnapshots, document: Document[D]) -> Answering:
    async def handler(call: SheetCall) -> Answer:
        units = call.body.units
        return Answer(await _computed(snapshots, call, document, lambda one: encode(one, units)))

    return handler


async def _computed(
    snapshots: CatalogueSnapshots,
    call: Call[SheetRequest, Q],
    document: Document[D],
    form: Callable[[D], Made],
) -> Made:
    """In a thread where the request is long, so that others need not wait for it."""
    request = call.body
    earlier = None if request.materials is None else request.materials.priced_on
    catalogue = await catalogue_for(
        snapshots, call.caller.organisation, request.job, request.catalogue_revision, earlier
    )

    def compute() -> Made:
        return form(document(request, catalogue))

    return await run(call.content, compute)
