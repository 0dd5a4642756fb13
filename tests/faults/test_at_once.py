"""Two processes that change the catalogue at once: neither is lost, and the history is whole."""

import asyncio
import multiprocessing
from multiprocessing.synchronize import Barrier
from typing import Any

import msgspec
from calling import ORGANISATION
from serving import NewDatabase, client_of
from sqlalchemy import URL

from filmbuild.catalogue import loader, wire
from filmbuild.db import Database
from filmbuild.errors import Conflict

PROCESSES = 3
REPEATED = 4
FINISHING_SECONDS = 60


def document(author: int, turn: int) -> bytes:
    """Every one renames the same product, so that no two are the same change."""
    body: dict[str, Any] = msgspec.json.decode(wire.demo())
    body["products"][0]["name"] = f"Change {turn} of {author}"
    return msgspec.json.encode(body)


def load(url: URL, author: int, start: Barrier) -> None:
    async def run() -> None:
        database = Database(url)
        for turn in range(REPEATED):
            authored = wire.read(document(author, turn))
            while True:
                try:
                    await loader.load(database, ORGANISATION, authored, f"author {author}")
                    break
                except Conflict:
                    continue
        await database.dispose()

    start.wait()
    asyncio.run(run())


def test_every_change_makes_a_revision_of_its_own(new_database: NewDatabase) -> None:
    with new_database(True, loaded=True) as url:
        context = multiprocessing.get_context("fork")
        start = context.Barrier(PROCESSES)
        running = [
            context.Process(target=load, args=(url, author, start)) for author in range(PROCESSES)
        ]
        for process in running:
            process.start()
        for process in running:
            process.join(FINISHING_SECONDS)
        assert [process.exitcode for process in running] == [0] * PROCESSES
        with client_of(url) as client:
            made = client.get("/v1/catalogue/revisions?limit=100").json()["items"]
        expected = 1 + PROCESSES * REPEATED
        assert [one["revision"] for one in made] == list(range(expected, 0, -1))
        for one in made[:-1]:
            assert one["changes"]["products"]["changed"] == 1
