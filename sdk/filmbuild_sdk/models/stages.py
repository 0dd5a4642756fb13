"""What the service is sent and what it answers: stages.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence
from typing import Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.models.inputs import Island, Job, Polygon, Site
from filmbuild_sdk.models.results import (
    Basis,
    Caution,
    Labour,
    LoadingList,
    Materials,
    MixingSheet,
    Note,
    Purchase,
    Schedule,
    SupplierOrder,
    Takeoff,
    Trace,
)
from filmbuild_sdk.values import Answer, Choice, Input, Money, Quantity


class Step(Answer, frozen=True, kw_only=True):
    """One step of a sum: a named value, or an operation on earlier steps.

    `of` are places in the list of steps, from 0; a step between is a `number` in SI units. Exactly
    one of `quantity` and `number` is the
    value. "round_up" takes one step to the next whole number, and "at_least" is the largest.
    """

    operation: str
    name: str | None
    quantity: Quantity | None
    number: float | None
    of: tuple[int, ...] = ()


class Explanation(Answer, frozen=True, kw_only=True):
    """How one figure came about; the last of `steps` is the figure.

    `pointer` is that of the figure in the answer of /v1/materials. `text` says the same in words,
    rounded to six digits, in the caller's units: quantities of other units are to be converted.
    """

    pointer: str
    subject: str
    name: str
    rule: str
    quantity: Quantity | None
    number: float | None
    text: str
    steps: tuple[Step, ...]


class ExplanationDocument(Answer, frozen=True, kw_only=True):
    engine_version: str
    catalogue_revision: int | None
    priced_on: dt.date | None
    units: str
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]
    explanations: tuple[Explanation, ...]


class LabourDocument(Answer, frozen=True, kw_only=True):
    engine_version: str
    catalogue_revision: int | None
    priced_on: dt.date | None
    units: str
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]
    takeoff: Takeoff
    basis: Basis
    materials: Materials
    labour: Labour


class MaterialsDocument(Answer, frozen=True, kw_only=True):
    engine_version: str
    catalogue_revision: int | None
    priced_on: dt.date | None
    units: str
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]
    takeoff: Takeoff
    basis: Basis
    materials: Materials


class LabourRequest(Input, frozen=True, kw_only=True):
    """Exactly one of `site` and `materials`."""

    job: Job
    catalogue_revision: int | None = None
    materials: MaterialsDocument | None = None
    site: Site | None = None
    units: Choice[Literal["si", "us"]] | UnsetType = UNSET  # left out: "us"


class LoadingListDocument(Answer, frozen=True, kw_only=True):
    engine_version: str
    catalogue_revision: int | None
    priced_on: dt.date | None
    units: str
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]
    loading_list: LoadingList


class TakeoffDocument(Answer, frozen=True, kw_only=True):
    engine_version: str
    catalogue_revision: int | None
    priced_on: dt.date | None
    units: str
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]
    takeoff: Takeoff


class MaterialsRequest(Input, frozen=True, kw_only=True):
    """Exactly one of `site` and `takeoff`."""

    job: Job
    catalogue_revision: int | None = None
    site: Site | None = None
    takeoff: TakeoffDocument | None = None
    units: Choice[Literal["si", "us"]] | UnsetType = UNSET  # left out: "us"


class MixingSheetDocument(Answer, frozen=True, kw_only=True):
    engine_version: str
    catalogue_revision: int | None
    priced_on: dt.date | None
    units: str
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]
    sheet: MixingSheet


class PlanArea(Answer, frozen=True, kw_only=True):
    """An area of the drawing, in the form in which a site takes it."""

    id: str
    outline: Polygon
    islands: tuple[Island, ...] = ()
    name: str | None = None


class PlanLayer(Answer, frozen=True, kw_only=True):
    """What a layer of the drawing's model space holds, blocks taken apart."""

    name: str
    closed_shapes: int
    open_shapes: int
    texts: int


class PlanNote(Answer, frozen=True, kw_only=True):
    """What was skipped or changed, and why."""

    code: str
    detail: str


class PlanReading(Answer, frozen=True, kw_only=True):
    """`unit` is that of the outlines, and `source_unit` what the file itself states."""

    unit: str
    source_unit: str | None
    areas: tuple[PlanArea, ...]
    layers: tuple[PlanLayer, ...]
    notes: tuple[PlanNote, ...]


class JobShare(Answer, frozen=True, kw_only=True):
    """What one job bears of a list that is bought together, and what it would pay apart."""

    reference: str
    cost: Money
    cost_apart: Money
    trace: Trace


class PurchaseList(Answer, frozen=True, kw_only=True):
    """What several jobs buy together, `orders` and all; `jobs` add up to `cost`."""

    purchases: tuple[Purchase, ...]
    cost: Money
    cost_apart: Money
    saving: Money
    jobs: tuple[JobShare, ...]
    orders: tuple[SupplierOrder, ...] = ()


class PurchaseListDocument(Answer, frozen=True, kw_only=True):
    engine_version: str
    catalogue_revision: int | None
    priced_on: dt.date | None
    units: str
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]
    purchase_list: PurchaseList


class PurchaseJob(Input, frozen=True, kw_only=True):
    """One of the jobs that are bought for: exactly one of `site` and `materials`."""

    reference: str
    job: Job
    materials: MaterialsDocument | None = None
    site: Site | None = None


class PurchasesRequest(Input, frozen=True, kw_only=True):
    """Several jobs, each with a reference of its own, in one currency and at the prices of one day."""

    jobs: Sequence[PurchaseJob]
    catalogue_revision: int | None = None
    priced_on: dt.date | None = None
    units: Choice[Literal["si", "us"]] | UnsetType = UNSET  # left out: "us"


class ScheduleDocument(Answer, frozen=True, kw_only=True):
    engine_version: str
    catalogue_revision: int | None
    priced_on: dt.date | None
    units: str
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]
    takeoff: Takeoff
    basis: Basis
    materials: Materials
    labour: Labour
    schedule: Schedule


class ScheduleRequest(Input, frozen=True, kw_only=True):
    """Exactly one of `site` and `labour`; `job.start` is needed."""

    job: Job
    catalogue_revision: int | None = None
    labour: LabourDocument | None = None
    site: Site | None = None
    units: Choice[Literal["si", "us"]] | UnsetType = UNSET  # left out: "us"


class SheetRequest(Input, frozen=True, kw_only=True):
    """Exactly one of `site` and `materials`: the paper that follows from either."""

    job: Job
    catalogue_revision: int | None = None
    materials: MaterialsDocument | None = None
    site: Site | None = None
    units: Choice[Literal["si", "us"]] | UnsetType = UNSET  # left out: "us"


class TakeoffRequest(Input, frozen=True, kw_only=True):
    """The site alone: the takeoff reads nothing from the catalogue."""

    site: Site
    units: Choice[Literal["si", "us"]] | UnsetType = UNSET  # left out: "us"
