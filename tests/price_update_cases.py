"""Prices over HTTP: the demo catalogue's, and files that change them."""

from typing import Any

import httpx
import msgspec
from serving import Client

UPDATES = "/v1/price-updates"
KIT, PAIL = "harbour-20-kit-3gal", "harbour-100-kit-15gal"
CSV = {"content-type": "text/csv"}
NDJSON = {"content-type": "application/x-ndjson"}
JSON = {"content-type": "application/json"}
DAY = "2027-01-01"


def send(
    client: Client, content: str | bytes, kind: dict[str, str] = CSV, **query: str
) -> httpx.Response:
    """In dollars from `DAY` on, where the query does not say otherwise."""
    asked = {"currency": "USD", "effective_from": DAY} | query
    return client.post(UPDATES, content=content, headers=kind, params=asked)


def price(client: Client, pack: str, revision: int | None = None, **query: str) -> dict[str, Any]:
    asked = {"on": DAY} | query | ({} if revision is None else {"revision": str(revision)})
    answered = client.get(f"/v1/packs/{pack}/prices", params=asked)
    assert answered.status_code == 200, answered.text
    found: dict[str, Any] = answered.json()
    return found


def amount(client: Client, pack: str, revision: int | None = None, **query: str) -> str | None:
    found = price(client, pack, revision, **query)["price"]
    return None if found is None else str(found["amount"])


def newest(client: httpx.Client) -> int:
    """Past what this process remembers: the newest revision in the database."""
    listed = client.get("/v1/catalogue/revisions").json()
    return int(listed["items"][0]["revision"])


def faults(answered: httpx.Response) -> set[tuple[str, str]]:
    return {(one["pointer"], one["code"]) for one in answered.json()["errors"]}


def as_ndjson(*rows: dict[str, Any]) -> bytes:
    return b"".join(msgspec.json.encode(one) + b"\n" for one in rows)
