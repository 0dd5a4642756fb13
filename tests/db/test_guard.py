"""Which statements the guard lets through. That it keeps organisations apart is shown by attacks."""

from typing import Any

import pytest
from sqlalchemy import (
    and_,
    bindparam,
    column,
    delete,
    exists,
    func,
    insert,
    literal,
    literal_column,
    or_,
    select,
    table,
    text,
    true,
    tuple_,
    update,
)
from sqlalchemy.dialects.postgresql import insert as upsert

from filmbuild.accounts.tables import account, api_key, key_origin
from filmbuild.db import EVERYONE, Database
from filmbuild.db.guard import begins_with_owner
from filmbuild.db.pinned import GuardError, pins

MINE = "default"
A, K = account.c, api_key.c
other = api_key.alias("other")
mine = select(A.organisation_id).where(A.organisation_id == MINE).subquery()

GOOD: list[Any] = [
    select(A.name).where(A.organisation_id == MINE),
    select(A.name).where(and_(A.organisation_id == MINE, or_(A.name == "a", A.name == "b"))),
    select(A.name).where(A.organisation_id == bindparam("owner", MINE)),
    select(A.name, K.name)
    .join_from(account, api_key, A.organisation_id == K.organisation_id)
    .where(K.organisation_id == MINE),
    select(K.name)
    .outerjoin(other, other.c.organisation_id == K.organisation_id)
    .where(K.organisation_id == MINE),
    select(K.name).where(
        K.organisation_id == MINE,
        ~exists().where(other.c.organisation_id == K.organisation_id, other.c.id > K.id),
    ),
    select(func.count()).select_from(select(K.id).where(K.organisation_id == MINE).subquery()),
    select(literal(1)),
    select(K.name)
    .outerjoin_from(
        api_key, account, and_(A.organisation_id == K.organisation_id, A.name == K.name)
    )
    .where(K.organisation_id == MINE),
    select(K.name).where(
        K.organisation_id == MINE,
        K.id.in_(select(other.c.id).where(other.c.organisation_id == K.organisation_id)),
    ),
    select(K.name).join_from(api_key, mine, mine.c.organisation_id == K.organisation_id),
    upsert(account).on_conflict_do_update(index_elements=["organisation_id"], set_={"name": "n"}),
    delete(api_key).where(K.organisation_id == A.organisation_id, A.organisation_id == MINE),
    update(api_key).where(K.organisation_id == MINE).values(name="n"),
    insert(account).from_select(
        ["organisation_id", "name"],
        select(literal(MINE), K.name).where(K.organisation_id == MINE),
    ),
]
BAD: list[Any] = [
    select(A.name),
    select(A.name).where(A.name == "x"),
    select(A.name).where(or_(A.organisation_id == MINE, A.name == "x")),
    select(A.name).where(~(A.organisation_id == MINE)),
    select(A.name).where(A.organisation_id != MINE),
    select(A.name).where(A.organisation_id.in_([MINE])),
    select(A.name).where(tuple_(A.organisation_id, A.name) > (MINE, "x")),
    select(A.name).where(A.organisation_id == A.name),
    select(A.name, K.name)
    .join_from(account, api_key, A.name == K.name)
    .where(A.organisation_id == MINE),
    select(K.name).where(K.organisation_id == MINE, exists().where(other.c.id == K.id)),
    select(func.count()).select_from(select(K.id).subquery()),
    select(A.name).where(A.organisation_id == select(K.organisation_id).scalar_subquery()),
    select(A.name).where(A.organisation_id == MINE).where(text("1 = 1")),
    update(api_key).values(name="n"),
    update(api_key).where(K.id == "x").values(name="n"),
    insert(account).from_select(["organisation_id", "name"], select(K.organisation_id, K.name)),
    insert(account).from_select(["name"], select(K.name).where(K.organisation_id == MINE)),
    text("SELECT * FROM account"),
]
READING_MORE: list[Any] = [
    # the library reads the same table once more in each of these
    select(K.name).where(K.organisation_id == MINE, K.id.in_(select(K.id))),
    select(K.name, select(func.count(K.id)).scalar_subquery()).where(K.organisation_id == MINE),
    select(K.name)
    .where(K.organisation_id == MINE)
    .order_by(select(func.max(K.name)).scalar_subquery()),
    select(K.name).where(
        K.organisation_id == MINE,
        exists().where(K.id == A.name, A.organisation_id == MINE).correlate(None),
    ),
    update(api_key)
    .where(K.organisation_id == MINE)
    .values(name=select(func.max(K.name)).scalar_subquery()),
    # of an outer join all rows of the one side are there, whatever it is on
    select(K.name).outerjoin_from(
        api_key, account, and_(K.organisation_id == MINE, A.organisation_id == K.organisation_id)
    ),
    select(K.name).select_from(
        api_key.join(
            account,
            and_(K.organisation_id == MINE, A.organisation_id == K.organisation_id),
            full=True,
        )
    ),
    select(A.name)
    .select_from(account.join(api_key.join(key_origin, K.id == key_origin.c.key_id), true()))
    .where(A.organisation_id == MINE),
    select(other.alias("another").c.name),
    select(api_key.lateral("another").c.name),
    select(table("api_key", column("name")).c.name),
    select(literal_column("(SELECT name FROM api_key)")),
    select(K.name).where(
        K.organisation_id
        == select(A.name.label("organisation_id"))
        .where(A.organisation_id == MINE)
        .subquery()
        .c.organisation_id
    ),
    update(api_key).where(K.organisation_id == MINE, K.name == A.name).values(name="n"),
    update(api_key).where(K.organisation_id == MINE).values(name=A.name),
    update(api_key).where(K.organisation_id == A.organisation_id).values(name="n"),
    delete(api_key).where(K.organisation_id == A.organisation_id, A.name == "x"),
    update(api_key).where(K.organisation_id == MINE).values(organisation_id=MINE),
    upsert(account).on_conflict_do_update(
        index_elements=["organisation_id"], set_={"organisation_id": MINE}
    ),
    upsert(api_key).on_conflict_do_update(index_elements=["digest"], set_={"name": "n"}),
]


@pytest.mark.parametrize("statement", GOOD, ids=str)
async def test_what_says_whose_rows_it_is_about_is_let_through(
    database: Database, statement: Any
) -> None:
    list(pins(statement))
    if statement.is_select:
        async with database.reader(MINE) as connection:
            await connection.execute(statement)


@pytest.mark.parametrize("statement", BAD, ids=str)
async def test_what_does_not_is_refused(database: Database, statement: Any) -> None:
    async with database.writer(MINE) as connection:
        with pytest.raises(GuardError):
            await connection.execute(statement)


@pytest.mark.parametrize("statement", READING_MORE, ids=str)
def test_what_reads_or_changes_more_than_it_says_is_refused(statement: Any) -> None:
    with pytest.raises(GuardError):
        list(pins(statement))


async def test_what_names_another_organisation_is_refused(database: Database) -> None:
    row = {"organisation_id": "another", "name": "n", "created_at": None}
    for statement, given in (
        (select(A.name).where(A.organisation_id == "another"), {}),
        (select(A.name).where(A.organisation_id == bindparam("owner")), {"owner": "another"}),
        (update(account).where(A.organisation_id == "another").values(name="n"), {}),
        (insert(account), row),
        (update(account).where(A.organisation_id == MINE), {"organisation_id": "another"}),
        (insert(account), [{**row, "organisation_id": MINE}, row]),
    ):
        async with database.writer(MINE) as connection:
            with pytest.raises(GuardError, match=r"another organisation|somebody else"):
                await connection.execute(statement, given)


async def test_a_statement_that_was_let_through_is_looked_at_again(database: Database) -> None:
    """The library keeps what it compiled, and the next value is another."""
    for name, allowed in ((MINE, True), ("another", False), (MINE, True)):
        async with database.reader(MINE) as connection:
            query = select(A.name).where(A.organisation_id == name)
            if allowed:
                await connection.execute(query)
            else:
                with pytest.raises(GuardError):
                    await connection.execute(query)


async def test_words_of_our_own_begin_with_the_owner(database: Database) -> None:
    mark = "?" if database.url.drivername.startswith("sqlite") else "$1"
    words = begins_with_owner(f"SELECT name FROM account WHERE organisation_id = {mark}")  # noqa: S608 - a mark of two
    async with database.reader(MINE) as connection:
        await connection.exec_driver_sql(words, (MINE,))
        with pytest.raises(GuardError):
            await connection.exec_driver_sql(words, ("another",))
        with pytest.raises(GuardError):
            await connection.exec_driver_sql("SELECT name FROM account")


async def test_the_service_itself_sees_all(database: Database) -> None:
    async with database.reader(EVERYONE) as connection:
        assert (await connection.execute(select(A.organisation_id))).scalars().all() == [MINE]
