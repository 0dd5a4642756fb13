"""Drafts and what is issued of them, on both engines."""

import asyncio
from collections.abc import AsyncIterator
from datetime import UTC, datetime, timedelta
from typing import Any

import msgspec
import pytest
from quotation_cases import BUYER, PROFILE, Issued, Office, office, plain, quotation_body, read
from sqlalchemy import URL

from filmbuild.db import Database
from filmbuild.edge.operations import Caller
from filmbuild.errors import Conflict, InvalidInput, NotFound, PreconditionFailed
from filmbuild.organisations.profile import OrganisationProfile
from filmbuild.quotations.service import Answered
from filmbuild.quotations.wire import QuotationRequest

_NOWHERE = "est_" + "0" * 26


@pytest.fixture
async def shop(loaded_database_url: URL) -> AsyncIterator[Office]:
    async with office(loaded_database_url) as opened:
        yield opened


def content_of(answered: Answered) -> dict[str, Any]:
    content: dict[str, Any] = plain(answered.content)["content"]
    return content


async def refused(shop: Office, body: dict[str, Any]) -> list[tuple[str, str]]:
    with pytest.raises(InvalidInput) as caught:
        await shop.quotations.create(shop.caller, read(QuotationRequest, body), None)
    return [(one.pointer, one.code) for one in caught.value.faults]


async def test_a_draft_shows_what_the_estimate_found(shop: Office) -> None:
    estimate = await shop.estimate()
    made = plain((await shop.estimates.get(shop.caller.organisation, estimate)).content)
    document = made["document"]
    answer = plain((await shop.draft(estimate, reference="Hall, second visit")).content)
    content = answer["content"]
    (alternate,) = content["alternates"]
    assert (answer["state"], answer["number"], answer["link"]) == ("draft", None, None)
    assert (content["number"], content["issued_on"]) == (None, None)
    assert content["seller"]["name"] == PROFILE["seller"]["name"]
    assert content["buyer"]["name"] == BUYER["name"]
    assert content["reference"] == "Hall, second visit"
    # 24.5 ft by 18 ft
    assert alternate["areas"][0]["floor"] == {"value": 441.0, "unit": "ft2"}
    assert alternate["offer"]["total"] == document["price"]["total"]
    assert alternate["dates"]["first_day"] == document["schedule"]["first_day"]
    assert alternate["dates"]["foot_traffic_from"] == document["schedule"]["foot_traffic_from"]
    assert alternate["dates"]["visits"] == 1
    assert [one["name"] for one in alternate["layers"]]
    assert alternate["drawing"].startswith("<svg")
    assert alternate["chart"].startswith("<svg")
    (costs,) = answer["costs"]
    assert costs["cost"] == document["price"]["cost"]
    assert costs["margin_percent"] == document["price"]["margin_percent"] == "20.00"


async def test_a_revision_of_an_estimate_can_be_named(shop: Office) -> None:
    estimate = await shop.estimate()
    await shop.revise_estimate(estimate, start="2026-09-14")
    body = quotation_body(estimate)
    body["estimates"][0]["revision"] = 1
    early = content_of(
        await shop.quotations.create(shop.caller, read(QuotationRequest, body), None)
    )
    late = content_of(await shop.draft(estimate))
    assert early["alternates"][0]["dates"]["first_day"] == "2026-09-08"
    assert late["alternates"][0]["dates"]["first_day"] == "2026-09-14"
    assert late["alternates"][0]["estimate_revision"] == 2


async def test_only_cautions_that_have_words_for_customers_are_shown(shop: Office) -> None:
    content = content_of(await shop.draft(await shop.estimate()))
    shown = {one["code"]: one for one in content["alternates"][0]["cautions"]}
    assert "exotherm" not in shown
    assert {"slip-resistance", "respirable-silica", "isocyanate"} <= shown.keys()
    assert shown["slip-resistance"]["source"] == "ANSI A326.3-2021"
    # two machines, one caution with both entries of the table
    assert shown["respirable-silica"]["source"].count("29 CFR 1926.1153, Table 1") == 2
    assert all("stand" in one["detail"] for one in shown.values())


async def test_texts_are_those_of_the_language_and_of_the_quotation(shop: Office) -> None:
    estimate = await shop.estimate()
    english = content_of(await shop.draft(estimate))["texts"]
    spanish = content_of(await shop.draft(estimate, language="es-MX"))
    own = content_of(await shop.draft(estimate, texts={"scope": ["As agreed by telephone."]}))
    assert spanish["language"] == "es-MX"
    assert spanish["texts"]["scope"] != english["scope"]
    assert spanish["alternates"][0]["cautions"][0]["title"].startswith("El suelo")
    assert own["texts"] == english | {"scope": ["As agreed by telephone."]}
    assert await refused(shop, quotation_body(estimate, language="fi")) == [
        ("/language", "no-texts-in-language")
    ]


async def test_every_fault_is_told_at_once(shop: Office) -> None:
    estimate = await shop.estimate()
    euro = await shop.estimate(currency="EUR", rate_book="main-eur", crew=[], start="2026-09-08")
    body = quotation_body(estimate, _NOWHERE, estimate, euro)
    body["estimates"][2] |= {"id": "way-0", "revision": 9}
    body |= {
        "valid_until": "2026-08-31",
        "payments": [
            {"id": "a", "label": "Deposit", "occasion": "on_acceptance", "percent": "60"},
            {"id": "a", "label": "Rest", "occasion": "on_completion", "percent": "30"},
        ],
    }
    assert await refused(shop, body) == [
        ("/payments/1/id", "duplicate-id"),
        ("/payments", "short-of-whole"),
        ("/valid_until", "in-the-past"),
        ("/estimates/1/estimate", "unknown-estimate"),
        ("/estimates/2/id", "repeated-id"),
        ("/estimates/2/revision", "unknown-estimate"),
        ("/estimates/3/estimate", "other-currency"),
    ]
    both = quotation_body(estimate, valid_until="2026-09-30", valid_days=3)
    assert await refused(shop, both) == [("/valid_days", "two-validities")]
    far = quotation_body(estimate, valid_until="9999-12-31")
    assert await refused(shop, far) == [("/valid_until", "too-far-ahead")]


async def test_an_organisation_describes_itself_first(shop: Office) -> None:
    other = Office(shop.database, shop.clock, Caller(organisation="another", actor="ann"))
    assert await refused(other, quotation_body(_NOWHERE)) == [("", "organisation-not-described")]


async def test_organisations_do_not_meet(shop: Office) -> None:
    estimate = await shop.estimate()
    draft = await shop.draft(estimate)
    other = Office(shop.database, shop.clock, Caller(organisation="another", actor="ann"))
    profile = read(OrganisationProfile, PROFILE)
    await other.organisations.put("another", profile, {})
    assert await refused(other, quotation_body(estimate)) == [
        ("/estimates/0/estimate", "unknown-estimate")
    ]
    for attempt in (
        other.quotations.get("another", draft.id),
        other.quotations.issue(other.caller, draft.id, {"if-match": "*"}),
        other.quotations.withdraw(other.caller, draft.id, None, {"if-match": "*"}),
    ):
        with pytest.raises(NotFound):
            await attempt
    assert await shop.state(draft.id) == "draft"


async def test_issuing_adds_number_and_days_and_changes_nothing_else(shop: Office) -> None:
    draft = await shop.draft(await shop.estimate())
    before = content_of(draft)
    shop.clock.now += timedelta(days=3)
    issued = Issued(await shop.issue(draft))
    after = issued.answer["content"]
    assert after == before | {
        "number": "Q-0001",
        "issued_on": "2026-09-04",
        "valid_until": "2026-09-18",
    }
    assert (issued.answer["number"], issued.answer["valid_until"]) == ("Q-0001", "2026-09-18")
    assert plain(await shop.offers.get(issued.token))["content"] == after


async def test_a_last_day_that_was_fixed_stays(shop: Office) -> None:
    estimate = await shop.estimate()
    draft = await shop.draft(estimate, valid_until="2026-09-10")
    late = await shop.draft(estimate, valid_until="2026-09-10")
    shop.clock.now += timedelta(days=9)
    assert Issued(await shop.issue(draft)).answer["valid_until"] == "2026-09-10"
    shop.clock.now += timedelta(days=1)
    with pytest.raises(Conflict) as caught:
        await shop.issue(late)
    assert [one.code for one in caught.value.faults] == ["validity-passed"]
    # and no number was taken by what failed
    assert Issued(await shop.issue(await shop.draft(estimate))).answer["number"] == "Q-0002"


async def test_what_is_issued_is_fixed_for_good(shop: Office) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    before = await shop.offers.get(offer.token)
    await shop.revise_estimate(estimate, system="harbour-high-build")
    await shop.describe(seller={"name": "Renamed (demo data)", "address": {"country": "US"}})
    assert await shop.offers.get(offer.token) == before
    assert (await shop.accept(offer))["content"] == plain(before)["content"]


async def test_a_stale_tag_issues_nothing(shop: Office) -> None:
    draft = await shop.draft(await shop.estimate())
    await shop.issue(draft)
    with pytest.raises(PreconditionFailed):
        await shop.issue(draft)
    with pytest.raises(Conflict) as caught:
        await shop.quotations.issue(shop.caller, draft.id, {"if-match": "*"})
    assert [one.code for one in caught.value.faults] == ["quotation-issued"]
    assert await shop.steps(draft.id) == ["drafted", "issued"]


async def test_numbers_follow_the_profile(shop: Office) -> None:
    estimate = await shop.estimate()
    await shop.describe(number_prefix="2026/AB-", number_digits=6, first_number=417)
    numbers = [(await shop.issued(estimate)).answer["number"] for _ in range(2)]
    await shop.describe(number_prefix="", number_digits=1, first_number=9)
    numbers.append((await shop.issued(estimate)).answer["number"])
    assert numbers == ["2026/AB-000417", "2026/AB-000418", "419"]


async def test_twenty_issued_at_once_have_consecutive_numbers(
    shop: Office, loaded_database_url: URL
) -> None:
    estimate = await shop.estimate()
    drafts = [await shop.draft(estimate) for _ in range(20)]
    second = Database(loaded_database_url)
    offices = (shop, Office(second, shop.clock))
    answers = await asyncio.gather(
        *(offices[turn % 2].issue(draft) for turn, draft in enumerate(drafts))
    )
    await second.dispose()
    numbers = sorted(plain(one.content)["number"] for one in answers)
    assert numbers == [f"Q-{number:04d}" for number in range(1, 21)]
    assert len({plain(one.content)["link"] for one in answers}) == 20


async def test_the_new_takes_the_place_of_the_old_when_it_is_issued(shop: Office) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    draft = await shop.revise(offer.id, estimate, reference="Second offer")
    rival = await shop.revise(offer.id, estimate)
    assert plain(draft.content)["supersedes"] == offer.id
    assert await shop.state(offer.id) == "issued"
    newer = Issued(await shop.issue(draft))
    old = plain((await shop.quotations.get(shop.caller.organisation, offer.id)).content)
    assert (old["state"], old["superseded_by"]) == ("superseded", newer.id)
    assert await shop.steps(offer.id) == ["drafted", "issued", "superseded"]
    with pytest.raises(Conflict) as caught:
        await shop.issue(rival)
    assert [one.code for one in caught.value.faults] == ["quotation-superseded"]
    assert await shop.state(rival.id) == "draft"
    assert newer.answer["number"] == "Q-0002"


async def test_an_accepted_offer_is_not_superseded(shop: Office) -> None:
    estimate = await shop.estimate()
    offer = await shop.issued(estimate)
    draft = await shop.revise(offer.id, estimate)
    await shop.accept(offer)
    for attempt in (shop.issue(draft), shop.revise(offer.id, estimate)):
        with pytest.raises(Conflict) as caught:
            await attempt
        assert [one.code for one in caught.value.faults] == ["quotation-accepted"]
    assert await shop.state(offer.id) == "accepted"
    assert await shop.state(draft.id) == "draft"


async def test_alternates_say_what_each_has_over_the_others(shop: Office) -> None:
    thin = await shop.estimate()
    thick = await shop.estimate(system="harbour-high-build")
    first, second = content_of(await shop.draft(thin, thick))["alternates"]
    less = float(second["offer"]["total"]["amount"]) - float(first["offer"]["total"]["amount"])
    assert first["gains"][0] == f"${less:,.2f} less than any other offer here."
    assert any(one.startswith("The thickest film: ") for one in second["gains"])
    ids = [one["drawing"].split('aria-labelledby="')[1].split(" ")[0] for one in (first, second)]
    assert len(set(ids)) == 2
    spanish = content_of(await shop.draft(thin, thick, language="es"))["alternates"]
    assert [len(one["gains"]) for one in spanish] == [len(one["gains"]) for one in (first, second)]
    assert "menos que cualquier otra" in spanish[0]["gains"][0]
    alone = content_of(await shop.draft(thin))["alternates"]
    assert alone[0]["gains"] == []


async def test_payments_are_the_profiles_unless_the_quotation_has_its_own(shop: Office) -> None:
    plan = [
        {"id": "deposit", "label": "Deposit", "occasion": "on_acceptance", "percent": "30"},
        {"id": "rest", "label": "On completion", "occasion": "on_completion", "due_days": 14},
    ]
    await shop.describe(payments=plan, payment_instructions=["Name the number."])
    estimate = await shop.estimate()
    content = content_of(await shop.draft(estimate))
    offer = content["alternates"][0]["offer"]
    assert content["texts"]["payment"][-1] == "Name the number."
    assert [one["id"] for one in offer["payments"]] == ["deposit", "rest"]
    amounts = [round(float(one["total"]["amount"]) * 100) for one in offer["payments"]]
    assert sum(amounts) == round(float(offer["total"]["amount"]) * 100)
    none = content_of(await shop.draft(estimate, payments=[]))["alternates"][0]["offer"]
    assert none["payments"] == []


async def test_moments_are_those_of_the_clock(shop: Office) -> None:
    shop.clock.now = datetime(2026, 9, 2, 3, 30, tzinfo=UTC)  # the evening before in Chicago
    draft = await shop.draft(await shop.estimate())
    issued = Issued(await shop.issue(draft))
    assert issued.answer["content"]["issued_on"] == "2026-09-01"
    assert issued.answer["valid_until"] == "2026-09-15"
    (first, second) = await shop.history(issued.id)
    assert first["at"] == second["at"] == "2026-09-02T03:30:00Z"
    assert msgspec.json.encode(second["detail"]["number"]) == b'"Q-0001"'
