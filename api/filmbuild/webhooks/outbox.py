"""Writes what happened, in the transaction in which it happened."""

from collections.abc import Sequence

from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.db.identities import new_identity
from filmbuild.edge.encoding import encode
from filmbuild.webhooks import delivery_store, store
from filmbuild.webhooks.delivery_store import StoredDelivery, StoredEvent
from filmbuild.webhooks.events import TYPES, Event, Message


async def write(connection: AsyncConnection, organisation: str, event: Event) -> None:
    """Has it sent to each endpoint that wants it, once this transaction is committed.

    The transaction must hold what keeps others from changing the subject, as events are told in the
    order in which they are written.
    """
    await write_all(connection, organisation, (event,))


async def write_all(
    connection: AsyncConnection, organisation: str, events: Sequence[Event]
) -> None:
    """The same of several, with so many statements however many there are."""
    for one in events:
        if one.type not in TYPES:
            raise ValueError(f"{one.type} is not a type of event")
    if not events or not (wanting := await store.wanting(connection, organisation)):
        return
    told = [(one, [to for to, types in wanting if one.type in (types or TYPES)]) for one in events]
    await _keep(connection, organisation, [(one, to) for one, to in told if to])


async def write_to(
    connection: AsyncConnection, organisation: str, event: Event, endpoint: str
) -> str:
    """For one endpoint alone, whatever it wants; the delivery's id."""
    (made,) = await _keep(connection, organisation, [(event, [endpoint])])
    return made.id


async def _keep(
    connection: AsyncConnection, organisation: str, told: Sequence[tuple[Event, list[str]]]
) -> list[StoredDelivery]:
    if not told:
        return []
    subjects = list({event.subject for event, _ in told})
    positions = await delivery_store.last_positions(connection, organisation, subjects)
    events, deliveries = list[StoredEvent](), list[StoredDelivery]()
    for event, endpoints in told:
        positions[event.subject] = position = positions.get(event.subject, 0) + 1
        stored = _stored(event, position)
        events.append(stored)
        deliveries += [_delivery(stored, one) for one in endpoints]
    await delivery_store.insert_events(connection, organisation, events)
    await delivery_store.insert_deliveries(connection, organisation, deliveries)
    return deliveries


def _stored(event: Event, position: int) -> StoredEvent:
    return StoredEvent(
        id=new_identity("evt"),
        type=event.type,
        subject=event.subject,
        position=position,
        created_at=event.at,
        payload=encode(Message(event.type, event.at, event.data), "us").decode(),
    )


def _delivery(event: StoredEvent, endpoint: str) -> StoredDelivery:
    return StoredDelivery(
        id=new_identity("whd"),
        endpoint_id=endpoint,
        event_id=event.id,
        type=event.type,
        subject=event.subject,
        position=event.position,
        created_at=event.created_at,
        next_at=event.created_at,
    )
