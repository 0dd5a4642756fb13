"""Queries on jobs. All run in the caller's transaction."""

from datetime import datetime
from typing import Literal

from sqlalchemy import ColumnElement, and_, insert, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.db.identities import new_identity
from filmbuild.jobs import tables
from filmbuild.jobs.work import Job

_JOB = tables.job


async def ask(
    connection: AsyncConnection, organisation: str, kind: str, subject: str, now: datetime
) -> str:
    """Has a worker do it, once this transaction is committed; the job's id."""
    identity = new_identity("job")
    values = {
        "organisation_id": organisation,
        "id": identity,
        "kind": kind,
        "subject": subject,
        "state": "due",
        "attempt": 1,
        "created_at": now,
    }
    await connection.execute(insert(_JOB), values)
    return identity


async def due(connection: AsyncConnection, limit: int) -> tuple[Job, ...]:
    """Those of all organisations, the longest waiting first."""
    query = (
        select(_JOB.c.organisation_id, _JOB.c.id, _JOB.c.kind, _JOB.c.subject, _JOB.c.attempt)
        .where(_JOB.c.state == "due")
        .order_by(_JOB.c.created_at, _JOB.c.id)
        .limit(limit)
    )
    rows = await connection.execute(query)
    return tuple(
        Job(
            organisation=row.organisation_id,
            id=row.id,
            kind=row.kind,
            subject=row.subject,
            attempt=row.attempt,
        )
        for row in rows
    )


async def end(
    connection: AsyncConnection,
    job: Job,
    state: Literal["done", "failed"],
    now: datetime,
    detail: str | None = None,
) -> bool:
    """Whether it was due until now."""
    statement = update(_JOB).where(_is_due(job)).values(state=state, ended_at=now, detail=detail)
    return (await connection.execute(statement)).rowcount == 1


async def try_again(connection: AsyncConnection, job: Job) -> bool:
    """Begins the next attempt; whether the job is still due, and at the attempt that is known."""
    statement = (
        update(_JOB)
        .where(_is_due(job), _JOB.c.attempt == job.attempt)
        .values(attempt=job.attempt + 1)
    )
    return (await connection.execute(statement)).rowcount == 1


def _is_due(job: Job) -> ColumnElement[bool]:
    return and_(
        _JOB.c.organisation_id == job.organisation, _JOB.c.id == job.id, _JOB.c.state == "due"
    )
