"""The whole pipeline, and every way into it: from a site, or from the previous stage's document."""

from collections.abc import Iterable

import msgspec

from filmbuild.errors import Faults, FilmbuildError
from filmbuild.pipeline import limits
from filmbuild.pipeline.cautions import cautions_of
from filmbuild.pipeline.intake import basis_of, check_document, check_job
from filmbuild.pipeline.job import Job, UnitSystem
from filmbuild.pipeline.labour import choose_crew, plan_labour
from filmbuild.pipeline.materials import plan_materials
from filmbuild.pipeline.options import check_options, with_option_prices
from filmbuild.pipeline.plausibility import check_conditions, implausible
from filmbuild.pipeline.price import price_job
from filmbuild.pipeline.readings import judged
from filmbuild.pipeline.requests import (
    EstimateRequest,
    LabourRequest,
    MaterialsRequest,
    ScheduleRequest,
    SheetRequest,
    TakeoffRequest,
)
from filmbuild.pipeline.results import (
    Basis,
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
from filmbuild.pipeline.schedule import check_calendar, check_forecast, check_start, plan_schedule
from filmbuild.pipeline.selection import Selection, select
from filmbuild.pipeline.site import Site
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.takeoff import take_off
from filmbuild.pipeline.trace import Caution, Note
from filmbuild.spans import span

ENGINE_VERSION = "0.1.0"


class Run(msgspec.Struct):
    """One pass through the stages: what they read, and the notes they leave."""

    job: Job
    catalogue: Catalogue
    selection: Selection
    faults: Faults
    at_labour: Faults
    notes: list[Note]

    @property
    def basis(self) -> Basis:
        return basis_of(self.job, self.selection)

    def materials(self, takeoff: Takeoff) -> Materials:
        with span("stage.materials"):
            materials = plan_materials(
                takeoff, self.job, self.selection, self.catalogue, self.faults, self.notes
            )
        self.notes += limits.of_materials(takeoff, materials, self.catalogue)
        return materials

    def labour(self, takeoff: Takeoff, materials: Materials) -> Labour:
        with span("stage.labour"):
            labour = plan_labour(
                takeoff,
                materials,
                self.job,
                self.selection,
                self.catalogue,
                self.faults,
                self.notes,
            )
        self.notes += limits.of_labour(labour, self.job.calendar, self.selection.rate_book)
        return labour

    def schedule(self, takeoff: Takeoff, materials: Materials, labour: Labour) -> Schedule:
        with span("stage.schedule"):
            schedule = plan_schedule(
                takeoff,
                materials,
                labour,
                self.job,
                self.selection,
                self.catalogue,
                self.faults,
                self.at_labour,
                self.notes,
            )
        self.notes += limits.of_schedule(schedule, self.job)
        return schedule

    def said(self) -> tuple[Note, ...]:
        """Each note once, where it was first made."""
        return tuple(dict.fromkeys(self.notes))

    def cautions(
        self, takeoff: Takeoff, labour: Labour | None = None, schedule: Schedule | None = None
    ) -> tuple[Caution, ...]:
        added = frozenset(task.code for task in schedule.tasks) if schedule else frozenset()
        return cautions_of(takeoff, labour, self.selection, self.catalogue, added)


class Measured(msgspec.Struct, frozen=True):
    """A takeoff, with the notes that were left on the way."""

    takeoff: Takeoff
    notes: tuple[Note, ...]


def measure(site: Site, faults: Faults, units: UnitSystem) -> Measured:
    """Raises InvalidInput; `faults` is rooted at the site."""
    notes: list[Note] = []
    with span("stage.takeoff"):
        takeoff = take_off(site, faults, units, notes)
    notes += limits.of_takeoff(takeoff)
    return Measured(takeoff, tuple(notes))


def takeoff_document(request: TakeoffRequest) -> TakeoffDocument:
    """Measure the site. Raises InvalidInput."""
    measured = measure(request.site, Faults().at("site"), request.units)
    return TakeoffDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=None,
        priced_on=None,
        units=request.units,
        notes=measured.notes,
        cautions=(),
        takeoff=measured.takeoff,
    )


def materials_document(request: MaterialsRequest, catalogue: Catalogue) -> MaterialsDocument:
    """Volumes, mixes, packs and consumables. Raises InvalidInput and Infeasible."""
    takeoff, run = begin(request, request.takeoff, "takeoff", catalogue)
    materials = run.materials(takeoff)
    return MaterialsDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=run.said(),
        cautions=run.cautions(takeoff),
        basis=run.basis,
        takeoff=takeoff,
        materials=materials,
    )


def labour_document(request: LabourRequest, catalogue: Catalogue) -> LabourDocument:
    """Tasks and crew hours. Raises InvalidInput and Infeasible."""
    previous = request.materials
    takeoff, run = begin(request, previous, "materials", catalogue)
    materials = previous.materials if previous else run.materials(takeoff)
    labour = run.labour(takeoff, materials)
    return LabourDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=run.said(),
        cautions=run.cautions(takeoff, labour),
        basis=run.basis,
        takeoff=takeoff,
        materials=materials,
        labour=labour,
    )


def schedule_document(request: ScheduleRequest, catalogue: Catalogue) -> ScheduleDocument:
    """Dates. Raises InvalidInput and Infeasible."""
    previous = request.labour
    takeoff, run = begin(request, previous, "labour", catalogue)
    materials = previous.materials if previous else run.materials(takeoff)
    labour = previous.labour if previous else run.labour(takeoff, materials)
    schedule = run.schedule(takeoff, materials, labour)
    return ScheduleDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=run.said(),
        cautions=run.cautions(takeoff, labour, schedule),
        basis=run.basis,
        takeoff=takeoff,
        materials=materials,
        labour=labour,
        schedule=schedule,
    )


def estimate_document(
    request: EstimateRequest, catalogue: Catalogue, measured: Measured | None = None
) -> EstimateDocument:
    """Everything from takeoff to price. Raises InvalidInput and Infeasible.

    `measured` is the takeoff of the request's site in its units, where it has been made already.
    With options, the whole pipeline runs once for the job without any and once for each of them.
    """
    if not request.options:
        return _estimated(request, catalogue, measured)
    faults = Faults()
    check_options(request, faults.at("options"))
    faults.raise_if_any()
    measured = measured or measure(request.site, faults.at("site"), request.units)
    return with_option_prices(
        request,
        measured.takeoff,
        lambda asked: _estimated(
            asked, catalogue, measured if asked.site is request.site else None
        ),
    )


def _estimated(
    request: EstimateRequest, catalogue: Catalogue, measured: Measured | None
) -> EstimateDocument:
    takeoff, run = begin(request, None, "", catalogue, measured)
    materials = run.materials(takeoff)
    labour = run.labour(takeoff, materials)
    schedule = run.schedule(takeoff, materials, labour)
    tasks = (*labour.tasks, *schedule.tasks)
    with span("stage.price"):
        price = price_job(
            takeoff, materials, schedule, run.job, catalogue, run.faults, run.notes, tasks
        )
    run.notes += limits.of_price(run.job)
    return EstimateDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=run.said(),
        cautions=run.cautions(takeoff, labour, schedule),
        basis=run.basis,
        takeoff=takeoff,
        materials=materials,
        labour=labour,
        schedule=schedule,
        price=price,
    )


_Asked = MaterialsRequest | SheetRequest | LabourRequest | ScheduleRequest | EstimateRequest


def begin(
    request: _Asked,
    previous: TakeoffDocument | None,
    name: str,
    catalogue: Catalogue,
    measured: Measured | None = None,
    root: Faults | None = None,
) -> tuple[Takeoff, Run]:
    """The takeoff, measured or handed in as part of the document called `name`.

    Notes of an earlier stage come first, so that a run in stages says what the whole run says.
    """
    faults, job, site = Faults() if root is None else root, request.job, request.site
    _need_one(site, previous, name, faults)
    at_job = faults.at("job")
    check_conditions(job, at_job)
    check_forecast(job, at_job)
    if isinstance(request, ScheduleRequest | EstimateRequest):
        check_calendar(job, at_job)
    else:
        check_start(job, at_job)
    if previous is not None:
        check_document(previous, request.units, faults.at(name))
    selection = select(job, catalogue, at_job)
    notes: list[Note] = []
    if site is not None:
        faults.raise_if_any()
        measured = measured or measure(site, faults.at("site"), request.units)
        takeoff = measured.takeoff
        notes += measured.notes
        selection = _with_smallest_crew(takeoff, job, selection, catalogue)
    elif previous is not None:
        if job.available:
            faults.raise_if_any()
        selection = _with_smallest_crew(previous.takeoff, job, selection, catalogue)
        check_job(previous, job, selection, catalogue, request.units, faults, name)
        faults.raise_if_any()
        takeoff = previous.takeoff
        notes += _carried(previous, catalogue)
    else:
        msg = "a request without a previous document has a site"
        raise AssertionError(msg)
    read = ((area.id, area.substrate.moisture) for area in takeoff.areas)
    notes += judged(read, selection.system.moisture, request.units)
    notes += selection.notes
    notes += implausible(job, selection)
    return takeoff, Run(job, catalogue, selection, at_job, faults.at("labour", "labour"), notes)


def _with_smallest_crew(
    takeoff: Takeoff, job: Job, selection: Selection, catalogue: Catalogue
) -> Selection:
    """As it is, unless the job leaves it open who of the people available comes."""
    if not job.available:
        return selection

    def mixes(crew: Selection) -> bool:
        try:
            plan_materials(takeoff, job, crew, catalogue, Faults(), [])
        except FilmbuildError:
            return False
        return True

    return choose_crew(takeoff, job, selection, catalogue, mixes)


def _carried(previous: TakeoffDocument, catalogue: Catalogue) -> Iterable[Note]:
    yield from previous.notes
    if previous.engine_version != ENGINE_VERSION:
        yield Note(
            "engine-version-differs",
            f"The document handed in was computed by version {previous.engine_version}; this stage "
            f"by version {ENGINE_VERSION}.",
        )
    earlier = previous.catalogue_revision
    if earlier is not None and earlier != catalogue.revision:
        yield Note(
            "catalogue-revision-differs",
            f"The document handed in was computed on catalogue revision {earlier}; "
            f"this stage used revision {catalogue.revision}.",
        )


def _need_one(site: Site | None, previous: object | None, name: str, faults: Faults) -> None:
    if (site is None) == (previous is None):
        faults.add("exactly-one", f"give exactly one of site and {name}", "site")
        faults.raise_if_any()
