"""What the service is sent and what it answers: repricings.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

import datetime as dt
from collections.abc import Sequence
from decimal import Decimal

from filmbuild_sdk.models.common import Fault
from filmbuild_sdk.values import Answer, Input, Moment, Money


class Priced(Answer, frozen=True, kw_only=True):
    """A revision of an estimate, and what it came to."""

    revision: int
    total: Money
    margin_percent: Decimal


class RepricedEstimate(Answer, frozen=True, kw_only=True):
    """What became of one estimate.

    `sequence` is its place in the order in which they were done. `now` is the revision that was
    made; without one the estimate is what it `was`. `problem` and `errors` say why it was refused,
    the pointers being into the estimate's own request.
    """

    sequence: int
    estimate: str
    outcome: str
    was: Priced | None
    now: Priced | None
    below_margin: bool
    problem: str | None
    errors: tuple[Fault, ...]


class RepricedEstimatePage(Answer, frozen=True, kw_only=True):
    """In the order in which they were done."""

    items: tuple[RepricedEstimate, ...]
    next: str | None


class EstimatePriceChange(Answer, frozen=True, kw_only=True):
    """What the prices of the estimates in one currency came to, of those that were repriced."""

    currency: str
    estimates: int
    raised: int
    lowered: int
    was: Money
    now: Money
    difference: Money
    difference_percent: Decimal | None


class Repricing(Answer, frozen=True, kw_only=True):
    """How far it has come, and what it came to so far.

    `state` is `running`, `stopped`, `done` or `failed`. Of so many `estimates`, `done` are those
    that were `repriced`, `unchanged` because the price came out the same, left alone because they
    had been `accepted`, or `refused` because they cannot be done on the new catalogue.
    """

    id: str
    created_at: Moment
    actor: str
    note: str
    catalogue_revision: int
    priced_on: dt.date | None
    minimum_margin_percent: Decimal | None
    state: str
    ended_at: Moment | None
    problem: str | None
    estimates: int
    done: int
    repriced: int
    unchanged: int
    accepted: int
    refused: int
    below_margin: int
    changes: tuple[EstimatePriceChange, ...]


class RepricingPage(Answer, frozen=True, kw_only=True):
    """Newest first."""

    items: tuple[Repricing, ...]
    next: str | None


class EstimateChoice(Input, frozen=True, kw_only=True):
    """Which of the open estimates: those for which all that is given here holds.

    `computed_before` lets through those whose latest revision was computed on an earlier revision
    of the catalogue than this.
    """

    computed_before: int | None = None
    currency: str | None = None
    ids: Sequence[str] | None = None
    reference: str | None = None
    system: str | None = None


class RepricingRequest(Input, frozen=True, kw_only=True):
    """What to compute all open estimates on, and why.

    Left out, `catalogue_revision` is the newest, and `priced_on` is the day that each estimate was
    priced on already. Estimates whose margin comes out below `minimum_margin_percent` are counted
    and marked.
    """

    note: str
    catalogue_revision: int | None = None
    estimates: EstimateChoice | None = None
    minimum_margin_percent: Decimal | None = None
    priced_on: dt.date | None = None
