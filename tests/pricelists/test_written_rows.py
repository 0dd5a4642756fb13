"""Rows of an update as they stand in the table: written many at once, or one by one."""

from datetime import date
from itertools import zip_longest

from filmbuild.catalogue import store as catalogue_store
from filmbuild.db import EVERYONE, Database
from filmbuild.money import Exact
from filmbuild.pricelists import store
from filmbuild.pricelists.spill import BATCH, Spill

OWNER, REVISION = "default", 7
DAY, EARLIER = "2030-02-01", "2029-02-01"
BREAKS = '[{"from_packs":4,"amount":"1.00"}]'


def listed(tier: str, count: int, *rest: str | int | None) -> list[tuple[object, ...]]:
    """Amount, breaks, and what was before: every list has prices of its own."""
    return [
        (OWNER, REVISION, f"pack-{one}", "USD", tier, DAY, f"{one + count}.50", *rest)
        for one in range(count)
    ]


async def test_every_row_is_written_once_whatever_list_stands_next_to_it(
    database: Database,
) -> None:
    """Long lists and short ones, row about row, over the end of a batch; withdrawn ones too."""
    long = listed("long", BATCH + 61, None, 2, EARLIER)
    broken = listed("broken", 120, BREAKS, None, None)
    lone = [listed(f"lone-{one}", 1, None, None, None)[0] for one in range(130)]
    gone = [(*row[:6], None, *row[7:]) for row in listed("gone", 75, None, 3, EARLIER)]
    mixed = [row for some in zip_longest(long, broken, lone, gone) for row in some if row]
    spill = Spill()
    for row in mixed:
        spill.append(row)
    spill.flush()
    async with database.writer(EVERYONE) as connection:
        await store.add_prices(connection, OWNER, spill)
    spill.close()
    async with database.reader(EVERYONE) as connection:
        kept = await store.brought(connection, OWNER, REVISION, None, len(mixed) + 1)
        known = await catalogue_store.prices(connection, OWNER, REVISION)
    amounts = {(row[2], row[4]): row[6] for row in mixed}
    assert len(kept) == len(known) == len(mixed) == len(amounts)
    day, earlier = date.fromisoformat(DAY), date.fromisoformat(EARLIER)
    for one in kept:
        expected = amounts[one.key.pack, one.key.tier]
        assert one.amount == (None if expected is None else Exact(str(expected)))
        assert one.key.effective_from == day
        assert one.breaks == (BREAKS if one.key.tier == "broken" else None)
        assert one.was_since == (earlier if one.key.tier in {"long", "gone"} else None)
