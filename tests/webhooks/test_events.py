"""What a day's work tells other systems, over the whole service."""

import asyncio
import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import msgspec
import price_update_cases as prices
import pytest
import repricing_cases
from calling import ORGANISATION
from quotation_cases import PROFILE, estimate_body, quotation_body
from serving import Client, NewDatabase, client_of
from sqlalchemy import URL, select

from filmbuild.app import contract_document
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.db.engine import open_migrating_engine
from filmbuild.estimates.repricing import RepriceCause, RepriceOutcome
from filmbuild.estimates.service import EstimateService
from filmbuild.quotations import moves
from filmbuild.repricing.batches import Batches
from filmbuild.webhooks import events, tables

ROW = "pack,amount\r\nharbour-20-kit-3gal,199.00\r\n"
WORDS_OF_OURS = re.compile(r"cost|margin|overhead|labour|profit|email|buyer|Sample", re.IGNORECASE)


@contextmanager
def listening(new_database: NewDatabase) -> Iterator[tuple[URL, Client]]:
    with new_database(True, loaded=True) as url, client_of(url) as client:
        made = client.post(
            "/v1/webhook-endpoints", json={"url": "https://hooks.harbour.example/in"}
        )
        assert made.status_code == 201, made.text
        assert client.put("/v1/organisation", json=PROFILE).status_code == 201
        yield url, client


def told(url: URL) -> list[dict[str, Any]]:
    """All messages, in the order in which they were written."""
    query = select(tables.event.c.payload).order_by(
        tables.event.c.created_at, tables.event.c.position
    )
    with open_migrating_engine(url).begin() as connection:
        return [msgspec.json.decode(one) for one in connection.scalars(query)]


def good(answer: Any) -> dict[str, Any]:
    assert answer.is_success, answer.text
    found: dict[str, Any] = answer.json()
    return found


def estimate(client: Client) -> str:
    return str(good(client.post("/v1/estimates", json=estimate_body()))["id"])


def issued(client: Client, name: str) -> dict[str, Any]:
    draft = client.post("/v1/quotations", json=quotation_body(name))
    assert draft.status_code == 201, draft.text
    tag = {"if-match": draft.headers["etag"]}
    return good(client.post(f"{draft.headers['location']}/issue", headers=tag))


def accept(client: Client, offer: dict[str, Any]) -> None:
    total = offer["content"]["alternates"][0]["offer"]["total"]
    body = {"name": "A. Sample", "alternate": "way-0", "total": total}
    good(client.post(f"{offer['link']}/acceptance", json=body))


def test_from_the_estimate_to_the_invoice(new_database: NewDatabase) -> None:
    with listening(new_database) as (url, client):
        name = estimate(client)
        tag = {"if-match": client.get(f"/v1/estimates/{name}").headers["etag"]}
        body = {"request": estimate_body(), "cause": "Measured again"}
        good(client.post(f"/v1/estimates/{name}/revisions", json=body, headers=tag))
        first, second = issued(client, name), issued(client, name)
        accept(client, first)
        good(client.post(f"{second['link']}/decline", json={"name": "A. Sample"}))
        path = f"/v1/quotations/{first['id']}/invoices"
        invoice = good(client.post(path, json={"issued_on": "2026-10-01"}))
        messages = told(url)
    assert [one["type"] for one in messages] == [
        "estimate.created",
        "estimate.revised",
        "quotation.drafted",
        "quotation.issued",
        "quotation.drafted",
        "quotation.issued",
        "quotation.accepted",
        "quotation.declined",
        "invoice.created",
    ]
    accepted = messages[6]["data"]
    total = first["content"]["alternates"][0]["offer"]["total"]
    assert accepted == {
        "id": first["id"],
        "kind": "offer",
        "state": "accepted",
        "number": first["number"],
        "total": total,
        "valid_until": first["valid_until"],
        "supersedes": None,
        "changes": None,
    }
    assert messages[8]["data"]["id"] == invoice["id"]
    assert messages[8]["data"]["total"] == invoice["invoice"]["total"]
    for one in messages:
        assert not WORDS_OF_OURS.search(msgspec.json.encode(one).decode()), one


def test_every_other_move_of_a_quotation(
    new_sqlite: NewDatabase, monkeypatch: pytest.MonkeyPatch
) -> None:
    with listening(new_sqlite) as (url, client):
        name = estimate(client)
        draft = client.post("/v1/quotations", json=quotation_body(name))
        tag = {"if-match": draft.headers["etag"]}
        good(client.post(f"{draft.headers['location']}/withdrawal", json={}, headers=tag))
        first = issued(client, name)
        path = f"/v1/quotations/{first['id']}/revision"
        revised = client.post(path, json=quotation_body(name))
        assert revised.status_code == 201, revised.text
        tag = {"if-match": revised.headers["etag"]}
        good(client.post(f"{revised.headers['location']}/issue", headers=tag))
        monkeypatch.setattr(moves, "is_overdue", lambda found, _now: found.state == "issued")
        assert good(client.get(revised.headers["location"]))["state"] == "expired"
        kinds = [one["type"] for one in told(url) if one["type"].startswith("quotation.")]
    assert sorted(kinds) == sorted(
        ["quotation.drafted"] * 3
        + ["quotation.issued"] * 2
        + ["quotation.withdrawn", "quotation.superseded", "quotation.expired"]
    )


def test_prices_and_catalogue(new_sqlite: NewDatabase) -> None:
    with listening(new_sqlite) as (url, client):
        updated = good(prices.send(client, ROW))
        good(prices.send(client, ROW))
        undone = good(client.post(f"{prices.UPDATES}/{updated['id']}/undo"))
        anew = {"name": "Harbour 100 (demo data, renamed)"}
        good(client.patch("/v1/products/harbour-100", json=anew, headers={"if-match": "*"}))
        repricing_cases.raise_prices(url)
        messages = told(url)
    assert [(one["type"], one["data"]["revision"]) for one in messages] == [
        ("prices.updated", 2),
        ("prices.updated", 3),
        ("catalogue.changed", 4),
        ("catalogue.changed", 5),
    ]
    assert messages[0]["data"]["update"] == updated["id"]
    assert messages[1]["data"] == {
        "update": undone["id"],
        "revision": 3,
        "undoes": updated["id"],
    }


async def carry_out(url: URL, repricing: str, estimate: str) -> RepriceOutcome:
    """The whole of a repricing, and one estimate of it once more, for which nothing is left."""
    database = Database(url)
    snapshots = CatalogueSnapshots(database)
    batches = Batches(database, snapshots)
    while await batches.portion(ORGANISATION, repricing):
        pass
    cause = RepriceCause(repricing, "Dearer resin")
    outcome = await EstimateService(database, snapshots).reprice(
        ORGANISATION, estimate, actor="anyone", cause=cause
    )
    await database.dispose()
    return outcome


def test_a_repricing_tells_of_each_estimate_and_of_its_end(new_database: NewDatabase) -> None:
    with listening(new_database) as (url, client):
        names = repricing_cases.make(client, 3)
        repricing_cases.raise_prices(url)
        begun = repricing_cases.begin(client)
        again = asyncio.run(carry_out(url, begun["id"], names[0]))
        messages = [one for one in told(url) if one["type"] != "estimate.created"]
    assert again.outcome == "repriced"
    repriced = [one["data"] for one in messages if one["type"] == "estimate.repriced"]
    assert sorted(one["id"] for one in repriced) == sorted(names)
    assert {(one["revision"], one["repricing"]) for one in repriced} == {(2, begun["id"])}
    (end,) = [one["data"] for one in messages if one["type"] == "repricing.finished"]
    assert end == {
        "id": begun["id"],
        "state": "done",
        "estimates": 3,
        "repriced": 3,
        "unchanged": 0,
        "accepted": 0,
        "refused": 0,
    }
    assert messages[0]["type"] == "catalogue.changed"


def test_the_contract_names_every_type_that_is_sent() -> None:
    document = contract_document()
    assert set(document["webhooks"]) == events.TYPES
    for name, webhook in document["webhooks"].items():
        content = webhook["post"]["requestBody"]["content"]["application/json"]
        component = content["schema"]["$ref"].rpartition("/")[2]
        assert component in document["components"]["schemas"], name
