"""Writes changes of records as one new revision each, or none where nothing differs.

What is to be changed is worked out and checked against the newest revision before the transaction
begins, and begun anew where another revision came between: the database is never kept waiting.
"""

import asyncio
from collections.abc import Awaitable, Callable, Collection, Iterable
from datetime import UTC, datetime
from typing import Literal

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild import idempotency
from filmbuild.catalogue import store, versions
from filmbuild.catalogue.authored import FieldChange, field_changes
from filmbuild.catalogue.changing import Edit, check_edits
from filmbuild.catalogue.contents import CatalogueSnapshot, build
from filmbuild.catalogue.loader import Counts, compare_prices, held_prices
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.catalogue.store import KINDS, Kind, Revision
from filmbuild.catalogue.telling import event_of
from filmbuild.db import Database
from filmbuild.edge.operations import Caller
from filmbuild.errors import Conflict, pointer
from filmbuild.idempotency import KeptAnswer, RequestKey
from filmbuild.pipeline.specification import PackPrice
from filmbuild.webhooks import outbox

ATTEMPTS = 10
MANY = 2_000
"""Records from which on all of a kind are read, instead of one by one."""
Action = Literal["created", "changed", "retired"]


class RecordChange(msgspec.Struct, frozen=True, kw_only=True):
    """What becomes of one record, field by field; of prices, `id` is that of the pack."""

    kind: str
    id: str
    action: Action
    fields: tuple[FieldChange, ...]


class Wish(msgspec.Struct, frozen=True, kw_only=True):
    """What a caller wants to be so: records, and prices to be added."""

    edits: tuple[Edit, ...] = ()
    prices: tuple[PackPrice, ...] = ()


class Outcome(msgspec.Struct, frozen=True, kw_only=True):
    """`revision` is the one that was made; None where nothing differs, or was only to be checked.

    `based_on` is the revision that it was worked out on. `kept` is the answer that an earlier request with the same key was given.
    """

    based_on: int = 0
    revision: int | None = None
    counts: dict[str, Counts] = {}
    changes: tuple[RecordChange, ...] = ()
    kept: KeptAnswer | None = None


class Basis:
    """The revision that changes are worked out on."""

    def __init__(self, database: Database, snapshot: CatalogueSnapshot) -> None:
        self._database = database
        self.snapshot = snapshot

    async def texts(self, kind: Kind, ids: Collection[str]) -> dict[str, str]:
        """Of these records, those that are there, as they were written."""
        organisation, revision = self.snapshot.organisation, self.snapshot.revision
        known = self.snapshot.records(kind.name).by_id
        wanted = [name for name in ids if name in known]
        if not wanted:
            return {}
        async with self._database.reader(organisation) as connection:
            if len(wanted) < MANY:
                return await versions.current_texts(
                    connection, organisation, kind, wanted, revision
                )
            return await store.specifications(connection, organisation, kind, revision)

    async def touched_since(self, kind: Kind, ids: Collection[str], revision: int) -> set[str]:
        async with self._database.reader(self.snapshot.organisation) as connection:
            return await versions.touched_since(
                connection, self.snapshot.organisation, kind, ids, revision
            )


class Order(msgspec.Struct, frozen=True, kw_only=True):
    """How a change is to be made; `keep` makes the answer that is kept with the key."""

    caller: Caller
    note: str
    key: RequestKey | None = None
    check_only: bool = False
    keep: Callable[[Outcome], KeptAnswer] | None = None


class CatalogueWriter:
    def __init__(self, database: Database, snapshots: CatalogueSnapshots) -> None:
        self._database = database
        self._snapshots = snapshots

    async def apply(self, order: Order, wish: Callable[[Basis], Awaitable[Wish]]) -> Outcome:
        """`wish` says what is wanted of a revision, or raises; it is asked again of a newer one.

        Raises `InvalidInput` with every fault, and `Conflict` where others never cease to write.
        """
        for _ in range(ATTEMPTS):
            snapshot = await self.basis(order.caller.organisation)
            # looked for after the revision was, or what its own first request did would refuse it
            if (kept := await self._kept(order)) is not None:
                return Outcome(kept=kept)
            wanted = await wish(Basis(self._database, snapshot))
            plan = await asyncio.to_thread(_planned, snapshot, wanted)
            if order.check_only or not plan.counts:
                return Outcome(based_on=snapshot.revision, counts=plan.counts, changes=plan.changes)
            try:
                return await self._write(order, snapshot, plan)
            except Conflict:
                continue
        raise Conflict("The catalogue is being changed by others all the time; try again.")

    async def basis(self, organisation: str) -> CatalogueSnapshot:
        """An empty catalogue, of revision 0, where there is none."""
        newest = await self._snapshots.newest(organisation)
        if newest is not None:
            return await self._snapshots.at(organisation, newest)
        nothing = Revision(
            revision=0, created_at=datetime.now(UTC), author="", note="", summary="{}"
        )
        return build(organisation, nothing, {kind.name: {} for kind in KINDS}, ())

    async def _kept(self, order: Order) -> KeptAnswer | None:
        if order.key is None or order.check_only:
            return None
        async with self._database.reader(order.key.organisation) as connection:
            return await idempotency.find(connection, order.key, datetime.now(UTC))

    async def _write(self, order: Order, snapshot: CatalogueSnapshot, plan: "_Plan") -> Outcome:
        """Raises Conflict where another revision, or an answer to the same key, came between."""
        now, organisation = datetime.now(UTC), order.caller.organisation
        made = Revision(
            revision=snapshot.revision + 1,
            created_at=now,
            author=order.caller.actor,
            note=order.note,
            summary=msgspec.json.encode(plan.counts).decode(),
        )
        outcome = Outcome(
            based_on=snapshot.revision,
            revision=made.revision,
            counts=plan.counts,
            changes=plan.changes,
        )
        async with self._database.writer(organisation) as connection:
            if (await store.latest_revision(connection, organisation) or 0) != snapshot.revision:
                raise Conflict("Another revision came between.")
            await store.insert_revision(connection, organisation, made)
            await _write_records(connection, organisation, plan.edits, made.revision)
            await store.insert_prices(connection, organisation, plan.prices, made.revision)
            await outbox.write(connection, organisation, event_of(made))
            if order.key is not None and order.keep is not None:
                await idempotency.keep(connection, order.key, order.keep(outcome), now)
        return outcome


class _Plan(msgspec.Struct, frozen=True, kw_only=True):
    """What differs from the revision it was made for; without counts, nothing does."""

    edits: tuple[Edit, ...]
    prices: tuple[PackPrice, ...]
    counts: dict[str, Counts]
    changes: tuple[RecordChange, ...]


def _planned(snapshot: CatalogueSnapshot, wish: Wish) -> _Plan:
    """Raises `InvalidInput`."""
    edits = tuple(one for one in wish.edits if one.was != one.text)
    check_edits(snapshot, edits, wish.prices)
    held = held_prices(snapshot.prices.rows()) if wish.prices else {}
    prices, of_prices = compare_prices(held, wish.prices)
    counts = {kind.name: _counts(snapshot, kind, edits) for kind in KINDS} | {"prices": of_prices}
    changes = [
        RecordChange(
            kind=one.kind.name,
            id=one.id,
            action="retired" if one.text is None else "created" if one.was is None else "changed",
            fields=field_changes(one.was, one.text),
        )
        for one in edits
    ]
    changes += (
        _price_change(one, held.get((one.pack, one.currency, one.tier, one.effective_from)))
        for one in prices
    )
    return _Plan(
        edits=edits,
        prices=tuple(prices),
        counts={name: one for name, one in counts.items() if one.differs},
        changes=tuple(changes),
    )


def _counts(snapshot: CatalogueSnapshot, kind: Kind, edits: Iterable[Edit]) -> Counts:
    mine = [one for one in edits if one.kind is kind]
    new = sum(one.was is None for one in mine)
    retired = sum(one.text is None for one in mine)
    changed = len(mine) - new - retired
    return Counts(new, changed, len(snapshot.records(kind.name).ids) - changed - retired, retired)


def _price_change(price: PackPrice, before: object) -> RecordChange:
    return RecordChange(
        kind="prices",
        id=price.pack,
        action="created" if before is None else "changed",
        fields=(price_field(price, before),),
    )


def price_field(price: PackPrice, before: object) -> FieldChange:
    """The pointer is into the pack's prices: currency, tier if any, and day that it holds from."""
    now = _offer_text((price.amount, price.breaks))
    place = pointer((price.currency, *filter(None, [price.tier]), price.effective_from.isoformat()))
    if before is None:
        return FieldChange(pointer=place, now=now)
    return FieldChange(pointer=place, was=_offer_text(before), now=now)


def _offer_text(offer: object) -> object:
    plain = msgspec.to_builtins(offer, enc_hook=_plain)
    amount, breaks = plain
    return {"amount": amount, "breaks": breaks} if breaks else {"amount": amount}


def _plain(value: object) -> object:
    return f"{value:f}"


async def _write_records(
    connection: AsyncConnection, organisation: str, edits: Collection[Edit], revision: int
) -> None:
    for kind in KINDS:
        mine = [one for one in edits if one.kind is kind]
        ended = [one.id for one in mine if one.was is not None]
        begun = [(one.record, one.text) for one in mine if one.text is not None]
        await store.end_records(connection, organisation, kind, ended, revision)
        await store.insert_records(connection, organisation, kind, begun, revision)
