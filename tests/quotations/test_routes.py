"""Quotations over HTTP: what sellers and customers send, and what they are answered."""

from collections.abc import Iterator
from typing import Any

import pytest
from quotation_cases import PROFILE, estimate_body, quotation_body
from serving import Client, NewDatabase, serving

FORM = {"content-type": "application/x-www-form-urlencoded"}


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        assert client.put("/v1/organisation", json=PROFILE).status_code == 201
        client.follow_redirects = False
        yield client


@pytest.fixture(scope="module")
def estimate(client: Client) -> str:
    made = client.post("/v1/estimates", json=estimate_body())
    assert made.status_code == 201, made.text
    identity: str = made.json()["id"]
    return identity


@pytest.fixture
def offer(client: Client, estimate: str) -> dict[str, Any]:
    """An issued quotation."""
    draft = client.post("/v1/quotations", json=quotation_body(estimate))
    assert draft.status_code == 201, draft.text
    tag = {"if-match": draft.headers["etag"]}
    answer = client.post(f"{draft.headers['location']}/issue", headers=tag)
    assert answer.status_code == 200, answer.text
    issued: dict[str, Any] = answer.json()
    return issued


def codes(response: Any, status: int) -> list[tuple[str, str]]:
    assert response.status_code == status, response.text
    assert response.headers["content-type"] == "application/problem+json"
    return [(one["pointer"], one["code"]) for one in response.json()["errors"]]


def fields(offer: dict[str, Any], **more: str) -> dict[str, str]:
    total = offer["content"]["alternates"][0]["offer"]["total"]
    text = f"{total['amount']} {total['currency']}"
    return {"name": "A. Sample", "alternate": "way-0", "total": text, **more}


def test_the_same_key_drafts_once(client: Client, estimate: str) -> None:
    body = quotation_body(estimate, reference="Once")
    key = {"idempotency-key": "draft-1"}
    first = client.post("/v1/quotations", json=body, headers=key)
    second = client.post("/v1/quotations", json=body, headers=key)
    assert first.status_code == 201
    assert first.content == second.content
    assert first.headers["location"] == second.headers["location"]
    other = client.post("/v1/quotations", json=quotation_body(estimate), headers=key)
    assert codes(other, 422) == [("", "idempotency-key-reused")]


def test_a_draft_is_read_as_it_was_answered(client: Client, estimate: str) -> None:
    made = client.post("/v1/quotations", json=quotation_body(estimate))
    found = client.get(made.headers["location"])
    assert found.content == made.content
    assert found.headers["etag"] == made.headers["etag"]


def test_issuing_needs_the_tag(client: Client, estimate: str) -> None:
    made = client.post("/v1/quotations", json=quotation_body(estimate))
    path = f"{made.headers['location']}/issue"
    assert client.post(path).status_code == 428
    assert client.post(path, headers={"if-match": '"99"'}).status_code == 412
    issued = client.post(path, headers={"if-match": made.headers["etag"]})
    assert issued.status_code == 200
    assert issued.headers["etag"] != made.headers["etag"]
    assert client.post(path, headers={"if-match": made.headers["etag"]}).status_code == 412
    again = client.post(path, headers={"if-match": issued.headers["etag"]})
    assert codes(again, 409) == [("", "quotation-issued")]


def test_withdrawn_offers_say_so(client: Client, offer: dict[str, Any]) -> None:
    path = f"/v1/quotations/{offer['id']}"
    tag = {"if-match": client.get(path).headers["etag"]}
    gone = client.post(f"{path}/withdrawal", json={"reason": "Priced wrongly"}, headers=tag)
    assert gone.json()["state"] == "withdrawn"
    shown = client.get(offer["link"])
    assert shown.json()["state"] == "withdrawn"
    assert "Priced wrongly" not in shown.text
    history = client.get(f"{path}/history").json()["items"]
    assert history[-1]["detail"] == {"reason": "Priced wrongly"}


def test_quotations_are_listed_newest_first_and_in_pages(client: Client, estimate: str) -> None:
    made = [
        client.post("/v1/quotations", json=quotation_body(estimate)).json()["id"] for _ in range(3)
    ]
    path: str | None = "/v1/quotations?state=draft&limit=2"
    found: list[str] = []
    while path:
        page = client.get(path)
        found += [one["id"] for one in page.json()["items"]]
        path = page.links["next"]["url"] if "next" in page.links else None
    assert found[:3] == made[::-1]
    assert len(set(found)) == len(found)
    assert codes(client.get("/v1/quotations?state=lost"), 422)[0][0] == "/state"


def test_a_plain_form_accepts_and_leads_back(client: Client, offer: dict[str, Any]) -> None:
    link = offer["link"]
    answer = client.post(f"{link}/acceptance", data=fields(offer))
    assert (answer.status_code, answer.headers["location"]) == (303, link)
    shown = client.get(link).json()
    assert shown["state"] == "accepted"
    assert shown["decision"]["name"] == "A. Sample"
    again = client.post(f"{link}/acceptance", data=fields(offer))
    assert (again.status_code, again.headers["location"]) == (303, link)
    choice = {
        "name": "A. Sample",
        "alternate": "way-0",
        "total": offer["content"]["alternates"][0]["offer"]["total"],
    }
    same = client.post(f"{link}/acceptance", json=choice)
    assert (same.status_code, same.json()) == (200, shown)
    late = client.post(f"{link}/decline", data={"name": "A. Sample"})
    assert codes(late, 409) == [("", "quotation-accepted")]


def test_a_plain_form_declines(client: Client, offer: dict[str, Any]) -> None:
    form = {"name": "A. Sample", "reason": "Too dear"}
    answer = client.post(f"{offer['link']}/decline", data=form)
    assert (answer.status_code, answer.headers["location"]) == (303, offer["link"])
    decision = client.get(offer["link"]).json()["decision"]
    assert (decision["kind"], decision["reason"]) == ("declined", "Too dear")


def test_of_one_alternate_none_needs_be_named_nor_its_currency(
    client: Client, offer: dict[str, Any]
) -> None:
    form = fields(offer)
    del form["alternate"]
    form["total"] = form["total"].partition(" ")[0]
    assert client.post(f"{offer['link']}/acceptance", data=form).status_code == 303


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        ({"total": "12,50 USD"}, ("/total", "wrong-pattern")),
        ({"total": "12.505 USD"}, ("/total", "too-precise")),
        ({"total": "12.50 XYZ"}, ("/total", "unknown-currency")),
        ({"total": ""}, ("/total", "missing-field")),
        ({"alternate": "way-9"}, ("/alternate", "unknown-alternate")),
        ({"options": "nothing"}, ("/options/0", "unknown-option")),
        ({"colour": "red"}, ("/colour", "unknown-field")),
        ({"name": ""}, ("/name", "missing-field")),
    ],
)
def test_faults_of_a_form_point_to_its_fields(
    client: Client, offer: dict[str, Any], change: dict[str, str], expected: tuple[str, str]
) -> None:
    answer = client.post(f"{offer['link']}/acceptance", data=fields(offer, **change))
    assert codes(answer, 422) == [expected]
    assert client.get(offer["link"]).json()["state"] == "issued"


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (b"name=A&name=B&total=1", ("/name", "duplicate-field")),
        (b"name=%ff%fe", ("", "malformed-form")),
        (b"&".join(b"options=a" for _ in range(200)), ("", "malformed-form")),
    ],
)
def test_a_form_that_cannot_be_read_is_refused(
    client: Client, offer: dict[str, Any], content: bytes, expected: tuple[str, str]
) -> None:
    answer = client.post(f"{offer['link']}/acceptance", content=content, headers=FORM)
    assert codes(answer, 422)[0] == expected


def test_json_is_read_as_strictly_as_everywhere(client: Client, offer: dict[str, Any]) -> None:
    path = f"{offer['link']}/acceptance"
    choice = {"name": "", "alternate": "way-0", "total": {"amount": 1, "currency": "USD"}, "x": 1}
    assert set(codes(client.post(path, json=choice), 422)) == {
        ("/name", "too-short"),
        ("/total/amount", "not-a-decimal-string"),
        ("/x", "unknown-field"),
    }
    broken = client.post(path, content=b"{", headers={"content-type": "application/json"})
    assert broken.status_code == 400
    other = client.post(path, content=b"<a/>", headers={"content-type": "application/xml"})
    assert other.status_code == 415
    large = client.post(path, content=b"a" * 70_000, headers=FORM)
    assert large.status_code == 413


def test_a_link_is_kept_from_caches_referrers_and_search(
    client: Client, offer: dict[str, Any]
) -> None:
    for answer in (
        client.get(offer["link"]),
        client.post(f"{offer['link']}/decline", json={"name": "A. Sample"}),
    ):
        assert answer.headers["cache-control"] == "no-store"
        assert answer.headers["referrer-policy"] == "no-referrer"
        assert "noindex" in answer.headers["x-robots-tag"]


@pytest.mark.parametrize("token", ["x" * 60, "short", "W10." + "a" * 43, "bnVsbA." + "a" * 43])
def test_whatever_is_no_link_is_not_found(client: Client, token: str) -> None:
    body = {"name": "A", "alternate": "a", "total": {"amount": "1.00", "currency": "USD"}}
    assert client.get(f"/v1/offers/{token}").status_code == 404
    assert client.post(f"/v1/offers/{token}/acceptance", json=body).status_code == 404
    assert client.post(f"/v1/offers/{token}/decline", json={"name": "A"}).status_code == 404


def test_ids_that_are_not_there_are_not_found(client: Client, estimate: str) -> None:
    path = f"/v1/quotations/quo_{'0' * 26}"
    tag = {"if-match": "*"}
    assert client.get(path).status_code == 404
    assert client.get(f"{path}/history").status_code == 404
    assert client.post(f"{path}/issue", headers=tag).status_code == 404
    assert client.post(f"{path}/link", headers=tag).status_code == 404
    assert client.post(f"{path}/withdrawal", json={}, headers=tag).status_code == 404
    assert client.post(f"{path}/revision", json=quotation_body(estimate)).status_code == 404
    assert client.post(f"{path}/change-orders", json={"estimate": estimate}).status_code == 404
    assert client.get("/v1/quotations/anything").status_code == 404
