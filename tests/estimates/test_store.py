import re
from datetime import UTC, datetime, timedelta, timezone

import pytest
from sqlalchemy.exc import IntegrityError

from filmbuild.db import Database
from filmbuild.estimates import store
from filmbuild.estimates.store import Position, StoredEstimate
from filmbuild.money import Exact

NOON = datetime(2026, 3, 2, 12, 0, 0, 123456, tzinfo=UTC)
DAY = timedelta(days=1)
ORGANISATION = "main"


def estimate(name: str, made: datetime = NOON, total: str = "1234.50") -> StoredEstimate:
    return StoredEstimate(
        id=name,
        created_at=made,
        site_name="Dock 4",
        reference=None,
        system_id="two-coat",
        currency="USD",
        total=Exact(total),
        catalogue_revision=3,
        engine_version="0.1.0",
        request='{"job": "\u00e9"}',
        result='{"price": 1}',
    )


async def insert(database: Database, *estimates: StoredEstimate) -> None:
    async with database.writer() as connection:
        for one in estimates:
            await store.insert_estimate(connection, ORGANISATION, one)


@pytest.mark.parametrize("total", ["1234.50", "0.00", "-3.10", "98765432109876543210.99"])
async def test_an_estimate_comes_back_as_it_was_stored(database: Database, total: str) -> None:
    await insert(database, estimate("est_a", total=total))
    async with database.reader() as connection:
        found = await store.get_estimate(connection, ORGANISATION, "est_a")
        other = await store.get_estimate(connection, "another", "est_a")
        none = await store.get_estimate(connection, ORGANISATION, "est_b")
    assert found == estimate("est_a", total=total)
    assert found is not None
    assert str(found.total) == total
    assert (other, none) == (None, None)


async def test_moments_are_kept_in_utc(database: Database) -> None:
    local = NOON.astimezone(timezone(timedelta(hours=-7)))
    await insert(database, estimate("est_a", made=local))
    async with database.reader() as connection:
        found = await store.get_estimate(connection, ORGANISATION, "est_a")
    assert found is not None
    assert (found.created_at, found.created_at.tzinfo) == (NOON, UTC)


async def test_pages_miss_and_repeat_nothing_though_moments_are_equal(database: Database) -> None:
    moments = [NOON, NOON, NOON, NOON + timedelta(microseconds=1), NOON - DAY, NOON, NOON + DAY]
    ids = ["est_c", "est_a", "est_e", "est_b", "est_g", "est_d", "est_f"]
    await insert(database, *(estimate(*pair) for pair in zip(ids, moments, strict=True)))
    seen: list[str] = []
    position, more = None, True
    async with database.reader() as connection:
        while more:
            page, more = await store.page_of_estimates(connection, ORGANISATION, position, 2)
            seen += [one.id for one in page]
            position = Position(page[-1].created_at, page[-1].id)
    assert seen == ["est_f", "est_b", "est_e", "est_d", "est_c", "est_a", "est_g"]


async def test_a_page_that_ends_the_list_says_so(database: Database) -> None:
    await insert(database, estimate("est_a"), estimate("est_b"))
    async with database.reader() as connection:
        page, more = await store.page_of_estimates(connection, ORGANISATION, None, 2)
        empty, none = await store.page_of_estimates(connection, "another", None, 2)
    assert (len(page), more) == (2, False)
    assert (empty, none) == ((), False)


async def test_two_estimates_cannot_share_an_id(database: Database) -> None:
    await insert(database, estimate("est_a"))
    with pytest.raises(IntegrityError):
        await insert(database, estimate("est_a"))


def test_ids_are_opaque_and_do_not_repeat() -> None:
    ids = {store.new_estimate_id() for _ in range(1000)}
    assert len(ids) == 1000
    assert all(re.fullmatch("est_[0-9a-z]{26}", one) for one in ids)
