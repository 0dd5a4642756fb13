"""Several revise one estimate at the same moment, each with a database of its own, as processes have."""

import asyncio
import json
from collections import Counter

from calling import ORGANISATION
from revision_cases import (
    CALLER,
    asked,
    kept,
    load_catalogue,
    of_length,
    priced_at,
    service_on,
)
from sqlalchemy import URL

from filmbuild.db import Database
from filmbuild.edge.decoding import decode
from filmbuild.errors import Conflict, PreconditionFailed
from filmbuild.estimates.repricing import RepriceCause
from filmbuild.estimates.service import EstimateService
from filmbuild.estimates.wire import RevisionRequest
from filmbuild.idempotency import RequestKey

AT_ONCE = 6
CAUSE = RepriceCause("rep_1", "Prices went up")


async def revise(
    service: EstimateService, name: str, feet: float, tag: str, key: RequestKey | None = None
) -> str:
    content = json.dumps({"request": of_length(feet), "cause": f"{feet} ft"}).encode()
    body = decode(RevisionRequest, content)
    try:
        await service.revise(CALLER, name, body, content, {"if-match": tag}, key)
    except PreconditionFailed:
        return "stale"
    except Conflict:
        return "conflict"
    return "made"


async def causes(service: EstimateService, name: str) -> list[str | None]:
    latest = (await service.find_stored(ORGANISATION, name, None)).head.latest_revision
    found = [
        await service.find_stored(ORGANISATION, name, number) for number in range(1, latest + 1)
    ]
    return [one.revision.cause for one in found]


async def test_of_revisions_made_from_the_same_one_exactly_one_is_kept(
    database: Database, database_url: URL
) -> None:
    await load_catalogue(database)
    databases = [Database(database_url) for _ in range(AT_ONCE)]
    services = [service_on(one) for one in databases]
    name = await kept(services[0], asked())
    told = await asyncio.gather(
        *(revise(one, name, 25 + place, '"r1"') for place, one in enumerate(services))
    )
    assert Counter(told) == {"made": 1, "stale": AT_ONCE - 1}
    assert await causes(services[0], name) == [None, f"{25 + told.index('made')} ft"]
    for one in databases:
        await one.dispose()


async def test_those_who_read_again_and_retry_lose_nothing(
    database: Database, database_url: URL
) -> None:
    await load_catalogue(database)
    databases = [Database(database_url) for _ in range(AT_ONCE)]
    name = await kept(service_on(databases[0]), asked())

    async def until_made(service: EstimateService, feet: float) -> None:
        told = "stale"
        while told == "stale":
            tag = (await service.get(ORGANISATION, name)).tag
            told = await revise(service, name, feet, tag)
        assert told == "made"

    await asyncio.gather(
        *(until_made(service_on(one), 25 + place) for place, one in enumerate(databases))
    )
    first, *made = await causes(service_on(databases[0]), name)
    assert first is None
    assert sorted(str(one) for one in made) == [f"{25 + place} ft" for place in range(AT_ONCE)]
    for one in databases:
        await one.dispose()


async def test_one_key_sent_many_times_at_once_makes_one_revision(
    database: Database, database_url: URL
) -> None:
    await load_catalogue(database)
    databases = [Database(database_url) for _ in range(AT_ONCE)]
    services = [service_on(one) for one in databases]
    name = await kept(services[0], asked())
    key = RequestKey(organisation=ORGANISATION, caller="tester", key="k", digest="d")
    told = await asyncio.gather(*(revise(one, name, 30, '"r1"', key) for one in services))
    assert set(told) == {"made"}
    assert await causes(services[0], name) == [None, "30 ft"]
    for one in databases:
        await one.dispose()


async def test_one_repricing_by_many_workers_makes_one_revision(
    database: Database, database_url: URL
) -> None:
    await load_catalogue(database)
    databases = [Database(database_url) for _ in range(AT_ONCE)]
    services = [service_on(one) for one in databases]
    name = await kept(services[0], asked())
    await load_catalogue(database, priced_at("256.00"))
    outcomes = await asyncio.gather(
        *(
            one.reprice(ORGANISATION, name, actor=f"worker-{place}", cause=CAUSE)
            for place, one in enumerate(services)
        )
    )
    assert {one.outcome for one in outcomes} == {"repriced"}
    assert {one.now and one.now.revision for one in outcomes} == {2}
    assert await causes(services[0], name) == [None, CAUSE.text]
    for one in databases:
        await one.dispose()
