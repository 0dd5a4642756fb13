"""What customers do through their link, on both engines, and at once."""

import asyncio
from collections.abc import AsyncIterator
from datetime import timedelta
from typing import Any

import pytest
from quotation_cases import Issued, Office, office, plain, read
from sqlalchemy import URL

from filmbuild.db import EVERYONE, Database
from filmbuild.errors import Conflict, FilmbuildError, InvalidInput, NotFound
from filmbuild.estimates import store as estimates
from filmbuild.quotations import tokens
from filmbuild.quotations.offer_wire import Acceptance
from filmbuild.quotations.offers import OfferService


@pytest.fixture
async def shop(loaded_database_url: URL) -> AsyncIterator[Office]:
    async with office(loaded_database_url) as opened:
        yield opened


async def offer_of(shop: Office, **more: Any) -> Issued:
    return await shop.issued(await shop.estimate(), **more)


def told(error: FilmbuildError) -> list[tuple[str, str]]:
    return [(one.pointer, one.code) for one in error.faults]


async def accepted_revision(shop: Office, estimate: str) -> tuple[str, int | None]:
    async with shop.database.reader(EVERYONE) as connection:
        head = await estimates.get_head(connection, shop.caller.organisation, estimate)
    assert head is not None
    return head.state, head.accepted_revision


async def test_acceptance_is_recorded_with_what_was_accepted(shop: Office) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    answer = await shop.accept(offer)
    choice = offer.choice()
    decision = answer["decision"]
    assert answer["state"] == "accepted"
    assert {name: decision[name] for name in choice} == choice
    assert decision["at"] == "2026-09-01T17:00:00Z"
    assert await shop.steps(offer.id) == ["drafted", "issued", "accepted"]
    last = (await shop.history(offer.id))[-1]
    assert last["actor"] == "customer"
    assert last["detail"] == {
        "name": "A. Sample",
        "alternate": "way-0",
        "total": choice["total"],
    }
    assert await accepted_revision(shop, estimate) == ("accepted", 1)
    assert plain(await shop.offers.get(offer.token)) == answer


async def test_the_accepted_alternate_alone_marks_its_estimate(shop: Office) -> None:
    first, second = await shop.estimate(), await shop.estimate(system="harbour-high-build")
    await shop.revise_estimate(second, system="harbour-high-build", start="2026-09-14")
    offer = await shop.issued(first, second)
    chosen = offer.answer["content"]["alternates"][1]
    await shop.accept(offer, alternate=chosen["id"], total=chosen["offer"]["total"])
    assert await accepted_revision(shop, first) == ("open", None)
    assert await accepted_revision(shop, second) == ("accepted", 2)


async def test_the_same_once_more_is_the_same_answer(shop: Office) -> None:
    offer = await offer_of(shop)
    first = await shop.accept(offer)
    shop.clock.now += timedelta(days=90)
    assert await shop.accept(offer) == first
    assert await shop.steps(offer.id) == ["drafted", "issued", "accepted"]
    other = await offer_of(shop)
    refused = await shop.decline(other)
    assert await shop.decline(other) == refused
    assert refused["decision"]["kind"] == "declined"
    assert await shop.steps(other.id) == ["drafted", "issued", "declined"]


async def test_another_decision_comes_too_late(shop: Office) -> None:
    offer = await offer_of(shop)
    first = await shop.accept(offer)
    for attempt in (shop.decline(offer), shop.accept(offer, name="B. Sample")):
        with pytest.raises(Conflict) as caught:
            await attempt
        assert told(caught.value) == [("", "quotation-accepted")]
    assert plain(await shop.offers.get(offer.token)) == first
    assert await shop.steps(offer.id) == ["drafted", "issued", "accepted"]
    other = await offer_of(shop)
    await shop.decline(other)
    with pytest.raises(Conflict) as caught:
        await shop.accept(other)
    assert told(caught.value) == [("", "quotation-declined")]


async def withdraw(shop: Office, offer: Issued) -> None:
    await shop.quotations.withdraw(shop.caller, offer.id, None, {"if-match": offer.tag})


async def supersede(shop: Office, offer: Issued) -> None:
    await shop.issue(await shop.revise(offer.id, await shop.estimate()))


async def wait_past_the_last_day(shop: Office, _offer: Issued) -> None:
    shop.clock.now += timedelta(days=15)


@pytest.mark.parametrize(
    ("change", "state"),
    [
        (withdraw, "withdrawn"),
        (supersede, "superseded"),
        (wait_past_the_last_day, "expired"),
    ],
)
async def test_an_offer_that_is_no_longer_open_says_why(
    shop: Office, change: Any, state: str
) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    await change(shop, offer)
    for attempt in (shop.accept(offer), shop.decline(offer)):
        with pytest.raises(Conflict) as caught:
            await attempt
        assert told(caught.value) == [("", f"quotation-{state}")]
    shown = plain(await shop.offers.get(offer.token))
    assert (shown["state"], shown["decision"]) == (state, None)
    assert await accepted_revision(shop, estimate) == ("open", None)


async def test_the_total_is_what_the_customer_saw(shop: Office) -> None:
    offer = await offer_of(shop)
    total = offer.choice()["total"]
    for other in ({**total, "amount": "1.00"}, {**total, "currency": "EUR"}):
        with pytest.raises(Conflict) as caught:
            await shop.accept(offer, total=other)
        assert told(caught.value) == [("/total", "other-total")]
    assert await shop.state(offer.id) == "issued"
    assert await shop.steps(offer.id) == ["drafted", "issued"]


async def test_what_is_not_offered_cannot_be_accepted(shop: Office) -> None:
    offer = await offer_of(shop)
    with pytest.raises(InvalidInput) as caught:
        await shop.accept(offer, alternate="way-7")
    assert told(caught.value) == [("/alternate", "unknown-alternate")]
    with pytest.raises(InvalidInput) as caught:
        await shop.accept(offer, options=["not-there"])
    assert told(caught.value) == [("/options/0", "unknown-option")]
    assert await shop.state(offer.id) == "issued"


async def test_links_that_are_not_good_all_look_the_same(shop: Office) -> None:
    offer = await offer_of(shop)
    link = tokens.claimed(offer.token)
    async with shop.database.reader(EVERYONE) as connection:
        secret = await tokens.find_secret(connection, link.organisation)
    assert secret is not None
    purpose = tokens.sign(secret, link, "another purpose")
    never_issued = tokens.sign(
        secret, tokens.OfferLink(link.organisation, "quo_" + "0" * 26, link.nonce, link.digest)
    )
    elsewhere = tokens.sign(
        secret, tokens.OfferLink("another", link.quotation, link.nonce, link.digest)
    )
    other_content = tokens.sign(
        secret, tokens.OfferLink(link.organisation, link.quotation, link.nonce, "0" * 32)
    )
    details = set()
    for token in (purpose, never_issued, elsewhere, other_content, offer.token[:-1], "x" * 60):
        for attempt in (shop.offers.get(token), shop.offers.show(token)):
            with pytest.raises(NotFound) as caught:
                await attempt
            details.add((caught.value.detail, caught.value.faults))
        with pytest.raises(NotFound):
            await shop.offers.accept(token, read(Acceptance, offer.choice()))
    assert len(details) == 1
    assert await shop.state(offer.id) == "issued"


async def test_a_new_link_ends_the_old_one(shop: Office) -> None:
    offer = await offer_of(shop)
    renewed = Issued(
        await shop.quotations.renew_link(shop.caller, offer.id, {"if-match": offer.tag})
    )
    assert renewed.link != offer.link
    with pytest.raises(NotFound):
        await shop.accept(offer)
    assert (await shop.accept(renewed))["state"] == "accepted"
    assert await shop.steps(offer.id) == ["drafted", "issued", "link-renewed", "accepted"]


async def test_a_draft_has_no_link(shop: Office) -> None:
    draft = await shop.draft(await shop.estimate())
    assert plain(draft.content)["link"] is None
    with pytest.raises(Conflict) as caught:
        await shop.quotations.renew_link(shop.caller, draft.id, {"if-match": draft.tag})
    assert told(caught.value) == [("", "quotation-draft")]


async def test_of_decisions_at_once_one_wins(shop: Office, loaded_database_url: URL) -> None:
    estimates_made = [await shop.estimate(), await shop.estimate(system="harbour-high-build")]
    offer = await shop.issued(*estimates_made)
    alternates = offer.answer["content"]["alternates"]
    second = Database(loaded_database_url)
    customers = (shop.offers, OfferService(second, shop.clock))
    choices = [
        read(
            Acceptance,
            offer.choice(
                name=f"Customer {turn}",
                alternate=alternates[turn % 2]["id"],
                total=alternates[turn % 2]["offer"]["total"],
            ),
        )
        for turn in range(8)
    ]
    answers = await asyncio.gather(
        *(customers[turn % 2].accept(offer.token, one) for turn, one in enumerate(choices)),
        return_exceptions=True,
    )
    await second.dispose()
    won = [place for place, one in enumerate(answers) if isinstance(one, bytes)]
    lost = [one for one in answers if not isinstance(one, bytes)]
    assert len(won) == 1
    for one in lost:
        assert isinstance(one, Conflict)
        assert told(one) == [("", "quotation-accepted")]
    assert await shop.steps(offer.id) == ["drafted", "issued", "accepted"]
    shown = plain(await shop.offers.get(offer.token))
    assert shown["decision"]["name"] == f"Customer {won[0]}"
    states = [await accepted_revision(shop, one) for one in estimates_made]
    assert states[won[0] % 2] == ("accepted", 1)
    assert states[1 - won[0] % 2] == ("open", None)


async def test_the_same_form_sent_twice_at_once_is_one_decision(
    shop: Office, loaded_database_url: URL
) -> None:
    offer = await offer_of(shop)
    second = Database(loaded_database_url)
    choice = read(Acceptance, offer.choice())
    customers = (shop.offers, OfferService(second, shop.clock))
    answers = await asyncio.gather(
        *(customers[turn % 2].accept(offer.token, choice) for turn in range(6))
    )
    await second.dispose()
    assert len(set(answers)) == 1
    assert await shop.steps(offer.id) == ["drafted", "issued", "accepted"]


async def test_withdrawing_and_accepting_at_once_leave_one_of_the_two(
    shop: Office, loaded_database_url: URL
) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    second = Database(loaded_database_url)
    customer = OfferService(second, shop.clock)
    outcomes = await asyncio.gather(
        withdraw(shop, offer),
        customer.accept(offer.token, read(Acceptance, offer.choice())),
        return_exceptions=True,
    )
    await second.dispose()
    failures = [one for one in outcomes if isinstance(one, BaseException)]
    assert len(failures) == 1
    assert isinstance(failures[0], FilmbuildError)
    state = await shop.state(offer.id)
    assert await shop.steps(offer.id) == ["drafted", "issued", state]
    revision = ("accepted", 1) if state == "accepted" else ("open", None)
    assert await accepted_revision(shop, estimate) == revision


async def test_what_fails_halfway_leaves_nothing(
    shop: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)

    async def fail(*_arguments: object) -> None:
        raise RuntimeError("the estimate cannot be marked")

    with monkeypatch.context() as patched:
        patched.setattr(estimates, "mark_accepted", fail)
        with pytest.raises(RuntimeError, match="cannot be marked"):
            await shop.accept(offer)
    assert await shop.state(offer.id) == "issued"
    assert await shop.steps(offer.id) == ["drafted", "issued"]
    assert (await shop.accept(offer))["state"] == "accepted"
