"""All open estimates at new prices: begun over HTTP, done in the background."""

from collections.abc import Iterator
from contextlib import contextmanager
from decimal import Decimal
from typing import Any

import calling
import msgspec
import pytest
import repricing_cases as cases
import serving
from litestar.testing import TestClient
from serving import Client, NewDatabase, settings_for
from sqlalchemy import URL
from waiting import until

from filmbuild.app import create_app

MANY = 25
JSON = {"content-type": "application/json"}


@contextmanager
def working(url: URL) -> Iterator[Client]:
    with TestClient(create_app(settings_for(url), working=True)) as client:
        client.headers.update(calling.HEADERS)
        yield client


class Case(msgspec.Struct, frozen=True):
    client: Client
    estimates: list[str]
    done: dict[str, Any]


@pytest.fixture(scope="module", params=["sqlite", "postgresql"])
def case(request: pytest.FixtureRequest) -> Iterator[Case]:
    """A repricing of several estimates that is done, on prices twice as high."""
    new_database: NewDatabase = request.getfixturevalue(f"new_{request.param}")
    with new_database(True, loaded=True) as url:
        with serving.client_of(url) as quiet:
            estimates = cases.make(quiet, MANY)
        cases.raise_prices(url)
        with working(url) as client:
            begun = cases.begin(client, minimum_margin_percent="99")
            assert begun["estimates"] == MANY
            until(lambda: cases.state(client, begun["id"])["state"] in cases.OVER)
            yield Case(client, estimates, cases.state(client, begun["id"]))


def test_each_estimate_gets_one_revision_with_the_cause(case: Case) -> None:
    assert (case.done["state"], case.done["done"], case.done["repriced"]) == ("done", MANY, MANY)
    for estimate in case.estimates:
        now, was = cases.revisions(case.client, estimate)
        assert (now["revision"], now["cause"], now["cause_id"]) == (
            2,
            "Dearer resin",
            case.done["id"],
        )
        assert (was["catalogue_revision"], now["catalogue_revision"]) == (1, 2)
        assert Decimal(now["total"]["amount"]) > Decimal(was["total"]["amount"])


def all_estimates(client: Client, name: str, **query: Any) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    page = client.get(f"/v1/repricings/{name}/estimates", params={"limit": 10, **query})
    while True:
        assert page.status_code == 200, page.text
        found.extend(page.json()["items"])
        if "next" not in page.links:
            return found
        page = client.get(page.links["next"]["url"])


def test_the_summary_is_the_sum_of_the_estimates(case: Case) -> None:
    lines = all_estimates(case.client, case.done["id"])
    assert [one["sequence"] for one in lines] == list(range(1, MANY + 1))
    assert sorted(one["estimate"] for one in lines) == sorted(case.estimates)
    (change,) = case.done["changes"]
    for side in ("was", "now"):
        total = sum(Decimal(one[side]["total"]["amount"]) for one in lines)
        assert Decimal(change[side]["amount"]) == total
    difference = Decimal(change["difference"]["amount"])
    assert difference == Decimal(change["now"]["amount"]) - Decimal(change["was"]["amount"])
    assert (change["estimates"], change["raised"], change["lowered"]) == (MANY, MANY, 0)
    share = Decimal(change["difference_percent"]) / 100 * Decimal(change["was"]["amount"])
    assert abs(share - difference) < Decimal("0.0001") * Decimal(change["was"]["amount"])


def test_estimates_below_the_margin_are_counted_and_shown(case: Case) -> None:
    """The example is priced at a margin far below 99 %."""
    assert case.done["below_margin"] == MANY
    name = case.done["id"]
    assert len(all_estimates(case.client, name, below_margin="true")) == MANY
    assert all_estimates(case.client, name, below_margin="false") == []
    assert all_estimates(case.client, name, outcome="refused") == []


def test_repeating_it_changes_nothing_more(case: Case) -> None:
    again = cases.begin(case.client)
    until(lambda: cases.state(case.client, again["id"])["state"] in cases.OVER)
    found = cases.state(case.client, again["id"])
    assert (found["done"], found["unchanged"], found["repriced"]) == (MANY, MANY, 0)
    assert found["changes"] == []
    assert len(cases.revisions(case.client, case.estimates[0])) == 2


def test_the_same_key_begins_it_once(case: Case) -> None:
    body = {"note": "Once", "estimates": {"ids": case.estimates[:1]}}
    headers = {"idempotency-key": "reprice-once"}
    first = case.client.post("/v1/repricings", json=body, headers=headers)
    second = case.client.post("/v1/repricings", json=body, headers=headers)
    assert first.status_code == second.status_code == 202
    assert first.json()["id"] == second.json()["id"]
    other = case.client.post("/v1/repricings", json={"note": "Other"}, headers=headers)
    assert other.status_code == 422


@pytest.mark.parametrize(
    ("choice", "many"),
    [
        ({"reference": "case-3"}, 1),
        ({"currency": "USD"}, MANY),
        ({"currency": "EUR"}, 0),
        ({"system": "no-such-system"}, 0),
        ({"computed_before": 2}, 0),
    ],
)
def test_which_estimates_are_chosen(case: Case, choice: dict[str, Any], many: int) -> None:
    assert cases.begin(case.client, estimates=choice)["estimates"] == many


def test_one_of_none_is_done_at_once(case: Case) -> None:
    begun = cases.begin(case.client, estimates={"reference": "none"})
    until(lambda: cases.state(case.client, begun["id"])["state"] == "done")


def test_what_is_done_is_neither_stopped_nor_resumed(case: Case) -> None:
    for what in ("stop", "resume"):
        assert case.client.post(f"/v1/repricings/{case.done['id']}/{what}").status_code == 409


@pytest.mark.parametrize(
    ("body", "pointers"),
    [
        ({}, ["/note"]),
        ({"note": "x", "catalogue_revision": 9}, ["/catalogue_revision"]),
        (
            {"note": "x", "priced_on": "soon", "minimum_margin_percent": 5, "estimate": {}},
            ["/estimate", "/minimum_margin_percent", "/priced_on"],
        ),
        ({"note": "x", "estimates": {"ids": ["est_" + "0" * 26]}}, ["/estimates/ids/0"]),
        ({"note": "x", "estimates": {"ids": []}}, ["/estimates/ids"]),
    ],
)
def test_what_is_wrong_is_told_all_at_once(
    case: Case, body: dict[str, Any], pointers: list[str]
) -> None:
    before = case.client.get("/v1/repricings").json()
    response = case.client.post("/v1/repricings", json=body)
    assert response.status_code == 422
    assert sorted(one["pointer"] for one in response.json()["errors"]) == pointers
    assert case.client.get("/v1/repricings").json() == before


def test_unknown_ones_are_not_found(case: Case) -> None:
    name = "rep_" + "0" * 26
    for method, path in [
        ("GET", ""),
        ("GET", "/estimates"),
        ("GET", "/events"),
        ("POST", "/stop"),
        ("POST", "/resume"),
    ]:
        assert case.client.request(method, f"/v1/repricings/{name}{path}").status_code == 404


def test_the_list_has_the_newest_first(case: Case) -> None:
    begun = cases.begin(case.client, estimates={"reference": "none"})
    page = case.client.get("/v1/repricings", params={"limit": 1})
    assert [one["id"] for one in page.json()["items"]] == [begun["id"]]
    second = case.client.get(page.links["next"]["url"]).json()
    assert second["items"][0]["created_at"] <= begun["created_at"]
