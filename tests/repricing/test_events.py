"""The progress of a repricing as server-sent events (WHATWG HTML, section 9.2)."""

import asyncio
import json
from collections.abc import AsyncIterator
from typing import Any, NamedTuple

import pytest
import repricing_cases as cases
from calling import ORGANISATION
from serving import Client, NewDatabase, client_of
from sqlalchemy import URL

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.edge.closing import Closing
from filmbuild.repricing import batches, events
from filmbuild.repricing.batches import Batches
from filmbuild.repricing.events import Place

MANY = 5
PORTION = 2


class Event(NamedTuple):
    kind: str
    id: str
    data: dict[str, Any]


def parsed(text: str) -> list[Event]:
    """As a browser reads them: comments are passed over."""
    found = []
    for block in text.split("\n\n"):
        lines = [line.partition(": ") for line in block.split("\n") if not line.startswith(":")]
        fields = {name: value for name, _, value in lines if name}
        if fields:
            found.append(Event(fields["event"], fields["id"], json.loads(fields["data"])))
    return found


class Case:
    """A repricing that goes on when the test says so."""

    def __init__(self, url: URL, client: Client) -> None:
        self.client = client
        self.estimates = cases.make(client, MANY)
        cases.raise_prices(url)
        self.name: str = cases.begin(client)["id"]
        self.database = Database(url)
        self.closing = Closing()
        self._batches = Batches(self.database, CatalogueSnapshots(self.database))

    async def portion(self) -> bool:
        return await self._batches.portion(ORGANISATION, self.name)

    async def finish(self) -> None:
        while await self.portion():
            pass

    def told(self, last: str | None = None) -> AsyncIterator[bytes]:
        return events.events(self.database, ORGANISATION, self.name, Place(last), self.closing)

    def get(self, last: str | None = None) -> Any:
        headers = {"last-event-id": last} if last else {}
        return self.client.get(f"/v1/repricings/{self.name}/events", headers=headers)


@pytest.fixture
async def case(new_database: NewDatabase, monkeypatch: pytest.MonkeyPatch) -> AsyncIterator[Case]:
    monkeypatch.setattr(batches, "AT_ONCE", PORTION)
    monkeypatch.setattr(events, "LOOK_SECONDS", 0.01)
    with new_database(True, loaded=True) as url, client_of(url) as client:
        case = await asyncio.to_thread(Case, url, client)
        yield case
        await case.database.dispose()


async def text_of(pieces: AsyncIterator[bytes]) -> str:
    return b"".join([piece async for piece in pieces]).decode()


async def test_all_of_it_is_told_once_and_then_it_ends(case: Case) -> None:
    telling = asyncio.create_task(text_of(case.told()))
    await case.finish()
    told = parsed(await telling)
    estimates = [one for one in told if one.kind == "estimate"]
    assert [one.id for one in estimates] == ["1", "2", "3", "4", "5"]
    assert {one.data["estimate"] for one in estimates} == set(case.estimates)
    assert (told[-1].kind, told[-1].id) == ("end", "5.end")
    assert (told[-1].data["state"], told[-1].data["done"]) == ("done", MANY)


async def test_progress_comes_as_it_is_made(case: Case) -> None:
    told = case.told()
    await case.portion()
    for _ in range(PORTION):
        assert parsed((await anext(told)).decode())[0].kind == "estimate"
    (progress,) = parsed((await anext(told)).decode())
    assert (progress.kind, progress.id, progress.data["done"]) == ("progress", "2", 2)
    await case.finish()
    assert parsed(await text_of(told))[-1].kind == "end"


async def test_it_goes_on_after_the_last_event_that_came(case: Case) -> None:
    await case.finish()
    whole = await asyncio.to_thread(case.get)
    assert whole.headers["content-type"].startswith("text/event-stream")
    assert whole.headers["cache-control"] == "no-store"
    rest = await asyncio.to_thread(case.get, "3")
    assert [one.id for one in parsed(rest.text)] == ["4", "5", "5", "5.end"]
    assert [*parsed(whole.text)[:3], *parsed(rest.text)] == parsed(whole.text)
    after = await asyncio.to_thread(case.get, "5.end")
    assert (after.status_code, after.content) == (204, b"")
    refused = await asyncio.to_thread(case.get, "last")
    assert refused.status_code == 422


async def test_stopping_ends_it_and_resuming_goes_on(case: Case) -> None:
    await case.portion()
    stopped = await asyncio.to_thread(case.client.post, f"/v1/repricings/{case.name}/stop")
    assert stopped.json()["state"] == "stopped"
    told = parsed((await asyncio.to_thread(case.get)).text)
    assert (told[-1].id, told[-1].data["state"]) == ("2.end", "stopped")
    assert not await case.portion()
    resumed = await asyncio.to_thread(case.client.post, f"/v1/repricings/{case.name}/resume")
    assert (resumed.status_code, resumed.json()["state"]) == (202, "running")
    await case.finish()
    told = parsed((await asyncio.to_thread(case.get, "2.end")).text)
    assert [one.id for one in told if one.kind == "estimate"] == ["3", "4", "5"]


async def test_something_is_sent_while_nothing_happens(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(events, "HEARTBEAT_SECONDS", 0.0)
    told = case.told()
    silence = await anext(told)
    assert silence.startswith(b":")
    assert parsed(silence.decode()) == []


async def test_a_service_that_stops_does_not_wait_for_the_end(case: Case) -> None:
    telling = asyncio.create_task(text_of(case.told()))
    await case.portion()
    case.closing.begun = True
    async with asyncio.timeout(5):
        told = parsed(await telling)
    assert [one.kind for one in told if one.kind == "end"] == []


async def test_the_headers_alone_begin_nothing(case: Case) -> None:
    response = await asyncio.to_thread(case.client.head, f"/v1/repricings/{case.name}/events")
    assert (response.status_code, response.content) == (200, b"")
