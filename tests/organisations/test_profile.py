"""What an organisation says of itself, over HTTP and at once."""

import asyncio
import copy
from collections.abc import Iterator
from typing import Any

import pytest
from quotation_cases import PROFILE, Clock, read
from serving import Client, NewDatabase, client_of
from sqlalchemy import URL

from filmbuild.db import Database
from filmbuild.errors import FilmbuildError, PreconditionFailed, PreconditionRequired
from filmbuild.organisations.profile import OrganisationProfile
from filmbuild.organisations.service import OrganisationService, Tagged

PATH = "/v1/organisation"


@pytest.fixture
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with new_sqlite(True) as url, client_of(url) as client:
        yield client


def changed(**more: Any) -> dict[str, Any]:
    return copy.deepcopy(PROFILE) | more


def faults(client: Client, **more: Any) -> list[tuple[str, str]]:
    response = client.put(PATH, json=changed(**more))
    assert response.status_code == 422, response.text
    return [(one["pointer"], one["code"]) for one in response.json()["errors"]]


def test_it_is_made_once_and_changed_by_those_who_read_it(client: Client) -> None:
    assert client.get(PATH).status_code == 404
    assert client.put(PATH, json=PROFILE, headers={"if-match": '"1"'}).status_code == 412
    made = client.put(PATH, json=PROFILE, headers={"if-none-match": "*"})
    assert made.status_code == 201, made.text
    read_again = client.get(PATH)
    assert read_again.content == made.content
    assert read_again.headers["etag"] == made.headers["etag"]
    assert client.put(PATH, json=PROFILE).status_code == 428
    assert client.put(PATH, json=PROFILE, headers={"if-none-match": "*"}).status_code == 412
    tag = {"if-match": made.headers["etag"]}
    renamed = client.put(PATH, json=changed(number_prefix="OFFER-"), headers=tag)
    assert renamed.status_code == 200, renamed.text
    assert renamed.json()["profile"]["number_prefix"] == "OFFER-"
    assert renamed.json()["created_at"] == made.json()["created_at"]
    assert client.put(PATH, json=PROFILE, headers=tag).status_code == 412
    assert client.get(PATH).content == renamed.content


def test_what_is_given_is_what_is_answered(client: Client) -> None:
    profile = changed(
        language="es-MX",
        currency="MXN",
        valid_days=45,
        bank={"account": "DE02 1203 0000 0000 2020 51", "bic": "BYLADEM1001"},
        payment_instructions=["Name the number of the offer."],
        payments=[
            {"id": "deposit", "label": "Deposit", "occasion": "on_acceptance", "percent": "33.333"},
            {"id": "rest", "label": "Rest", "occasion": "on_completion", "due_days": 30},
        ],
    )
    answer = client.put(PATH, json=profile).json()["profile"]
    for name in ("language", "currency", "valid_days", "payment_instructions", "time_zone"):
        assert answer[name] == profile[name]
    assert answer["bank"]["account"] == profile["bank"]["account"]
    assert [one["percent"] for one in answer["payments"]] == ["33.333", None]


@pytest.mark.parametrize("account", ["-", "A1", "BE00  0000", "B" * 35, "BE00 0000 "])
def test_an_account_is_one_that_invoices_can_name(client: Client, account: str) -> None:
    """An IBAN has at most 34 letters and digits (ISO 13616)."""
    answer = client.put(PATH, json=changed(bank={"account": account}))
    assert answer.status_code == 422
    assert [one["pointer"] for one in answer.json()["errors"]] == ["/bank/account"]


def test_the_time_zone_is_a_place(client: Client) -> None:
    assert faults(client, time_zone="Mars/Olympus") == [("/time_zone", "unknown-time-zone")]


@pytest.mark.parametrize("prefix", ["Q1", "A-7", "Q Q", "Q\n", "x" * 21])
def test_a_prefix_that_could_be_part_of_the_number_is_refused(client: Client, prefix: str) -> None:
    ((pointer, _code), *_) = faults(client, number_prefix=prefix)
    assert pointer == "/number_prefix"


@pytest.mark.parametrize(
    ("percents", "expected"),
    [
        (["60", "30"], [("/payments", "short-of-whole")]),
        (["60", "60"], [("/payments/1/percent", "beyond-whole")]),
        (["100", None], [("/payments", "nothing-left")]),
        (["60", None, None], [("/payments/2/percent", "second-rest")]),
    ],
)
def test_payments_come_to_the_whole(
    client: Client, percents: list[str | None], expected: list[tuple[str, str]]
) -> None:
    plan = [
        {"id": f"p{place}", "label": "Part", "occasion": "on_completion", "percent": percent}
        for place, percent in enumerate(percents)
    ]
    assert faults(client, payments=plan) == expected
    assert client.get(PATH).status_code == 404


def test_payments_have_ids_of_their_own(client: Client) -> None:
    one = {"id": "p", "label": "Part", "occasion": "on_completion", "percent": "50"}
    assert faults(client, payments=[one, one]) == [("/payments/1/id", "duplicate-id")]


async def test_of_two_that_make_it_at_once_one_wins(database_url: URL) -> None:
    databases = [Database(database_url), Database(database_url)]
    services = [OrganisationService(one, Clock()) for one in databases]
    profiles = [read(OrganisationProfile, changed(valid_days=days)) for days in (7, 8)]
    outcomes = await asyncio.gather(
        *(one.put("a", profile, {}) for one, profile in zip(services, profiles, strict=True)),
        return_exceptions=True,
    )
    (kept,) = [one for one in outcomes if isinstance(one, Tagged)]
    (lost,) = [one for one in outcomes if isinstance(one, FilmbuildError)]
    assert isinstance(lost, PreconditionFailed | PreconditionRequired)
    assert (await services[0].get("a")).content == kept.content
    for one in databases:
        await one.dispose()
