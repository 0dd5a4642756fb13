"""Histories are added to, and never changed."""

from collections.abc import AsyncIterator, Iterator
from contextlib import contextmanager
from typing import Any

import pytest
from quotation_cases import Issued, Office, estimate_body, office
from sqlalchemy import URL, Engine, event, select

from filmbuild.db import EVERYONE
from filmbuild.edge.paging import PageQuery
from filmbuild.errors import NotFound
from filmbuild.quotations.tables import quotation_step


@pytest.fixture
async def shop(loaded_database_url: URL) -> AsyncIterator[Office]:
    async with office(loaded_database_url) as opened:
        yield opened


@contextmanager
def statements() -> Iterator[list[str]]:
    """All that is said to any database meanwhile."""
    said: list[str] = []

    def note(_connection: Any, _cursor: Any, statement: str, *_more: Any) -> None:
        said.append(" ".join(statement.split()).lower())

    event.listen(Engine, "before_cursor_execute", note)
    try:
        yield said
    finally:
        event.remove(Engine, "before_cursor_execute", note)


async def rows(shop: Office) -> list[tuple[Any, ...]]:
    query = select(quotation_step).order_by(
        quotation_step.c.quotation_id, quotation_step.c.position
    )
    async with shop.database.reader(EVERYONE) as connection:
        return [tuple(row) for row in (await connection.execute(query)).all()]


async def whole_lives(shop: Office) -> AsyncIterator[None]:
    """Every kind of step, one after the other."""
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    yield
    renewed = Issued(
        await shop.quotations.renew_link(shop.caller, offer.id, {"if-match": offer.tag})
    )
    yield
    newer = Issued(await shop.issue(await shop.revise(renewed.id, estimate)))
    yield
    await shop.accept(newer)
    yield
    body = estimate_body()
    body["site"]["areas"][0]["outline"]["length"] = "40 ft"
    await shop.revise_to(estimate, body)
    change = Issued(await shop.issue(await shop.change(newer.id, estimate=estimate)))
    await shop.decline(change)
    yield
    draft = await shop.draft(estimate)
    await shop.quotations.withdraw(shop.caller, draft.id, "A slip", {"if-match": draft.tag})
    yield
    late = await shop.issued(estimate, valid_days=1)
    shop.clock.now = shop.clock.now.replace(day=20)
    await shop.state(late.id)
    yield


async def test_no_step_is_ever_changed_or_taken_away(shop: Office) -> None:
    before: list[tuple[Any, ...]] = []
    with statements() as said:
        async for _ in whole_lives(shop):
            after = await rows(shop)
            assert [row for row in after if row in before] == before
            assert len(after) > len(before)
            before = after
    about = [one for one in said if "quotation_step" in one]
    assert {one.split()[0] for one in about} == {"insert", "select"}
    kinds = {row[quotation_step.c.keys().index("kind")] for row in before}
    assert kinds == {
        "drafted",
        "issued",
        "link-renewed",
        "superseded",
        "accepted",
        "declined",
        "withdrawn",
        "expired",
    }


async def test_a_change_of_a_step_would_be_noticed(shop: Office) -> None:
    await shop.issued(await shop.estimate())
    with statements() as said:
        async with shop.database.writer(EVERYONE) as connection:
            await connection.execute(quotation_step.update().values(actor="somebody"))
    assert any(one.startswith("update quotation_step") for one in said)


async def test_a_history_comes_in_pages_in_order(shop: Office) -> None:
    offer = await shop.issued(await shop.estimate())
    await shop.accept(offer)
    path = f"/v1/quotations/{offer.id}/history"
    found: list[int] = []
    query = PageQuery(limit=1)
    while True:
        page = await shop.quotations.history(shop.caller.organisation, offer.id, query, path)
        found += [one.position for one in page.items]
        if page.next is None:
            break
        query = PageQuery(limit=1, cursor=page.next)
    assert found == [1, 2, 3]


async def test_a_quotation_that_is_not_there_has_no_history(shop: Office) -> None:
    with pytest.raises(NotFound):
        await shop.history("quo_" + "0" * 26)


async def test_who_did_what_is_written_down(shop: Office) -> None:
    offer = await shop.issued(await shop.estimate())
    await shop.decline(offer, "C. Sample")
    first, second, third = await shop.history(offer.id)
    assert (first["actor"], second["actor"]) == (shop.caller.actor, shop.caller.actor)
    assert second["detail"]["number"] == "Q-0001"
    assert (third["actor"], third["detail"]) == ("customer", {"name": "C. Sample"})
