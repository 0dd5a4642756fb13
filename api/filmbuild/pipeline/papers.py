"""What else is answered of the materials: sheets, sentences, and one order for several jobs."""

from filmbuild.errors import Faults
from filmbuild.pipeline.estimate import ENGINE_VERSION, begin
from filmbuild.pipeline.explain import explanations
from filmbuild.pipeline.materials.purchasing import check_bought
from filmbuild.pipeline.materials.stock import Stock, put_together, stock_on_hand
from filmbuild.pipeline.materials.together import buy_together
from filmbuild.pipeline.requests import PurchasesRequest, SheetRequest
from filmbuild.pipeline.results import (
    ExplanationDocument,
    LoadingListDocument,
    Materials,
    MixingSheetDocument,
    PurchaseListDocument,
)
from filmbuild.pipeline.sheets import loading_list, mixing_sheet
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.trace import Caution, Note


def mixing_sheet_document(request: SheetRequest, catalogue: Catalogue) -> MixingSheetDocument:
    """The mixes, coat by coat. Raises InvalidInput and Infeasible."""
    previous = request.materials
    takeoff, run = begin(request, previous, "materials", catalogue)
    materials = previous.materials if previous else run.materials(takeoff)
    return MixingSheetDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=run.said(),
        cautions=run.cautions(takeoff),
        sheet=mixing_sheet(takeoff, materials, catalogue),
    )


def purchase_list_document(request: PurchasesRequest, catalogue: Catalogue) -> PurchaseListDocument:
    """What several jobs buy together. Raises InvalidInput and Infeasible."""
    faults = Faults()
    _check_jobs(request, catalogue, faults.at("jobs"))
    jobs: dict[str, Materials] = {}
    held: list[Stock] = []
    notes: list[Note] = []
    cautions: list[Caution] = []
    for index, one in enumerate(request.jobs):
        asked = SheetRequest(
            units=request.units, job=one.job, site=one.site, materials=one.materials
        )
        root = faults.at("jobs", index)
        takeoff, run = begin(asked, one.materials, "materials", catalogue, root=root)
        materials = one.materials.materials if one.materials else run.materials(takeoff)
        check_bought(materials, catalogue, run.faults)
        held.append(stock_on_hand(one.job, catalogue, run.faults))
        faults.raise_if_any()
        jobs[one.reference] = materials
        notes += run.said()
        cautions += run.cautions(takeoff)
    return PurchaseListDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=tuple(dict.fromkeys(notes)),
        cautions=tuple(dict.fromkeys(cautions)),
        purchase_list=buy_together(jobs, catalogue, put_together(held)),
    )


def _check_jobs(request: PurchasesRequest, catalogue: Catalogue, faults: Faults) -> None:
    seen: dict[str, int] = {}
    for index, one in enumerate(request.jobs):
        before = seen.setdefault(one.reference, index)
        if before != index:
            detail = f"the same as at {before}; each job has a reference of its own"
            faults.add("duplicate", detail, index, "reference")
        if one.job.currency != catalogue.currency:
            detail = f"all jobs are bought for in one currency: {catalogue.currency}"
            faults.add("currency-mismatch", detail, index, "job", "currency")
    _check_stock(request, faults)
    faults.raise_if_any()


def _check_stock(request: PurchasesRequest, faults: Faults) -> None:
    """What is in store is put together: the same lot with two jobs would count twice."""
    listed: dict[tuple[object, ...], int] = {}
    for index, one in enumerate(request.jobs):
        for place, lot in enumerate(one.job.stock):
            same = (lot.product, lot.pack, lot.part, lot.lot, lot.expires)
            before = listed.setdefault(same, index)
            if before != index:
                detail = (
                    f"the job at {before} lists this too, and what is in store is put together for "
                    "all jobs: list it with one of them, or tell two apart by lot or expires"
                )
                faults.add("stock-listed-twice", detail, index, "job", "stock", place)


def explanation_document(request: SheetRequest, catalogue: Catalogue) -> ExplanationDocument:
    """The materials' figures as sentences. Raises InvalidInput and Infeasible."""
    previous = request.materials
    takeoff, run = begin(request, previous, "materials", catalogue)
    materials = previous.materials if previous else run.materials(takeoff)
    return ExplanationDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=run.said(),
        cautions=run.cautions(takeoff),
        explanations=explanations(materials, request.units),
    )


def loading_list_document(request: SheetRequest, catalogue: Catalogue) -> LoadingListDocument:
    """Packs, machines and all else by stage of the job. Raises InvalidInput and Infeasible.

    Without dates, so that what more days or visits would take is not in it.
    """
    previous = request.materials
    takeoff, run = begin(request, previous, "materials", catalogue)
    materials = previous.materials if previous else run.materials(takeoff)
    labour = run.labour(takeoff, materials)
    return LoadingListDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=run.said(),
        cautions=run.cautions(takeoff, labour),
        loading_list=loading_list(takeoff, materials, labour, catalogue, run.selection.rate_book),
    )
