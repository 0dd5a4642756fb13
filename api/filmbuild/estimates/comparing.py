"""Revisions beside one another, and beside what they come to when they are computed again."""

from typing import Any

import msgspec

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.edge.encoding import encode
from filmbuild.errors import Fault, Infeasible, InvalidInput, NotFound
from filmbuild.estimates.assemble import catalogue_for
from filmbuild.estimates.records import document_of, request_of
from filmbuild.estimates.service import EstimateService
from filmbuild.estimates.stages import run
from filmbuild.estimates.store import StoredEstimate, StoredRevision
from filmbuild.estimates.texts import unpacked
from filmbuild.estimates.wire import DifferencesQuery, Recomputation, RevisionDifferences
from filmbuild.pipeline.differences import differences_between, value_differences
from filmbuild.pipeline.estimate import ENGINE_VERSION, estimate_document
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.specification import Catalogue
from filmbuild.quantities import UnitSystem

MOST_VALUES = 200


async def revision_differences(
    service: EstimateService, organisation: str, name: str, query: DifferencesQuery
) -> RevisionDifferences:
    """Raises NotFound, InvalidInput with the query's faults, and Conflict."""
    latest = await service.find_stored(organisation, name, None)
    wanted = query.to_revision or latest.head.latest_revision
    to = await _at(service, organisation, latest, wanted, "/to_revision")
    before = query.from_revision or max(1, wanted - 1)
    was = await _at(service, organisation, latest, before, "/from_revision")
    return await run(was.request + to.request, lambda: _differences(name, was, to))


async def _at(
    service: EstimateService, organisation: str, latest: StoredEstimate, number: int, where: str
) -> StoredRevision:
    if number == latest.revision.revision:
        return latest.revision
    try:
        return (await service.find_stored(organisation, latest.head.id, number)).revision
    except NotFound as missing:
        detail = f"the estimate has revisions 1 to {latest.head.latest_revision}"
        fault = Fault(where, "unknown-revision", detail)
        raise InvalidInput("The query is not valid.", (fault,)) from missing


def _differences(name: str, was: StoredRevision, now: StoredRevision) -> RevisionDifferences:
    documents = [document_of(unpacked(one.result)) for one in (was, now)]
    units: UnitSystem = "si" if documents[1].units == "si" else "us"
    before, after = (_asked(unpacked(one.request), units) for one in (was, now))
    return RevisionDifferences(
        estimate=name,
        from_revision=was.revision,
        to_revision=now.revision,
        asked=value_differences(before, after, MOST_VALUES),
        differences=differences_between(*documents),
    )


def _asked(text: bytes, units: UnitSystem) -> Any:  # noqa: ANN401 - whatever JSON was asked
    """In one form, so that 24 ft 6 in is 24.5 ft; as it stands where it can no longer be read."""
    try:
        return msgspec.json.decode(encode(request_of(text), units))
    except InvalidInput:
        return msgspec.json.decode(text)


async def recomputation(
    service: EstimateService,
    snapshots: CatalogueSnapshots,
    organisation: str,
    name: str,
    number: int,
) -> Recomputation:
    """The stored request on the stored catalogue revision; stores nothing. Raises NotFound."""
    stored = (await service.find_stored(organisation, name, number)).revision
    text = unpacked(stored.request)
    try:
        request = request_of(text)
    except InvalidInput as error:
        return _answer(name, stored, problem=error)
    job = msgspec.structs.replace(request.job, priced_on=stored.priced_on)
    catalogue = await catalogue_for(snapshots, organisation, job, stored.catalogue_revision)
    return await run(text, lambda: _recomputed(name, stored, request, catalogue))


def _recomputed(
    name: str, stored: StoredRevision, request: EstimateRequest, catalogue: Catalogue
) -> Recomputation:
    try:
        document = estimate_document(request, catalogue)
    except (InvalidInput, Infeasible) as error:
        return _answer(name, stored, problem=error)
    then, now = unpacked(stored.result), encode(document, request.units)
    if then == now:
        return _answer(name, stored, same=True)
    values = value_differences(msgspec.json.decode(then), msgspec.json.decode(now), MOST_VALUES)
    answer = _answer(name, stored)
    differences = differences_between(document_of(then), document_of(now))
    return msgspec.structs.replace(answer, values=values, differences=differences)


def _answer(
    name: str,
    stored: StoredRevision,
    *,
    same: bool = False,
    problem: InvalidInput | Infeasible | None = None,
) -> Recomputation:
    by_another = stored.engine_version != ENGINE_VERSION
    return Recomputation(
        estimate=name,
        revision=stored.revision,
        same=same,
        cause=None if same else "engine" if by_another else "catalogue",
        engine_version=stored.engine_version,
        engine_version_now=ENGINE_VERSION,
        catalogue_revision=stored.catalogue_revision,
        priced_on=stored.priced_on,
        differences=None,
        values=(),
        problem=None if problem is None else problem.detail,
        faults=() if problem is None else problem.faults,
    )
