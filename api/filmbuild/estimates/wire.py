"""Stored estimates as callers see them."""

from datetime import date
from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from filmbuild.edge.paging import PageQuery
from filmbuild.errors import Fault
from filmbuild.money import Exact, Money
from filmbuild.pipeline.differences import EstimateDifferences, ValueDifference
from filmbuild.pipeline.requests import EstimateRequest, Revision
from filmbuild.pipeline.results import EstimateDocument
from filmbuild.pipeline.results.base import Moment
from filmbuild.pipeline.site import Input, Label
from filmbuild.pipeline.trace import Rule


class SheetQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """`paper` is that of the page to print: left out, Letter in US units and A4 in SI units."""

    paper: Literal["a4", "letter"] | None = None


class RevisionRequest(Input, frozen=True, kw_only=True):
    """The estimate asked for anew, and why."""

    request: EstimateRequest
    cause: Label


class EstimatesQuery(PageQuery, frozen=True, kw_only=True):
    state: Literal["open", "accepted"] | None = None
    reference: Label | None = None


class DifferencesQuery(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    from_revision: (
        Annotated[Revision, Meta(description="Left out: the revision before `to_revision`.")] | None
    ) = None
    to_revision: Annotated[Revision, Meta(description="Left out: the latest revision.")] | None = (
        None
    )


class StoredEstimate(msgspec.Struct, frozen=True, kw_only=True):
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


class EstimateRevision(msgspec.Struct, frozen=True, kw_only=True):
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
    priced_on: date
    engine_version: str
    request: EstimateRequest
    document: EstimateDocument


class RevisionSummary(msgspec.Struct, frozen=True, kw_only=True):
    """One line of the list of an estimate's revisions."""

    revision: int
    created_at: Moment
    actor: str
    cause: str | None
    cause_id: str | None
    catalogue_revision: int
    priced_on: date
    engine_version: str
    system: str
    net: Money
    total: Money
    margin_percent: Exact


class EstimateRevisionPage(msgspec.Struct, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[RevisionSummary, ...]
    next: str | None


class EstimateSummary(msgspec.Struct, frozen=True, kw_only=True):
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
    margin_percent: Exact


class EstimatePage(msgspec.Struct, frozen=True, kw_only=True):
    """Newest first. `next` is the cursor of the page that follows; null on the last page."""

    items: tuple[EstimateSummary, ...]
    next: str | None


class RevisionDifferences(msgspec.Struct, frozen=True, kw_only=True):
    """What one revision of an estimate differs in from another.

    `asked` are the values that the two requests differ in, at most 200 of them.
    """

    estimate: str
    from_revision: int
    to_revision: int
    asked: tuple[ValueDifference, ...]
    differences: EstimateDifferences


class Recomputation(msgspec.Struct, frozen=True, kw_only=True):
    """A stored revision beside the same request computed again, on the same catalogue revision.

    `same` is whether every byte is. Where not, `cause` is `engine` if another version of the engine
    computed it then, and `catalogue` if the same one did, so that the records it was computed on
    are no longer what they were. `values` are at most 200 of the values that differ, `differences`
    what it comes to in money; and where the request is now refused, `problem` says why.
    """

    estimate: str
    revision: int
    same: bool
    cause: Literal["engine", "catalogue"] | None
    engine_version: str
    engine_version_now: str
    catalogue_revision: int
    priced_on: date
    differences: EstimateDifferences | None
    values: tuple[ValueDifference, ...]
    problem: str | None
    faults: tuple[Fault, ...]


class RulePage(msgspec.Struct, frozen=True, kw_only=True):
    """Rules in order of their ids."""

    items: tuple[Rule, ...]
    next: str | None
