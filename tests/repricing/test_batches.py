"""Portions of a repricing: nothing done twice, nothing left out, whatever comes between."""

import asyncio
from collections.abc import AsyncIterator
from datetime import datetime, timedelta
from itertools import count
from typing import Any

import pytest
import repricing_cases as cases
from calling import ORGANISATION
from serving import Client, NewDatabase, client_of
from sqlalchemy import URL

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import EVERYONE, Database
from filmbuild.estimates import repricing as estimates
from filmbuild.estimates import store
from filmbuild.estimates.repricing import Repriced
from filmbuild.repricing import batches, service
from filmbuild.repricing.batches import Batches

MANY = 6
PORTION = 4


class Case:
    def __init__(self, url: URL, client: Client) -> None:
        self.client = client
        self.url = url
        self.estimates = sorted(cases.make(client, MANY))
        cases.raise_prices(url)
        self.database = Database(url)
        self.batches = Batches(self.database, CatalogueSnapshots(self.database))

    def begin(self, **members: Any) -> str:
        return str(cases.begin(self.client, **members)["id"])

    async def run(self, name: str) -> dict[str, Any]:
        while await self.batches.portion(ORGANISATION, name):
            pass
        return cases.state(self.client, name)

    def outcomes(self, name: str) -> dict[str, dict[str, Any]]:
        items = self.client.get(f"/v1/repricings/{name}/estimates").json()["items"]
        found = {one["estimate"]: one for one in items}
        assert len(found) == len(items)
        return found

    def revise(self, estimate: str) -> None:
        tag = self.client.get(f"/v1/estimates/{estimate}").headers["etag"]
        response = self.client.post(
            f"/v1/estimates/{estimate}/revisions",
            json={"request": cases.request(6) | {"catalogue_revision": 2}, "cause": "Wider"},
            headers={"if-match": tag},
        )
        assert response.status_code == 201, response.text


@pytest.fixture
async def case(new_database: NewDatabase, monkeypatch: pytest.MonkeyPatch) -> AsyncIterator[Case]:
    monkeypatch.setattr(batches, "AT_ONCE", PORTION)
    with new_database(True, loaded=True) as url, client_of(url) as client:
        case = await asyncio.to_thread(Case, url, client)
        yield case
        await case.database.dispose()


async def test_an_estimate_that_is_accepted_meanwhile_is_left_alone(case: Case) -> None:
    name = case.begin()
    async with case.database.writer(EVERYONE) as connection:
        await store.mark_accepted(connection, ORGANISATION, case.estimates[1], 1)
    found = await case.run(name)
    assert (found["done"], found["repriced"], found["accepted"]) == (MANY, MANY - 1, 1)
    assert case.outcomes(name)[case.estimates[1]]["outcome"] == "accepted"
    assert len(cases.revisions(case.client, case.estimates[1])) == 1
    assert cases.begin(case.client)["estimates"] == MANY - 1


async def test_one_that_cannot_be_done_is_refused_and_the_others_are_done(case: Case) -> None:
    """The currency of an estimate is one in which the catalogue had prices when it was made."""
    broken = case.estimates[0]
    async with case.database.reader(EVERYONE) as connection:
        found = await store.get_estimate(connection, ORGANISATION, broken)
    assert found is not None
    name = case.begin(priced_on="1999-01-01", estimates={"ids": [broken]})
    done = await case.run(name)
    assert (done["state"], done["refused"]) == ("done", 1)
    line = case.outcomes(name)[broken]
    assert line["problem"]
    assert line["errors"]
    assert line["now"] is None
    assert line["was"]["revision"] == 1
    assert len(cases.revisions(case.client, broken)) == 1
    assert (await case.run(case.begin()))["repriced"] == MANY


async def test_one_that_is_revised_meanwhile_is_computed_once_more(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The revision is made between the computing of a portion and its keeping."""
    name, busy = case.begin(), case.estimates[2]
    compute = estimates.compute
    revised: list[str] = []

    async def meddled(*arguments: Any, **members: Any) -> Repriced:
        computed = await compute(*arguments, **members)
        if computed.head.id == busy and not revised:
            revised.append(busy)
            await asyncio.to_thread(case.revise, busy)
        return computed

    monkeypatch.setattr(estimates, "compute", meddled)
    found = await case.run(name)
    assert (found["done"], found["repriced"] + found["unchanged"]) == (MANY, MANY)
    # the revision was made on the new prices already: it is repriced to what it is
    line = case.outcomes(name)[busy]
    assert (line["outcome"], line["was"]["revision"]) == ("unchanged", 2)
    assert [one["revision"] for one in cases.revisions(case.client, busy)] == [2, 1]


async def test_portions_at_once_do_nothing_twice(case: Case) -> None:
    name = case.begin()
    others = Batches(case.database, CatalogueSnapshots(case.database))
    await asyncio.gather(*(one.portion(ORGANISATION, name) for one in (case.batches, others) * 3))
    found = await case.run(name)
    assert (found["state"], found["done"], found["repriced"]) == ("done", MANY, MANY)
    for estimate in case.estimates:
        assert [one["revision"] for one in cases.revisions(case.client, estimate)] == [2, 1]
    assert sorted(one["sequence"] for one in case.outcomes(name).values()) == list(
        range(1, MANY + 1)
    )


async def test_a_failure_of_the_service_on_one_leaves_the_others_their_turn(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    name, broken = case.begin(), case.estimates[3]
    compute = estimates.compute

    async def failing(snapshots: Any, organisation: str, found: Any, **members: Any) -> Repriced:
        if found.head.id == broken:
            raise ZeroDivisionError
        return await compute(snapshots, organisation, found, **members)

    monkeypatch.setattr(estimates, "compute", failing)
    found = await case.run(name)
    assert (found["refused"], found["repriced"]) == (1, MANY - 1)
    problem = case.outcomes(name)[broken]["problem"]
    assert "log" in problem
    assert "ZeroDivisionError" not in problem


async def test_what_fails_wholly_can_be_resumed(case: Case) -> None:
    name = case.begin()
    await case.batches.portion(ORGANISATION, name)
    async with case.database.writer(EVERYONE) as connection:
        await case.batches.failed(connection, ORGANISATION, name, "OSError")
    found = cases.state(case.client, name)
    assert (found["state"], found["problem"], found["done"]) == ("failed", "OSError", PORTION)
    assert not await case.batches.portion(ORGANISATION, name)
    assert case.client.post(f"/v1/repricings/{name}/stop").status_code == 409
    resumed = case.client.post(f"/v1/repricings/{name}/resume").json()
    assert (resumed["state"], resumed["problem"]) == ("running", None)
    assert (await case.run(name))["repriced"] == MANY


async def test_stopping_throws_away_what_is_being_computed(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    name = case.begin()
    compute = estimates.compute

    async def stopping(*arguments: Any, **members: Any) -> Repriced:
        await asyncio.to_thread(case.client.post, f"/v1/repricings/{name}/stop")
        return await compute(*arguments, **members)

    monkeypatch.setattr(estimates, "compute", stopping)
    assert (await case.run(name))["state"] == "stopped"
    assert case.outcomes(name) == {}
    monkeypatch.setattr(estimates, "compute", compute)
    for _ in range(2):
        assert case.client.post(f"/v1/repricings/{name}/resume").status_code == 202
    assert (await case.run(name))["repriced"] == MANY


async def test_a_clock_that_goes_back_costs_nothing(
    case: Case, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each look at the clock finds it an hour earlier than the one before."""
    looks = count(1)

    class Backwards(datetime):
        @classmethod
        def now(cls, tz: Any = None) -> Any:
            return datetime.now(tz) - timedelta(hours=next(looks))

    for module in (batches, service):
        monkeypatch.setattr(module, "datetime", Backwards)
    name = case.begin()
    found = await case.run(name)
    assert next(looks) > MANY // PORTION + 2
    assert (found["state"], found["repriced"]) == ("done", MANY)
    for estimate in case.estimates:
        assert [one["revision"] for one in cases.revisions(case.client, estimate)] == [2, 1]
    assert len(case.outcomes(name)) == MANY
    assert case.client.get(f"/v1/estimates/{case.estimates[0]}").json()["revision"] == 2
