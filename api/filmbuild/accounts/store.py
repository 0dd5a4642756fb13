"""Queries on accounts and their keys. All run in the caller's transaction."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

import msgspec
from sqlalchemy import ColumnElement, Select, and_, delete, func, insert, select, tuple_, update
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.accounts import tables
from filmbuild.accounts.keys import KeyKind

_ACCOUNT = tables.account
_KEY = tables.api_key
_ORIGIN = tables.key_origin
_SCOPES = msgspec.json.Decoder(tuple[str, ...])


class StoredKey(msgspec.Struct, frozen=True, kw_only=True):
    """A key without what it is: only its digest is kept."""

    id: str
    kind: KeyKind
    name: str
    digest: str
    hint: str
    scopes: tuple[str, ...]
    origins: tuple[str, ...]
    created_at: datetime
    created_by: str
    expires_at: datetime | None = None
    revoked_at: datetime | None = None
    last_used_at: datetime | None = None
    replaced_by: str | None = None


async def insert_account(
    connection: AsyncConnection, organisation: str, name: str, now: datetime
) -> None:
    values = {"organisation_id": organisation, "name": name, "created_at": now}
    await connection.execute(insert(_ACCOUNT), values)


async def account_exists(connection: AsyncConnection, organisation: str) -> bool:
    query = select(_ACCOUNT.c.name).where(_ACCOUNT.c.organisation_id == organisation)
    return (await connection.execute(query)).first() is not None


async def accounts(connection: AsyncConnection) -> dict[str, str]:
    """The names of all organisations, by id; for EVERYONE's blocks."""
    rows = await connection.execute(select(_ACCOUNT.c.organisation_id, _ACCOUNT.c.name))
    return {row[0]: row[1] for row in rows}


async def insert_key(connection: AsyncConnection, organisation: str, key: StoredKey) -> None:
    values = msgspec.structs.asdict(key) | {
        "organisation_id": organisation,
        "scopes": msgspec.json.encode(key.scopes).decode(),
        "origins": msgspec.json.encode(key.origins).decode(),
    }
    await connection.execute(insert(_KEY), values)
    if key.origins:
        rows = [
            {"organisation_id": organisation, "key_id": key.id, "origin": one}
            for one in key.origins
        ]
        await connection.execute(insert(_ORIGIN), rows)


async def find_key(
    connection: AsyncConnection, organisation: str, key: str, *, lock: bool = False
) -> StoredKey | None:
    query = _keys().where(_is(organisation, key))
    row = (await connection.execute(query.with_for_update() if lock else query)).mappings().first()
    return None if row is None else _read(dict(row))


async def list_keys(
    connection: AsyncConnection, organisation: str, after: tuple[datetime, str] | None, limit: int
) -> list[StoredKey]:
    """The oldest first."""
    query = _keys().where(_KEY.c.organisation_id == organisation)
    if after is not None:
        query = query.where(tuple_(_KEY.c.created_at, _KEY.c.id) > after)
    rows = await connection.execute(query.order_by(_KEY.c.created_at, _KEY.c.id).limit(limit))
    return [_read(dict(row)) for row in rows.mappings()]


async def count_keys(connection: AsyncConnection, organisation: str) -> int:
    """Those that can still be used, and those that could."""
    query = select(func.count()).select_from(_KEY).where(_KEY.c.organisation_id == organisation)
    return (await connection.execute(query)).scalar_one()


async def end_key(
    connection: AsyncConnection,
    organisation: str,
    key: str,
    *,
    revoked_at: datetime | None = None,
    expires_at: datetime | None = None,
    replaced_by: str | None = None,
) -> None:
    given = {"revoked_at": revoked_at, "expires_at": expires_at, "replaced_by": replaced_by}
    values = {name: value for name, value in given.items() if value is not None}
    await connection.execute(update(_KEY).where(_is(organisation, key)).values(**values))
    if revoked_at is not None:
        await connection.execute(
            delete(_ORIGIN).where(
                _ORIGIN.c.organisation_id == organisation, _ORIGIN.c.key_id == key
            )
        )


async def mark_used(
    connection: AsyncConnection, organisation: str, keys: Sequence[str], now: datetime
) -> None:
    used = and_(_KEY.c.organisation_id == organisation, _KEY.c.id.in_(keys))
    await connection.execute(update(_KEY).where(used).values(last_used_at=now))


def _keys() -> Select[tuple[object, ...]]:
    return select(*(_KEY.c[name] for name in StoredKey.__struct_fields__))


def _is(organisation: str, key: str) -> ColumnElement[bool]:
    return and_(_KEY.c.organisation_id == organisation, _KEY.c.id == key)


def _read(row: dict[str, Any]) -> StoredKey:
    lists = {name: _SCOPES.decode(row[name]) for name in ("scopes", "origins")}
    return StoredKey(**{**row, **lists})
