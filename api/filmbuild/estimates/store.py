"""Queries on stored estimates. All run in the caller's transaction."""

import secrets
from datetime import datetime

import msgspec
from sqlalchemy import Column, and_, insert, or_, select
from sqlalchemy.ext.asyncio import AsyncConnection

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


class Position(msgspec.Struct, frozen=True):
    """The place of an estimate in the order of lists."""

    created_at: datetime
    id: str


_ESTIMATE = tables.estimate


def _columns(record: type[msgspec.Struct]) -> list[Column[object]]:
    return [_ESTIMATE.c[name] for name in record.__struct_fields__]


def new_estimate_id() -> str:
    """Opaque: "est_" and 130 random bits in lower-case letters and digits."""
    return "est_" + "".join(secrets.choice(_LETTERS) for _ in range(_ID_LENGTH))


async def insert_estimate(
    connection: AsyncConnection, organisation: str, estimate: StoredEstimate
) -> None:
    row = {"organisation_id": organisation, **msgspec.structs.asdict(estimate)}
    await connection.execute(insert(_ESTIMATE), row)


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
