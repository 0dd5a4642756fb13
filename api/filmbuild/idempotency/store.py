"""Queries on kept answers. All run in the caller's transaction."""

from datetime import datetime

from sqlalchemy import ColumnElement, and_, delete, insert, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.errors import Conflict, Fault
from filmbuild.idempotency.keys import KEPT_FOR, IdempotencyKeyReused, KeptAnswer, RequestKey
from filmbuild.idempotency.tables import kept_answer

_KEPT = kept_answer


async def find(connection: AsyncConnection, key: RequestKey, now: datetime) -> KeptAnswer | None:
    """None too where the key has expired. Raises IdempotencyKeyReused."""
    query = select(_KEPT.c.request_digest, _KEPT.c.status, _KEPT.c.resource, _KEPT.c.answer).where(
        _is(key), _KEPT.c.expires_at > now
    )
    row = (await connection.execute(query)).first()
    if row is None:
        return None
    if row.request_digest != key.digest:
        detail = "this key came with another request; use a new key for a new request"
        fault = Fault("", IdempotencyKeyReused.code, detail)
        raise IdempotencyKeyReused("The idempotency key was used before.", (fault,))
    return KeptAnswer(status=row.status, resource=row.resource, answer=row.answer)


async def keep(
    connection: AsyncConnection, key: RequestKey, answer: KeptAnswer, now: datetime
) -> None:
    """Raises Conflict where the key is in use; an expired key is free again."""
    await connection.execute(delete(_KEPT).where(_is(key), _KEPT.c.expires_at <= now))
    values = {
        "organisation_id": key.organisation,
        "caller": key.caller,
        "key": key.key,
        "request_digest": key.digest,
        "resource": answer.resource,
        "answer": answer.answer,
        "status": answer.status,
        "created_at": now,
        "expires_at": now + KEPT_FOR,
    }
    try:
        await connection.execute(insert(_KEPT), values)
    except IntegrityError as error:
        raise Conflict("A request with this idempotency key has just been made.") from error


async def delete_expired(connection: AsyncConnection, organisation: str, now: datetime) -> int:
    """How many there were."""
    expired = delete(_KEPT).where(
        _KEPT.c.organisation_id == organisation, _KEPT.c.expires_at <= now
    )
    return (await connection.execute(expired)).rowcount


def _is(key: RequestKey) -> ColumnElement[bool]:
    return and_(
        _KEPT.c.organisation_id == key.organisation,
        _KEPT.c.caller == key.caller,
        _KEPT.c.key == key.key,
    )
