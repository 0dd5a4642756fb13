"""A catalogue of many packs, and price files for all of them, for benchmarks: invented."""

import asyncio
from collections.abc import Iterator
from datetime import UTC, date, datetime
from pathlib import Path

import msgspec
import new_databases
from calling import ORGANISATION
from serving import load_demo, settings_for
from sqlalchemy import URL

from filmbuild.catalogue import store, wire
from filmbuild.catalogue.store import Revision
from filmbuild.db import EVERYONE, Database
from filmbuild.money import Currency, NonNegativeExact
from filmbuild.pipeline.specification import Pack, PackPrice
from filmbuild.settings import Settings

PACKS = 50_000
LISTS = (("USD", ""), ("USD", "trade"), ("EUR", ""), ("EUR", "trade"))
SINCE = date(2026, 1, 1)
DAY = date(2027, 1, 1)
PriceRow = tuple[str, str, str, str, str, str]
"""Organisation, pack, currency, tier, day and amount."""


def settings(url: URL, folder: str) -> Settings:
    return msgspec.structs.replace(settings_for(url), data_folder=Path(folder))


def prepare(url: URL) -> None:
    """Makes the tables, loads the demo, and adds the packs with a price in each list."""
    new_databases.make(url)
    load_demo(url)
    asyncio.run(_add(url))


def rows(count: int, cents: int) -> Iterator[PriceRow]:
    """List by list; `cents` makes the prices of one round other than those of the next."""
    for currency, tier in LISTS[: -(-count // PACKS)]:
        for number in range(min(count, PACKS)):
            amount = f"{20 + number % 400}.{cents:02d}"
            yield ORGANISATION, name(number), currency, tier, DAY.isoformat(), amount


def table(count: int, cents: int) -> bytes:
    lines = [f"{one[1]},{one[2]},{one[3]},{one[4]},{one[5]}" for one in rows(count, cents)]
    return "\n".join(["pack,currency,tier,effective_from,amount", *lines]).encode()


def name(number: int) -> str:
    return f"bench-pack-{number:06d}"


async def _add(url: URL) -> None:
    database = Database(url)
    pattern = wire.read(wire.demo())
    one = pattern.file.packs[0]
    text = msgspec.json.decode(pattern.texts["packs"][0])
    kind = next(kind for kind in store.KINDS if kind.name == "packs")
    async with database.writer(EVERYONE) as connection:
        made = Revision(
            revision=2, created_at=datetime.now(UTC), author="bench", note="", summary="{}"
        )
        await store.insert_revision(connection, ORGANISATION, made)
        packs = [_pack(one, text, number) for number in range(PACKS)]
        await store.insert_records(connection, ORGANISATION, kind, packs, 2)
        for currency, tier in LISTS:
            prices = [_price(pack.id, currency, tier) for pack, _ in packs]
            await store.insert_prices(connection, ORGANISATION, prices, 2)
    await database.dispose()


def _pack(pattern: Pack, text: dict[str, object], number: int) -> tuple[Pack, str]:
    pack = msgspec.structs.replace(pattern, id=name(number), name=f"Bench pack {number}")
    return pack, wire.canonical({**text, "id": pack.id, "name": pack.name})


def _price(pack: str, currency: str, tier: str) -> PackPrice:
    return PackPrice(
        pack=pack,
        amount=NonNegativeExact("19.00"),
        currency=Currency(currency),
        tier=tier,
        effective_from=SINCE,
    )
