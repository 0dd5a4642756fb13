"""Queries on repricings. All run in the caller's transaction."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

import msgspec
from sqlalchemy import (
    ColumnElement,
    RowMapping,
    and_,
    bindparam,
    func,
    insert,
    literal,
    or_,
    select,
    update,
)
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.errors import Fault
from filmbuild.estimates.tables import estimate, estimate_revision
from filmbuild.money import Exact
from filmbuild.repricing import tables
from filmbuild.repricing.records import Repricing, Row, State, Sum, Tally
from filmbuild.repricing.wire import EstimateChoice

_REPRICING = tables.repricing
_ESTIMATE = tables.repricing_estimate
_COUNTS = ("done", "repriced", "unchanged", "accepted", "refused", "below_margin")
_SUMS = msgspec.json.Decoder(dict[str, Sum])
_FAULTS = msgspec.json.Decoder(tuple[Fault, ...])
_EVERYTHING = EstimateChoice()


class Position(msgspec.Struct, frozen=True):
    """The place of a repricing in the order of lists."""

    created_at: datetime
    id: str


class Kept(msgspec.Struct, frozen=True, kw_only=True):
    """What became of an estimate, as it is read back; amounts are in `currency`."""

    sequence: int
    estimate_id: str
    outcome: str
    currency: str | None
    was_revision: int | None
    was_total: Exact | None
    was_margin_percent: Exact | None
    now_revision: int | None
    now_total: Exact | None
    now_margin_percent: Exact | None
    below_margin: bool
    problem: str | None
    faults: tuple[Fault, ...]


async def insert_repricing(
    connection: AsyncConnection,
    organisation: str,
    made: Repricing,
    choice: EstimateChoice | None,
) -> int:
    """With a row for each open estimate that is chosen; how many there are."""
    values = {
        "organisation_id": organisation,
        "id": made.id,
        "created_at": made.created_at,
        "actor": made.actor,
        "note": made.note,
        "catalogue_revision": made.catalogue_revision,
        "priced_on": made.priced_on,
        "minimum_margin_percent": made.minimum_margin_percent,
        "state": made.state,
        "estimates": 0,
        "sums": "{}",
        **dict.fromkeys(_COUNTS, 0),
    }
    await connection.execute(insert(_REPRICING), values)
    chosen = (
        select(
            literal(organisation),
            literal(made.id),
            estimate.c.id,
            func.row_number().over(order_by=estimate.c.id),
        )
        .join_from(estimate, estimate_revision, _latest_revision())
        .where(estimate.c.organisation_id == organisation, estimate.c.state == "open")
        .where(*_chosen(choice or _EVERYTHING))
    )
    names = ["organisation_id", "repricing_id", "estimate_id", "position"]
    found = await connection.execute(insert(_ESTIMATE).from_select(names, chosen))
    counted = update(_REPRICING).where(_is(organisation, made.id)).values(estimates=found.rowcount)
    await connection.execute(counted)
    return found.rowcount


def _latest_revision() -> ColumnElement[bool]:
    return and_(
        estimate_revision.c.organisation_id == estimate.c.organisation_id,
        estimate_revision.c.estimate_id == estimate.c.id,
        estimate_revision.c.revision == estimate.c.latest_revision,
    )


def _chosen(choice: EstimateChoice) -> list[ColumnElement[bool]]:
    conditions: list[ColumnElement[bool]] = []
    if choice.ids is not None:
        conditions.append(estimate.c.id.in_(choice.ids))
    if choice.reference is not None:
        conditions.append(estimate.c.reference == choice.reference)
    if choice.system is not None:
        conditions.append(estimate_revision.c.system_id == choice.system)
    if choice.currency is not None:
        conditions.append(estimate_revision.c.currency == str(choice.currency))
    if choice.computed_before is not None:
        conditions.append(estimate_revision.c.catalogue_revision < choice.computed_before)
    return conditions


async def known_estimates(
    connection: AsyncConnection, organisation: str, names: Sequence[str]
) -> set[str]:
    """Those of the names that are of estimates, open or not."""
    query = select(estimate.c.id).where(
        estimate.c.organisation_id == organisation, estimate.c.id.in_(names)
    )
    return set(await connection.scalars(query))


async def get(connection: AsyncConnection, organisation: str, name: str) -> Repricing | None:
    return await _one(connection, organisation, name, lock=False)


async def lock(connection: AsyncConnection, organisation: str, name: str) -> Repricing | None:
    """Until the transaction ends nobody else goes on with it, stops it or resumes it."""
    return await _one(connection, organisation, name, lock=True)


async def _one(
    connection: AsyncConnection, organisation: str, name: str, *, lock: bool
) -> Repricing | None:
    query = select(_REPRICING).where(_is(organisation, name))
    if lock:
        query = query.with_for_update()
    row = (await connection.execute(query)).mappings().first()
    return _repricing(row) if row is not None else None


async def page(
    connection: AsyncConnection, organisation: str, after: Position | None, limit: int
) -> tuple[tuple[Repricing, ...], bool]:
    """Newest first; and whether more follow."""
    created = _REPRICING.c.created_at
    query = (
        select(_REPRICING)
        .where(_REPRICING.c.organisation_id == organisation)
        .order_by(created.desc(), _REPRICING.c.id.desc())
        .limit(limit + 1)
    )
    if after is not None:
        same = and_(created == after.created_at, _REPRICING.c.id < after.id)
        query = query.where(or_(created < after.created_at, same))
    rows = (await connection.execute(query)).mappings()
    found = tuple(_repricing(row) for row in rows)
    return found[:limit], len(found) > limit


async def set_state(
    connection: AsyncConnection,
    organisation: str,
    name: str,
    state: State,
    ended_at: datetime | None = None,
    problem: str | None = None,
) -> None:
    values = {"state": state, "ended_at": ended_at, "problem": problem}
    await connection.execute(update(_REPRICING).where(_is(organisation, name)).values(**values))


async def waiting(
    connection: AsyncConnection, organisation: str, name: str, limit: int
) -> tuple[str, ...]:
    """The estimates that are next."""
    query = (
        select(_ESTIMATE.c.estimate_id)
        .where(_of(organisation, name), _ESTIMATE.c.sequence.is_(None))
        .order_by(_ESTIMATE.c.position)
        .limit(limit)
    )
    return tuple(await connection.scalars(query))


async def still_waiting(
    connection: AsyncConnection, organisation: str, name: str, estimates: Sequence[str]
) -> set[str]:
    query = select(_ESTIMATE.c.estimate_id).where(
        _of(organisation, name),
        _ESTIMATE.c.estimate_id.in_(estimates),
        _ESTIMATE.c.sequence.is_(None),
    )
    return set(await connection.scalars(query))


async def keep_rows(
    connection: AsyncConnection, organisation: str, name: str, rows: Sequence[Row], tally: Tally
) -> None:
    """What became of the estimates, and the whole tally with them."""
    if not rows:
        return
    statement = (
        update(_ESTIMATE)
        .where(_of(organisation, name), _ESTIMATE.c.estimate_id == bindparam("of_estimate"))
        .values({column: bindparam(column) for column in _values(rows[0])})
    )
    await connection.execute(
        statement, [{"of_estimate": one.estimate, **_values(one)} for one in rows]
    )
    counts = {count: getattr(tally, count) for count in _COUNTS}
    sums = msgspec.json.encode(tally.sums).decode()
    await connection.execute(
        update(_REPRICING).where(_is(organisation, name)).values(**counts, sums=sums)
    )


def _values(row: Row) -> dict[str, Any]:
    was, now = row.was, row.now
    return {
        "sequence": row.sequence,
        "outcome": row.outcome,
        "currency": was and was.currency,
        "was_revision": was and was.revision,
        "was_total": was and was.total,
        "was_margin_percent": was and was.margin_percent,
        "now_revision": now and now.revision,
        "now_total": now and now.total,
        "now_margin_percent": now and now.margin_percent,
        "below_margin": row.below_margin,
        "problem": row.problem,
        "faults": msgspec.json.encode(row.faults).decode() if row.faults else None,
    }


async def done_after(
    connection: AsyncConnection,
    organisation: str,
    name: str,
    sequence: int,
    limit: int,
    *,
    outcome: str | None = None,
    below_margin: bool | None = None,
) -> tuple[Kept, ...]:
    """In the order in which they were done."""
    columns = [_ESTIMATE.c[column] for column in Kept.__struct_fields__]
    query = (
        select(*columns)
        .where(_of(organisation, name), _ESTIMATE.c.sequence > sequence)
        .order_by(_ESTIMATE.c.sequence)
        .limit(limit)
    )
    if outcome is not None:
        query = query.where(_ESTIMATE.c.outcome == outcome)
    if below_margin is not None:
        query = query.where(_ESTIMATE.c.below_margin == below_margin)
    rows = (await connection.execute(query)).mappings()
    return tuple(
        Kept(**{**row, "faults": _FAULTS.decode(row["faults"]) if row["faults"] else ()})
        for row in rows
    )


def _repricing(row: RowMapping) -> Repricing:
    counts = {count: row[count] for count in _COUNTS}
    return Repricing(
        id=row["id"],
        created_at=row["created_at"],
        actor=row["actor"],
        note=row["note"],
        catalogue_revision=row["catalogue_revision"],
        priced_on=row["priced_on"],
        minimum_margin_percent=row["minimum_margin_percent"],
        state=row["state"],
        ended_at=row["ended_at"],
        problem=row["problem"],
        estimates=row["estimates"],
        tally=Tally(**counts, sums=_SUMS.decode(row["sums"])),
    )


def _is(organisation: str, name: str) -> ColumnElement[bool]:
    return and_(_REPRICING.c.organisation_id == organisation, _REPRICING.c.id == name)


def _of(organisation: str, name: str) -> ColumnElement[bool]:
    return and_(_ESTIMATE.c.organisation_id == organisation, _ESTIMATE.c.repricing_id == name)
