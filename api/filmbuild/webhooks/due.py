"""Queries of the worker, which looks for what is to be done whoever's it is.

All but `forget` are for EVERYONE's blocks.
"""

from collections import defaultdict
from collections.abc import Sequence
from datetime import datetime

import msgspec
from sqlalchemy import delete, exists, func, select
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.webhooks.delivery_store import StoredDelivery
from filmbuild.webhooks.tables import attempt, delivery, event


class Due(msgspec.Struct, frozen=True):
    """A delivery whose time has come."""

    organisation: str
    delivery: StoredDelivery


class Lag(msgspec.Struct, frozen=True, kw_only=True):
    """How far sending is behind: since when the oldest has been due, and how many wait or failed.

    Of the failed, those that are still in the log.
    """

    oldest_due_at: datetime | None
    due: int
    waiting: int
    failed: int


async def due(connection: AsyncConnection, now: datetime, each: int, limit: int) -> tuple[Due, ...]:
    """At most `each` of one endpoint, and of one subject only the earliest that waits.

    So an endpoint that is slow keeps none of the others waiting, and no event is told before the one
    that happened to the same subject before it.
    """
    earlier = delivery.alias()
    told_before = exists().where(
        earlier.c.organisation_id == delivery.c.organisation_id,
        earlier.c.endpoint_id == delivery.c.endpoint_id,
        earlier.c.state == "waiting",
        earlier.c.subject == delivery.c.subject,
        earlier.c.position < delivery.c.position,
    )
    place = func.row_number().over(
        partition_by=(delivery.c.organisation_id, delivery.c.endpoint_id),
        order_by=(delivery.c.next_at, delivery.c.id),
    )
    ranked = (
        select(delivery, place.label("place"))
        .where(delivery.c.state == "waiting", delivery.c.next_at <= now, ~told_before)
        .subquery()
    )
    query = select(ranked).where(ranked.c.place <= each).order_by(ranked.c.next_at).limit(limit)
    rows = (await connection.execute(query)).mappings()
    names = StoredDelivery.__struct_fields__
    return tuple(
        Due(row["organisation_id"], StoredDelivery(**{name: row[name] for name in names}))
        for row in rows
    )


async def lag(connection: AsyncConnection, now: datetime) -> Lag:
    """Three counts along an index."""
    waiting = delivery.c.state == "waiting"
    is_due = select(func.count(), func.min(delivery.c.next_at)).where(
        waiting, delivery.c.next_at <= now
    )
    row = (await connection.execute(is_due)).one()
    counts = [
        (
            await connection.execute(select(func.count()).where(delivery.c.state == state))
        ).scalar_one()
        for state in ("waiting", "failed")
    ]
    return Lag(oldest_due_at=row[1], due=row[0], waiting=counts[0], failed=counts[1])


async def old(
    connection: AsyncConnection, before: datetime, limit: int
) -> dict[str, list[tuple[str, str]]]:
    """Deliveries of before then that have ended, with their events, by organisation."""
    query = (
        select(delivery.c.organisation_id, delivery.c.id, delivery.c.event_id)
        .where(delivery.c.created_at < before, delivery.c.state != "waiting")
        .order_by(delivery.c.created_at)
        .limit(limit)
    )
    found = defaultdict[str, list[tuple[str, str]]](list)
    for row in await connection.execute(query):
        found[row.organisation_id].append((row.id, row.event_id))
    return dict(found)


async def forget(
    connection: AsyncConnection, organisation: str, gone: Sequence[tuple[str, str]]
) -> None:
    """Deliveries with their attempts, and events that no delivery is of any more."""
    deliveries = [one for one, _ in gone]
    await connection.execute(
        delete(attempt).where(
            attempt.c.organisation_id == organisation, attempt.c.delivery_id.in_(deliveries)
        )
    )
    await connection.execute(
        delete(delivery).where(
            delivery.c.organisation_id == organisation, delivery.c.id.in_(deliveries)
        )
    )
    others = exists().where(
        delivery.c.organisation_id == organisation, delivery.c.event_id == event.c.id
    )
    await connection.execute(
        delete(event).where(
            event.c.organisation_id == organisation,
            event.c.id.in_([one for _, one in gone]),
            ~others,
        )
    )
