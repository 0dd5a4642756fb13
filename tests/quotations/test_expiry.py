"""The last day of an offer, by the organisation's clock."""

from collections.abc import AsyncIterator
from datetime import UTC, datetime, timedelta

import pytest
from quotation_cases import NOON, Issued, Office, office, plain
from sqlalchemy import URL

from filmbuild.errors import Conflict
from filmbuild.quotations.content import QuotationState
from filmbuild.quotations.wire import QuotationQuery

# the last moments of 15 September 2026 in Chicago, five hours behind UTC then
LAST = datetime(2026, 9, 16, 4, 59, 59, tzinfo=UTC)
FIRST_AFTER = LAST + timedelta(seconds=1)


@pytest.fixture
async def shop(loaded_database_url: URL) -> AsyncIterator[Office]:
    async with office(loaded_database_url) as opened:
        yield opened


async def offer_of(shop: Office) -> Issued:
    offer = await shop.issued(await shop.estimate())
    assert offer.answer["valid_until"] == "2026-09-15"
    return offer


async def listed(shop: Office, state: QuotationState) -> list[str]:
    query = QuotationQuery(state=state)
    page = await shop.quotations.find(shop.caller.organisation, query, "/v1/quotations")
    return [one.id for one in page.items]


async def test_it_is_open_until_the_end_of_its_last_day_there(shop: Office) -> None:
    offer = await offer_of(shop)
    shop.clock.now = LAST
    assert (await shop.accept(offer))["state"] == "accepted"


async def test_the_first_to_meet_its_end_records_it_once(shop: Office) -> None:
    offer = await offer_of(shop)
    shop.clock.now = FIRST_AFTER
    assert plain(await shop.offers.get(offer.token))["state"] == "expired"
    assert await shop.state(offer.id) == "expired"
    shop.clock.now += timedelta(days=1)
    assert await shop.state(offer.id) == "expired"
    (*_, last) = await shop.history(offer.id)
    assert await shop.steps(offer.id) == ["drafted", "issued", "expired"]
    assert (last["at"], last["actor"]) == ("2026-09-16T05:00:00Z", "service")
    assert last["detail"] == {"valid_until": "2026-09-15"}


async def test_accepting_too_late_records_it_too(shop: Office) -> None:
    offer = await offer_of(shop)
    shop.clock.now = FIRST_AFTER
    with pytest.raises(Conflict) as caught:
        await shop.accept(offer)
    assert [one.code for one in caught.value.faults] == ["quotation-expired"]
    assert await shop.steps(offer.id) == ["drafted", "issued", "expired"]


async def test_a_clock_that_is_set_back_opens_nothing_again(shop: Office) -> None:
    offer = await offer_of(shop)
    shop.clock.now = FIRST_AFTER
    assert await shop.state(offer.id) == "expired"
    shop.clock.now = NOON
    with pytest.raises(Conflict) as caught:
        await shop.accept(offer)
    assert [one.code for one in caught.value.faults] == ["quotation-expired"]
    assert await shop.state(offer.id) == "expired"
    assert [one["position"] for one in await shop.history(offer.id)] == [1, 2, 3]


async def test_lists_know_what_nobody_has_met_yet(shop: Office) -> None:
    offer = await offer_of(shop)
    draft = await shop.draft(await shop.estimate())
    assert await listed(shop, "issued") == [offer.id]
    shop.clock.now = FIRST_AFTER
    assert await listed(shop, "issued") == []
    assert await listed(shop, "expired") == [offer.id]
    assert await listed(shop, "draft") == [draft.id]
    assert await shop.steps(offer.id) == ["drafted", "issued", "expired"]


async def test_an_expired_offer_can_be_made_anew(shop: Office) -> None:
    offer = await offer_of(shop)
    shop.clock.now = FIRST_AFTER
    renewed = await shop.revise(offer.id, await shop.estimate())
    await shop.issue(renewed)
    assert await shop.steps(offer.id) == ["drafted", "issued", "expired", "superseded"]


async def test_withdrawing_too_late_is_refused(shop: Office) -> None:
    offer = await offer_of(shop)
    shop.clock.now = FIRST_AFTER
    with pytest.raises(Conflict) as caught:
        await shop.quotations.withdraw(shop.caller, offer.id, None, {"if-match": "*"})
    assert [one.code for one in caught.value.faults] == ["quotation-expired"]
