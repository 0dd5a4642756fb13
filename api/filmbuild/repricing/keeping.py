"""Keeps many repriced estimates in one transaction, with so many statements however many there are.

The rules are those of `estimates.repricing.keep`, which keeps one.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

import msgspec
from sqlalchemy import bindparam, insert, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.estimates.records import revision_of
from filmbuild.estimates.repricing import Repriced, RepriceOutcome
from filmbuild.estimates.store import EstimateHead, StoredEstimate, StoredRevision
from filmbuild.estimates.tables import estimate, estimate_revision
from filmbuild.estimates.telling import event_of
from filmbuild.repricing.records import Repricing
from filmbuild.webhooks import outbox

_HEAD = [estimate.c[name] for name in EstimateHead.__struct_fields__]
_REVISION = [estimate_revision.c[name] for name in StoredRevision.__struct_fields__]


async def stored(
    connection: AsyncConnection, organisation: str, estimates: Sequence[str]
) -> list[StoredEstimate]:
    """With their latest revisions, in order of id."""
    query = (
        select(*_HEAD, *_REVISION)
        .join(
            estimate_revision,
            (estimate_revision.c.organisation_id == estimate.c.organisation_id)
            & (estimate_revision.c.estimate_id == estimate.c.id)
            & (estimate_revision.c.revision == estimate.c.latest_revision),
        )
        .where(estimate.c.organisation_id == organisation, estimate.c.id.in_(estimates))
        .order_by(estimate.c.id)
    )
    rows = (await connection.execute(query)).all()
    cut = len(_HEAD)
    return [
        StoredEstimate(_struct(EstimateHead, row[:cut]), _struct(StoredRevision, row[cut:]))
        for row in rows
    ]


async def keep(
    connection: AsyncConnection,
    organisation: str,
    undertaking: Repricing,
    repriced: Sequence[Repriced],
    now: datetime,
) -> list[RepriceOutcome]:
    """Of those that are as they were when they were computed; the others are passed over."""
    heads = await _locked(connection, organisation, [one.head.id for one in repriced])
    outcomes, revisions = list[RepriceOutcome](), dict[str, StoredRevision]()
    for one in repriced:
        if heads.get(one.head.id) != one.head:
            continue
        revision = None
        if one.computed is not None:
            revision = revisions[one.head.id] = revision_of(
                one.computed,
                number=one.head.latest_revision + 1,
                now=now,
                actor=undertaking.actor,
                cause=undertaking.note,
                cause_id=undertaking.id,
            )
        outcomes.append(_outcome(one, revision))
    await _add(connection, organisation, revisions)
    told = [event_of("repriced", name, one, undertaking.id) for name, one in revisions.items()]
    await outbox.write_all(connection, organisation, told)
    return outcomes


def _outcome(one: Repriced, revision: StoredRevision | None) -> RepriceOutcome:
    outcome: Any = "unchanged"
    if revision is not None:
        outcome = "repriced"
    elif one.head.state != "open":
        outcome = "accepted"
    elif one.problem is not None:
        outcome = "refused"
    return RepriceOutcome(
        estimate=one.head.id,
        outcome=outcome,
        was=one.was,
        now=revision,
        problem=one.problem,
        faults=one.faults,
    )


async def _locked(
    connection: AsyncConnection, organisation: str, estimates: Sequence[str]
) -> dict[str, EstimateHead]:
    """In order of id, so that two that lock several never wait for each other."""
    query = (
        select(*_HEAD)
        .where(estimate.c.organisation_id == organisation, estimate.c.id.in_(estimates))
        .order_by(estimate.c.id)
        .with_for_update()
    )
    rows = (await connection.execute(query)).all()
    heads = (_struct(EstimateHead, row) for row in rows)
    return {head.id: head for head in heads}


async def _add(
    connection: AsyncConnection, organisation: str, revisions: dict[str, StoredRevision]
) -> None:
    if not revisions:
        return
    rows = [
        {"organisation_id": organisation, "estimate_id": name, **msgspec.structs.asdict(one)}
        for name, one in revisions.items()
    ]
    await connection.execute(insert(estimate_revision), rows)
    newest = (
        update(estimate)
        .where(estimate.c.organisation_id == organisation, estimate.c.id == bindparam("named"))
        .values(latest_revision=bindparam("newest"))
    )
    values = [{"named": name, "newest": one.revision} for name, one in revisions.items()]
    await connection.execute(newest, values)


def _struct(kind: type[Any], row: Sequence[Any]) -> Any:  # noqa: ANN401 - the kind that is asked for
    return kind(**dict(zip(kind.__struct_fields__, row, strict=True)))
