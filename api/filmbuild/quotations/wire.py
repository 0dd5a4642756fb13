"""Quotations as those who write them see them."""

from datetime import date
from decimal import Decimal
from typing import Annotated, Any

import msgspec
from msgspec import Meta

from filmbuild.edge.paging import PageQuery
from filmbuild.money import Money
from filmbuild.organisations.parties import Address, Language, Party
from filmbuild.organisations.profile import Paragraph, Paragraphs, ValidDays
from filmbuild.pipeline.offering import PaymentPlan, Presentation
from filmbuild.pipeline.requests import Revision
from filmbuild.pipeline.results.base import Moment
from filmbuild.pipeline.site import Identifier, Input, Label
from filmbuild.quotations.content import (
    Decision,
    QuotationContent,
    QuotationKind,
    QuotationState,
)

EstimateId = Annotated[
    str, Meta(pattern=r"^est_[0-9a-z]{26}$(?!\n)", description="The id of a stored estimate.")
]
Options = Annotated[tuple[Identifier, ...], Meta(max_length=20)]


class AlternateRequest(Input, frozen=True, kw_only=True):
    """One way to do the work: a stored estimate, in its latest revision where none is named."""

    id: Identifier
    label: Label
    estimate: EstimateId
    revision: Revision | None = None
    presentation: Presentation = Presentation()


class TextsGiven(Input, frozen=True, kw_only=True):
    """Words of this quotation alone; what is left out is as the organisation has it."""

    introduction: Paragraphs | None = None
    scope: Paragraphs | None = None
    exclusions: Paragraphs | None = None
    conditions: Paragraphs | None = None
    before: Paragraphs | None = None
    after: Paragraphs | None = None
    payment: Paragraphs | None = None


class _Terms(Input, frozen=True, kw_only=True):
    """At most one of `valid_until` and `valid_days`; days count from the day of issue.

    What is left out is as the organisation's profile has it.
    """

    valid_until: date | None = None
    valid_days: ValidDays | None = None
    payments: PaymentPlan | None = None
    reference: Label | None = None
    texts: TextsGiven | None = None


class QuotationRequest(_Terms, frozen=True, kw_only=True):
    """What is offered to whom: one estimate, or several from which the customer chooses one.

    `place` is where the floor is, if not at the buyer's address.
    """

    estimates: Annotated[tuple[AlternateRequest, ...], Meta(min_length=1, max_length=6)]
    buyer: Party
    place: Address | None = None
    language: Language | None = None


class ChangeOrderRequest(_Terms, frozen=True, kw_only=True):
    """What the job is to be instead: another revision of the estimate, or another estimate.

    `options` are those of it that are in the work now; left out, those that were accepted.
    """

    estimate: EstimateId
    revision: Revision | None = None
    label: Label | None = None
    presentation: Presentation = Presentation()
    options: Options | None = None


class WithdrawalRequest(Input, frozen=True, kw_only=True):
    """Why, for the history: the customer is not shown it."""

    reason: Paragraph | None = None


class QuotationQuery(PageQuery, frozen=True, kw_only=True, forbid_unknown_fields=True):
    state: QuotationState | None = None


class AlternateCosts(msgspec.Struct, frozen=True, kw_only=True):
    """What an alternate costs the seller, without its options: never shown to customers."""

    alternate: str
    estimate: str
    revision: int
    catalogue_revision: int | None
    cost: Money
    net: Money
    margin_percent: Decimal


class Quotation(msgspec.Struct, frozen=True, kw_only=True):
    """A quotation with what only its seller sees.

    `link` is the path for the customer, absent from drafts. `content` is what is shown there.
    """

    id: str
    kind: QuotationKind
    state: QuotationState
    number: str | None
    created_at: Moment
    updated_at: Moment
    issued_at: Moment | None
    valid_until: date
    supersedes: str | None
    superseded_by: str | None
    changes: str | None
    link: str | None
    costs: tuple[AlternateCosts, ...]
    decision: Decision | None
    content: QuotationContent


class QuotationSummary(msgspec.Struct, frozen=True, kw_only=True):
    """One line of the list of quotations.

    `total` is that of the first alternate without options, and of what was accepted after that.
    """

    id: str
    kind: QuotationKind
    state: QuotationState
    number: str | None
    created_at: Moment
    updated_at: Moment
    issued_at: Moment | None
    valid_until: date
    buyer: str
    site: str
    reference: str | None
    total: Money
    supersedes: str | None
    changes: str | None


class QuotationPage(msgspec.Struct, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[QuotationSummary, ...]
    next: str | None


class HistoryStep(msgspec.Struct, frozen=True, kw_only=True):
    """One step; it is never changed. `position` counts from 1, whatever the clock says."""

    position: int
    at: Moment
    actor: str
    kind: str
    detail: dict[str, Any]


class QuotationHistoryPage(msgspec.Struct, frozen=True, kw_only=True):
    """In the order in which the steps were taken."""

    items: tuple[HistoryStep, ...]
    next: str | None
