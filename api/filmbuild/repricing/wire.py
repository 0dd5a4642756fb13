"""Repricings as callers ask for them and see them."""

from datetime import date
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from filmbuild.edge.paging import PageQuery
from filmbuild.errors import Fault
from filmbuild.money import Currency, Exact, Money, Percent
from filmbuild.pipeline.requests import Revision
from filmbuild.pipeline.results.base import Moment
from filmbuild.pipeline.site import Input, Label

EstimateId = Annotated[str, Meta(pattern=r"^est_[0-9a-z]{26}$(?!\n)")]


class EstimateChoice(Input, frozen=True, kw_only=True):
    """Which of the open estimates: those for which all that is given here holds.

    `computed_before` lets through those whose latest revision was computed on an earlier revision
    of the catalogue than this.
    """

    ids: Annotated[tuple[EstimateId, ...], Meta(min_length=1, max_length=1000)] | None = None
    reference: Label | None = None
    system: Label | None = None
    currency: Currency | None = None
    computed_before: Revision | None = None


class RepricingRequest(Input, frozen=True, kw_only=True):
    """What to compute all open estimates on, and why.

    Left out, `catalogue_revision` is the newest, and `priced_on` is the day that each estimate was
    priced on already. Estimates whose margin comes out below `minimum_margin_percent` are counted
    and marked.
    """

    note: Label
    catalogue_revision: Revision | None = None
    priced_on: date | None = None
    minimum_margin_percent: Percent | None = None
    estimates: EstimateChoice | None = None


class EstimatePriceChange(msgspec.Struct, frozen=True, kw_only=True):
    """What the prices of the estimates in one currency came to, of those that were repriced."""

    currency: Currency
    estimates: int
    raised: int
    lowered: int
    was: Money
    now: Money
    difference: Money
    difference_percent: Exact | None


class Repricing(msgspec.Struct, frozen=True, kw_only=True):
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
    priced_on: date | None
    minimum_margin_percent: Exact | None
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


class RepricingPage(msgspec.Struct, frozen=True, kw_only=True):
    """Newest first."""

    items: tuple[Repricing, ...]
    next: str | None


class Priced(msgspec.Struct, frozen=True, kw_only=True):
    """A revision of an estimate, and what it came to."""

    revision: int
    total: Money
    margin_percent: Exact


class RepricedEstimate(msgspec.Struct, frozen=True, kw_only=True):
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


class RepricedEstimatePage(msgspec.Struct, frozen=True, kw_only=True):
    """In the order in which they were done."""

    items: tuple[RepricedEstimate, ...]
    next: str | None


class RepricedEstimatesQuery(PageQuery, frozen=True, kw_only=True):
    outcome: Literal["repriced", "unchanged", "accepted", "refused"] | None = None
    below_margin: bool | None = None
