"""The whole pipeline, and every way into it: from a site, or from the previous stage's document."""

import msgspec

from filmbuild.errors import Faults
from filmbuild.pipeline.cautions import cautions_of
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.labour import plan_labour
from filmbuild.pipeline.materials import plan_materials
from filmbuild.pipeline.price import price_job
from filmbuild.pipeline.requests import (
    EstimateRequest,
    LabourRequest,
    MaterialsRequest,
    ScheduleRequest,
    TakeoffRequest,
)
from filmbuild.pipeline.results import (
    EstimateDocument,
    Labour,
    LabourDocument,
    Materials,
    MaterialsDocument,
    Schedule,
    ScheduleDocument,
    Takeoff,
    TakeoffDocument,
)
from filmbuild.pipeline.schedule import plan_schedule
from filmbuild.pipeline.selection import Selection, select
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.takeoff import take_off
from filmbuild.pipeline.trace import Caution, Note

ENGINE_VERSION = "0.1.0"


class _Run(msgspec.Struct):
    """One pass through the stages: what they read, and the notes they leave."""

    job: Job
    catalogue: Catalogue
    selection: Selection
    faults: Faults
    notes: list[Note]

    def materials(self, takeoff: Takeoff) -> Materials:
        return plan_materials(
            takeoff, self.job, self.selection, self.catalogue, self.faults, self.notes
        )

    def labour(self, takeoff: Takeoff, materials: Materials) -> Labour:
        return plan_labour(
            takeoff, materials, self.job, self.selection, self.catalogue, self.faults, self.notes
        )

    def schedule(self, labour: Labour) -> Schedule:
        return plan_schedule(
            labour, self.job, self.selection, self.catalogue, self.faults, self.notes
        )

    def cautions(self, takeoff: Takeoff, labour: Labour | None = None) -> tuple[Caution, ...]:
        return cautions_of(takeoff, labour, self.selection, self.catalogue)


def takeoff_document(request: TakeoffRequest) -> TakeoffDocument:
    """Measure the site. Raises InvalidInput."""
    faults = Faults()
    takeoff = take_off(request.site, faults.at("site"))
    return TakeoffDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=None,
        priced_on=None,
        units=request.units,
        notes=(),
        cautions=(),
        takeoff=takeoff,
    )


def materials_document(request: MaterialsRequest, catalogue: Catalogue) -> MaterialsDocument:
    """Volumes, mixes, packs and consumables. Raises InvalidInput and Infeasible."""
    faults = Faults()
    _need_one(request.site, request.takeoff, "takeoff", faults)
    run = _begin(request.job, catalogue, faults, request.takeoff)
    takeoff = _takeoff(request.site, request.takeoff, faults)
    materials = run.materials(takeoff)
    return MaterialsDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=tuple(run.notes),
        cautions=run.cautions(takeoff),
        takeoff=takeoff,
        materials=materials,
    )


def labour_document(request: LabourRequest, catalogue: Catalogue) -> LabourDocument:
    """Tasks and crew hours. Raises InvalidInput and Infeasible."""
    faults = Faults()
    previous = request.materials
    _need_one(request.site, previous, "materials", faults)
    run = _begin(request.job, catalogue, faults, previous)
    takeoff = _takeoff(request.site, previous, faults)
    materials = previous.materials if previous else run.materials(takeoff)
    _same_system(materials, request.job, "materials", faults)
    labour = run.labour(takeoff, materials)
    return LabourDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=tuple(run.notes),
        cautions=run.cautions(takeoff, labour),
        takeoff=takeoff,
        materials=materials,
        labour=labour,
    )


def schedule_document(request: ScheduleRequest, catalogue: Catalogue) -> ScheduleDocument:
    """Dates. Raises InvalidInput and Infeasible."""
    faults = Faults()
    previous = request.labour
    _need_one(request.site, previous, "labour", faults)
    run = _begin(request.job, catalogue, faults, previous)
    takeoff = _takeoff(request.site, previous, faults)
    materials = previous.materials if previous else run.materials(takeoff)
    _same_system(materials, request.job, "labour", faults)
    labour = previous.labour if previous else run.labour(takeoff, materials)
    schedule = run.schedule(labour)
    return ScheduleDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=tuple(run.notes),
        cautions=run.cautions(takeoff, labour),
        takeoff=takeoff,
        materials=materials,
        labour=labour,
        schedule=schedule,
    )


def estimate_document(request: EstimateRequest, catalogue: Catalogue) -> EstimateDocument:
    """Everything from takeoff to price. Raises InvalidInput and Infeasible."""
    faults = Faults()
    run = _begin(request.job, catalogue, faults, None)
    takeoff = take_off(request.site, faults.at("site"))
    materials = run.materials(takeoff)
    labour = run.labour(takeoff, materials)
    schedule = run.schedule(labour)
    price = price_job(takeoff, materials, labour, run.job, catalogue, run.faults, run.notes)
    return EstimateDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=tuple(run.notes),
        cautions=run.cautions(takeoff, labour),
        takeoff=takeoff,
        materials=materials,
        labour=labour,
        schedule=schedule,
        price=price,
    )


def _begin(
    job: Job, catalogue: Catalogue, faults: Faults, previous: TakeoffDocument | None
) -> _Run:
    at_job = faults.at("job")
    selection = select(job, catalogue, at_job)
    notes = list(selection.notes)
    if previous is not None:
        earlier = previous.catalogue_revision
        if earlier is not None and earlier != catalogue.revision:
            notes.append(
                Note(
                    "catalogue-revision-differs",
                    f"The document handed in was computed on catalogue revision {earlier}; "
                    f"this stage used revision {catalogue.revision}.",
                )
            )
    return _Run(job, catalogue, selection, at_job, notes)


def _need_one(site: Site | None, previous: object | None, name: str, faults: Faults) -> None:
    if (site is None) == (previous is None):
        faults.add("exactly-one", f"give exactly one of site and {name}", "site")
        faults.raise_if_any()


def _takeoff(site: Site | None, previous: TakeoffDocument | None, faults: Faults) -> Takeoff:
    if previous is not None:
        return previous.takeoff
    if site is None:
        msg = "a request without a previous document has a site"
        raise AssertionError(msg)
    return take_off(site, faults.at("site"))


def _same_system(materials: Materials, job: Job, name: str, faults: Faults) -> None:
    if materials.system != job.system:
        faults.add(
            "system-mismatch",
            f"the document handed in is for system {materials.system}; the job names {job.system}",
            name,
            "materials",
            "system",
        )
        faults.raise_if_any()
