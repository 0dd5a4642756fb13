"""A job is priced by its customer's list, and by the usual one where that has no price."""

from collections.abc import Iterator
from typing import Any

import pytest
from price_update_cases import DAY, PAIL, newest, price, send
from serving import Client, NewDatabase, serving


@pytest.fixture(scope="module")
def client(new_sqlite: NewDatabase) -> Iterator[Client]:
    with serving(new_sqlite) as client:
        yield client


def estimate(client: Client, revision: int, **job: str) -> dict[str, Any]:
    hall = {"kind": "rectangle", "length": "40 ft", "width": "30 ft"}
    asked = {
        "catalogue_revision": revision,
        "units": "us",
        "site": {"name": "Boat hall", "areas": [{"id": "hall", "outline": hall}]},
        "job": {"system": "harbour-thin-film", "priced_on": DAY, **job},
    }
    answered = client.post("/v1/materials", json=asked)
    assert answered.status_code == 200, answered.text
    found: dict[str, Any] = answered.json()
    return found


def packs(document: dict[str, Any]) -> dict[str, str]:
    return {
        line["pack"]: line["unit_price"]["amount"]
        for purchase in document["materials"]["purchases"]
        for line in purchase["packs"]
    }


def test_the_tier_goes_before_the_usual_list(client: Client) -> None:
    usual = estimate(client, 1)
    bought = packs(usual)
    first, *others = bought
    assert others
    # far below any other pack, so that it is bought again
    revision = send(client, f"pack,amount\n{first},0.01\n", tier="trade").json()["revision"]
    document = estimate(client, revision, price_tier="trade")
    assert packs(document)[first] == "0.01"
    notes = [one for one in document["notes"] if one["code"] == "usual-price"]
    assert len(notes) == 1
    assert first not in notes[0]["detail"]
    assert all(one in notes[0]["detail"] for one in packs(document) if one != first)
    traces = [one["trace"]["inputs"] for one in document["materials"]["purchases"]]
    lists = {pack: name for one in traces for pack, name in one["price_lists"].items()}
    assert lists == {one: "trade" if one == first else "usual" for one in packs(document)}
    assert document["basis"]["price_tier"] == "trade"
    assert packs(estimate(client, revision)) == bought


def test_a_document_of_another_tier_is_refused(client: Client) -> None:
    document = estimate(client, 1)
    asked = {
        "units": "us",
        "materials": document,
        "job": {"system": "harbour-thin-film", "priced_on": DAY, "price_tier": "trade"},
    }
    answered = client.post("/v1/labour", json=asked)
    assert answered.status_code == 422
    assert "/job/price_tier" in {one["pointer"] for one in answered.json()["errors"]}


def test_the_price_is_explained(client: Client) -> None:
    send(client, f"pack,amount\n{PAIL},900.00\n", tier="gold", effective_from="2027-01-01")
    send(client, f"pack,amount\n{PAIL},990.00\n", tier="gold", effective_from="2027-06-01")
    revision = newest(client)
    found = price(client, PAIL, revision, tier="gold", on="2027-03-01")
    assert (found["price"]["amount"], found["price_since"]) == ("900.00", "2027-01-01")
    assert found["price_tier"] == "gold"
    assert "from 2027-01-01" in found["explanation"]
    verdicts = [(one["tier"], one["effective_from"], one["verdict"]) for one in found["listed"]]
    assert verdicts[:2] == [("gold", "2027-06-01", "begins later"), ("gold", "2027-01-01", "holds")]
    assert verdicts[2][2] == "the tier's list goes before the usual one"
    assert {one[2] for one in verdicts[3:]} <= {f"replaced on {verdicts[2][1]}"}
    early = price(client, PAIL, revision, tier="gold", on="2026-03-01")
    assert early["price_tier"] == ""
    assert 'The list of tier "gold" has no price' in early["explanation"]
    none = price(client, PAIL, revision, currency="CHF")
    assert (none["price"], none["listed"]) == (None, [])
    assert client.get("/v1/packs/none/prices").status_code == 404


def test_lists_are_paged(client: Client) -> None:
    send(client, f"pack,amount\n{PAIL},900.00\n", tier="gold", effective_from="2027-01-01")
    path = f"/v1/price-lists?limit=1&revision={newest(client)}"
    names: list[tuple[str, str]] = []
    following: str | None = ""
    while following is not None:
        page = client.get(path + following).json()
        names += [(one["currency"], one["tier"]) for one in page["items"]]
        following = page["next"] and f"&cursor={page['next']}"
    assert names == sorted(names)
    assert ("USD", "gold") in names
