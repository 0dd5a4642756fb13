"""Estimates on another catalogue revision or price day."""

import json
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from calling import ORGANISATION
from revision_cases import (
    CALLER,
    DAY,
    KIT,
    Change,
    asked,
    demo_catalogue,
    kept,
    load_catalogue,
    priced_at,
    service_on,
)
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.db import EVERYONE, Database
from filmbuild.edge.decoding import decode
from filmbuild.errors import InvalidInput, NotFound
from filmbuild.estimates import comparing, store
from filmbuild.estimates.repricing import RepriceCause, RepriceOutcome
from filmbuild.estimates.service import EstimateService
from filmbuild.estimates.wire import DifferencesQuery
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.requests import EstimateRequest

CAUSE = RepriceCause("rep_1", "Prices of the kits went up")


async def reprice(
    service: EstimateService, name: str, cause: RepriceCause = CAUSE, **more: Any
) -> RepriceOutcome:
    return await service.reprice(ORGANISATION, name, actor="worker", cause=cause, **more)


async def revisions(service: EstimateService, name: str) -> int:
    return (await service.find_stored(ORGANISATION, name, None)).head.latest_revision


def without(product: str) -> Change:
    """Nothing of a product can be bought any more."""

    def change(catalogue: dict[str, Any]) -> None:
        gone = {one["id"] for one in catalogue["packs"] if one["product"] == product}
        catalogue["packs"] = [one for one in catalogue["packs"] if one["id"] not in gone]
        catalogue["prices"] = [one for one in catalogue["prices"] if one["pack"] not in gone]

    return change


async def test_a_new_price_makes_a_revision_that_says_why(database: Database) -> None:
    await load_catalogue(database)
    service = service_on(database)
    name = await kept(service, {**asked(), "reference": "Hall"})
    await load_catalogue(database, priced_at("256.00"))
    outcome = await reprice(service, name)
    assert (outcome.outcome, outcome.estimate, outcome.problem) == ("repriced", name, None)
    assert outcome.now is not None
    assert (outcome.was.revision, outcome.now.revision) == (1, 2)
    assert (outcome.now.actor, outcome.now.cause, outcome.now.cause_id) == (
        "worker",
        CAUSE.text,
        CAUSE.id,
    )
    assert (outcome.now.catalogue_revision, outcome.now.priced_on) == (2, DAY)
    assert outcome.now.total > outcome.was.total
    found = await comparing.revision_differences(service, ORGANISATION, name, DifferencesQuery())
    (line,) = found.differences.lines
    assert (line.item, line.amount.amount) == (KIT, Decimal("20.00"))
    assert [one.cause for one in line.parts] == ["price"]
    assert {one.pointer for one in found.asked} == {"/catalogue_revision", "/job/priced_on"}
    assert found.differences.total.amount == outcome.now.total - outcome.was.total


async def test_the_request_of_a_repriced_revision_gets_its_answer_again(
    database: Database,
) -> None:
    """Without changing what was asked, down to the digits."""
    await load_catalogue(database)
    service = service_on(database)
    body = asked()
    body["site"]["areas"][0]["outline"]["length"] = "7.123456789012345 m"
    name = await kept(service, body)
    await load_catalogue(database, priced_at("256.00"))
    await reprice(service, name)
    read = await service.load(ORGANISATION, name)
    expected = {**body, "catalogue_revision": 2, "job": {**body["job"], "priced_on": str(DAY)}}
    assert json.loads(read.request_text) == expected
    made = await service_on(database).create(CALLER, read.request, read.request_text, None)
    assert json.loads(made.content)["document"] == json.loads(read.result_text)


async def test_the_same_price_makes_no_revision(database: Database) -> None:
    """Though every trace would name the newer revision of the catalogue."""
    await load_catalogue(database)
    service = service_on(database)
    name = await kept(service, asked())
    await load_catalogue(database, priced_at("9999.00", "harbour-140-kit-15gal"))
    outcome = await reprice(service, name)
    assert (outcome.outcome, outcome.now) == ("unchanged", None)
    assert await revisions(service, name) == 1


async def test_a_cause_reprices_an_estimate_once(database: Database) -> None:
    await load_catalogue(database)
    service = service_on(database)
    name = await kept(service, asked())
    await load_catalogue(database, priced_at("256.00"))
    first = await reprice(service, name)
    await load_catalogue(database, priced_at("300.00"))
    again = await reprice(service, name)
    assert (again.was.total, again.now and again.now.total) == (
        first.was.total,
        first.now and first.now.total,
    )
    assert await revisions(service, name) == 2
    other = await reprice(service, name, RepriceCause("rep_2", "Once more"))
    assert other.outcome == "repriced"
    assert await revisions(service, name) == 3


async def test_a_named_revision_and_day_are_used(database: Database) -> None:
    def later(catalogue: dict[str, Any]) -> None:
        catalogue["prices"].append(
            {"pack": KIT, "amount": "300.00", "currency": "USD", "effective_from": "2026-10-01"}
        )

    await load_catalogue(database)
    service = service_on(database)
    name = await kept(service, asked())
    await load_catalogue(database, later)
    await load_catalogue(database, priced_at("999.00"))
    assert (await reprice(service, name, catalogue_revision=2)).outcome == "unchanged"
    outcome = await reprice(service, name, catalogue_revision=2, priced_on=date(2026, 10, 1))
    assert outcome.now is not None
    assert (outcome.now.catalogue_revision, outcome.now.priced_on) == (2, date(2026, 10, 1))
    document = (await service.load(ORGANISATION, name)).document
    assert [str(one.unit_cost.amount) for one in document.price.lines if one.item == KIT] == [
        "300.00"
    ]
    with pytest.raises(InvalidInput):
        await reprice(service, name, RepriceCause("rep_9", "x"), catalogue_revision=99)


async def test_what_was_agreed_on_is_left_alone(database: Database) -> None:
    await load_catalogue(database)
    service = service_on(database)
    name = await kept(service, asked())
    async with database.writer(EVERYONE) as connection:
        await store.mark_accepted(connection, ORGANISATION, name, 1)
    await load_catalogue(database, priced_at("256.00"))
    outcome = await reprice(service, name)
    assert (outcome.outcome, outcome.now) == ("accepted", None)
    assert await revisions(service, name) == 1


async def test_what_can_no_longer_be_bought_is_told_and_nothing_is_kept(
    database: Database,
) -> None:
    await load_catalogue(database)
    service = service_on(database)
    name = await kept(service, asked())
    await load_catalogue(database, without("harbour-140"))
    outcome = await reprice(service, name)
    assert (outcome.outcome, outcome.now) == ("refused", None)
    assert outcome.problem
    assert outcome.faults
    assert all(one.pointer.startswith("/job") for one in outcome.faults)
    assert await revisions(service, name) == 1


async def test_what_is_written_along_stands_or_falls_with_the_revision(
    database: Database,
) -> None:
    await load_catalogue(database)
    service = service_on(database)
    name = await kept(service, asked())
    await load_catalogue(database, priced_at("256.00"))
    seen: list[str] = []

    async def fail(_connection: AsyncConnection, outcome: RepriceOutcome) -> None:
        seen.append(outcome.outcome)
        raise RuntimeError("the machine is switched off")

    with pytest.raises(RuntimeError, match="switched off"):
        await reprice(service, name, along=fail)
    assert (seen, await revisions(service, name)) == (["repriced"], 1)
    assert (await reprice(service, name)).outcome == "repriced"


async def test_an_estimate_that_changed_meanwhile_is_computed_again(database: Database) -> None:
    await load_catalogue(database)
    service = service_on(database)
    name = await kept(service, asked())
    await load_catalogue(database, priced_at("256.00"))
    stale = await service.compute_repricing(ORGANISATION, name)
    first = await reprice(service, name, RepriceCause("rep_0", "Another came first"))
    async with database.writer(EVERYONE) as connection:
        outcome = await service.keep_repricing(
            connection, ORGANISATION, stale, actor="worker", cause=CAUSE
        )
    assert outcome is None
    assert first.now is not None
    assert (await reprice(service, name)).was.revision == first.now.revision
    assert await revisions(service, name) == 2


async def test_an_unknown_estimate_is_not_found(database: Database) -> None:
    await load_catalogue(database)
    with pytest.raises(NotFound):
        await reprice(service_on(database), "est_" + "0" * 26)


def test_the_pipeline_takes_a_repriced_request_as_it_took_the_first() -> None:
    """A price day in the job says which prices hold, and nothing else."""
    body = asked()
    named = {**body, "job": {**body["job"], "priced_on": str(DAY)}}
    requests = [decode(EstimateRequest, json.dumps(one).encode()) for one in (body, named)]
    documents = [estimate_document(one, demo_catalogue()) for one in requests]
    assert documents[0] == documents[1]
