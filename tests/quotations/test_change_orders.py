"""Changes to accepted work: differences from what holds, one at a time."""

import asyncio
from collections.abc import AsyncIterator
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from quotation_cases import Issued, Office, estimate_body, office, plain
from sqlalchemy import URL

from filmbuild.db import EVERYONE, Database
from filmbuild.errors import Conflict, FilmbuildError, InvalidInput
from filmbuild.quotations.agreements import Agreements

_OPTION = {
    "id": "line",
    "label": "Marked walkway",
    "description": "A yellow line along the wall",
    "extras": [
        {
            "id": "walkway",
            "description": "Line marking",
            "quantity": "1",
            "unit": "LS",
            "unit_cost": "400",
        }
    ],
}


@pytest.fixture
async def shop(loaded_database_url: URL) -> AsyncIterator[Office]:
    async with office(loaded_database_url) as opened:
        yield opened


def codes(error: FilmbuildError) -> list[tuple[str, str]]:
    return [(one.pointer, one.code) for one in error.faults]


def total_of(answer: dict[str, Any], place: int = 0) -> Decimal:
    return Decimal(answer["content"]["alternates"][place]["offer"]["total"]["amount"])


async def longer(shop: Office, estimate: str, length: str) -> None:
    """Another revision of the estimate, of a longer hall."""
    body = estimate_body()
    body["site"]["areas"][0]["outline"]["length"] = length
    await shop.revise_to(estimate, body)


async def test_a_change_order_is_the_difference_from_what_was_accepted(shop: Office) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    accepted = await shop.accept(offer)
    await longer(shop, estimate, "30 ft")
    draft = await shop.change(offer.id, estimate=estimate)
    answer = plain(draft.content)
    content = answer["content"]
    whole = plain((await shop.draft(estimate)).content)
    assert (answer["kind"], answer["changes"]) == ("change_order", offer.id)
    assert content["changes"] == offer.answer["number"]
    assert total_of(answer) == total_of(whole) - total_of(accepted)
    assert total_of(answer) > 0
    assert Decimal(content["agreed_total"]["amount"]) == total_of(accepted)
    (alternate,) = content["alternates"]
    assert {one["kind"] for one in alternate["offer"]["lines"]} == {"change"}
    assert alternate["estimate_revision"] == 2
    change = Issued(await shop.issue(draft))
    assert change.answer["number"] == "Q-0002"
    assert (await shop.accept(change))["state"] == "accepted"
    assert await shop.state(offer.id) == "accepted"


async def test_the_next_change_starts_from_the_last_that_was_accepted(shop: Office) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    total = total_of(await shop.accept(offer))
    changes = []
    for length in ("30 ft", "28 ft", "41 ft"):
        await longer(shop, estimate, length)
        change = Issued(await shop.issue(await shop.change(offer.id, estimate=estimate)))
        assert Decimal(change.answer["content"]["agreed_total"]["amount"]) == total
        total += total_of(await shop.accept(change))
        changes.append(change.id)
        shop.clock.now -= timedelta(days=3)
    agreements = Agreements()
    async with shop.database.reader(EVERYONE) as connection:
        first = await agreements.accepted(connection, shop.caller.organisation, offer.id)
        agreed = await agreements.change_orders(connection, shop.caller.organisation, offer.id)
    assert (first.id, first.decision.name, first.changes) == (offer.id, "A. Sample", None)
    assert [one.id for one in agreed] == changes
    assert {one.changes for one in agreed} == {offer.id}
    whole = plain((await shop.draft(estimate)).content)
    assert total == total_of(whole)


async def test_a_change_that_was_not_agreed_changes_nothing(shop: Office) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    total = total_of(await shop.accept(offer))
    await longer(shop, estimate, "30 ft")
    refused = Issued(await shop.issue(await shop.change(offer.id, estimate=estimate)))
    await shop.decline(refused)
    await longer(shop, estimate, "41 ft")
    answer = plain((await shop.change(offer.id, estimate=estimate)).content)
    whole = plain((await shop.draft(estimate)).content)
    assert total_of(answer) == total_of(whole) - total


async def test_options_that_were_accepted_stay_in_the_work(shop: Office) -> None:
    body = estimate_body() | {"options": [_OPTION]}
    estimate = await shop.estimate(body)
    offer = await shop.issued(estimate)
    (option,) = offer.answer["content"]["alternates"][0]["offer"]["options"]
    total = total_of(offer.answer) + Decimal(option["net"]["amount"])  # untaxed
    chosen = {"amount": str(total), "currency": "USD"}
    await shop.accept(offer, options=["line"], total=chosen)
    with pytest.raises(InvalidInput) as caught:
        await shop.change(offer.id, estimate=estimate)
    assert codes(caught.value) == [("/estimate", "no-difference")]
    without = plain((await shop.change(offer.id, estimate=estimate, options=[])).content)
    assert total_of(without) == -Decimal(option["net"]["amount"])
    with pytest.raises(Conflict):
        await shop.change(offer.id, estimate=estimate, options=[])


async def test_an_option_that_is_no_longer_there_is_named(shop: Office) -> None:
    body = estimate_body() | {"options": [_OPTION]}
    estimate = await shop.estimate(body)
    offer = await shop.issued(estimate)
    await shop.accept(offer)
    with pytest.raises(InvalidInput) as caught:
        await shop.change(offer.id, estimate=estimate, options=["line", "gone"])
    assert codes(caught.value) == [("/options/1", "unknown-option")]


async def test_only_accepted_work_is_changed(shop: Office) -> None:
    estimate = await shop.estimate()
    draft = await shop.draft(estimate)
    with pytest.raises(Conflict) as caught:
        await shop.change(draft.id, estimate=estimate)
    assert codes(caught.value) == [("", "quotation-draft")]
    offer = Issued(await shop.issue(draft))
    await shop.accept(offer)
    await longer(shop, estimate, "30 ft")
    change = Issued(await shop.issue(await shop.change(offer.id, estimate=estimate)))
    for attempt in (
        shop.change(change.id, estimate=estimate),
        shop.revise(change.id, estimate),
    ):
        with pytest.raises(Conflict) as caught:
            await attempt
        assert codes(caught.value) == [("", "change-order")]


async def test_every_fault_of_a_change_is_told(shop: Office) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    await shop.accept(offer)
    with pytest.raises(InvalidInput) as caught:
        await shop.change(
            offer.id, estimate="est_" + "0" * 26, valid_days=3, valid_until="2026-09-09"
        )
    assert codes(caught.value) == [
        ("/valid_days", "two-validities"),
        ("/estimate", "unknown-estimate"),
    ]


async def test_of_changes_at_once_one_is_open(shop: Office, loaded_database_url: URL) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    await shop.accept(offer)
    await longer(shop, estimate, "30 ft")
    second = Database(loaded_database_url)
    offices = (shop, Office(second, shop.clock))
    outcomes = await asyncio.gather(
        *(offices[turn % 2].change(offer.id, estimate=estimate) for turn in range(4)),
        return_exceptions=True,
    )
    await second.dispose()
    made = [one for one in outcomes if not isinstance(one, BaseException)]
    assert len(made) == 1
    for one in outcomes:
        if isinstance(one, BaseException):
            assert isinstance(one, Conflict)
            assert codes(one) == [("", "change-order-open")]
    withdrawn = {"if-match": "*"}
    await shop.quotations.withdraw(shop.caller, made[0].id, "Agreed otherwise", withdrawn)
    assert plain((await shop.change(offer.id, estimate=estimate)).content)["state"] == "draft"


async def test_an_expired_change_makes_room_for_another(shop: Office) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    await shop.accept(offer)
    await longer(shop, estimate, "30 ft")
    change = Issued(await shop.issue(await shop.change(offer.id, estimate=estimate)))
    shop.clock.now += timedelta(days=15)
    await shop.change(offer.id, estimate=estimate)
    assert await shop.steps(change.id) == ["drafted", "issued", "expired"]
