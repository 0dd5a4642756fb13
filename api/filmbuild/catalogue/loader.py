"""Brings an organisation's catalogue to what a document says, as one new revision or none."""

from collections.abc import Iterable
from datetime import UTC, date, datetime

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.catalogue import store
from filmbuild.catalogue.store import KINDS, Kind, Revision
from filmbuild.catalogue.telling import event_of
from filmbuild.catalogue.validate import validate, warnings_of
from filmbuild.catalogue.wire import Authored
from filmbuild.db import Database
from filmbuild.errors import Fault
from filmbuild.money import Exact
from filmbuild.pipeline.specification import PackPrice, PriceBreak, Record
from filmbuild.webhooks import outbox

PriceKey = tuple[str, str, str, date]
Offered = tuple[Exact, tuple[PriceBreak, ...]]


class Counts(msgspec.Struct, frozen=True):
    """Records of one kind. Prices are never retired: those no longer named are unchanged."""

    new: int = 0
    changed: int = 0
    unchanged: int = 0
    retired: int = 0

    @property
    def differs(self) -> bool:
        return bool(self.new or self.changed or self.retired)


class LoadReport(msgspec.Struct, frozen=True):
    """`revision` is the one that was made, or None where nothing had changed.

    `warnings` are what the catalogue may hold but an estimate will refuse.
    """

    revision: int | None
    counts: dict[str, Counts]
    warnings: tuple[Fault, ...]


class _Change(msgspec.Struct, frozen=True):
    """What a document does to the records of one kind: those to end, and those to begin."""

    kind: Kind
    ended: tuple[str, ...]
    begun: tuple[tuple[Record, str], ...]
    counts: Counts


async def load(
    database: Database, organisation: str, authored: Authored, author: str, note: str | None = None
) -> LoadReport:
    """Raises `InvalidInput` with every fault, and `Conflict` where another load came between.

    `note` is the document's own name where it is not given.
    """
    validate(authored.file)
    async with database.writer(organisation) as connection:
        latest = await store.latest_revision(connection, organisation) or 0
        changes = [
            _compare(
                kind,
                await store.specifications(connection, organisation, kind, latest),
                authored.records(kind.name),
            )
            for kind in KINDS
        ]
        held = held_prices(await store.prices(connection, organisation, latest))
        prices, price_counts = compare_prices(held, authored.file.prices)
        counts = {change.kind.name: change.counts for change in changes}
        counts["prices"] = price_counts
        made = None
        if latest == 0 or any(count.differs for count in counts.values()):
            made = Revision(
                revision=latest + 1,
                created_at=datetime.now(UTC),
                author=author,
                note=authored.file.name if note is None else note,
                summary=msgspec.json.encode(counts).decode(),
            )
            await _write(connection, organisation, made, changes, prices)
            await outbox.write(connection, organisation, event_of(made))
    return LoadReport(made.revision if made else None, counts, warnings_of(authored.file))


def _compare(kind: Kind, held: dict[str, str], records: Iterable[tuple[Record, str]]) -> _Change:
    missing = dict(held)
    new = unchanged = 0
    changed, begun = [], []
    for record, text in records:
        name: str = getattr(record, "id")  # noqa: B009 - all versioned records have an id, which their common base does not declare
        before = missing.pop(name, None)
        if before == text:
            unchanged += 1
            continue
        begun.append((record, text))
        if before is None:
            new += 1
        else:
            changed.append(name)
    counts = Counts(new, len(changed), unchanged, len(missing))
    return _Change(kind, (*changed, *missing), tuple(begun), counts)


def held_prices(rows: Iterable[store.PriceRow]) -> dict[PriceKey, Offered]:
    """Rows come oldest revision first, so that a correction replaces what it corrects."""
    held: dict[PriceKey, Offered] = {}
    for row in rows:
        key = (row.pack, row.currency, row.tier, row.effective_from)
        if row.amount is None:
            held.pop(key, None)
        else:
            held[key] = row.amount, row.breaks
    return held


def compare_prices(
    held: dict[PriceKey, Offered], prices: Iterable[PackPrice]
) -> tuple[list[PackPrice], Counts]:
    added, new = [], 0
    for price in prices:
        before = held.get((price.pack, price.currency, price.tier, price.effective_from))
        if before != (price.amount, price.breaks):
            added.append(price)
            new += before is None
    changed = len(added) - new
    return added, Counts(new, changed, len(held) - changed)


async def _write(
    connection: AsyncConnection,
    organisation: str,
    revision: Revision,
    changes: Iterable[_Change],
    prices: Iterable[PackPrice],
) -> None:
    number = revision.revision
    await store.insert_revision(connection, organisation, revision)
    for change in changes:
        await store.end_records(connection, organisation, change.kind, change.ended, number)
        await store.insert_records(connection, organisation, change.kind, change.begun, number)
    await store.insert_prices(connection, organisation, prices, number)
