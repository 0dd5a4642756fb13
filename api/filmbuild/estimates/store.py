"""Queries on stored estimates. All run in the caller's transaction."""

import secrets
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any, Literal, TypeVar

import msgspec
from sqlalchemy import Column, ColumnElement, Select, Table, and_, insert, or_, select, update
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.errors import NotFound
from filmbuild.estimates import tables
from filmbuild.money import Exact

_LETTERS = "0123456789abcdefghjkmnpqrstvwxyz"
_ID_LENGTH = 26
_ESTIMATE = tables.estimate
_REVISION = tables.estimate_revision

R = TypeVar("R", bound=msgspec.Struct)
AnySelect = Select[*tuple[Any, ...]]
EstimateState = Literal["open", "accepted"]


class EstimateHead(msgspec.Struct, frozen=True, kw_only=True):
    """What of an estimate may change; `site_name` and `reference` are those of its latest revision."""

    id: str
    created_at: datetime
    site_name: str
    reference: str | None
    latest_revision: int = 1
    state: EstimateState = "open"
    accepted_revision: int | None = None


class RevisionSummary(msgspec.Struct, frozen=True, kw_only=True):
    """What lists show of a revision: why it was made, on what, and what came out."""

    revision: int
    created_at: datetime
    actor: str
    cause: str | None = None
    cause_id: str | None = None
    catalogue_revision: int
    priced_on: date
    engine_version: str
    system_id: str
    currency: str
    net: Exact
    total: Exact
    margin_percent: Exact


class StoredRevision(RevisionSummary, frozen=True, kw_only=True):
    """`request` and `result` are the JSON texts as they were received and answered, compressed."""

    request: bytes
    result: bytes


class EstimateSummary(msgspec.Struct, frozen=True):
    """An estimate with its latest revision, as lists show it."""

    head: EstimateHead
    latest: RevisionSummary


class StoredEstimate(msgspec.Struct, frozen=True):
    """An estimate with one of its revisions."""

    head: EstimateHead
    revision: StoredRevision


class Position(msgspec.Struct, frozen=True):
    """The place of an estimate in the order of lists."""

    created_at: datetime
    id: str


class Filters(msgspec.Struct, frozen=True):
    """Which estimates are asked for: each that is None lets all through."""

    state: EstimateState | None = None
    reference: str | None = None


def _columns(table: Table, record: type[msgspec.Struct]) -> list[Column[object]]:
    return [table.c[name] for name in record.__struct_fields__]


_HEAD = _columns(_ESTIMATE, EstimateHead)
_SUMMARY = _columns(_REVISION, RevisionSummary)
_WHOLE = _columns(_REVISION, StoredRevision)


def new_estimate_id() -> str:
    """Opaque: "est_" and 130 random bits in lower-case letters and digits."""
    return "est_" + "".join(secrets.choice(_LETTERS) for _ in range(_ID_LENGTH))


async def insert_estimate(
    connection: AsyncConnection, organisation: str, head: EstimateHead, first: StoredRevision
) -> None:
    row = {"organisation_id": organisation, **msgspec.structs.asdict(head)}
    await connection.execute(insert(_ESTIMATE), row)
    await _insert_revision(connection, organisation, head.id, first)


async def add_revision(
    connection: AsyncConnection, organisation: str, head: EstimateHead, revision: StoredRevision
) -> EstimateHead:
    """`head` was locked in this transaction, with its name and reference now those of `revision`.

    What it is after.
    """
    now = msgspec.structs.replace(head, latest_revision=revision.revision)
    await _insert_revision(connection, organisation, head.id, revision)
    await connection.execute(
        update(_ESTIMATE)
        .where(_is(organisation, head.id))
        .values(
            latest_revision=now.latest_revision, site_name=now.site_name, reference=now.reference
        )
    )
    return now


async def _insert_revision(
    connection: AsyncConnection, organisation: str, estimate: str, revision: StoredRevision
) -> None:
    row = {
        "organisation_id": organisation,
        "estimate_id": estimate,
        **msgspec.structs.asdict(revision),
    }
    await connection.execute(insert(_REVISION), row)


async def lock_estimate(
    connection: AsyncConnection, organisation: str, estimate: str
) -> EstimateHead | None:
    """Until the transaction ends nobody else adds a revision to it or accepts one."""
    query = select(*_HEAD).where(_is(organisation, estimate)).with_for_update()
    row = (await connection.execute(query)).mappings().first()
    return EstimateHead(**row) if row is not None else None


async def get_head(
    connection: AsyncConnection, organisation: str, estimate: str
) -> EstimateHead | None:
    query = select(*_HEAD).where(_is(organisation, estimate))
    row = (await connection.execute(query)).mappings().first()
    return EstimateHead(**row) if row is not None else None


async def get_estimate(
    connection: AsyncConnection, organisation: str, estimate: str, revision: int | None = None
) -> StoredEstimate | None:
    """With the revision asked for, or else its latest; None where either is not there."""
    wanted = _ESTIMATE.c.latest_revision if revision is None else revision
    query = (
        select(*_HEAD, *_WHOLE)
        .join_from(_ESTIMATE, _REVISION, _revisions_of_it())
        .where(_is(organisation, estimate), _REVISION.c.revision == wanted)
    )
    row = (await connection.execute(query)).first()
    if row is None:
        return None
    return StoredEstimate(_read(EstimateHead, row, 0), _read(StoredRevision, row, len(_HEAD)))


async def revision_of_cause(
    connection: AsyncConnection, organisation: str, estimate: str, cause_id: str
) -> RevisionSummary | None:
    """The revision that was made for this cause, of which there is one at most."""
    query = select(*_SUMMARY).where(
        _REVISION.c.organisation_id == organisation,
        _REVISION.c.estimate_id == estimate,
        _REVISION.c.cause_id == cause_id,
    )
    row = (await connection.execute(query)).mappings().first()
    return RevisionSummary(**row) if row is not None else None


async def page_of_estimates(
    connection: AsyncConnection,
    organisation: str,
    after: Position | None,
    limit: int,
    filters: Filters = Filters(),  # noqa: B008 - frozen: every call may share it
) -> tuple[tuple[EstimateSummary, ...], bool]:
    """Newest first, those that follow `after`; and whether more follow.

    Estimates of one moment are in descending order of id, so that no page misses or repeats one.
    """
    query = (
        select(*_HEAD, *_SUMMARY)
        .join_from(_ESTIMATE, _REVISION, _revisions_of_it())
        .where(
            _ESTIMATE.c.organisation_id == organisation,
            _REVISION.c.revision == _ESTIMATE.c.latest_revision,
        )
        .order_by(_ESTIMATE.c.created_at.desc(), _ESTIMATE.c.id.desc())
        .limit(limit + 1)
    )
    rows = (await connection.execute(_after(_filtered(query, filters), after))).all()
    found = tuple(
        EstimateSummary(_read(EstimateHead, row, 0), _read(RevisionSummary, row, len(_HEAD)))
        for row in rows
    )
    return found[:limit], len(found) > limit


async def page_of_revisions(
    connection: AsyncConnection, organisation: str, estimate: str, before: int | None, limit: int
) -> tuple[tuple[RevisionSummary, ...], bool]:
    """Newest first, those before a revision; and whether more follow."""
    query = (
        select(*_SUMMARY)
        .where(_REVISION.c.organisation_id == organisation, _REVISION.c.estimate_id == estimate)
        .order_by(_REVISION.c.revision.desc())
        .limit(limit + 1)
    )
    if before is not None:
        query = query.where(_REVISION.c.revision < before)
    found = tuple(RevisionSummary(**row) for row in (await connection.execute(query)).mappings())
    return found[:limit], len(found) > limit


async def open_estimates(
    connection: AsyncConnection, organisation: str, after: str | None, limit: int
) -> tuple[str, ...]:
    """Ids of estimates of which no revision is accepted, in order, those after an id."""
    query = (
        select(_ESTIMATE.c.id)
        .where(_ESTIMATE.c.organisation_id == organisation, _ESTIMATE.c.state == "open")
        .order_by(_ESTIMATE.c.id)
        .limit(limit)
    )
    if after is not None:
        query = query.where(_ESTIMATE.c.id > after)
    return tuple(await connection.scalars(query))


async def mark_accepted(
    connection: AsyncConnection, organisation: str, estimate: str, revision: int
) -> None:
    """The revision is what was agreed on: the estimate is open no more, and is not repriced.

    Once more is no change; a later agreement (a change order) moves to its own revision. Raises
    NotFound where there is no such revision.
    """
    head = await lock_estimate(connection, organisation, estimate)
    if head is None or not 1 <= revision <= head.latest_revision:
        raise NotFound("The estimate has no such revision.")
    await connection.execute(
        update(_ESTIMATE)
        .where(_is(organisation, estimate))
        .values(state="accepted", accepted_revision=revision)
    )


def _is(organisation: str, estimate: str) -> ColumnElement[bool]:
    return and_(_ESTIMATE.c.organisation_id == organisation, _ESTIMATE.c.id == estimate)


def _revisions_of_it() -> ColumnElement[bool]:
    return and_(
        _REVISION.c.organisation_id == _ESTIMATE.c.organisation_id,
        _REVISION.c.estimate_id == _ESTIMATE.c.id,
    )


def _filtered(query: AnySelect, filters: Filters) -> AnySelect:
    if filters.state is not None:
        query = query.where(_ESTIMATE.c.state == filters.state)
    if filters.reference is not None:
        query = query.where(_ESTIMATE.c.reference == filters.reference)
    return query


def _after(query: AnySelect, after: Position | None) -> AnySelect:
    if after is None:
        return query
    at = _ESTIMATE.c.created_at
    return query.where(
        or_(at < after.created_at, and_(at == after.created_at, _ESTIMATE.c.id < after.id))
    )


def _read(record: type[R], row: Sequence[object], start: int) -> R:
    names = record.__struct_fields__
    return record(**dict(zip(names, row[start : start + len(names)], strict=True)))
