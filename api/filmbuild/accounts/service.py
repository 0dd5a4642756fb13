"""Makes, rotates and ends keys."""

from collections.abc import Callable, Collection
from datetime import datetime

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.accounts import audit, store
from filmbuild.accounts.checking import check_request, check_rotation
from filmbuild.accounts.keys import allows, new_key
from filmbuild.accounts.store import StoredKey
from filmbuild.accounts.wire import (
    ApiKey,
    AuditEntry,
    AuditPage,
    AuditQuery,
    KeyPage,
    KeyRequest,
    NewApiKey,
    RotationRequest,
)
from filmbuild.db import Database
from filmbuild.db.identities import new_identity
from filmbuild.edge import paging
from filmbuild.edge.operations import Caller
from filmbuild.edge.paging import PageQuery
from filmbuild.errors import Conflict, Forbidden, NotFound
from filmbuild.idempotency import KeptAnswer, RequestKey
from filmbuild.idempotency import store as idempotency

MOST_KEYS = 1000
CREATED = 201


class KeyService:
    """`scopes` are those that the service knows."""

    def __init__(
        self, database: Database, scopes: Collection[str], clock: Callable[[], datetime]
    ) -> None:
        self._database = database
        self._scopes = scopes
        self._clock = clock

    async def find(self, organisation: str, query: PageQuery, path: str) -> KeyPage:
        after = paging.after_moment(query, path, lambda at, name: (at, name))
        async with self._database.reader(organisation) as connection:
            found = await store.list_keys(connection, organisation, after, query.limit + 1)
        now, shown = self._clock(), found[: query.limit]
        more = len(found) > query.limit
        last = f"{shown[-1].created_at.isoformat()} {shown[-1].id}" if more else ""
        return KeyPage(
            items=tuple(answer(one, now) for one in shown),
            next=paging.cursor(query, path, last) if more else None,
        )

    async def get(self, organisation: str, name: str) -> ApiKey:
        """Raises NotFound."""
        async with self._database.reader(organisation) as connection:
            return answer(await _found(connection, organisation, name), self._clock())

    async def create(
        self, caller: Caller, request: KeyRequest, key: RequestKey | None
    ) -> NewApiKey:
        """Raises InvalidInput, Forbidden, Conflict and IdempotencyKeyReused."""
        now = self._clock()
        check_request(request, self._scopes, now)
        _check_reach(caller, request.scopes)
        async with self._database.writer(caller.organisation) as connection:
            await _check_still_live(connection, caller, now)
            if known := await self._earlier(connection, caller, key, now):
                return known
            if await store.count_keys(connection, caller.organisation) >= MOST_KEYS:
                raise Conflict(f"There are {MOST_KEYS} keys already; use one of them.")
            made = await begin_key(connection, caller.organisation, caller.actor, request, now)
            await _keep(connection, key, made.key.id, now)
        return made

    async def rotate(
        self, caller: Caller, name: str, request: RotationRequest, key: RequestKey | None
    ) -> NewApiKey:
        """A new key in the place of one that goes on for a while. Raises as `create` does."""
        now = self._clock()
        check_rotation(request, now)
        async with self._database.writer(caller.organisation) as connection:
            await _check_still_live(connection, caller, now)
            if known := await self._earlier(connection, caller, key, now):
                return known
            old = await _found(connection, caller.organisation, name, lock=True)
            if state_of(old, now) != "live":
                raise Conflict(f"The key is {state_of(old, now)}; make a new one.")
            if old.replaced_by is not None:
                raise Conflict("The key has been rotated already; rotate the one after it.")
            _check_reach(caller, old.scopes)
            wanted = KeyRequest(
                name=old.name,
                kind=old.kind,
                scopes=old.scopes,
                origins=old.origins,
                expires_at=_end_of_next(old, request, now),
            )
            made = await begin_key(connection, caller.organisation, caller.actor, wanted, now)
            ends = now + request.overlap
            ends = ends if old.expires_at is None else min(ends, old.expires_at)
            await store.end_key(
                connection, caller.organisation, name, expires_at=ends, replaced_by=made.key.id
            )
            detail = {"replaced_by": made.key.id, "ends_at": ends}
            await self._log(connection, caller, "key.rotated", name, detail)
            await _keep(connection, key, made.key.id, now)
        return made

    async def revoke(self, caller: Caller, name: str) -> ApiKey:
        """From the next request on. One that is revoked already stays so. Raises NotFound."""
        now = self._clock()
        async with self._database.writer(caller.organisation) as connection:
            old = await _found(connection, caller.organisation, name, lock=True)
            if old.revoked_at is None:
                await store.end_key(connection, caller.organisation, name, revoked_at=now)
                await self._log(connection, caller, "key.revoked", name, {"name": old.name})
            return answer(await _found(connection, caller.organisation, name), now)

    async def audit(self, organisation: str, query: AuditQuery, path: str) -> AuditPage:
        before = paging.after_moment(query, path, lambda at, name: (at, name))
        async with self._database.reader(organisation) as connection:
            found = await audit.find(
                connection, organisation, before, query.action, query.limit + 1
            )
        shown, more = found[: query.limit], len(found) > query.limit
        last = f"{shown[-1].at.isoformat()} {shown[-1].id}" if more else ""
        return AuditPage(
            items=tuple(_entry(one) for one in shown),
            next=paging.cursor(query, path, last) if more else None,
        )

    async def _earlier(
        self, connection: AsyncConnection, caller: Caller, key: RequestKey | None, now: datetime
    ) -> NewApiKey | None:
        known = await idempotency.find(connection, key, now) if key else None
        if known is None:
            return None
        stored = await _found(connection, caller.organisation, known.resource)
        return NewApiKey(key=answer(stored, now), secret=None)

    async def _log(
        self,
        connection: AsyncConnection,
        caller: Caller,
        action: str,
        subject: str,
        detail: dict[str, object],
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


async def begin_key(
    connection: AsyncConnection, organisation: str, actor: str, request: KeyRequest, now: datetime
) -> NewApiKey:
    """Stores a key that has been checked, and tells it."""
    made = new_key(request.kind)
    stored = StoredKey(
        id=new_identity("key"),
        kind=request.kind,
        name=request.name,
        digest=made.digest,
        hint=made.hint,
        scopes=tuple(dict.fromkeys(request.scopes)),
        origins=tuple(dict.fromkeys(request.origins)),
        created_at=now,
        created_by=actor,
        expires_at=request.expires_at,
    )
    await store.insert_key(connection, organisation, stored)
    await audit.write(
        connection,
        organisation,
        at=now,
        actor=actor,
        action="key.created",
        subject=stored.id,
        detail={"kind": stored.kind, "name": stored.name, "scopes": stored.scopes},
    )
    return NewApiKey(key=answer(stored, now), secret=made.text)


def state_of(key: StoredKey, now: datetime) -> str:
    if key.revoked_at is not None:
        return "revoked"
    if key.expires_at is not None and key.expires_at <= now:
        return "expired"
    return "live"


def answer(key: StoredKey, now: datetime) -> ApiKey:
    shown = {name: value for name, value in msgspec.structs.asdict(key).items() if name != "digest"}
    return ApiKey(state=state_of(key, now), **shown)


def _entry(stored: audit.StoredEntry) -> AuditEntry:
    values = msgspec.structs.asdict(stored)
    return AuditEntry(**{**values, "detail": msgspec.json.decode(stored.detail)})


def _check_reach(caller: Caller, scopes: tuple[str, ...]) -> None:
    beyond = [one for one in scopes if not allows(caller.scopes, one)]
    if beyond:
        raise Forbidden(f"The asking key does not have {', '.join(beyond)} itself.")


def _end_of_next(old: StoredKey, request: RotationRequest, now: datetime) -> datetime | None:
    """A key that was to end has followers that end: each lives as long as it was to, or shorter."""
    if old.expires_at is None:
        return request.expires_at
    latest = now + (old.expires_at - old.created_at)
    return latest if request.expires_at is None else min(request.expires_at, latest)


async def _check_still_live(connection: AsyncConnection, caller: Caller, now: datetime) -> None:
    """It was looked up before the body came, which may take its time; it must leave none behind."""
    asking = await store.find_key(connection, caller.organisation, caller.actor, lock=True)
    if asking is None or state_of(asking, now) != "live":
        raise Forbidden("The asking key has ended in the meantime.")


async def _found(
    connection: AsyncConnection, organisation: str, name: str, *, lock: bool = False
) -> StoredKey:
    found = await store.find_key(connection, organisation, name, lock=lock)
    if found is None:
        raise NotFound("No key has this id.")
    return found


async def _keep(
    connection: AsyncConnection, key: RequestKey | None, made: str, now: datetime
) -> None:
    """Not the answer, which holds the key: that is kept nowhere."""
    if key is not None:
        kept = KeptAnswer(status=CREATED, resource=made)
        await idempotency.keep(connection, key, kept, now)
