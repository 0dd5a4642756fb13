"""The document of an earlier stage, as a caller handed it back: read with as much care as a site."""

from filmbuild.errors import Faults
from filmbuild.pipeline.intake.basis import (
    LABOUR,
    MATERIALS,
    basis_of,
    check_basis,
    check_prices,
    people,
)
from filmbuild.pipeline.intake.coats import check_coats
from filmbuild.pipeline.intake.known import Known, check_labour_known, check_materials_known
from filmbuild.pipeline.intake.labour import check_labour
from filmbuild.pipeline.intake.marks import Marks
from filmbuild.pipeline.intake.orders import check_orders, check_orders_known
from filmbuild.pipeline.intake.purchases import (
    check_aggregates,
    check_consumables,
    check_purchases,
)
from filmbuild.pipeline.intake.takeoff import check_takeoff
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.results import LabourDocument, MaterialsDocument, TakeoffDocument
from filmbuild.pipeline.selection import Selection
from filmbuild.pipeline.specification import Catalogue
from filmbuild.quantities import UnitSystem

__all__ = ["basis_of", "check_document", "check_job"]


def check_document(document: TakeoffDocument, units: UnitSystem, faults: Faults) -> None:
    """Adds a fault at each figure that does not agree with the others of its document.

    `faults` is rooted at the document. Traces are not read.
    """
    marks = Marks(faults, units)
    check_takeoff(document.takeoff, marks.at("takeoff"))
    if not isinstance(document, MaterialsDocument):
        return
    materials, basis, at = document.materials, document.basis, marks.at("materials")
    if materials.system != basis.system:
        at.add("system-mismatch", f"the basis names system {basis.system}", "system")
    check_coats(materials.coats, document.takeoff, at.at("coats"))
    check_aggregates(materials.aggregates, document.takeoff, at.at("aggregates"))
    check_purchases(materials, basis.currency, at)
    check_orders(materials, basis.currency, at.at("orders"))
    check_consumables(materials.consumables, basis.currency, at.at("consumables"))
    if isinstance(document, LabourDocument):
        labour, at = document.labour, marks.at("labour")
        if labour.rate_book != basis.rate_book:
            at.add("rate-book-mismatch", f"the basis names {basis.rate_book}", "rate_book")
        if labour.crew != people(basis):
            at.add("crew-mismatch", f"the crew of the basis has {people(basis)} people", "crew")
        check_labour(labour, document.takeoff, basis.currency, at)


def check_job(
    document: TakeoffDocument,
    job: Job,
    selection: Selection,
    catalogue: Catalogue,
    units: UnitSystem,
    faults: Faults,
    name: str,
) -> None:
    """Adds a fault for each fact of the job that the document was not computed for.

    `faults` is rooted at the request, where the document is called `name`. What the catalogue no
    longer has is a fault too.
    """
    if not isinstance(document, MaterialsDocument):
        return
    asked = basis_of(job, selection)
    facts = LABOUR if isinstance(document, LabourDocument) else MATERIALS
    check_basis(document.basis, asked, facts, job, units, faults.at("job"))
    check_prices(document.priced_on, catalogue.priced_on, faults.at("job"))
    if document.basis.system != selection.system.id:
        return
    marks = Marks(faults.at(name), units)
    known = Known.of(selection, catalogue, document.catalogue_revision)
    check_materials_known(document.materials, known, marks.at("materials"))
    check_orders_known(document.materials, known, marks.at("materials", "orders"))
    if isinstance(document, LabourDocument):
        check_labour_known(document.labour, known, marks.at("labour"))
