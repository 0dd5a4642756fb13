"""Estimates to be repriced, and a catalogue whose prices have gone up."""

import asyncio
import copy
from typing import Any

import msgspec
from calling import ORGANISATION
from serving import Client, client_of
from sqlalchemy import URL

import examples
from filmbuild.catalogue import loader, wire
from filmbuild.db import EVERYONE, Database
from filmbuild.estimates import store

OVER = ("done", "stopped", "failed")


def request(number: int = 0) -> dict[str, Any]:
    """The contract's example, each a little wider than the one before."""
    body: dict[str, Any] = copy.deepcopy(examples.read("createEstimate")[0].body)
    body["reference"] = f"case-{number}"
    body["site"]["areas"] = body["site"]["areas"][:1]
    body["site"]["areas"][0] = {
        "id": "room",
        "outline": {"kind": "rectangle", "length": "20 ft", "width": f"{10 + number % 7} ft"},
    }
    return body


def make(client: Client, many: int) -> list[str]:
    """Their ids."""
    made = []
    for number in range(many):
        response = client.post("/v1/estimates", json=request(number))
        assert response.status_code == 201, response.text
        made.append(response.json()["id"])
    return made


def make_many(url: URL, many: int) -> None:
    """Copies of one, so that they need not all be computed first."""
    with client_of(url) as client:
        (first,) = make(client, 1)
    asyncio.run(_copy(url, first, many - 1))


async def _copy(url: URL, first: str, many: int) -> None:
    database = Database(url)
    async with database.writer(EVERYONE) as connection:
        found = await store.get_estimate(connection, ORGANISATION, first)
        assert found is not None
        for _ in range(many):
            head = msgspec.structs.replace(found.head, id=store.new_estimate_id())
            await store.insert_estimate(connection, ORGANISATION, head, found.revision)
    await database.dispose()


def raise_prices(url: URL, factor: int = 2) -> None:
    """A new revision of the demo catalogue, in which every pack costs so many times as much."""
    document = msgspec.json.decode(wire.demo())
    for price in document["prices"]:
        price["amount"] = f"{factor * float(price['amount']):.2f}"
        for one in price.get("breaks", ()):
            one["amount"] = f"{factor * float(one['amount']):.2f}"
    asyncio.run(_load(url, msgspec.json.encode(document)))


async def _load(url: URL, body: bytes) -> None:
    database = Database(url)
    await loader.load(database, ORGANISATION, wire.read(body), "test")
    await database.dispose()


def begin(client: Client, **members: Any) -> dict[str, Any]:
    response = client.post("/v1/repricings", json={"note": "Dearer resin", **members})
    assert response.status_code == 202, response.text
    begun: dict[str, Any] = response.json()
    assert response.headers["location"] == f"/v1/repricings/{begun['id']}"
    return begun


def state(client: Client, name: str) -> dict[str, Any]:
    found: dict[str, Any] = client.get(f"/v1/repricings/{name}").json()
    return found


def revisions(client: Client, estimate: str) -> list[dict[str, Any]]:
    """Newest first."""
    response = client.get(f"/v1/estimates/{estimate}/revisions", params={"limit": 100})
    assert response.status_code == 200, response.text
    items: list[dict[str, Any]] = response.json()["items"]
    return items
