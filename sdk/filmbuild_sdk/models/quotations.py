"""What the service is sent and what it answers: quotations.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal
from typing import Any, Literal

from msgspec import UNSET, UnsetType

from filmbuild_sdk.models.common import Decision, QuotationContent
from filmbuild_sdk.models.inputs import Address, Party, PaymentTerm
from filmbuild_sdk.values import Answer, Choice, Input, Moment, Money


class Presentation(Input, frozen=True, kw_only=True):
    """One sum for the work, a line for each area, or a line for each kind of work."""

    lines: Choice[Literal["by_area", "by_work", "lump_sum"]] | UnsetType = (
        UNSET  # left out: "by_area"
    )


class TextsGiven(Input, frozen=True, kw_only=True):
    """Words of this quotation alone; what is left out is as the organisation has it."""

    after: Sequence[str] | None = None
    before: Sequence[str] | None = None
    conditions: Sequence[str] | None = None
    exclusions: Sequence[str] | None = None
    introduction: Sequence[str] | None = None
    payment: Sequence[str] | None = None
    scope: Sequence[str] | None = None


class ChangeOrderRequest(Input, frozen=True, kw_only=True):
    """What the job is to be instead: another revision of the estimate, or another estimate.

    `options` are those of it that are in the work now; left out, those that were accepted.
    """

    estimate: str
    label: str | None = None
    options: Sequence[str] | None = None
    payments: Sequence[PaymentTerm] | None = None
    presentation: Presentation | UnsetType = UNSET  # left out: {"lines": "by_area"}
    reference: str | None = None
    revision: int | None = None
    texts: TextsGiven | None = None
    valid_days: int | None = None
    valid_until: dt.date | None = None


class AlternateCosts(Answer, frozen=True, kw_only=True):
    """What an alternate costs the seller, without its options: never shown to customers."""

    alternate: str
    estimate: str
    revision: int
    catalogue_revision: int | None
    cost: Money
    net: Money
    margin_percent: Decimal


class Quotation(Answer, frozen=True, kw_only=True):
    """A quotation with what only its seller sees.

    `link` is the path for the customer, absent from drafts. `content` is what is shown there.
    """

    id: str
    kind: str
    state: str
    number: str | None
    created_at: Moment
    updated_at: Moment
    issued_at: Moment | None
    valid_until: dt.date
    supersedes: str | None
    superseded_by: str | None
    changes: str | None
    link: str | None
    costs: tuple[AlternateCosts, ...]
    decision: Decision | None
    content: QuotationContent


class HistoryStep(Answer, frozen=True, kw_only=True):
    """One step; it is never changed. `position` counts from 1, whatever the clock says."""

    position: int
    at: Moment
    actor: str
    kind: str
    detail: dict[str, Any]


class QuotationHistoryPage(Answer, frozen=True, kw_only=True):
    """In the order in which the steps were taken."""

    items: tuple[HistoryStep, ...]
    next: str | None


class QuotationSummary(Answer, frozen=True, kw_only=True):
    """One line of the list of quotations.

    `total` is that of the first alternate without options, and of what was accepted after that.
    """

    id: str
    kind: str
    state: str
    number: str | None
    created_at: Moment
    updated_at: Moment
    issued_at: Moment | None
    valid_until: dt.date
    buyer: str
    site: str
    reference: str | None
    total: Money
    supersedes: str | None
    changes: str | None


class QuotationPage(Answer, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[QuotationSummary, ...]
    next: str | None


class AlternateRequest(Input, frozen=True, kw_only=True):
    """One way to do the work: a stored estimate, in its latest revision where none is named."""

    id: str
    label: str
    estimate: str
    presentation: Presentation | UnsetType = UNSET  # left out: {"lines": "by_area"}
    revision: int | None = None


class QuotationRequest(Input, frozen=True, kw_only=True):
    """What is offered to whom: one estimate, or several from which the customer chooses one.

    `place` is where the floor is, if not at the buyer's address.
    """

    estimates: Sequence[AlternateRequest]
    buyer: Party
    language: str | None = None
    payments: Sequence[PaymentTerm] | None = None
    place: Address | None = None
    reference: str | None = None
    texts: TextsGiven | None = None
    valid_days: int | None = None
    valid_until: dt.date | None = None


class WithdrawalRequest(Input, frozen=True, kw_only=True):
    """Why, for the history: the customer is not shown it."""

    reason: str | None = None
