"""The same job done in several ways, side by side: what would happen if."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import datetime
from typing import Any, TypeVar

import msgspec

from filmbuild.errors import Fault, Faults, FilmbuildError
from filmbuild.money import Money, rounded
from filmbuild.pipeline.estimate import ENGINE_VERSION, Measured, estimate_document, measure
from filmbuild.pipeline.job import Job
from filmbuild.pipeline.requests import ComparisonRequest, EstimateRequest, Variant
from filmbuild.pipeline.results import (
    ComparedPurchase,
    ComparisonDocument,
    EstimateDocument,
    VariantDifferences,
    VariantFigures,
    VariantOutcome,
    VariantProblem,
)
from filmbuild.pipeline.scope import Part, part_of
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.trace import Trace
from filmbuild.quantities import Thickness

T = TypeVar("T")
_OWN = tuple(name for name in Variant.__struct_fields__ if name not in ("label", "areas"))
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
_COMPARED = (
    "floor",
    "dry_film",
    "coats",
    "last_work",
    "foot_traffic_from",
    "vehicle_traffic_from",
    "full_cure_at",
    "shifts",
    "visits",
    *_OF_PRICE,
)


def comparison_document(request: ComparisonRequest, catalogue: Catalogue) -> ComparisonDocument:
    """Each variant's figures, or why it has none.

    Raises InvalidInput where labels are not apart, or the site cannot be measured.
    """
    faults = Faults()
    _check_labels(request.variants, faults.at("variants"))
    _check_areas(request, faults.at("variants"))
    faults.raise_if_any()
    measured = measure(request.site, faults.at("site"), request.units)
    scopes = _Scopes(request, measured)
    found = [
        _estimated(request, index, scopes, catalogue) for index in range(len(request.variants))
    ]
    documents = [one for one in found if isinstance(one, EstimateDocument)]
    notes = _shared(one.notes for one in documents) if documents else measured.notes
    cautions = _shared(one.cautions for one in documents)
    outcomes = tuple(_outcomes(request.variants, found, notes, cautions))
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


def _check_areas(request: ComparisonRequest, faults: Faults) -> None:
    known = {area.id for area in request.site.areas}
    for index, variant in enumerate(request.variants):
        seen: set[str] = set()
        for number, name in enumerate(variant.areas or ()):
            if name not in known:
                faults.add(
                    "unknown-area", "the site has no area of this id", index, "areas", number
                )
            elif name in seen:
                faults.add("duplicate-area", "this area is named already", index, "areas", number)
            seen.add(name)


class _Scopes:
    """The site, or the areas of it that a variant does, each measured once."""

    def __init__(self, request: ComparisonRequest, whole: Measured) -> None:
        self._request = request
        self._whole = whole
        self._known: dict[frozenset[str], tuple[Part, Measured]] = {}

    def of(self, variant: Variant) -> tuple[Part, Measured]:
        """Raises InvalidInput."""
        site = self._request.site
        done = {area.id for area in site.areas} if variant.areas is None else set(variant.areas)
        left_out = frozenset(area.id for area in site.areas if area.id not in done)
        if left_out not in self._known:
            part = part_of(site, left_out, self._whole.takeoff)
            measured = self._whole
            if left_out:
                measured = measure(part.site, Faults().at("site"), self._request.units)
            self._known[left_out] = part, measured
        return self._known[left_out]


def _estimated(
    request: ComparisonRequest, index: int, scopes: _Scopes, catalogue: Catalogue
) -> EstimateDocument | VariantProblem:
    variant = request.variants[index]
    own = _own(variant)
    part = None
    try:
        part, measured = scopes.of(variant)
        asked = EstimateRequest(
            units=request.units,
            site=part.site,
            job=_job(request.job, own),
            catalogue_revision=request.catalogue_revision,
        )
        return estimate_document(asked, catalogue, measured)
    except FilmbuildError as error:
        faults = error.faults if part is None else map(part.pointed, error.faults)
        errors = tuple(_pointed(fault, index, own) for fault in faults)
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


def _outcomes(
    variants: Sequence[Variant],
    found: Sequence[EstimateDocument | VariantProblem],
    notes: Sequence[object],
    cautions: Sequence[object],
) -> Iterator[VariantOutcome]:
    first: VariantFigures | None = None
    for variant, one in zip(variants, found, strict=True):
        if isinstance(one, VariantProblem):
            yield VariantOutcome(
                label=variant.label, figures=None, problem=one, notes=(), cautions=()
            )
            continue
        figures = _figures(one)
        yield VariantOutcome(
            label=variant.label,
            figures=figures,
            problem=None,
            against_first=None if first is None else _differences(figures, first),
            notes=tuple(note for note in one.notes if note not in notes),
            cautions=tuple(caution for caution in one.cautions if caution not in cautions),
        )
        first = first or figures


def _differences(here: VariantFigures, first: VariantFigures) -> VariantDifferences:
    inputs = {
        name: {"here": getattr(here, name), "first": getattr(first, name)} for name in _COMPARED
    }
    return VariantDifferences(
        floor_share=here.floor / first.floor,
        dry_film_share=here.dry_film / first.dry_film if first.dry_film else None,
        last_work_hours=_later(here.last_work, first.last_work),
        foot_traffic_hours=_later(here.foot_traffic_from, first.foot_traffic_from),
        vehicle_traffic_hours=_later(here.vehicle_traffic_from, first.vehicle_traffic_from),
        full_cure_hours=_later(here.full_cure_at, first.full_cure_at),
        coats=here.coats - first.coats,
        shifts=here.shifts - first.shifts,
        visits=here.visits - first.visits,
        cost=_dearer(here.cost, first.cost),
        net=_dearer(here.net, first.net),
        total=_dearer(here.total, first.total),
        trace=Trace("comparison.difference", inputs),
    )


def _later(here: datetime, first: datetime) -> float:
    """[h]."""
    return (here - first).total_seconds() / 3600


def _dearer(here: Money, first: Money) -> Money:
    return rounded(here.amount - first.amount, here.currency)


def _figures(document: EstimateDocument) -> VariantFigures:
    schedule, price = document.schedule, document.price
    last = max(schedule.activities, key=lambda one: one.finish)
    totals = document.takeoff.totals
    coats = [one for one in document.materials.coats if one.kind != "repair"]
    films = {one.layer: one.dry_film for one in coats if one.dry_film is not None}
    return VariantFigures(
        system=document.basis.system,
        crew=sum(one.count for one in document.basis.crew),
        floor=totals.floor,
        coats=len(coats),
        dry_film=Thickness(sum(films.values())),
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
        | {
            "last_work": last.trace,
            "floor": totals.traces["floor"],
            "dry_film": Trace("comparison.dry-film", films),
        },
    )


def _traces(traces: dict[str, Trace], names: Sequence[str]) -> dict[str, Trace]:
    return {name: traces[name] for name in names if name in traces}


def _least(
    outcomes: Sequence[VariantOutcome], figure: Callable[[VariantFigures], Any]
) -> str | None:
    done = [(figure(one.figures), one.label) for one in outcomes if one.figures is not None]
    return min(done, key=lambda one: one[0])[1] if done else None
