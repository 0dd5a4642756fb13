"""Stored estimates as answers: envelopes around texts that are sent as they were first written."""

from datetime import date, datetime

import msgspec

from filmbuild.estimates import store, wire
from filmbuild.estimates.store import EstimateHead, StoredRevision
from filmbuild.money import Currency, Money


class Made(msgspec.Struct, frozen=True):
    """An estimate or a revision, as it is answered, with the tag of the estimate."""

    id: str
    revision: int
    content: bytes
    tag: str


class _Estimate(msgspec.Struct, frozen=True):
    id: str
    created_at: datetime
    reference: str | None
    state: str
    accepted_revision: int | None
    revision: int
    revisions: int
    revised_at: datetime
    request: msgspec.Raw
    document: msgspec.Raw


class _Revision(msgspec.Struct, frozen=True):
    estimate: str
    revision: int
    created_at: datetime
    actor: str
    cause: str | None
    cause_id: str | None
    catalogue_revision: int
    priced_on: date
    engine_version: str
    request: msgspec.Raw
    document: msgspec.Raw


def tag(head: EstimateHead) -> str:
    """Of everything that can change about an estimate; its revisions never do."""
    if head.state == "open":
        return f'"r{head.latest_revision}"'
    return f'"r{head.latest_revision}-{head.state}-{head.accepted_revision}"'


def estimate_answer(
    head: EstimateHead, revision: StoredRevision, request: bytes, result: bytes
) -> Made:
    content = msgspec.json.encode(
        _Estimate(
            id=head.id,
            created_at=head.created_at,
            reference=head.reference,
            state=head.state,
            accepted_revision=head.accepted_revision,
            revision=revision.revision,
            revisions=head.latest_revision,
            revised_at=revision.created_at,
            request=msgspec.Raw(request),
            document=msgspec.Raw(result),
        )
    )
    return Made(head.id, revision.revision, content, tag(head))


def revision_answer(
    head: EstimateHead, revision: StoredRevision, request: bytes, result: bytes
) -> Made:
    content = msgspec.json.encode(
        _Revision(
            estimate=head.id,
            revision=revision.revision,
            created_at=revision.created_at,
            actor=revision.actor,
            cause=revision.cause,
            cause_id=revision.cause_id,
            catalogue_revision=revision.catalogue_revision,
            priced_on=revision.priced_on,
            engine_version=revision.engine_version,
            request=msgspec.Raw(request),
            document=msgspec.Raw(result),
        )
    )
    return Made(head.id, revision.revision, content, tag(head))


def estimate_line(one: store.EstimateSummary) -> wire.EstimateSummary:
    head, latest = one.head, one.latest
    return wire.EstimateSummary(
        id=head.id,
        created_at=head.created_at,
        reference=head.reference,
        site=head.site_name,
        system=latest.system_id,
        total=Money(latest.total, Currency(latest.currency)),
        catalogue_revision=latest.catalogue_revision,
        engine_version=latest.engine_version,
        state=head.state,
        accepted_revision=head.accepted_revision,
        revisions=head.latest_revision,
        revised_at=latest.created_at,
        margin_percent=latest.margin_percent,
    )


def revision_line(one: store.RevisionSummary) -> wire.RevisionSummary:
    currency = Currency(one.currency)
    return wire.RevisionSummary(
        revision=one.revision,
        created_at=one.created_at,
        actor=one.actor,
        cause=one.cause,
        cause_id=one.cause_id,
        catalogue_revision=one.catalogue_revision,
        priced_on=one.priced_on,
        engine_version=one.engine_version,
        system=one.system_id,
        net=Money(one.net, currency),
        total=Money(one.total, currency),
        margin_percent=one.margin_percent,
    )
