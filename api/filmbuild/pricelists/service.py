"""Carries out updates: checked against one revision of the catalogue, and made the next one."""

import asyncio
import random
from collections.abc import Awaitable, Callable
from datetime import UTC, datetime

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild import idempotency
from filmbuild.accounts import audit
from filmbuild.catalogue import store as catalogue_store
from filmbuild.catalogue.loader import Counts
from filmbuild.catalogue.snapshot import CatalogueSnapshot, CatalogueSnapshots
from filmbuild.catalogue.store import Revision
from filmbuild.db import Database
from filmbuild.edge.operations import Caller
from filmbuild.errors import Conflict, Unavailable
from filmbuild.idempotency import KeptAnswer, RequestKey
from filmbuild.pricelists import store
from filmbuild.pricelists.checking import Checked, PriceCounts
from filmbuild.pricelists.store import StoredUpdate
from filmbuild.webhooks import outbox
from filmbuild.webhooks.events import CATALOGUE, Event, PricesEventData

CREATED = 201
ATTEMPTS = 10
LONGEST_PAUSE = 0.05
"""[s] before the first repetition; before each later one that much longer."""

Check = Callable[[CatalogueSnapshot], Awaitable[Checked]]


class Asked(msgspec.Struct, frozen=True, kw_only=True):
    """An update, whatever its form; `check` compares it with a revision."""

    kind: str
    note: str
    check: Check
    key: RequestKey | None = None
    undoes: str | None = None


class Preview(msgspec.Struct, frozen=True):
    """What an update would do to a revision."""

    update: StoredUpdate
    checked: Checked


class _OvertakenError(Exception):
    """Another revision was made after the one that the update was checked against."""


class PriceService:
    def __init__(self, database: Database, snapshots: CatalogueSnapshots) -> None:
        self._database = database
        self._snapshots = snapshots

    async def earlier(self, key: RequestKey | None) -> bytes | None:
        """What the same request was answered before. Raises IdempotencyKeyReused."""
        if key is None:
            return None
        async with self._database.reader(key.organisation) as connection:
            return _answer(await idempotency.find(connection, key, datetime.now(UTC)))

    async def preview(self, asked: Asked, caller: Caller) -> Preview:
        """The caller closes what was checked."""
        snapshot = await self._newest(caller.organisation)
        checked = await asked.check(snapshot)
        return Preview(_update(asked, caller, snapshot.revision, checked.counts, None), checked)

    async def carry_out(
        self, asked: Asked, caller: Caller, show: Callable[[StoredUpdate], bytes]
    ) -> bytes:
        """What `show` makes of the update, or what the same request was answered before.

        All rows are written or none. Where another revision comes between, the rows are checked
        again against that one. Raises InvalidInput with the faults of all rows, and Conflict where
        others keep coming between.
        """
        for attempt in range(ATTEMPTS):
            # those that were overtaken at once do not come back at once
            await asyncio.sleep(attempt * random.uniform(0, LONGEST_PAUSE))  # noqa: S311 - no secret
            snapshot = await self._newest(caller.organisation)
            checked = await asked.check(snapshot)
            try:
                checked.raise_if_faulty()
                return await self._write(asked, caller, snapshot.revision, checked, show)
            except _OvertakenError:
                continue
            finally:
                checked.close()
        raise Conflict("Other changes of the catalogue keep coming between; send it again.")

    async def _write(
        self,
        asked: Asked,
        caller: Caller,
        based_on: int,
        checked: Checked,
        show: Callable[[StoredUpdate], bytes],
    ) -> bytes:
        organisation = caller.organisation
        differs = checked.added.rows > 0
        update = _update(asked, caller, based_on, checked.counts, based_on + 1 if differs else None)
        async with self._database.writer(organisation) as connection:
            now = update.created_at
            if asked.key and (known := await idempotency.find(connection, asked.key, now)):
                return _answer(known) or b""
            if await catalogue_store.latest_revision(connection, organisation) != based_on:
                raise _OvertakenError
            if asked.undoes and not differs:
                by = await store.undone_by(connection, organisation, asked.undoes)
                if by is not None:
                    return show(by)
            if differs:
                await _insert_revision(connection, organisation, update, checked.counts)
                await store.add_prices(connection, organisation, checked.added)
                await _log(connection, organisation, update)
            await store.insert_update(connection, organisation, update)
            if update.revision is not None:
                await outbox.write(connection, organisation, _event(update, update.revision))
            answer = show(update)
            if asked.key:
                kept = KeptAnswer(status=CREATED, resource=update.id, answer=answer.decode())
                await idempotency.keep(connection, asked.key, kept, now)
        return answer

    async def _newest(self, organisation: str) -> CatalogueSnapshot:
        """The newest in the database, which this process may not have heard of yet."""
        async with self._database.reader(organisation) as connection:
            newest = await catalogue_store.latest_revision(connection, organisation)
        if newest is None:
            raise Unavailable("No catalogue has been loaded yet.")
        return await self._snapshots.at(organisation, newest)


async def _insert_revision(
    connection: AsyncConnection, organisation: str, update: StoredUpdate, counts: PriceCounts
) -> None:
    prices = Counts(counts.new, counts.changed, counts.unchanged, counts.withdrawn)
    revision = Revision(
        revision=update.based_on + 1,
        created_at=update.created_at,
        author=update.author,
        note=update.note,
        summary=msgspec.json.encode({"prices": prices}).decode(),
    )
    try:
        await catalogue_store.insert_revision(connection, organisation, revision)
    except Conflict as error:
        raise _OvertakenError from error


async def _log(connection: AsyncConnection, organisation: str, update: StoredUpdate) -> None:
    await audit.write(
        connection,
        organisation,
        at=update.created_at,
        actor=update.author,
        action="prices.undone" if update.undoes else "prices.updated",
        subject=update.id,
        detail={
            "revision": update.revision,
            "undoes": update.undoes,
            "note": update.note,
            "counts": msgspec.Raw(update.report.encode()),
        },
    )


def _update(
    asked: Asked, caller: Caller, based_on: int, counts: PriceCounts, revision: int | None
) -> StoredUpdate:
    return StoredUpdate(
        id=store.new_update_id(),
        created_at=datetime.now(UTC),
        author=caller.actor,
        note=asked.note,
        kind=asked.kind,
        based_on=based_on,
        revision=revision,
        undoes=asked.undoes,
        report=msgspec.json.encode(counts).decode(),
    )


def _event(update: StoredUpdate, revision: int) -> Event:
    data = PricesEventData(update=update.id, revision=revision, undoes=update.undoes)
    return Event(type="prices.updated", subject=CATALOGUE, data=data, at=update.created_at)


def _answer(known: KeptAnswer | None) -> bytes | None:
    return None if known is None or known.answer is None else known.answer.encode()


def in_thread(check: Callable[[CatalogueSnapshot], Checked]) -> Check:
    """Other requests are answered while the rows are gone through."""

    async def checked(snapshot: CatalogueSnapshot) -> Checked:
        return await asyncio.to_thread(check, snapshot)

    return checked
