"""Queries on quotations. All run in the caller's transaction."""

import secrets
from datetime import date, datetime

import msgspec
from sqlalchemy import Column, and_, insert, or_, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.money import Exact
from filmbuild.quotations import tables
from filmbuild.quotations.content import QuotationKind, QuotationState

_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"
_ID_LENGTH = 26
_QUOTATION = tables.quotation
_STEP = tables.quotation_step


class QuotationSummary(msgspec.Struct, frozen=True, kw_only=True):
    """What a list shows of a quotation."""

    id: str
    kind: QuotationKind
    state: QuotationState
    version: int
    number: str | None
    created_at: datetime
    updated_at: datetime
    issued_at: datetime | None
    valid_until: date
    valid_days: int | None
    expires_at: datetime
    buyer_name: str
    site_name: str
    reference: str | None
    currency: str
    total: Exact
    supersedes: str | None
    changes: str | None


class StoredQuotation(QuotationSummary, frozen=True, kw_only=True):
    """`content`, `costs`, `agreed` and `decision` are JSON texts."""

    nonce: str | None
    digest: str | None
    content: str
    costs: str
    agreed: str | None
    starts_from: str | None
    decision: str | None


class StoredStep(msgspec.Struct, frozen=True, kw_only=True):
    """One step of a quotation's history; its position is the version that the step made."""

    position: int
    at: datetime
    actor: str
    kind: str
    detail: str


class Position(msgspec.Struct, frozen=True):
    """The place of a quotation in the order of lists."""

    created_at: datetime
    id: str


def _columns(record: type[msgspec.Struct]) -> list[Column[object]]:
    return [_QUOTATION.c[name] for name in record.__struct_fields__]


def new_quotation_id() -> str:
    """Opaque: "quo_" and 130 random bits in lower-case letters and digits."""
    return "quo_" + "".join(secrets.choice(_LETTERS) for _ in range(_ID_LENGTH))


async def insert_quotation(
    connection: AsyncConnection, organisation: str, quotation: StoredQuotation
) -> None:
    row = {"organisation_id": organisation, **msgspec.structs.asdict(quotation)}
    await connection.execute(insert(_QUOTATION), row)


async def get_quotation(
    connection: AsyncConnection, organisation: str, quotation: str, *, lock: bool = False
) -> StoredQuotation | None:
    query = select(*_columns(StoredQuotation)).where(
        _QUOTATION.c.organisation_id == organisation, _QUOTATION.c.id == quotation
    )
    found = await connection.execute(query.with_for_update() if lock else query)
    row = found.mappings().first()
    return StoredQuotation(**row) if row is not None else None


async def update_quotation(
    connection: AsyncConnection, organisation: str, was: StoredQuotation, now: StoredQuotation
) -> bool:
    """Whether it still was of the version that it was read in."""
    change = update(_QUOTATION).where(
        _QUOTATION.c.organisation_id == organisation,
        _QUOTATION.c.id == was.id,
        _QUOTATION.c.version == was.version,
    )
    changed = {
        name: value
        for name, value in msgspec.structs.asdict(now).items()
        if value != getattr(was, name)
    }
    return (await connection.execute(change.values(**changed))).rowcount == 1


async def insert_step(
    connection: AsyncConnection, organisation: str, quotation: str, step: StoredStep
) -> None:
    row = {
        "organisation_id": organisation,
        "quotation_id": quotation,
        **msgspec.structs.asdict(step),
    }
    await connection.execute(insert(_STEP), row)


async def steps_of(
    connection: AsyncConnection, organisation: str, quotation: str, after: int, limit: int
) -> tuple[StoredStep, ...]:
    """In the order in which they were taken."""
    query = (
        select(*(_STEP.c[name] for name in StoredStep.__struct_fields__))
        .where(
            _STEP.c.organisation_id == organisation,
            _STEP.c.quotation_id == quotation,
            _STEP.c.position > after,
        )
        .order_by(_STEP.c.position)
        .limit(limit)
    )
    return tuple(StoredStep(**row) for row in (await connection.execute(query)).mappings())


async def page_of_quotations(
    connection: AsyncConnection,
    organisation: str,
    state: QuotationState | None,
    after: Position | None,
    limit: int,
) -> tuple[tuple[QuotationSummary, ...], bool]:
    """Newest first, those that follow `after`; and whether more follow."""
    query = (
        select(*_columns(QuotationSummary))
        .where(_QUOTATION.c.organisation_id == organisation)
        .order_by(_QUOTATION.c.created_at.desc(), _QUOTATION.c.id.desc())
    )
    if state is not None:
        query = query.where(_QUOTATION.c.state == state)
    if after is not None:
        query = query.where(
            or_(
                _QUOTATION.c.created_at < after.created_at,
                and_(_QUOTATION.c.created_at == after.created_at, _QUOTATION.c.id < after.id),
            )
        )
    rows = (await connection.execute(query.limit(limit + 1))).mappings()
    found = tuple(QuotationSummary(**row) for row in rows)
    return found[:limit], len(found) > limit


async def overdue(
    connection: AsyncConnection, organisation: str, now: datetime, limit: int
) -> tuple[str, ...]:
    """Ids of issued quotations whose last day has passed."""
    query = (
        select(_QUOTATION.c.id)
        .where(
            _QUOTATION.c.organisation_id == organisation,
            _QUOTATION.c.state == "issued",
            _QUOTATION.c.expires_at <= now,
        )
        .order_by(_QUOTATION.c.expires_at, _QUOTATION.c.id)
        .limit(limit)
    )
    return tuple(await connection.scalars(query))


async def changes_of(
    connection: AsyncConnection, organisation: str, quotation: str
) -> tuple[StoredQuotation, ...]:
    """Change orders of an accepted quotation."""
    query = (
        select(*_columns(StoredQuotation))
        .where(_QUOTATION.c.organisation_id == organisation, _QUOTATION.c.changes == quotation)
        .order_by(_QUOTATION.c.id)
    )
    return tuple(StoredQuotation(**row) for row in (await connection.execute(query)).mappings())


async def superseding(connection: AsyncConnection, organisation: str, quotation: str) -> str | None:
    """The issued quotation that took the place of this one."""
    query = select(_QUOTATION.c.id).where(
        _QUOTATION.c.organisation_id == organisation,
        _QUOTATION.c.supersedes == quotation,
        _QUOTATION.c.issued_at.is_not(None),
    )
    return (await connection.execute(query)).scalars().first()


async def get_summary(
    connection: AsyncConnection, organisation: str, quotation: str
) -> QuotationSummary | None:
    """Without the long texts."""
    query = select(*_columns(QuotationSummary)).where(
        _QUOTATION.c.organisation_id == organisation, _QUOTATION.c.id == quotation
    )
    row = (await connection.execute(query)).mappings().first()
    return QuotationSummary(**row) if row is not None else None
