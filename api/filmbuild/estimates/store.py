"""Queries on stored estimates. All run in the caller's transaction."""

import secrets
from datetime import datetime

import msgspec
from sqlalchemy import Column, and_, delete, insert, or_, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.errors import Conflict
from filmbuild.estimates import tables
from filmbuild.money import Exact

_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"
_ID_LENGTH = 26


class EstimateSummary(msgspec.Struct, frozen=True, kw_only=True):
    """What a list shows of an estimate."""

    id: str
    created_at: datetime
    site_name: str
    reference: str | None
    system_id: str
    currency: str
    total: Exact
    catalogue_revision: int
    engine_version: str


class StoredEstimate(EstimateSummary, frozen=True, kw_only=True):
    """`request` and `result` are the JSON texts of the estimate as it was made."""

    request: str
    result: str


class IdempotencyKey(msgspec.Struct, frozen=True, kw_only=True):
    """A caller's key, the digest of the request it came with, and the answer it was given."""

    key: str
    request_digest: str
    estimate_id: str
    status: int
    created_at: datetime
    expires_at: datetime


class Position(msgspec.Struct, frozen=True):
    """The place of an estimate in the order of lists."""

    created_at: datetime
    id: str


_ESTIMATE = tables.estimate
_KEY = tables.idempotency_key


def _columns(record: type[msgspec.Struct]) -> list[Column[object]]:
    table = _KEY if record is IdempotencyKey else _ESTIMATE
    return [table.c[name] for name in record.__struct_fields__]


def new_estimate_id() -> str:
    """Opaque: "est_" and 130 random bits in lower-case letters and digits."""
    return "est_" + "".join(secrets.choice(_LETTERS) for _ in range(_ID_LENGTH))


async def insert_estimate(
    connection: AsyncConnection,
    organisation: str,
    estimate: StoredEstimate,
    key: IdempotencyKey | None = None,
) -> None:
    """Raises `Conflict` where the key is in use; an expired key is free again."""
    await connection.execute(insert(_ESTIMATE), _row(organisation, estimate))
    if key is None:
        return
    expired = delete(_KEY).where(
        _KEY.c.organisation_id == organisation,
        _KEY.c.key == key.key,
        _KEY.c.expires_at <= key.created_at,
    )
    await connection.execute(expired)
    try:
        await connection.execute(insert(_KEY), _row(organisation, key))
    except IntegrityError as error:
        raise Conflict("A request with this idempotency key has just been made.") from error


def _row(organisation: str, record: StoredEstimate | IdempotencyKey) -> dict[str, object]:
    return {"organisation_id": organisation, **msgspec.structs.asdict(record)}


async def get_estimate(
    connection: AsyncConnection, organisation: str, estimate: str
) -> StoredEstimate | None:
    query = select(*_columns(StoredEstimate)).where(
        _ESTIMATE.c.organisation_id == organisation, _ESTIMATE.c.id == estimate
    )
    row = (await connection.execute(query)).mappings().first()
    return StoredEstimate(**row) if row is not None else None


async def page_of_estimates(
    connection: AsyncConnection, organisation: str, after: Position | None, limit: int
) -> tuple[tuple[EstimateSummary, ...], bool]:
    """Newest first, those that follow `after`; and whether more follow.

    Estimates of one moment are in descending order of id, so that no page misses or repeats one.
    """
    query = (
        select(*_columns(EstimateSummary))
        .where(_ESTIMATE.c.organisation_id == organisation)
        .order_by(_ESTIMATE.c.created_at.desc(), _ESTIMATE.c.id.desc())
    )
    if after is not None:
        query = query.where(
            or_(
                _ESTIMATE.c.created_at < after.created_at,
                and_(_ESTIMATE.c.created_at == after.created_at, _ESTIMATE.c.id < after.id),
            )
        )
    rows = (await connection.execute(query.limit(limit + 1))).mappings()
    found = tuple(EstimateSummary(**row) for row in rows)
    return found[:limit], len(found) > limit


async def find_idempotency_key(
    connection: AsyncConnection, organisation: str, key: str, now: datetime
) -> IdempotencyKey | None:
    """None too where the key has expired."""
    query = select(*_columns(IdempotencyKey)).where(
        _KEY.c.organisation_id == organisation, _KEY.c.key == key, _KEY.c.expires_at > now
    )
    row = (await connection.execute(query)).mappings().first()
    return IdempotencyKey(**row) if row is not None else None


async def delete_expired_keys(connection: AsyncConnection, organisation: str, now: datetime) -> int:
    """How many there were."""
    expired = delete(_KEY).where(_KEY.c.organisation_id == organisation, _KEY.c.expires_at <= now)
    return (await connection.execute(expired)).rowcount
