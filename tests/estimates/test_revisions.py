"""Revisions over HTTP, on the demo catalogue: made, listed, read, and refused."""

import json
from collections.abc import Iterator
from typing import Any

import httpx
import pytest
from calling import KEY_ID
from revision_cases import asked, of_length
from serving import Client, NewDatabase, serving

JSON = {"content-type": "application/json"}


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


@pytest.fixture
def made(client: Client) -> httpx.Response:
    response = client.post("/v1/estimates", json={**asked(), "reference": "Hall"})
    assert response.status_code == 201, response.text
    return response


def revise(
    client: Client, where: str, body: dict[str, Any], tag: str | None, **headers: str
) -> httpx.Response:
    if tag is not None:
        headers["if-match"] = tag
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    wrapped = {"request": body, "cause": "Measured again"}
    return client.post(f"{where}/revisions", json=wrapped, headers=named)


def faults(response: httpx.Response, status: int) -> list[tuple[str, str]]:
    assert response.status_code == status, response.text
    assert response.headers["content-type"] == "application/problem+json"
    return [(one["pointer"], one["code"]) for one in response.json()["errors"]]


def test_the_request_is_kept_as_it_came(client: Client) -> None:
    """Written anew, lengths of more digits than answers have would find other figures."""
    body = asked()
    body["site"]["areas"][0]["outline"]["length"] = "7.123456789012345 m"
    made = client.post("/v1/estimates", content=json.dumps(body, indent=3), headers=JSON).json()
    assert made["request"] == body
    again = client.post("/v1/calculations", json=made["request"])
    assert again.json() == made["document"]
    where = f"/v1/estimates/{made['id']}/revisions/1"
    assert client.post(f"{where}/recomputation").json()["same"] is True


def test_a_new_estimate_is_its_first_revision(client: Client, made: httpx.Response) -> None:
    estimate, where = made.json(), made.headers["location"]
    assert (estimate["revision"], estimate["revisions"], estimate["state"]) == (1, 1, "open")
    assert estimate["accepted_revision"] is None
    assert estimate["revised_at"] == estimate["created_at"]
    tags = {client.get(path).headers["etag"] for path in (where, f"{where}/revisions")}
    assert tags == {made.headers["etag"]}
    (first,) = client.get(f"{where}/revisions").json()["items"]
    assert (first["revision"], first["cause"], first["actor"]) == (1, None, KEY_ID)
    assert first["priced_on"] == estimate["document"]["priced_on"]
    assert first["total"] == estimate["document"]["price"]["total"]


def test_a_revision_is_added_and_the_one_before_stays(client: Client, made: httpx.Response) -> None:
    where = made.headers["location"]
    longer = {**of_length(30), "reference": "Long hall"}
    added = revise(client, where, longer, made.headers["etag"])
    assert added.status_code == 201, added.text
    assert added.headers["location"] == f"{where}/revisions/2"
    assert client.get(f"{where}/revisions/2").content == added.content
    second = added.json()
    assert (second["estimate"], second["revision"]) == (made.json()["id"], 2)
    assert (second["cause"], second["cause_id"]) == ("Measured again", None)
    assert second["request"] == longer
    assert second["document"] == client.post("/v1/calculations", json=longer).json()
    first = client.get(f"{where}/revisions/1").json()
    assert first["document"] == made.json()["document"]
    latest = client.get(where)
    assert latest.headers["etag"] == added.headers["etag"] != made.headers["etag"]
    shown = latest.json()
    assert shown["document"] == second["document"]
    assert (shown["revision"], shown["revisions"], shown["reference"]) == (2, 2, "Long hall")
    assert (shown["created_at"], shown["revised_at"]) == (
        made.json()["created_at"],
        second["created_at"],
    )
    (line, *_) = client.get("/v1/estimates?limit=1").json()["items"]
    assert (line["id"], line["revisions"]) == (shown["id"], 2)
    assert line["total"] == second["document"]["price"]["total"]


def test_a_revision_says_what_it_was_made_from(client: Client, made: httpx.Response) -> None:
    where, old = made.headers["location"], made.headers["etag"]
    assert revise(client, where, of_length(30), None).status_code == 428
    assert revise(client, where, of_length(30), '"r7"').status_code == 412
    assert revise(client, where, of_length(30), f"W/{old}").status_code in (412, 422)
    assert client.get(where).json()["revisions"] == 1
    assert revise(client, where, of_length(30), old).status_code == 201
    assert revise(client, where, of_length(31), old).status_code == 412
    assert revise(client, where, of_length(31), "*").status_code == 201
    assert client.get(where).json()["revisions"] == 3


def test_a_key_makes_revising_repeatable(client: Client, made: httpx.Response) -> None:
    """A caller that got no answer still has the old tag."""
    where, tag = made.headers["location"], made.headers["etag"]
    key = f"key-{made.json()['id']}"
    first = revise(client, where, of_length(30), tag, idempotency_key=key)
    assert first.status_code == 201, first.text
    again = revise(client, where, of_length(30), tag, idempotency_key=key)
    assert (again.status_code, again.content) == (201, first.content)
    assert again.headers["location"] == first.headers["location"]
    assert again.headers["etag"] == first.headers["etag"]
    other = revise(client, where, of_length(31), tag, idempotency_key=key)
    assert faults(other, 422) == [("", "idempotency-key-reused")]
    assert client.get(where).json()["revisions"] == 2


def test_creating_is_repeated_as_it_was_though_the_estimate_was_revised(client: Client) -> None:
    body, headers = {**asked(), "reference": "First"}, {"idempotency-key": "before-revising"}
    first = client.post("/v1/estimates", json=body, headers=headers)
    where = first.headers["location"]
    second = {**of_length(30), "reference": "Second"}
    assert revise(client, where, second, first.headers["etag"]).status_code == 201
    again = client.post("/v1/estimates", json=body, headers=headers)
    assert again.content == first.content
    assert again.headers["etag"] == first.headers["etag"]
    assert client.get(where).json()["reference"] == "Second"


def test_faults_are_pointed_at_within_the_body(client: Client, made: httpx.Response) -> None:
    where, tag = made.headers["location"], made.headers["etag"]
    body = asked()
    body["job"]["system"] = "harbour-unknown"
    assert faults(revise(client, where, body, tag), 422)[0][0] == "/request/job/system"
    body = {**asked(), "catalogue_revision": 9}
    assert faults(revise(client, where, body, tag), 422) == [
        ("/request/catalogue_revision", "unknown-revision")
    ]
    body = asked()
    body["site"]["areas"][0]["outline"]["length"] = "3 kg"
    assert faults(revise(client, where, body, tag), 422) == [
        ("/request/site/areas/0/outline/length", "wrong-dimension")
    ]
    for cause in ({}, {"cause": ""}, {"cause": "a\u0000b"}):
        wrapped = {"request": asked(), **cause}
        response = client.post(f"{where}/revisions", json=wrapped, headers={"if-match": tag})
        assert [pointer for pointer, _ in faults(response, 422)] == ["/cause"]
    assert client.get(where).json()["revisions"] == 1


def test_what_is_not_there_is_not_found(client: Client, made: httpx.Response) -> None:
    where, nowhere = made.headers["location"], "/v1/estimates/est_" + "0" * 26
    for path in (
        f"{where}/revisions/2",
        f"{where}/revisions/0",
        f"{where}/revisions/x",
        f"{where}/revisions/999999999",
        f"{where}/revisions/99999999999999999999",
        f"{nowhere}/revisions",
        f"{nowhere}/revisions/1",
        f"{nowhere}/differences",
    ):
        faults(client.get(path), 404)
    faults(client.post(f"{where}/revisions/2/recomputation"), 404)
    faults(client.post(f"{nowhere}/revisions/1/recomputation"), 404)
    faults(revise(client, nowhere, asked(), '"r1"'), 404)


def test_revisions_are_listed_newest_first_and_in_pages(
    client: Client, made: httpx.Response
) -> None:
    where = made.headers["location"]
    for feet in (30, 31, 32, 33):
        assert revise(client, where, of_length(feet), "*").status_code == 201
    seen: list[int] = []
    following = f"{where}/revisions?limit=2"
    while following:
        page = client.get(following)
        seen += [one["revision"] for one in page.json()["items"]]
        following = page.links["next"]["url"] if "next" in page.links else ""
    assert seen == [5, 4, 3, 2, 1]
    other = client.post("/v1/estimates", json=asked()).headers["location"]
    cursor = client.get(f"{where}/revisions?limit=2").json()["next"]
    refused = client.get(f"{other}/revisions?limit=2&cursor={cursor}")
    assert faults(refused, 422) == [("/cursor", "invalid-cursor")]


def test_estimates_are_found_by_reference_and_state(client: Client) -> None:
    made = client.post("/v1/estimates", json={**asked(), "reference": "Boat & slip"}).json()
    found = client.get("/v1/estimates", params={"reference": "Boat & slip"}).json()["items"]
    assert [one["id"] for one in found] == [made["id"]]
    assert client.get("/v1/estimates?state=accepted").json()["items"] == []
    assert made["id"] in [
        one["id"] for one in client.get("/v1/estimates?state=open").json()["items"]
    ]
    assert faults(client.get("/v1/estimates?state=closed"), 422)[0][0] == "/state"


def test_differences_are_told_between_any_two_revisions(
    client: Client, made: httpx.Response
) -> None:
    where = made.headers["location"]
    revise(client, where, of_length(30), "*")
    revise(client, where, of_length(30, margin_percent="25"), "*")
    last = client.get(f"{where}/differences").json()
    assert (last["from_revision"], last["to_revision"]) == (2, 3)
    assert last["asked"] == [{"pointer": "/job/terms/margin_percent", "was": "20", "now": "25"}]
    assert set(last["differences"]["by_cause"]) == {"rate"}
    whole = client.get(f"{where}/differences?from_revision=1&to_revision=3").json()["differences"]
    totals = [one["total"] for one in client.get(f"{where}/revisions").json()["items"]]
    cents = round(float(totals[0]["amount"]) * 100) - round(float(totals[2]["amount"]) * 100)
    added = sum(
        round(float(one["amount"]["amount"]) * 100) for one in (*whole["lines"], *whole["terms"])
    )
    assert cents == added == round(float(whole["total"]["amount"]) * 100) != 0
    none = client.get(f"{where}/differences?from_revision=2&to_revision=2").json()
    assert (none["asked"], none["differences"]["lines"]) == ([], [])
    for side, number in (("from", 4), ("to", 4), ("from", 0)):
        refused = client.get(f"{where}/differences?{side}_revision={number}")
        assert [one for one, _ in faults(refused, 422)] == [f"/{side}_revision"]


def test_a_first_revision_differs_in_nothing_from_what_was_before(
    client: Client, made: httpx.Response
) -> None:
    found = client.get(f"{made.headers['location']}/differences").json()
    assert (found["from_revision"], found["to_revision"]) == (1, 1)
    assert found["differences"]["total"]["amount"] == "0.00"


def test_revisions_in_different_currencies_have_no_difference(
    client: Client, made: httpx.Response
) -> None:
    where, body = made.headers["location"], asked()
    body["job"] |= {"currency": "EUR", "rate_book": "main-eur"}
    assert revise(client, where, body, "*").status_code == 201
    assert faults(client.get(f"{where}/differences"), 422) == [("", "different-currencies")]
