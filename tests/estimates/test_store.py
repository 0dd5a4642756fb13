import re
from datetime import UTC, date, datetime, timedelta, timezone

import msgspec
import pytest
from sqlalchemy.exc import IntegrityError

from filmbuild.db import EVERYONE, Database
from filmbuild.errors import NotFound
from filmbuild.estimates import store
from filmbuild.estimates.store import EstimateHead, Filters, Position, StoredRevision
from filmbuild.money import Exact

NOON = datetime(2026, 3, 2, 12, 0, 0, 123456, tzinfo=UTC)
DAY = timedelta(days=1)
ORGANISATION = "main"


def head(name: str, made: datetime = NOON, reference: str | None = None) -> EstimateHead:
    return EstimateHead(id=name, created_at=made, site_name="Dock 4", reference=reference)


def revision(
    number: int = 1, made: datetime = NOON, total: str = "1234.50", cause_id: str | None = None
) -> StoredRevision:
    return StoredRevision(
        revision=number,
        created_at=made,
        actor="anyone",
        cause=None,
        cause_id=cause_id,
        catalogue_revision=3,
        priced_on=date(2026, 3, 2),
        engine_version="0.1.0",
        system_id="two-coat",
        currency="USD",
        net=Exact("1200.00"),
        total=Exact(total),
        margin_percent=Exact("20.00"),
        request=b"\x00\xff asked",
        result=b"answered",
    )


async def insert(database: Database, *heads: EstimateHead, total: str = "1234.50") -> None:
    async with database.writer(EVERYONE) as connection:
        for one in heads:
            first = revision(made=one.created_at, total=total)
            await store.insert_estimate(connection, ORGANISATION, one, first)


async def add(database: Database, name: str, added: StoredRevision) -> None:
    async with database.writer(EVERYONE) as connection:
        found = await store.lock_estimate(connection, ORGANISATION, name)
        assert found is not None
        await store.add_revision(connection, ORGANISATION, found, added)


@pytest.mark.parametrize("total", ["1234.50", "0.00", "-3.10", "98765432109876543210.99"])
async def test_an_estimate_comes_back_as_it_was_stored(database: Database, total: str) -> None:
    await insert(database, head("est_a"), total=total)
    async with database.reader(EVERYONE) as connection:
        found = await store.get_estimate(connection, ORGANISATION, "est_a")
        other = await store.get_estimate(connection, "another", "est_a")
        none = await store.get_estimate(connection, ORGANISATION, "est_b")
        later = await store.get_estimate(connection, ORGANISATION, "est_a", 2)
    assert found is not None
    assert (found.head, found.revision) == (head("est_a"), revision(total=total))
    assert str(found.revision.total) == total
    assert (other, none, later) == (None, None, None)


async def test_moments_are_kept_in_utc(database: Database) -> None:
    local = NOON.astimezone(timezone(timedelta(hours=-7)))
    await insert(database, head("est_a", made=local))
    async with database.reader(EVERYONE) as connection:
        found = await store.get_estimate(connection, ORGANISATION, "est_a")
    assert found is not None
    for moment in (found.head.created_at, found.revision.created_at):
        assert (moment, moment.tzinfo) == (NOON, UTC)


async def test_a_revision_is_added_and_those_before_it_stay(database: Database) -> None:
    await insert(database, head("est_a"), head("est_b"))
    second = revision(2, NOON + DAY, "99.00", cause_id="rep_1")
    async with database.writer(EVERYONE) as connection:
        found = await store.lock_estimate(connection, ORGANISATION, "est_a")
        assert found == head("est_a")
        named = msgspec.structs.replace(found, site_name="Dock 5", reference="R-5")
        now = await store.add_revision(connection, ORGANISATION, named, second)
    async with database.reader(EVERYONE) as connection:
        latest = await store.get_estimate(connection, ORGANISATION, "est_a")
        first = await store.get_estimate(connection, ORGANISATION, "est_a", 1)
        other = await store.get_head(connection, ORGANISATION, "est_b")
        caused = await store.revision_of_cause(connection, ORGANISATION, "est_a", "rep_1")
        uncaused = await store.revision_of_cause(connection, ORGANISATION, "est_b", "rep_1")
    assert latest is not None
    assert first is not None
    assert (latest.head, latest.revision) == (now, second)
    assert (now.latest_revision, now.site_name, now.reference) == (2, "Dock 5", "R-5")
    assert first.revision == revision()
    assert other == head("est_b")
    assert caused is not None
    assert (caused.revision, uncaused) == (2, None)


async def test_a_revision_and_a_cause_are_there_once(database: Database) -> None:
    await insert(database, head("est_a"))
    await add(database, "est_a", revision(2, cause_id="rep_1"))
    for again in (revision(2), revision(3, cause_id="rep_1")):
        with pytest.raises(IntegrityError):
            await add(database, "est_a", again)
    await add(database, "est_a", revision(3))
    await add(database, "est_a", revision(4))


async def test_pages_miss_and_repeat_nothing_though_moments_are_equal(database: Database) -> None:
    moments = [NOON, NOON, NOON, NOON + timedelta(microseconds=1), NOON - DAY, NOON, NOON + DAY]
    ids = ["est_c", "est_a", "est_e", "est_b", "est_g", "est_d", "est_f"]
    await insert(database, *(head(*pair) for pair in zip(ids, moments, strict=True)))
    await add(database, "est_g", revision(2, NOON + 9 * DAY))
    seen: list[str] = []
    position, more = None, True
    async with database.reader(EVERYONE) as connection:
        while more:
            page, more = await store.page_of_estimates(connection, ORGANISATION, position, 2)
            seen += [one.head.id for one in page]
            position = Position(page[-1].head.created_at, page[-1].head.id)
    assert seen == ["est_f", "est_b", "est_e", "est_d", "est_c", "est_a", "est_g"]


async def test_a_page_that_ends_the_list_says_so(database: Database) -> None:
    await insert(database, head("est_a"), head("est_b"))
    async with database.reader(EVERYONE) as connection:
        page, more = await store.page_of_estimates(connection, ORGANISATION, None, 2)
        empty, none = await store.page_of_estimates(connection, "another", None, 2)
    assert (len(page), more) == (2, False)
    assert (empty, none) == ((), False)


async def test_a_list_shows_the_latest_revision(database: Database) -> None:
    await insert(database, head("est_a"))
    await add(database, "est_a", revision(2, total="77.00"))
    async with database.reader(EVERYONE) as connection:
        ((one,), _) = await store.page_of_estimates(connection, ORGANISATION, None, 9)
    assert (one.latest.revision, str(one.latest.total)) == (2, "77.00")


async def test_filters_let_through_what_they_name(database: Database) -> None:
    await insert(database, head("est_a", reference="R-1"), head("est_b"), head("est_c"))
    async with database.writer(EVERYONE) as connection:
        await store.mark_accepted(connection, ORGANISATION, "est_b", 1)
    found: dict[Filters, list[str]] = {}
    async with database.reader(EVERYONE) as connection:
        for one in (Filters("open"), Filters("accepted"), Filters(reference="R-1")):
            page, _ = await store.page_of_estimates(connection, ORGANISATION, None, 9, one)
            found[one] = [each.head.id for each in page]
    assert list(found.values()) == [["est_c", "est_a"], ["est_b"], ["est_a"]]


async def test_revisions_are_listed_newest_first_in_pages(database: Database) -> None:
    await insert(database, head("est_a"), head("est_b"))
    for number in (2, 3, 4, 5):
        await add(database, "est_a", revision(number))
    seen: list[int] = []
    before, more = None, True
    async with database.reader(EVERYONE) as connection:
        while more:
            page, more = await store.page_of_revisions(connection, ORGANISATION, "est_a", before, 2)
            seen += [one.revision for one in page]
            before = page[-1].revision
    assert seen == [5, 4, 3, 2, 1]


async def test_open_estimates_are_found_in_order_of_id(database: Database) -> None:
    await insert(database, *(head(f"est_{letter}") for letter in "dbcae"))
    async with database.writer(EVERYONE) as connection:
        await store.mark_accepted(connection, ORGANISATION, "est_c", 1)
    async with database.reader(EVERYONE) as connection:
        first = await store.open_estimates(connection, ORGANISATION, None, 2)
        rest = await store.open_estimates(connection, ORGANISATION, first[-1], 9)
        other = await store.open_estimates(connection, "another", None, 9)
    assert (first, rest, other) == (("est_a", "est_b"), ("est_d", "est_e"), ())


async def test_an_accepted_revision_stays_and_a_later_one_may_follow(database: Database) -> None:
    await insert(database, head("est_a"))
    await add(database, "est_a", revision(2))
    for accepted in (1, 1, 2):
        async with database.writer(EVERYONE) as connection:
            await store.mark_accepted(connection, ORGANISATION, "est_a", accepted)
        async with database.reader(EVERYONE) as connection:
            found = await store.get_head(connection, ORGANISATION, "est_a")
        assert found is not None
        assert (found.state, found.accepted_revision) == ("accepted", accepted)


@pytest.mark.parametrize(("name", "number"), [("est_a", 0), ("est_a", 2), ("est_b", 1)])
async def test_what_is_not_there_cannot_be_accepted(
    database: Database, name: str, number: int
) -> None:
    await insert(database, head("est_a"))
    async with database.writer(EVERYONE) as connection:
        with pytest.raises(NotFound):
            await store.mark_accepted(connection, ORGANISATION, name, number)
    async with database.reader(EVERYONE) as connection:
        assert await store.get_head(connection, ORGANISATION, "est_a") == head("est_a")


async def test_two_estimates_cannot_share_an_id(database: Database) -> None:
    await insert(database, head("est_a"))
    with pytest.raises(IntegrityError):
        await insert(database, head("est_a"))


def test_ids_are_opaque_and_do_not_repeat() -> None:
    ids = {store.new_estimate_id() for _ in range(1000)}
    assert len(ids) == 1000
    assert all(re.fullmatch("est_[0-9a-z]{26}", one) for one in ids)
