"""A stored estimate's request on another catalogue revision or price day.

In two steps, so that the computing is done outside of the transaction that keeps it, and so that
many estimates can be kept in one transaction, together with whatever else is to be kept with them.
"""

from datetime import UTC, date, datetime
from typing import Any, Literal

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.errors import Fault, Infeasible, InvalidInput, NotFound
from filmbuild.estimates import store
from filmbuild.estimates.assemble import catalogue_for
from filmbuild.estimates.records import (
    Computed,
    asked_anew,
    computed,
    computed_on,
    request_of,
    revision_of,
)
from filmbuild.estimates.stages import run
from filmbuild.estimates.store import EstimateHead, RevisionSummary, StoredEstimate
from filmbuild.estimates.telling import event_of
from filmbuild.estimates.texts import packed, unpacked
from filmbuild.webhooks import outbox


class RepriceCause(msgspec.Struct, frozen=True):
    """Why it is repriced: `id` is of the whole undertaking, in which an estimate has one turn."""

    id: str
    text: str


class Repriced(msgspec.Struct, frozen=True, kw_only=True):
    """What repricing found, not yet kept. `computed` is None where nothing is to be kept."""

    head: EstimateHead
    was: RevisionSummary
    computed: Computed | None = None
    problem: str | None = None
    faults: tuple[Fault, ...] = ()


class RepriceOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """What became of it.

    `repriced`: `now` is the new revision. `unchanged`: the price is what it `was`, and so no
    revision was made. `accepted`: it was agreed on, and is left alone. `refused`: it cannot be done
    on the new catalogue, as `problem` and `faults` say.
    """

    estimate: str
    outcome: Literal["repriced", "unchanged", "accepted", "refused"]
    was: RevisionSummary
    now: RevisionSummary | None = None
    problem: str | None = None
    faults: tuple[Fault, ...] = ()


class _Priced(msgspec.Struct):
    price: msgspec.Raw


_PRICED = msgspec.json.Decoder(_Priced)


async def compute(
    snapshots: CatalogueSnapshots,
    organisation: str,
    found: StoredEstimate,
    *,
    priced_on: date | None,
    catalogue_revision: int | None,
) -> Repriced:
    """The latest revision of `found`, computed anew; that it cannot be is part of the answer.

    Raises InvalidInput where the catalogue has no such revision, Unavailable where it has none.
    """
    head, latest = found.head, found.revision
    if head.state != "open":
        return Repriced(head=head, was=latest)
    text = unpacked(latest.request)
    try:
        request = request_of(text)
    except InvalidInput as error:
        return Repriced(head=head, was=latest, problem=error.detail, faults=error.faults)
    job = msgspec.structs.replace(request.job, priced_on=priced_on or request.job.priced_on)
    request = msgspec.structs.replace(request, job=job)
    catalogue = await catalogue_for(snapshots, organisation, job, catalogue_revision)
    try:
        made = await run(text, lambda: computed(request, text, catalogue))
    except (InvalidInput, Infeasible) as error:
        return Repriced(head=head, was=latest, problem=error.detail, faults=error.faults)
    if _price(made.result) == _price(unpacked(latest.result)):
        return Repriced(head=head, was=latest)
    anew = asked_anew(text, *computed_on(made.document))
    made = msgspec.structs.replace(made, request=anew, packed_request=packed(anew))
    return Repriced(head=head, was=latest, computed=made)


async def keep(
    connection: AsyncConnection,
    organisation: str,
    repriced: Repriced,
    *,
    actor: str,
    cause: RepriceCause,
) -> RepriceOutcome | None:
    """None where the estimate has changed since it was computed: compute it once more.

    With a cause that has made a revision before, that revision is the outcome again. Raises
    NotFound.
    """
    name = repriced.head.id
    head = await store.lock_estimate(connection, organisation, name)
    if head is None:
        raise NotFound("No estimate has this id.")
    made = await store.revision_of_cause(connection, organisation, name, cause.id)
    if made is not None:
        return await _again(connection, organisation, head, made)
    if head != repriced.head:
        return None
    if repriced.computed is None:
        return _nothing_kept(repriced)
    revision = revision_of(
        repriced.computed,
        number=head.latest_revision + 1,
        now=datetime.now(UTC),
        actor=actor,
        cause=cause.text,
        cause_id=cause.id,
    )
    await store.add_revision(connection, organisation, head, revision)
    await outbox.write(connection, organisation, event_of("repriced", name, revision, cause.id))
    return RepriceOutcome(estimate=name, outcome="repriced", was=repriced.was, now=revision)


async def _again(
    connection: AsyncConnection, organisation: str, head: EstimateHead, made: RevisionSummary
) -> RepriceOutcome:
    before, _ = await store.page_of_revisions(connection, organisation, head.id, made.revision, 1)
    return RepriceOutcome(estimate=head.id, outcome="repriced", was=before[0], now=made)


def _nothing_kept(repriced: Repriced) -> RepriceOutcome:
    outcome: Literal["accepted", "refused", "unchanged"] = "unchanged"
    if repriced.head.state != "open":
        outcome = "accepted"
    elif repriced.problem is not None:
        outcome = "refused"
    return RepriceOutcome(
        estimate=repriced.head.id,
        outcome=outcome,
        was=repriced.was,
        problem=repriced.problem,
        faults=repriced.faults,
    )


def _price(result: bytes) -> Any:  # noqa: ANN401 - whatever JSON the price is
    """The price without its traces, which name the catalogue revision even where nothing changed."""
    return _untraced(msgspec.json.decode(_PRICED.decode(result).price))


def _untraced(value: Any) -> Any:  # noqa: ANN401 - as above
    if isinstance(value, dict):
        return {
            name: _untraced(one) for name, one in value.items() if name not in ("trace", "traces")
        }
    return [_untraced(one) for one in value] if isinstance(value, list) else value
