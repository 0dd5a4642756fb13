"""What the service is sent and what it answers: estimates.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from typing import Any, Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.models.common import Fault
from filmbuild_sdk.models.inputs import (
    Conditions,
    CrewMember,
    EstimateRequest,
    Job,
    LayerChange,
    Site,
    Terms,
    WorkCalendar,
)
from filmbuild_sdk.models.results import (
    Basis,
    Caution,
    Labour,
    Materials,
    Note,
    PackLine,
    Schedule,
    Takeoff,
    Trace,
)
from filmbuild_sdk.values import Answer, Choice, Input, Moment, Money, Quantity


class VariantDifferences(Answer, frozen=True, kw_only=True):
    """What a variant has more (or below zero, less) than the first one that can be done.

    Hours are elapsed ones [h]: later above zero, sooner below. The shares are floor and dry film
    over those of the first; that of the film is missing where the first states none.
    """

    floor_share: float
    dry_film_share: float | None
    last_work_hours: float
    foot_traffic_hours: float
    vehicle_traffic_hours: float
    full_cure_hours: float
    coats: int
    shifts: int
    visits: int
    cost: Money
    net: Money
    total: Money
    trace: Trace


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
    `floor` is what is coated of the site, and `dry_film` that of all coats together, as far as
    they state one.
    """

    system: str
    crew: int
    floor: Quantity
    coats: int
    dry_film: Quantity
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


class VariantProblem(Answer, frozen=True, kw_only=True):
    """Why a variant cannot be done, as the problem that its estimate would be answered with.

    Pointers of `errors` lead into the request of the comparison.
    """

    code: str
    detail: str
    errors: tuple[Fault, ...]


class VariantOutcome(Answer, frozen=True, kw_only=True):
    """Either figures or a problem. `notes` are those that not all variants with figures have.

    `against_first` compares with the first variant that has figures, and is missing from that one.
    """

    label: str
    figures: VariantFigures | None
    problem: VariantProblem | None
    notes: tuple[Note, ...]
    cautions: tuple[Caution, ...]
    against_first: VariantDifferences | None = None


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

    A `crew`, or the people `available`, stands in the place of both of the job's; `layers` and
    `terms` in the place of the job's whole. `areas` are ids of those areas of the site that this
    variant does, where it does not do all.
    """

    label: str
    areas: Sequence[str] | None = None
    available: Sequence[CrewMember] | None = None
    calendar: WorkCalendar | None = None
    conditions: Conditions | None = None
    crew: Sequence[CrewMember] | None = None
    layers: Sequence[LayerChange] | None = None
    start: dt.date | None = None
    system: str | None = None
    terms: Terms | None = None


class ComparisonRequest(Input, frozen=True, kw_only=True):
    """One site and one job, and the ways in which the job might be done, each with a label of its own.

    A variant of nothing but a label is the job as it stands.
    """

    job: Job
    site: Site
    variants: Sequence[Variant]
    catalogue_revision: int | None = None
    units: Choice[Literal["si", "us"]] | UnsetType = UNSET  # left out: "us"


class OptionPrice(Answer, frozen=True, kw_only=True):
    """What an option adds to the job without any: its whole price less that of the job.

    `surface` is the floor and verticals of its areas. `materials_net` is what of its net price is
    for materials, for taxes on these alone. With this option and no other the work ends on
    `last_day`. `notes` are those that the job without it does not have.
    """

    id: str
    label: str
    description: str
    areas: tuple[str, ...]
    surface: Quantity
    cost: Money
    net: Money
    materials_net: Money
    total: Money
    last_day: dt.date
    notes: tuple[Note, ...]
    trace: Trace


class Adjustment(Answer, frozen=True, kw_only=True):
    """What is added to the price that the terms give, or taken off it (then below zero)."""

    kind: str
    reason: str | None
    percent: Decimal | None
    amount: Money
    trace: Trace


class CostLine(Answer, frozen=True, kw_only=True):
    group: str
    item: str
    description: str
    quantity: Decimal
    unit: str
    unit_cost: Money
    amount: Money
    trace: Trace


class WorkShare(Answer, frozen=True, kw_only=True):
    """What work of one kind costs, and its share of `by_terms`; `item` tells subcontracts apart."""

    work: str
    item: str | None
    cost: Money
    by_terms: Money
    trace: Trace


class TaxLine(Answer, frozen=True, kw_only=True):
    """One tax on the sale. `code` is its category in UNTDID 5305, and `category` in words."""

    rule: str
    name: str
    category: str
    base: Money
    rate_percent: Decimal
    amount: Money
    trace: Trace
    code: str = "S"
    exemption_reason: str | None = None
    of_materials: bool = False
    scheme: str = "sales_tax"


class Price(Answer, frozen=True, kw_only=True):
    """From cost to offer: `by_terms = cost x (1 + markup) = cost / (1 - margin)`.

    `net = by_terms + adjustments`; markup and margin are those that the net price achieves. The
    prices per area and per running length share the net price out between floor and linear work by
    what they cost, subcontracts apart; `running` is the length of the linear work. Fields with a
    default may be missing from records kept from earlier versions.
    """

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
    adjustments: tuple[Adjustment, ...] = ()
    by_terms: Money | None = None
    materials_net: Money | None = None
    per_running_foot: Money | None = None
    per_running_metre: Money | None = None
    running: Quantity = Quantity(0.0, "m")
    shares: tuple[WorkShare, ...] = ()


class EstimateDocument(Answer, frozen=True, kw_only=True):
    """The job without its options, and what each of these adds to its price."""

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
    options: tuple[OptionPrice, ...] = ()


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
