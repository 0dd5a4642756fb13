"""The audit log: who did what with keys and prices, written with the change itself."""

from collections.abc import Mapping
from datetime import datetime

import msgspec
from sqlalchemy import insert, select, tuple_
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.accounts.tables import audit_entry
from filmbuild.db.identities import new_identity

_ENTRY = audit_entry


class StoredEntry(msgspec.Struct, frozen=True, kw_only=True):
    """`subject` is the id of what was changed; `detail` is the text of a JSON object."""

    id: str
    at: datetime
    actor: str
    action: str
    subject: str
    detail: str


async def write(
    connection: AsyncConnection,
    organisation: str,
    *,
    at: datetime,
    actor: str,
    action: str,
    subject: str,
    detail: Mapping[str, object],
) -> None:
    """In the transaction of the change: neither is there without the other.

    `detail` holds no secrets and nothing of customers.
    """
    row = {
        "organisation_id": organisation,
        "id": new_identity("aud"),
        "at": at,
        "actor": actor,
        "action": action,
        "subject": subject,
        "detail": msgspec.json.encode(detail).decode(),
    }
    await connection.execute(insert(_ENTRY), row)


async def find(
    connection: AsyncConnection,
    organisation: str,
    before: tuple[datetime, str] | None,
    action: str | None,
    limit: int,
) -> list[StoredEntry]:
    """The newest first."""
    query = select(*(_ENTRY.c[name] for name in StoredEntry.__struct_fields__)).where(
        _ENTRY.c.organisation_id == organisation
    )
    if action is not None:
        query = query.where(_ENTRY.c.action == action)
    if before is not None:
        query = query.where(tuple_(_ENTRY.c.at, _ENTRY.c.id) < before)
    ordered = query.order_by(_ENTRY.c.at.desc(), _ENTRY.c.id.desc()).limit(limit)
    return [StoredEntry(**row) for row in (await connection.execute(ordered)).mappings()]
