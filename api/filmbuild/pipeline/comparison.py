"""The same job done in several ways, side by side: what would happen if."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any, TypeVar

import msgspec

from filmbuild.errors import Fault, Faults, FilmbuildError
from filmbuild.pipeline.estimate import ENGINE_VERSION, Measured, estimate_document, measure
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.requests import ComparisonRequest, EstimateRequest, Variant
from filmbuild.pipeline.results import (
    ComparedPurchase,
    ComparisonDocument,
    EstimateDocument,
    VariantFigures,
    VariantOutcome,
    VariantProblem,
)
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.trace import Trace

T = TypeVar("T")
_OWN = tuple(name for name in Variant.__struct_fields__ if name != "label")
_OF_SCHEDULE = (
    "shifts",
    "visits",
    "productive",
    "paid",
    "foot_traffic_from",
    "vehicle_traffic_from",
    "full_cure_at",
)
_OF_PRICE = ("cost", "net", "total")


def comparison_document(request: ComparisonRequest, catalogue: Catalogue) -> ComparisonDocument:
    """Each variant's figures, or why it has none.

    Raises InvalidInput where labels are not apart, or the site cannot be measured.
    """
    faults = Faults()
    _check_labels(request.variants, faults.at("variants"))
    faults.raise_if_any()
    measured = measure(request.site, faults.at("site"), request.units)
    found = [
        _estimated(request, index, measured, catalogue) for index in range(len(request.variants))
    ]
    documents = [one for one in found if isinstance(one, EstimateDocument)]
    notes = _shared(one.notes for one in documents) if documents else measured.notes
    cautions = _shared(one.cautions for one in documents)
    outcomes = tuple(
        _outcome(variant.label, one, notes, cautions)
        for variant, one in zip(request.variants, found, strict=True)
    )
    return ComparisonDocument(
        engine_version=ENGINE_VERSION,
        catalogue_revision=catalogue.revision,
        priced_on=catalogue.priced_on,
        units=request.units,
        notes=notes,
        cautions=cautions,
        variants=outcomes,
        cheapest=_least(outcomes, lambda one: one.total.amount),
        earliest=_least(outcomes, lambda one: one.last_work),
        first_open=_least(outcomes, lambda one: one.foot_traffic_from),
    )


def _check_labels(variants: Sequence[Variant], faults: Faults) -> None:
    first: dict[str, int] = {}
    for index, variant in enumerate(variants):
        earlier = first.setdefault(variant.label, index)
        if earlier != index:
            detail = f"variant {earlier} has this label already: give each variant its own"
            faults.add("duplicate-label", detail, index, "label")


def _estimated(
    request: ComparisonRequest, index: int, measured: Measured, catalogue: Catalogue
) -> EstimateDocument | VariantProblem:
    own = _own(request.variants[index])
    asked = EstimateRequest(
        units=request.units,
        site=request.site,
        job=_job(request.job, own),
        catalogue_revision=request.catalogue_revision,
    )
    try:
        return estimate_document(asked, catalogue, measured)
    except FilmbuildError as error:
        errors = tuple(_pointed(fault, index, own) for fault in error.faults)
        return VariantProblem(code=error.code, detail=error.detail, errors=errors)


def _own(variant: Variant) -> dict[str, Any]:
    values = ((name, getattr(variant, name)) for name in _OWN)
    return {name: value for name, value in values if value is not None}


def _job(job: Job, own: dict[str, Any]) -> Job:
    """A crew stands in the place of the people available, and they in the place of a crew."""
    if "crew" in own or "available" in own:
        own = {"crew": (), "available": (), **own}
    changed: Job = msgspec.structs.replace(job, **own)
    return changed


def _pointed(fault: Fault, index: int, own: dict[str, Any]) -> Fault:
    """Where the variant, rather than the job, has what is wrong."""
    _, part, *rest = [*fault.pointer.split("/"), ""]
    if part != "job" or rest[0] not in own:
        return fault
    pointer = f"/variants/{index}{fault.pointer.removeprefix('/job')}"
    return msgspec.structs.replace(fault, pointer=pointer)


def _shared(lists: Iterable[Sequence[T]]) -> tuple[T, ...]:
    """What is in all of them, in the order of the first."""
    first, *others = [*lists] or [()]
    return tuple(one for one in first if all(one in other for other in others))


def _outcome(
    label: str,
    found: EstimateDocument | VariantProblem,
    notes: Sequence[object],
    cautions: Sequence[object],
) -> VariantOutcome:
    if isinstance(found, VariantProblem):
        return VariantOutcome(label=label, figures=None, problem=found, notes=(), cautions=())
    return VariantOutcome(
        label=label,
        figures=_figures(found),
        problem=None,
        notes=tuple(one for one in found.notes if one not in notes),
        cautions=tuple(one for one in found.cautions if one not in cautions),
    )


def _figures(document: EstimateDocument) -> VariantFigures:
    schedule, price = document.schedule, document.price
    last = max(schedule.activities, key=lambda one: one.finish)
    return VariantFigures(
        system=document.basis.system,
        crew=sum(one.count for one in document.basis.crew),
        first_day=schedule.first_day,
        last_day=schedule.last_day,
        last_work=last.finish,
        **{name: getattr(schedule, name) for name in _OF_SCHEDULE},
        **{name: getattr(price, name) for name in _OF_PRICE},
        purchases=tuple(
            ComparedPurchase(
                product=one.product,
                name=one.name,
                packs=one.packs,
                cost=one.cost,
                trace=one.trace,
            )
            for one in document.materials.purchases
        ),
        traces=_traces(schedule.traces, _OF_SCHEDULE)
        | _traces(price.traces, _OF_PRICE)
        | {"last_work": last.trace},
    )


def _traces(traces: dict[str, Trace], names: Sequence[str]) -> dict[str, Trace]:
    return {name: traces[name] for name in names if name in traces}


def _least(
    outcomes: Sequence[VariantOutcome], figure: Callable[[VariantFigures], Any]
) -> str | None:
    done = [(figure(one.figures), one.label) for one in outcomes if one.figures is not None]
    return min(done, key=lambda one: one[0])[1] if done else None
