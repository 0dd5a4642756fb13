"""Makes, changes and ends endpoints."""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

import msgspec
from msgspec import UNSET
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild import idempotency
from filmbuild.accounts import audit
from filmbuild.db import Database
from filmbuild.db.identities import new_identity
from filmbuild.edge import paging
from filmbuild.edge.operations import Caller
from filmbuild.edge.paging import PageQuery
from filmbuild.edge.preconditions import check_match
from filmbuild.errors import Conflict, NotFound
from filmbuild.idempotency import KeptAnswer, RequestKey
from filmbuild.webhooks import delivery_store, store
from filmbuild.webhooks.checking import check_endpoint, check_rotation
from filmbuild.webhooks.signing import new_secret
from filmbuild.webhooks.store import StoredEndpoint
from filmbuild.webhooks.wire import (
    NewWebhookEndpoint,
    WebhookEndpoint,
    WebhookEndpointChange,
    WebhookEndpointPage,
    WebhookEndpointRequest,
    WebhookRotationRequest,
)

MOST_ENDPOINTS = 20
CREATED = 201
DONE = 200
_SHOWN = WebhookEndpoint.__struct_fields__


class EndpointService:
    """`private` is the operator's leave to send to networks that are not public, and without TLS."""

    def __init__(self, database: Database, clock: Callable[[], datetime], *, private: bool) -> None:
        self._database = database
        self._clock = clock
        self._private = private

    async def find(self, organisation: str, query: PageQuery, path: str) -> WebhookEndpointPage:
        after = paging.after_moment(query, path, lambda at, name: (at, name))
        async with self._database.reader(organisation) as connection:
            found = await store.list_endpoints(connection, organisation, after, query.limit + 1)
        shown, more = found[: query.limit], len(found) > query.limit
        last = f"{shown[-1].created_at.isoformat()} {shown[-1].id}" if more else ""
        return WebhookEndpointPage(
            items=tuple(answer(one) for one in shown),
            next=paging.cursor(query, path, last) if more else None,
        )

    async def get(self, organisation: str, name: str) -> StoredEndpoint:
        """Raises NotFound."""
        async with self._database.reader(organisation) as connection:
            return await found_endpoint(connection, organisation, name)

    async def create(
        self, caller: Caller, asked: WebhookEndpointRequest, key: RequestKey | None
    ) -> tuple[StoredEndpoint, str | None]:
        """With its secret, where it was made just now.

        Raises InvalidInput, Conflict and IdempotencyKeyReused.
        """
        check_endpoint(asked, private=self._private)
        now, organisation = self._clock(), caller.organisation
        made = StoredEndpoint(
            id=new_identity("whe"),
            url=asked.url,
            description=asked.description,
            event_types=_distinct(asked.event_types),
            enabled=asked.enabled,
            disabled_because=None,
            secret=new_secret(),
            created_at=now,
            updated_at=now,
        )
        async with self._database.writer(organisation) as connection:
            if (earlier := await _earlier(connection, key, now)) is not None:
                return earlier, None
            if await store.count_endpoints(connection, organisation) >= MOST_ENDPOINTS:
                raise Conflict(f"There are {MOST_ENDPOINTS} endpoints already; change one of them.")
            await store.insert_endpoint(connection, organisation, made)
            await self._log(connection, caller, "webhook.created", made.id, _told(made))
            await _keep(connection, key, CREATED, made.id, now)
        return made, made.secret

    async def change(
        self, caller: Caller, name: str, asked: WebhookEndpointChange, headers: Mapping[str, str]
    ) -> StoredEndpoint:
        """Raises NotFound, PreconditionRequired, PreconditionFailed and InvalidInput."""
        now, organisation = self._clock(), caller.organisation
        async with self._database.writer(organisation) as connection:
            was = await found_endpoint(connection, organisation, name, lock=True)
            check_match(headers, tag(was))
            check_endpoint(asked, private=self._private)
            changes = {
                one: value
                for one, value in msgspec.structs.asdict(asked).items()
                if value is not UNSET
            }
            then = _changed(was, changes)
            if then == was:
                return was
            then = msgspec.structs.replace(then, version=was.version + 1, updated_at=now)
            await store.write_endpoint(connection, organisation, then)
            if not then.enabled:
                await delivery_store.cancel_all(connection, organisation, name, now)
            await self._log(connection, caller, "webhook.changed", name, _told(then))
        return then

    async def delete(self, caller: Caller, name: str, headers: Mapping[str, str]) -> None:
        """What was sent stays in the log. Raises as `change` does."""
        now, organisation = self._clock(), caller.organisation
        async with self._database.writer(organisation) as connection:
            was = await found_endpoint(connection, organisation, name, lock=True)
            check_match(headers, tag(was))
            await delivery_store.cancel_all(connection, organisation, name, now)
            await store.delete_endpoint(connection, organisation, name)
            await self._log(connection, caller, "webhook.deleted", name, {})

    async def rotate(
        self, caller: Caller, name: str, asked: WebhookRotationRequest, key: RequestKey | None
    ) -> tuple[StoredEndpoint, str | None]:
        """Of the secrets before the last one none is good any more. Raises as `create` does."""
        check_rotation(asked)
        now, organisation = self._clock(), caller.organisation
        async with self._database.writer(organisation) as connection:
            if (earlier := await _earlier(connection, key, now)) is not None:
                return earlier, None
            was = await found_endpoint(connection, organisation, name, lock=True)
            until = now + asked.overlap if asked.overlap else None
            then = msgspec.structs.replace(
                was,
                secret=new_secret(),
                old_secret=was.secret if until else None,
                old_secret_until=until,
                version=was.version + 1,
                updated_at=now,
            )
            await store.write_endpoint(connection, organisation, then)
            detail = {"old_secret_until": until}
            await self._log(connection, caller, "webhook.rotated", name, detail)
            await _keep(connection, key, DONE, name, now)
        return then, then.secret

    async def _log(
        self,
        connection: AsyncConnection,
        caller: Caller,
        action: str,
        subject: str,
        detail: Mapping[str, object],
    ) -> None:
        await audit.write(
            connection,
            caller.organisation,
            at=self._clock(),
            actor=caller.actor,
            action=action,
            subject=subject,
            detail=detail,
        )


def tag(endpoint: StoredEndpoint) -> str:
    return f'"{endpoint.version}"'


def answer(endpoint: StoredEndpoint) -> WebhookEndpoint:
    return WebhookEndpoint(**{name: getattr(endpoint, name) for name in _SHOWN})


def new_answer(endpoint: StoredEndpoint, secret: str | None) -> NewWebhookEndpoint:
    return NewWebhookEndpoint(**{name: getattr(endpoint, name) for name in _SHOWN}, secret=secret)


async def found_endpoint(
    connection: AsyncConnection, organisation: str, name: str, *, lock: bool = False
) -> StoredEndpoint:
    """Raises NotFound."""
    found = await store.find_endpoint(connection, organisation, name, lock=lock)
    if found is None:
        raise NotFound("No webhook endpoint has this id.")
    return found


def _changed(was: StoredEndpoint, changes: dict[str, Any]) -> StoredEndpoint:
    """One that is enabled again, or is elsewhere now, begins with a clean sheet."""
    if "event_types" in changes:
        changes["event_types"] = _distinct(changes["event_types"])
    then = msgspec.structs.replace(was, **changes)
    if then.url != was.url or then.enabled != was.enabled:
        then = msgspec.structs.replace(then, failing_since=None, disabled_because=None)
    return then


def _distinct(types: tuple[str, ...] | None) -> tuple[str, ...] | None:
    return None if types is None else tuple(dict.fromkeys(types))


def _told(endpoint: StoredEndpoint) -> dict[str, object]:
    """Not the URL, whose path may be a secret of the receiver's."""
    return {"event_types": endpoint.event_types, "enabled": endpoint.enabled}


async def _earlier(
    connection: AsyncConnection, key: RequestKey | None, now: datetime
) -> StoredEndpoint | None:
    known = await idempotency.find(connection, key, now) if key else None
    if key is None or known is None:
        return None
    return await found_endpoint(connection, key.organisation, known.resource)


async def _keep(
    connection: AsyncConnection, key: RequestKey | None, status: int, name: str, now: datetime
) -> None:
    """Not the answer, which tells the secret."""
    if key is not None:
        await idempotency.keep(connection, key, KeptAnswer(status=status, resource=name), now)
