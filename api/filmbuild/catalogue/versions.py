"""Queries on single records over time. All run in the caller's transaction."""

from collections.abc import Collection
from datetime import datetime

import msgspec
from sqlalchemy import and_, exists, or_, select
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.catalogue import tables
from filmbuild.catalogue.store import Kind

_REVISION = tables.catalogue_revision
NAMED_AT_ONCE = 400
"""Fewer than the parameters that SQLite takes in one statement."""


class Version(msgspec.Struct, frozen=True):
    """A record as it was from a revision up to, but not including, another."""

    revision_from: int
    revision_to: int | None
    text: str


class RevisionAuthor(msgspec.Struct, frozen=True):
    created_at: datetime
    author: str
    note: str


async def current_texts(
    connection: AsyncConnection, organisation: str, kind: Kind, ids: Collection[str], revision: int
) -> dict[str, str]:
    """Of these records, the texts of those that hold at a revision."""
    columns, names = kind.table.c, sorted(ids)
    found: dict[str, str] = {}
    for start in range(0, len(names), NAMED_AT_ONCE):
        query = select(columns.id, columns.specification).where(
            columns.organisation_id == organisation,
            columns.id.in_(names[start : start + NAMED_AT_ONCE]),
            columns.revision_from <= revision,
            or_(columns.revision_to.is_(None), columns.revision_to > revision),
        )
        found |= {row.id: row.specification for row in await connection.execute(query)}
    return found


async def touched_since(
    connection: AsyncConnection, organisation: str, kind: Kind, ids: Collection[str], revision: int
) -> set[str]:
    """Of these records, those that a later revision began or ended."""
    columns, names, found = kind.table.c, sorted(ids), set[str]()
    for start in range(0, len(names), NAMED_AT_ONCE):
        query = select(columns.id).where(
            columns.organisation_id == organisation,
            columns.id.in_(names[start : start + NAMED_AT_ONCE]),
            or_(columns.revision_from > revision, columns.revision_to > revision),
        )
        found |= set((await connection.execute(query)).scalars())
    return found


async def of_record(
    connection: AsyncConnection, organisation: str, kind: Kind, name: str
) -> tuple[Version, ...]:
    """All versions of a record, oldest first."""
    columns = kind.table.c
    query = (
        select(columns.revision_from, columns.revision_to, columns.specification)
        .where(columns.organisation_id == organisation, columns.id == name)
        .order_by(columns.revision_from)
    )
    return tuple(Version(*row) for row in await connection.execute(query))


async def authors(
    connection: AsyncConnection, organisation: str, revisions: Collection[int]
) -> dict[int, RevisionAuthor]:
    """At most a page of revisions."""
    query = select(
        _REVISION.c.revision, _REVISION.c.created_at, _REVISION.c.author, _REVISION.c.note
    ).where(_REVISION.c.organisation_id == organisation, _REVISION.c.revision.in_(revisions))
    rows = await connection.execute(query)
    return {row[0]: RevisionAuthor(*row[1:]) for row in rows}


async def retired(
    connection: AsyncConnection,
    organisation: str,
    kind: Kind,
    revision: int,
    after: str | None,
    limit: int,
) -> dict[str, str]:
    """The last texts of records that were ended up to a revision and not begun again, by id."""
    columns, later = kind.table.c, kind.table.alias()
    again = exists().where(
        and_(
            later.c.organisation_id == organisation,
            later.c.id == columns.id,
            later.c.revision_from > columns.revision_from,
            later.c.revision_from <= revision,
        )
    )
    query = select(columns.id, columns.specification).where(
        columns.organisation_id == organisation, columns.revision_to <= revision, ~again
    )
    if after is not None:
        query = query.where(columns.id > after)
    rows = await connection.execute(query.order_by(columns.id).limit(limit))
    return {row.id: row.specification for row in rows}
