"""Finds the catalogue that a request is to be computed on."""

from datetime import date

from filmbuild.catalogue.snapshot import CatalogueSnapshot, CatalogueSnapshots
from filmbuild.errors import Fault, InvalidInput, NotFound
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.specification import Catalogue


async def catalogue_for(
    snapshots: CatalogueSnapshots,
    organisation: str,
    job: Job,
    revision: int | None,
    priced_on: date | None = None,
) -> Catalogue:
    """Raises InvalidInput at /catalogue_revision, and Unavailable before any was loaded.

    `priced_on` is the day of the document handed in, which holds unless the job names another.
    """
    snapshot = await _snapshot(snapshots, organisation, revision)
    day = _pricing_day(job, snapshot, priced_on)
    return snapshot.priced(job.currency, day, job.price_tier or "")


async def _snapshot(
    snapshots: CatalogueSnapshots, organisation: str, revision: int | None
) -> CatalogueSnapshot:
    current = await snapshots.current(organisation)
    if revision is None or revision == current.revision:
        return current
    try:
        return await snapshots.at(organisation, revision)
    except NotFound as missing:
        detail = f"{missing.detail} Its revisions are 1 to {current.revision}."
        fault = Fault("/catalogue_revision", "unknown-revision", detail)
        raise InvalidInput("The request is not valid.", (fault,)) from missing


def _pricing_day(job: Job, snapshot: CatalogueSnapshot, earlier: date | None) -> date:
    """Never today's date: the same request must always find the same prices."""
    return job.priced_on or earlier or job.start or snapshot.made.created_at.date()
