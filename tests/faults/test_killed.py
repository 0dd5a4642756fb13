"""Killed in the middle of a change, at one statement after another: all of it is there, or none."""

import asyncio
from typing import Any

import msgspec
from calling import ORGANISATION
from dying import deaths
from serving import NewDatabase, client_of
from sqlalchemy import URL, inspect

from filmbuild.catalogue import loader, wire
from filmbuild.db import Database, migrate
from filmbuild.db.engine import open_migrating_engine

FEWEST_DEATHS = 5


def dearer(body: bytes) -> bytes:
    """The demo catalogue with every price doubled and one product renamed."""
    document = msgspec.json.decode(body)
    for price in document["prices"]:
        price["amount"] = f"{2 * float(price['amount']):.2f}"
    document["products"][0]["name"] += " (renamed)"
    return msgspec.json.encode(document)


def load(url: URL, body: bytes) -> None:
    async def run() -> None:
        database = Database(url)
        await loader.load(database, ORGANISATION, wire.read(body), "test")
        await database.dispose()

    asyncio.run(run())


class Seen(msgspec.Struct, frozen=True):
    """What a caller reads of the catalogue."""

    prices: dict[str, Any]
    names: tuple[str, ...]
    revisions: int


def seen(url: URL) -> Seen:
    with client_of(url) as client:
        packs = client.get("/v1/packs", params={"limit": 100, "currency": "USD"}).json()["items"]
        products = client.get("/v1/products", params={"limit": 100}).json()["items"]
        revisions = client.get("/v1/catalogue/revisions").json()["items"]
    return Seen(
        {one["id"]: one["price"] for one in packs},
        tuple(one["name"] for one in products),
        len(revisions),
    )


def tables(url: URL) -> object:
    """All tables, and the revision that the database says it is at."""
    with open_migrating_engine(url).begin() as connection:
        names = sorted(inspect(connection).get_table_names())
    return names, migrate.current(url)


def test_an_update_of_the_catalogue(new_database: NewDatabase) -> None:
    body = dearer(wire.demo())
    with new_database(True, loaded=True) as url:
        before = seen(url)
        assert deaths(lambda: load(url, body), lambda: seen(url)) >= FEWEST_DEATHS
        after = seen(url)
        assert after.revisions == before.revisions + 1
        assert [name for name in after.names if name.endswith("(renamed)")]
        assert all(after.prices[pack] != price for pack, price in before.prices.items() if price)
        load(url, body)
        assert seen(url) == after


def test_a_migration(new_database: NewDatabase) -> None:
    with new_database(False) as url:
        migrate.upgrade(url, "0002")
        assert deaths(lambda: migrate.upgrade(url), lambda: tables(url)) >= FEWEST_DEATHS
        migrate.check(url)


def test_a_first_migration(new_database: NewDatabase) -> None:
    """Of an empty database, of which nothing was there before."""
    with new_database(False) as url:
        died = deaths(lambda: migrate.upgrade(url, "0001"), lambda: tables(url))
        assert died >= FEWEST_DEATHS
        migrate.upgrade(url)
        migrate.check(url)
