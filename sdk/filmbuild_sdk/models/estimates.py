"""What the service is sent and what it answers: estimates.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from typing import Any, Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.models.common import (
    Basis,
    Caution,
    Conditions,
    CrewMember,
    Job,
    Labour,
    Materials,
    Note,
    PackLine,
    Schedule,
    Site,
    Takeoff,
    Trace,
    WorkCalendar,
)
from filmbuild_sdk.values import Answer, Choice, Input, Moment, Money, Quantity


class ComparedPurchase(Answer, frozen=True, kw_only=True):
    """The packs of one product, and what they cost together."""

    product: str
    name: str
    packs: tuple[PackLine, ...]
    cost: Money
    trace: Trace


class VariantFigures(Answer, frozen=True, kw_only=True):
    """A variant in brief: each figure is that of its estimate. `traces` is by field.

    `shifts` is the number of days of work, `crew` that of people; `last_work` is when work ends.
    """

    system: str
    crew: int
    first_day: dt.date
    last_day: dt.date
    last_work: Moment
    shifts: int
    visits: int
    foot_traffic_from: Moment
    vehicle_traffic_from: Moment
    full_cure_at: Moment
    productive: Quantity
    paid: Quantity
    cost: Money
    net: Money
    total: Money
    purchases: tuple[ComparedPurchase, ...]
    traces: dict[str, Trace]


class Fault(Answer, frozen=True, kw_only=True):
    """One thing wrong with the input.

    `pointer` is an RFC 6901 JSON Pointer ("" is the whole body), `code` is stable, and `detail`
    says what was wrong and what would be accepted.
    """

    pointer: str
    code: str
    detail: str


class VariantProblem(Answer, frozen=True, kw_only=True):
    """Why a variant cannot be done, as the problem that its estimate would be answered with.

    Pointers of `errors` lead into the request of the comparison.
    """

    code: str
    detail: str
    errors: tuple[Fault, ...]


class VariantOutcome(Answer, frozen=True, kw_only=True):
    """Either figures or a problem. `notes` are those that not all variants with figures have."""

    label: str
    figures: VariantFigures | None
    problem: VariantProblem | None
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]


class ComparisonDocument(Answer, frozen=True, kw_only=True):
    """Variants in the order in which they were asked for.

    `notes` and `cautions` are those that all variants with figures have. `cheapest` has the lowest
    total, `earliest` the earliest end of work, and `first_open` is the first that may be walked on:
    labels, the first of equals, and null where no variant can be done.
    """

    engine_version: str
    catalogue_revision: int | None
    priced_on: dt.date | None
    units: str
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]
    variants: tuple[VariantOutcome, ...]
    cheapest: str | None
    earliest: str | None
    first_open: str | None


class Variant(Input, frozen=True, kw_only=True):
    """What a variant of the job has of its own; what is left out is as in the job.

    A `crew`, or the people `available`, stands in the place of both of the job's.
    """

    label: str
    available: Sequence[CrewMember] | None = None
    calendar: WorkCalendar | None = None
    conditions: Conditions | None = None
    crew: Sequence[CrewMember] | None = None
    start: dt.date | None = None
    system: str | None = None


class ComparisonRequest(Input, frozen=True, kw_only=True):
    """One site and one job, and the ways in which the job might be done, each with a label of its own.

    A variant of nothing but a label is the job as it stands.
    """

    job: Job
    site: Site
    variants: Sequence[Variant]
    catalogue_revision: int | None = None
    units: Choice[Literal["si", "us"]] | UnsetType = UNSET  # left out: "us"


class CostLine(Answer, frozen=True, kw_only=True):
    group: str
    item: str
    description: str
    quantity: Decimal
    unit: str
    unit_cost: Money
    amount: Money
    trace: Trace


class TaxLine(Answer, frozen=True, kw_only=True):
    rule: str
    name: str
    category: str
    base: Money
    rate_percent: Decimal
    amount: Money
    trace: Trace


class Price(Answer, frozen=True, kw_only=True):
    """From cost to offer: `price = cost with overhead x (1 + markup) = ... / (1 - margin)`."""

    currency: str
    lines: tuple[CostLine, ...]
    direct_cost: Money
    contingency: Money
    overhead: Money
    cost: Money
    markup_percent: Decimal
    margin_percent: Decimal
    net: Money
    taxes: tuple[TaxLine, ...]
    total: Money
    per_square_foot: Money
    per_square_metre: Money
    traces: dict[str, Trace]


class EstimateDocument(Answer, frozen=True, kw_only=True):
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
    price: Price


class EstimateSummary(Answer, frozen=True, kw_only=True):
    """One line of the list of estimates, at the estimate's latest revision."""

    id: str
    created_at: Moment
    reference: str | None
    site: str
    system: str
    total: Money
    catalogue_revision: int
    engine_version: str
    state: str
    accepted_revision: int | None
    revisions: int
    revised_at: Moment
    margin_percent: Decimal


class EstimatePage(Answer, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[EstimateSummary, ...]
    next: str | None


class EstimateRequest(Input, frozen=True, kw_only=True):
    """The whole pipeline over one site; `job.start` is needed."""

    job: Job
    site: Site
    catalogue_revision: int | None = None
    reference: str | None = None
    units: Choice[Literal["si", "us"]] | UnsetType = UNSET  # left out: "us"


class EstimateRevision(Answer, frozen=True, kw_only=True):
    """One revision of an estimate: who made it and why, on what, and what came out.

    It never changes. `cause_id` names what made it where that was no request of its own.
    """

    estimate: str
    revision: int
    created_at: Moment
    actor: str
    cause: str | None
    cause_id: str | None
    catalogue_revision: int
    priced_on: dt.date
    engine_version: str
    request: EstimateRequest
    document: EstimateDocument


class RevisionSummary(Answer, frozen=True, kw_only=True):
    """One line of the list of an estimate's revisions."""

    revision: int
    created_at: Moment
    actor: str
    cause: str | None
    cause_id: str | None
    catalogue_revision: int
    priced_on: dt.date
    engine_version: str
    system: str
    net: Money
    total: Money
    margin_percent: Decimal


class EstimateRevisionPage(Answer, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[RevisionSummary, ...]
    next: str | None


class BasisDifference(Answer, frozen=True, kw_only=True):
    """What the estimates were computed on, where it differs."""

    name: str
    was: str | None
    now: str | None


class DayDifference(Answer, frozen=True, kw_only=True):
    """A date that differs; `days` is how much later it is now."""

    name: str
    was: dt.date
    now: dt.date
    days: int


class LineSide(Answer, frozen=True, kw_only=True):
    """A cost line in one of the two estimates."""

    quantity: Decimal
    unit: str
    unit_cost: Money
    amount: Money


class CausedAmount(Answer, frozen=True, kw_only=True):
    """The part of a difference that has one cause. The parts of a difference add up to it."""

    cause: str
    amount: Money


class LineDifference(Answer, frozen=True, kw_only=True):
    """A cost line that differs; null where an estimate has no such line."""

    group: str
    item: str
    description: str
    was: LineSide | None
    now: LineSide | None
    amount: Money
    parts: tuple[CausedAmount, ...]


class SumDifference(Answer, frozen=True, kw_only=True):
    """A sum of the price that differs. It is no further difference: lines and terms make it."""

    name: str
    was: Money
    now: Money
    amount: Money


class TermSide(Answer, frozen=True, kw_only=True):
    """A term in one of the two estimates: what it was taken of, and at how many per cent.

    `percent` is null where the amount follows from none.
    """

    rule: str
    base: Money
    percent: Decimal | None
    amount: Money


class TermDifference(Answer, frozen=True, kw_only=True):
    """What stands between the cost lines and the total, and differs.

    `gain` is the net price less the cost, and `tax` one tax on the sale, of which `item` is the
    rule.
    """

    term: str
    item: str | None
    was: TermSide | None
    now: TermSide | None
    amount: Money
    parts: tuple[CausedAmount, ...]


class EstimateDifferences(Answer, frozen=True, kw_only=True):
    """From one estimate to another in the same currency.

    The amounts of `lines` and `terms` add up to `total`, and so do those `by_cause`.
    """

    currency: str
    total: Money
    basis: tuple[BasisDifference, ...]
    lines: tuple[LineDifference, ...]
    terms: tuple[TermDifference, ...]
    sums: tuple[SumDifference, ...]
    by_cause: dict[str, Money]
    days: tuple[DayDifference, ...]


class ValueDifference(Answer, frozen=True, kw_only=True):
    """A value that differs at a JSON Pointer (RFC 6901); null too where there is none."""

    pointer: str
    was: Any
    now: Any


class Recomputation(Answer, frozen=True, kw_only=True):
    """A stored revision beside the same request computed again, on the same catalogue revision.

    `same` is whether every byte is. Where not, `cause` is `engine` if another version of the engine
    computed it then, and `catalogue` if the same one did, so that the records it was computed on
    are no longer what they were. `values` are at most 200 of the values that differ, `differences`
    what it comes to in money; and where the request is now refused, `problem` says why.
    """

    estimate: str
    revision: int
    same: bool
    cause: str | None
    engine_version: str
    engine_version_now: str
    catalogue_revision: int
    priced_on: dt.date
    differences: EstimateDifferences | None
    values: tuple[ValueDifference, ...]
    problem: str | None
    faults: tuple[Fault, ...]


class RevisionDifferences(Answer, frozen=True, kw_only=True):
    """What one revision of an estimate differs in from another.

    `asked` are the values that the two requests differ in, at most 200 of them.
    """

    estimate: str
    from_revision: int
    to_revision: int
    asked: tuple[ValueDifference, ...]
    differences: EstimateDifferences


class RevisionRequest(Input, frozen=True, kw_only=True):
    """The estimate asked for anew, and why."""

    request: EstimateRequest
    cause: str


class StoredEstimate(Answer, frozen=True, kw_only=True):
    """An estimate at one of its revisions: what was asked, as it was asked, and what was answered.

    `revision` is the one shown, of so many `revisions`; a revision never changes. `state` is
    `accepted` once a customer has agreed to `accepted_revision`.
    """

    id: str
    created_at: Moment
    reference: str | None
    state: str
    accepted_revision: int | None
    revision: int
    revisions: int
    revised_at: Moment
    request: EstimateRequest
    document: EstimateDocument
