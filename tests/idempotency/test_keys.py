"""Answers that are given again to the same key (draft-ietf-httpapi-idempotency-key-header-07)."""

from datetime import UTC, datetime, timedelta

import pytest

from filmbuild import idempotency
from filmbuild.db import EVERYONE, Database
from filmbuild.edge.operations import Caller
from filmbuild.errors import Conflict
from filmbuild.idempotency import IdempotencyKeyReused, KeptAnswer, RequestKey

NOON = datetime(2026, 3, 2, 12, 0, 0, 123456, tzinfo=UTC)
DAY = timedelta(days=1)
SOMEONE = Caller(organisation="main", actor="key-of-the-office")
MADE = KeptAnswer(status=201, resource="est_a", answer='{"id":"est_a"}')


def key(text: str = "key-1", caller: Caller = SOMEONE, content: bytes = b"{}") -> RequestKey:
    made = idempotency.request_key({"idempotency-key": text}, caller, "POST /v1/things", content)
    assert made is not None
    return made


async def keep(database: Database, one: RequestKey, answer: KeptAnswer, now: datetime) -> None:
    async with database.writer(EVERYONE) as connection:
        await idempotency.keep(connection, one, answer, now)


async def found(database: Database, one: RequestKey, now: datetime = NOON) -> KeptAnswer | None:
    async with database.reader(EVERYONE) as connection:
        return await idempotency.find(connection, one, now)


def test_a_key_is_the_same_bare_and_in_quotes_and_none_is_none() -> None:
    assert key('"key-1"') == key("key-1")
    assert idempotency.request_key({}, SOMEONE, "POST /v1/things", b"") is None


async def test_the_answer_is_given_again_until_the_key_expires(database: Database) -> None:
    await keep(database, key(), MADE, NOON)
    assert await found(database, key()) == MADE
    assert await found(database, key(), NOON + DAY) is None


@pytest.mark.parametrize(
    "other",
    [Caller(organisation="main", actor="another key"), Caller(organisation="b", actor="anyone")],
)
async def test_the_keys_of_two_callers_are_apart(database: Database, other: Caller) -> None:
    await keep(database, key(), MADE, NOON)
    assert await found(database, key(caller=other)) is None


async def test_a_key_is_good_for_one_request_alone(database: Database) -> None:
    await keep(database, key(), MADE, NOON)
    with pytest.raises(IdempotencyKeyReused):
        await found(database, key(content=b'{"other": 1}'))
    elsewhere = idempotency.request_key(
        {"idempotency-key": "key-1"}, SOMEONE, "POST /v1/others", b"{}"
    )
    assert elsewhere is not None
    with pytest.raises(IdempotencyKeyReused):
        await found(database, elsewhere)


async def test_a_key_in_use_is_a_conflict(database: Database) -> None:
    await keep(database, key(), MADE, NOON)
    with pytest.raises(Conflict):
        await keep(database, key(), MADE, NOON)


async def test_an_expired_key_is_free_again(database: Database) -> None:
    await keep(database, key(), MADE, NOON)
    again = KeptAnswer(status=201, resource="est_b")
    await keep(database, key(), again, NOON + DAY)
    assert await found(database, key(), NOON + DAY) == again


async def test_expired_keys_can_be_cleared_away(database: Database) -> None:
    await keep(database, key(), MADE, NOON)
    async with database.writer(EVERYONE) as connection:
        early = await idempotency.delete_expired(connection, "main", NOON)
        late = await idempotency.delete_expired(connection, "main", NOON + DAY)
    assert (early, late) == (0, 1)
