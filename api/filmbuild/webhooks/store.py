"""Queries on endpoints. All run in the caller's transaction."""

from collections.abc import Sequence
from datetime import datetime

import msgspec
from sqlalchemy import (
    ColumnElement,
    RowMapping,
    Select,
    and_,
    delete,
    func,
    insert,
    select,
    tuple_,
    update,
)
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.webhooks.tables import endpoint

_TYPES = msgspec.json.Decoder(tuple[str, ...])


class StoredEndpoint(msgspec.Struct, frozen=True, kw_only=True):
    """`event_types` are None where all are wanted."""

    id: str
    url: str
    description: str
    event_types: tuple[str, ...] | None
    enabled: bool
    disabled_because: str | None
    secret: str
    old_secret: str | None = None
    old_secret_until: datetime | None = None
    version: int = 1
    created_at: datetime
    updated_at: datetime
    failing_since: datetime | None = None

    def secrets(self, now: datetime) -> tuple[str, ...]:
        """All that messages are signed with, the newest first."""
        until = self.old_secret_until
        if self.old_secret is None or until is None or until <= now:
            return (self.secret,)
        return (self.secret, self.old_secret)


async def wanting(
    connection: AsyncConnection, organisation: str
) -> list[tuple[str, tuple[str, ...] | None]]:
    """The ids of all that are sent anything, with the types that they want."""
    query = select(endpoint.c.id, endpoint.c.event_types).where(
        endpoint.c.organisation_id == organisation, endpoint.c.enabled.is_(True)
    )
    rows = await connection.execute(query)
    return [(row[0], _types(row[1])) for row in rows]


async def insert_endpoint(
    connection: AsyncConnection, organisation: str, made: StoredEndpoint
) -> None:
    row = {"organisation_id": organisation, **_row(made)}
    await connection.execute(insert(endpoint), row)


async def find_endpoint(
    connection: AsyncConnection, organisation: str, name: str, *, lock: bool = False
) -> StoredEndpoint | None:
    query = _endpoints().where(_is(organisation, name))
    row = (await connection.execute(query.with_for_update() if lock else query)).mappings().first()
    return None if row is None else _read(row)


async def list_endpoints(
    connection: AsyncConnection, organisation: str, after: tuple[datetime, str] | None, limit: int
) -> list[StoredEndpoint]:
    """The oldest first."""
    query = _endpoints().where(endpoint.c.organisation_id == organisation)
    if after is not None:
        query = query.where(tuple_(endpoint.c.created_at, endpoint.c.id) > after)
    ordered = query.order_by(endpoint.c.created_at, endpoint.c.id).limit(limit)
    return [_read(row) for row in (await connection.execute(ordered)).mappings()]


async def count_endpoints(connection: AsyncConnection, organisation: str) -> int:
    query = select(func.count()).where(endpoint.c.organisation_id == organisation)
    return (await connection.execute(query)).scalar_one()


async def write_endpoint(
    connection: AsyncConnection, organisation: str, now: StoredEndpoint
) -> None:
    """In the place of the one of its id, which the transaction has locked."""
    change = update(endpoint).where(_is(organisation, now.id)).values(**_row(now))
    await connection.execute(change)


async def write_failing(
    connection: AsyncConnection, organisation: str, name: str, since: datetime | None
) -> None:
    """Not a change of the endpoint as its owner has it, so that its version stays."""
    change = update(endpoint).where(_is(organisation, name)).values(failing_since=since)
    await connection.execute(change)


async def delete_endpoint(connection: AsyncConnection, organisation: str, name: str) -> None:
    await connection.execute(delete(endpoint).where(_is(organisation, name)))


def _endpoints() -> Select[tuple[object, ...]]:
    return select(*(endpoint.c[name] for name in StoredEndpoint.__struct_fields__))


def _is(organisation: str, name: str) -> ColumnElement[bool]:
    return and_(endpoint.c.organisation_id == organisation, endpoint.c.id == name)


def _types(text: str | None) -> tuple[str, ...] | None:
    return None if text is None else _TYPES.decode(text)


def _row(one: StoredEndpoint) -> dict[str, object]:
    types: Sequence[str] | None = one.event_types
    text = None if types is None else msgspec.json.encode(types).decode()
    return msgspec.structs.asdict(one) | {"event_types": text}


def _read(row: RowMapping) -> StoredEndpoint:
    return StoredEndpoint(**{**row, "event_types": _types(row["event_types"])})
