"""Tells of deliveries, and begins them again."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

import msgspec

from filmbuild.db import Database
from filmbuild.edge import paging
from filmbuild.errors import Conflict, NotFound
from filmbuild.webhooks import delivery_store, outbox, store
from filmbuild.webhooks.delivery_store import StoredAttempt, StoredDelivery
from filmbuild.webhooks.events import TEST, Event, WebhookTestEventData
from filmbuild.webhooks.service import found_endpoint
from filmbuild.webhooks.wire import (
    WebhookAttempt,
    WebhookDelivery,
    WebhookDeliveryPage,
    WebhookDeliveryQuery,
    WebhookDeliveryRecord,
)

DISABLED = "The endpoint is disabled; enable it first."


class DeliveryService:
    def __init__(self, database: Database, clock: Callable[[], datetime]) -> None:
        self._database = database
        self._clock = clock

    async def find(
        self, organisation: str, query: WebhookDeliveryQuery, path: str
    ) -> WebhookDeliveryPage:
        before = paging.after_moment(query, path, lambda at, name: (at, name))
        async with self._database.reader(organisation) as connection:
            found = await delivery_store.list_deliveries(
                connection,
                organisation,
                before,
                query.limit + 1,
                endpoint=query.endpoint,
                state=query.state,
            )
        shown, more = found[: query.limit], len(found) > query.limit
        last = f"{shown[-1].created_at.isoformat()} {shown[-1].id}" if more else ""
        return WebhookDeliveryPage(
            items=tuple(WebhookDelivery(**_shown(one)) for one in shown),
            next=paging.cursor(query, path, last) if more else None,
        )

    async def get(self, organisation: str, name: str) -> WebhookDeliveryRecord:
        """Raises NotFound."""
        async with self._database.reader(organisation) as connection:
            found = await delivery_store.find_delivery(connection, organisation, name)
            if found is None:
                raise _missing()
            payload = await delivery_store.payload(connection, organisation, found.event_id)
            attempts = await delivery_store.attempts_at(connection, organisation, name)
        return WebhookDeliveryRecord(
            **_shown(found),
            message=msgspec.json.decode(payload),
            log=tuple(_attempt(one) for one in attempts),
        )

    async def send_again(self, organisation: str, name: str) -> WebhookDelivery:
        """At once, and as often as a new one. Raises NotFound and Conflict."""
        now = self._clock()
        async with self._database.writer(organisation) as connection:
            was = await delivery_store.find_delivery(connection, organisation, name)
            if was is None:
                raise _missing()
            to = await store.find_endpoint(connection, organisation, was.endpoint_id, lock=True)
            if to is None:
                raise Conflict("The endpoint was deleted.")
            if not to.enabled:
                raise Conflict(DISABLED)
            await delivery_store.begin_again(connection, organisation, name, now)
            after = await delivery_store.find_delivery(connection, organisation, name)
        return WebhookDelivery(**_shown(after or was))

    async def test(self, organisation: str, endpoint: str) -> WebhookDelivery:
        """Raises NotFound and Conflict."""
        now = self._clock()
        async with self._database.writer(organisation) as connection:
            to = await found_endpoint(connection, organisation, endpoint, lock=True)
            if not to.enabled:
                raise Conflict(DISABLED)
            told = Event(
                type=TEST,
                subject=endpoint,
                data=WebhookTestEventData(endpoint=endpoint),
                at=now,
            )
            name = await outbox.write_to(connection, organisation, told, endpoint)
            made = await delivery_store.find_delivery(connection, organisation, name)
        if made is None:
            raise _missing()
        return WebhookDelivery(**_shown(made))


def _missing() -> NotFound:
    return NotFound("No webhook delivery has this id.")


def _shown(one: StoredDelivery) -> dict[str, Any]:
    return {
        "id": one.id,
        "endpoint": one.endpoint_id,
        "event": one.event_id,
        "type": one.type,
        "subject": one.subject,
        "state": one.state,
        "attempts": one.attempts,
        "created_at": one.created_at,
        "next_attempt_at": one.next_at,
        "ended_at": one.ended_at,
    }


def _attempt(one: StoredAttempt) -> WebhookAttempt:
    return WebhookAttempt(
        number=one.number,
        at=one.at,
        duration=timedelta(milliseconds=one.milliseconds),
        status=one.status,
        problem=one.problem,
        answer=one.answer,
    )
