"""Queries on events, on their deliveries and on the attempts at those."""

from collections.abc import Sequence
from datetime import datetime
from typing import Literal

import msgspec
from sqlalchemy import ColumnElement, and_, func, insert, select, tuple_, update
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.webhooks.tables import attempt, delivery, event

State = Literal["waiting", "delivered", "failed", "cancelled"]
MOST_ATTEMPTS_SHOWN = 100


class StoredEvent(msgspec.Struct, frozen=True, kw_only=True):
    """`payload` is the text that is sent."""

    id: str
    type: str
    subject: str
    position: int
    created_at: datetime
    payload: str


class StoredDelivery(msgspec.Struct, frozen=True, kw_only=True):
    """`tries` are the attempts since it was last begun."""

    id: str
    endpoint_id: str
    event_id: str
    type: str
    subject: str
    position: int
    state: State = "waiting"
    attempts: int = 0
    tries: int = 0
    created_at: datetime
    next_at: datetime | None = None
    ended_at: datetime | None = None


class StoredAttempt(msgspec.Struct, frozen=True, kw_only=True):
    """`status` is missing where no answer came, `problem` where all went well."""

    number: int
    at: datetime
    milliseconds: int
    status: int | None = None
    problem: str | None = None
    answer: str | None = None


async def last_positions(
    connection: AsyncConnection, organisation: str, subjects: Sequence[str]
) -> dict[str, int]:
    """Of those that have any events yet."""
    query = (
        select(event.c.subject, func.max(event.c.position))
        .where(event.c.organisation_id == organisation, event.c.subject.in_(subjects))
        .group_by(event.c.subject)
    )
    return {row[0]: row[1] for row in await connection.execute(query)}


async def insert_events(
    connection: AsyncConnection, organisation: str, events: Sequence[StoredEvent]
) -> None:
    rows = [{"organisation_id": organisation, **msgspec.structs.asdict(one)} for one in events]
    await connection.execute(insert(event), rows)


async def insert_deliveries(
    connection: AsyncConnection, organisation: str, deliveries: Sequence[StoredDelivery]
) -> None:
    rows = [{"organisation_id": organisation, **msgspec.structs.asdict(one)} for one in deliveries]
    await connection.execute(insert(delivery), rows)


async def payload(connection: AsyncConnection, organisation: str, name: str) -> str:
    """What an event of this id says."""
    query = select(event.c.payload).where(
        event.c.organisation_id == organisation, event.c.id == name
    )
    return str((await connection.execute(query)).scalar_one())


async def find_delivery(
    connection: AsyncConnection, organisation: str, name: str, *, lock: bool = False
) -> StoredDelivery | None:
    columns = (delivery.c[one] for one in StoredDelivery.__struct_fields__)
    query = select(*columns).where(_is(organisation, name))
    row = (await connection.execute(query.with_for_update() if lock else query)).mappings().first()
    return None if row is None else StoredDelivery(**row)


async def list_deliveries(
    connection: AsyncConnection,
    organisation: str,
    before: tuple[datetime, str] | None,
    limit: int,
    *,
    endpoint: str | None = None,
    state: str | None = None,
) -> list[StoredDelivery]:
    """The newest first."""
    columns = (delivery.c[one] for one in StoredDelivery.__struct_fields__)
    query = select(*columns).where(delivery.c.organisation_id == organisation)
    if endpoint is not None:
        query = query.where(delivery.c.endpoint_id == endpoint)
    if state is not None:
        query = query.where(delivery.c.state == state)
    if before is not None:
        query = query.where(tuple_(delivery.c.created_at, delivery.c.id) < before)
    ordered = query.order_by(delivery.c.created_at.desc(), delivery.c.id.desc()).limit(limit)
    return [StoredDelivery(**row) for row in (await connection.execute(ordered)).mappings()]


async def attempts_at(
    connection: AsyncConnection, organisation: str, name: str
) -> list[StoredAttempt]:
    """The last so many, in the order in which they were made."""
    columns = (attempt.c[one] for one in StoredAttempt.__struct_fields__)
    query = (
        select(*columns)
        .where(attempt.c.organisation_id == organisation, attempt.c.delivery_id == name)
        .order_by(attempt.c.number.desc())
        .limit(MOST_ATTEMPTS_SHOWN)
    )
    found = [StoredAttempt(**row) for row in (await connection.execute(query)).mappings()]
    return found[::-1]


async def begin_again(
    connection: AsyncConnection, organisation: str, name: str, now: datetime
) -> None:
    values = {"state": "waiting", "tries": 0, "next_at": now, "ended_at": None}
    await connection.execute(update(delivery).where(_is(organisation, name)).values(**values))


async def cancel_all(
    connection: AsyncConnection, organisation: str, endpoint: str, now: datetime
) -> int:
    """What waits to be sent to an endpoint; how many there were."""
    waiting = and_(
        delivery.c.organisation_id == organisation,
        delivery.c.endpoint_id == endpoint,
        delivery.c.state == "waiting",
    )
    values = {"state": "cancelled", "next_at": None, "ended_at": now}
    return (await connection.execute(update(delivery).where(waiting).values(**values))).rowcount


async def keep_attempt(
    connection: AsyncConnection,
    organisation: str,
    was: StoredDelivery,
    made: StoredAttempt,
    now: StoredDelivery,
) -> None:
    """The attempt, and the delivery as it is after it.

    One that was cancelled meanwhile stays so, unless it was received after all.
    """
    same = and_(_is(organisation, was.id), delivery.c.attempts == was.attempts)
    values = {name: getattr(now, name) for name in ("state", "tries", "next_at", "ended_at")}
    change = update(delivery).where(same).values(attempts=now.attempts, **values)
    if now.state != "delivered":
        change = change.where(delivery.c.state == "waiting")
    changed = (await connection.execute(change)).rowcount
    if not changed:
        counted = update(delivery).where(same).values(attempts=now.attempts)
        changed = (await connection.execute(counted)).rowcount
    if changed:
        row = {"organisation_id": organisation, "delivery_id": was.id}
        await connection.execute(insert(attempt), row | msgspec.structs.asdict(made))


def _is(organisation: str, name: str) -> ColumnElement[bool]:
    return and_(delivery.c.organisation_id == organisation, delivery.c.id == name)
