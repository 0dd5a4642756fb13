"""Nothing of what the work costs its seller reaches a customer."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from quotation_cases import PROFILE, estimate_body, quotation_body
from quotations.leaks import assert_no_costs, cost_figures
from serving import Client, NewDatabase, client_of, load_catalogue

from filmbuild.catalogue import wire

_WAGE, _PACK = "37.13", "411.77"


def unusual_catalogue() -> bytes:
    """The demo catalogue, with a wage and a price that stand nowhere else."""
    tree = json.loads(wire.demo())
    for book in tree["rate_books"]:
        for one in book["classes"]:
            one["wage"] = _WAGE
    for price in tree["prices"]:
        if price["pack"].startswith("harbour-20-kit-3gal"):
            price["amount"] = _PACK
    return json.dumps(tree).encode()


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with new_sqlite(True) as url:
        load_catalogue(url, unusual_catalogue())
        with client_of(url) as client:
            assert client.put("/v1/organisation", json=PROFILE).status_code == 201
            yield client


@pytest.fixture(scope="module")
def estimates(client: Client) -> list[dict[str, Any]]:
    options = [
        {
            "id": "line",
            "label": "Marked walkway",
            "description": "A yellow line along the wall",
            "extras": [
                {
                    "id": "walkway",
                    "description": "Line marking",
                    "quantity": "1",
                    "unit": "LS",
                    "unit_cost": "387.19",
                }
            ],
        }
    ]
    bodies = [estimate_body() | {"options": options}, estimate_body(system="harbour-high-build")]
    answers = [client.post("/v1/estimates", json=body) for body in bodies]
    assert [one.status_code for one in answers] == [201, 201]
    return [one.json() for one in answers]


def issued(client: Client, *estimates: str, **more: Any) -> tuple[str, str]:
    """The id and the link."""
    draft = client.post("/v1/quotations", json=quotation_body(*estimates, **more))
    assert draft.status_code == 201, draft.text
    path = draft.headers["location"]
    answer = client.post(f"{path}/issue", headers={"if-match": draft.headers["etag"]})
    assert answer.status_code == 200, answer.text
    return answer.json()["id"], answer.json()["link"]


def test_no_answer_to_a_customer_tells_a_cost(
    client: Client, estimates: list[dict[str, Any]]
) -> None:
    plan = [
        {"id": "deposit", "label": "Deposit", "occasion": "on_acceptance", "percent": "30"},
        {"id": "rest", "label": "On completion", "occasion": "on_completion"},
    ]
    names = [one["id"] for one in estimates]
    quotation, link = issued(client, *names, payments=plan)
    shown = client.get(link)
    first = shown.json()["content"]["alternates"][0]
    choice = {"name": "A. Sample", "alternate": first["id"], "total": first["offer"]["total"]}
    answers = [
        shown,
        client.post(f"{link}/acceptance", json={**choice, "alternate": "none"}),
        client.post(
            f"{link}/acceptance", json={**choice, "total": {"amount": "1.00", "currency": "USD"}}
        ),
        client.post(f"{link}/acceptance", json=choice),
        client.post(f"{link}/decline", json={"name": "A. Sample"}),
        client.get(link),
    ]
    assert [one.status_code for one in answers] == [200, 422, 409, 200, 409, 200]
    longer = estimate_body()
    longer["site"]["areas"][0]["outline"]["length"] = "40 ft"
    again = client.post("/v1/estimates", json=longer).json()
    change = client.post(
        f"/v1/quotations/{quotation}/change-orders", json={"estimate": again["id"]}
    )
    assert change.status_code == 201, change.text
    tag = {"if-match": change.headers["etag"]}
    answer = client.post(f"{change.headers['location']}/issue", headers=tag).json()
    answers.append(client.get(answer["link"]))
    assert answers[-1].status_code == 200
    for response in answers:
        for estimate in (*estimates, again):
            assert_no_costs(response.content, estimate["document"])
        text = response.text + str(response.headers)
        assert _WAGE not in text
        assert _PACK not in text


def test_the_figures_looked_for_are_those_of_the_catalogue(
    estimates: list[dict[str, Any]],
) -> None:
    document = estimates[0]["document"]
    figures = {str(one) for one in cost_figures(document)}
    assert _PACK in figures
    assert document["price"]["cost"]["amount"] in figures
    assert document["price"]["total"]["amount"] not in figures
    assert _WAGE in json.dumps(document)


def test_what_only_the_seller_is_answered_would_be_noticed(
    client: Client, estimates: list[dict[str, Any]]
) -> None:
    quotation, link = issued(client, estimates[1]["id"])
    document = estimates[1]["document"]
    cost = document["price"]["cost"]["amount"]
    seen = client.get(f"/v1/quotations/{quotation}")
    assert seen.json()["costs"][0]["cost"]["amount"] == cost
    with pytest.raises(AssertionError, match="is a cost"):
        assert_no_costs(seen.content, document)
    shown = client.get(link).content
    for planted in (cost, f"{float(cost):,.2f}", f"{float(cost):,.2f}".replace(",", "\u00a0")):
        with pytest.raises(AssertionError, match="is a cost"):
            assert_no_costs(shown.replace(b"Way 0", planted.encode(), 1), document)
    with pytest.raises(AssertionError):
        assert_no_costs(shown.replace(b'"label"', b'"overhead"', 1), document)
