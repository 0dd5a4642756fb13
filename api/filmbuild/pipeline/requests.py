"""What each stage is asked with: a site, or the document of the stage before it.

A document is handed back as it was answered, with the job that it was computed for: its figures are
checked against one another, and the job against the document's `basis`.
"""

from datetime import date
from typing import Annotated

from msgspec import Meta

from filmbuild.pipeline.job import (
    Conditions,
    CrewMember,
    Job,
    LayerChange,
    Subcontract,
    Terms,
    UnitSystem,
    WorkCalendar,
)
from filmbuild.pipeline.results import LabourDocument, MaterialsDocument, TakeoffDocument
from filmbuild.pipeline.site import Identifier, Input, Label, Site

TEXT = r"^[^\u0000-\u0008\u000b-\u001f\u007f]*$(?!\n)"
Revision = Annotated[int, Meta(ge=1, le=2_147_483_647)]


class _Request(Input, frozen=True, kw_only=True):
    units: UnitSystem = "us"


class _JobRequest(_Request, frozen=True, kw_only=True):
    job: Job
    catalogue_revision: Revision | None = None


class TakeoffRequest(_Request, frozen=True, kw_only=True):
    """The site alone: the takeoff reads nothing from the catalogue."""

    site: Site


class MaterialsRequest(_JobRequest, frozen=True, kw_only=True):
    """Exactly one of `site` and `takeoff`."""

    site: Site | None = None
    takeoff: TakeoffDocument | None = None


class PurchaseJob(Input, frozen=True, kw_only=True):
    """One of the jobs that are bought for: exactly one of `site` and `materials`."""

    reference: Label
    job: Job
    site: Site | None = None
    materials: MaterialsDocument | None = None


class PurchasesRequest(_Request, frozen=True, kw_only=True):
    """Several jobs, each with a reference of its own, in one currency and at the prices of one day."""

    jobs: Annotated[tuple[PurchaseJob, ...], Meta(min_length=1, max_length=50)]
    priced_on: date | None = None
    catalogue_revision: Revision | None = None


class LabourRequest(_JobRequest, frozen=True, kw_only=True):
    """Exactly one of `site` and `materials`."""

    site: Site | None = None
    materials: MaterialsDocument | None = None


class SheetRequest(_JobRequest, frozen=True, kw_only=True):
    """Exactly one of `site` and `materials`: the paper that follows from either."""

    site: Site | None = None
    materials: MaterialsDocument | None = None


class ScheduleRequest(_JobRequest, frozen=True, kw_only=True):
    """Exactly one of `site` and `labour`; `job.start` is needed."""

    site: Site | None = None
    labour: LabourDocument | None = None


class Variant(Input, frozen=True, kw_only=True):
    """What a variant of the job has of its own; what is left out is as in the job.

    A `crew`, or the people `available`, stands in the place of both of the job's; `layers` and
    `terms` in the place of the job's whole. `areas` are ids of those areas of the site that this
    variant does, where it does not do all.
    """

    label: Label
    areas: Annotated[tuple[Identifier, ...], Meta(min_length=1, max_length=20_000)] | None = None
    system: Identifier | None = None
    layers: Annotated[tuple[LayerChange, ...], Meta(max_length=12)] | None = None
    crew: Annotated[tuple[CrewMember, ...], Meta(min_length=1, max_length=20)] | None = None
    available: Annotated[tuple[CrewMember, ...], Meta(min_length=1, max_length=20)] | None = None
    start: date | None = None
    calendar: WorkCalendar | None = None
    conditions: Conditions | None = None
    terms: Terms | None = None


class ComparisonRequest(_JobRequest, frozen=True, kw_only=True):
    """One site and one job, and the ways in which the job might be done, each with a label of its own.

    A variant of nothing but a label is the job as it stands.
    """

    site: Site
    variants: Annotated[tuple[Variant, ...], Meta(min_length=1, max_length=20)]


class OptionalWork(Input, frozen=True, kw_only=True):
    """What the customer may have done as well: exactly one of `areas` and `extras`.

    `areas` are ids of areas of the site, which are done only if this is chosen: they are not in
    the price of the job, and belong to one option alone. `extras` are bought in like subcontracts.
    """

    id: Identifier
    label: Label
    description: Annotated[str, Meta(max_length=2_000, pattern=TEXT)] = ""
    areas: Annotated[tuple[Identifier, ...], Meta(max_length=2_000)] = ()
    extras: Annotated[tuple[Subcontract, ...], Meta(max_length=100)] = ()


class EstimateRequest(_JobRequest, frozen=True, kw_only=True):
    """The whole pipeline over one site; `job.start` is needed.

    Each of the `options` is priced as what it adds to the net price of the job without any, by
    the whole pipeline; that is its price whatever else is chosen with it.
    """

    site: Site
    reference: Label | None = None
    options: Annotated[tuple[OptionalWork, ...], Meta(max_length=20)] = ()
