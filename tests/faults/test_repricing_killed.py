"""Killed again and again in the middle of a repricing: nothing is done twice, nothing left out."""

import asyncio
from collections import defaultdict
from contextlib import ExitStack
from typing import Any

import repricing_cases as cases
from calling import ORGANISATION
from dying import deaths
from running import Running, running
from serving import NewDatabase, client_of
from sqlalchemy import URL, select
from waiting import until

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.db.engine import open_migrating_engine
from filmbuild.estimates.tables import estimate_revision
from filmbuild.repricing.batches import AT_ONCE, Batches

MANY = 100
KILLS = 2
FEW = 3
FEWEST_DEATHS = 4


def all_revisions(url: URL) -> dict[str, list[tuple[int, str | None]]]:
    """Of each estimate, the numbers and what caused them."""
    columns = estimate_revision.c
    query = select(columns.estimate_id, columns.revision, columns.cause_id)
    found = defaultdict[str, list[tuple[int, str | None]]](list)
    with open_migrating_engine(url).begin() as connection:
        for estimate, revision, cause in connection.execute(query.order_by(columns.revision)):
            found[estimate].append((revision, cause))
    return found


def done(service: Running, name: str) -> int:
    return int(service.client.get(f"/v1/repricings/{name}").json()["done"])


def test_the_service_is_killed_in_the_middle(new_database: NewDatabase) -> None:
    with new_database(True, loaded=True) as url, ExitStack() as services:
        cases.make_many(url, MANY)
        cases.raise_prices(url)
        name, reached = "", 0
        for _ in range(KILLS):
            service = services.enter_context(running(url))
            if not name:
                body = {"note": "Dearer resin"}
                name = service.client.post("/v1/repricings", json=body).json()["id"]
            until(lambda: done(service, name) > reached)  # noqa: B023 - waited for in this turn
            reached = done(service, name)
            service.kill()
        assert 0 < reached < MANY, "it was not in the middle of anything"
        service = services.enter_context(running(url))
        until(lambda: service.client.get(f"/v1/repricings/{name}").json()["state"] == "done")
        found: dict[str, Any] = service.client.get(f"/v1/repricings/{name}").json()
        service.close()
        assert (found["done"], found["repriced"], found["changes"][0]["raised"]) == (MANY,) * 3
        revisions = all_revisions(url)
        assert len(revisions) == MANY
        assert set(map(str, revisions.values())) == {str([(1, None), (2, name)])}


def test_a_portion_is_killed_at_one_statement_after_another(new_database: NewDatabase) -> None:
    with new_database(True, loaded=True) as url:
        cases.make_many(url, FEW)
        cases.raise_prices(url)
        with client_of(url) as client:
            name = cases.begin(client)["id"]

        def portion() -> None:
            asyncio.run(_portion(url, name))

        def look() -> object:
            with client_of(url) as client:
                return cases.state(client, name), all_revisions(url)

        assert FEW < AT_ONCE
        assert deaths(portion, look) > FEWEST_DEATHS
        with client_of(url) as client:
            assert cases.state(client, name)["repriced"] == FEW
        assert all(len(one) == 2 for one in all_revisions(url).values())


async def _portion(url: URL, name: str) -> None:
    database = Database(url)
    await Batches(database, CatalogueSnapshots(database)).portion(ORGANISATION, name)
    await database.dispose()
