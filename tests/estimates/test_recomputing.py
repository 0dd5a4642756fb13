"""Stored revisions computed again: the same bytes, or what changed."""

import json
from typing import Any

import msgspec
import pytest
from calling import ORGANISATION
from revision_cases import CALLER, KIT, asked, kept, load_catalogue, priced_at, service_on
from sqlalchemy import URL, update

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import EVERYONE, Database
from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.errors import Conflict
from filmbuild.estimates import comparing, tables
from filmbuild.estimates.texts import packed
from filmbuild.estimates.wire import Recomputation
from filmbuild.pipeline import estimate as pipeline
from filmbuild.pipeline.requests import EstimateRequest

SYSTEMS = (
    "harbour-thin-film",
    "harbour-high-build",
    "harbour-decorative",
    "harbour-broadcast",
    "harbour-double-broadcast",
    "harbour-filled",
)


async def recomputed(database: Database, name: str) -> Recomputation:
    """By a service that has kept nothing in memory."""
    snapshots = CatalogueSnapshots(database)
    return await comparing.recomputation(service_on(database), snapshots, ORGANISATION, name, 1)


async def overwrite(database: Database, name: str, **columns: object) -> None:
    async with database.writer(EVERYONE) as connection:
        await connection.execute(
            update(tables.estimate_revision)
            .where(tables.estimate_revision.c.estimate_id == name)
            .values(**columns)
        )


def of_system(system: str, units: str) -> dict[str, Any]:
    body = asked(tax_place="Northmoor", contingency_percent="4.5")
    body["job"] |= {"system": system, "crew": [{"labour_class": "finisher", "count": 8}]}
    return {**body, "units": units}


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("system", SYSTEMS)
async def test_what_is_loaded_encodes_to_the_same_bytes(
    database: Database, system: str, units: str
) -> None:
    await load_catalogue(database)
    service = service_on(database)
    body = of_system(system, units)
    name = await kept(service, body)
    read = await service.load(ORGANISATION, name)
    assert encode(read.document, read.request.units) == read.result_text
    assert json.loads(read.request_text) == body
    assert read.request == decode(EstimateRequest, json.dumps(body).encode())
    assert await recomputed(database, name) == _same(name)


def _same(name: str) -> Recomputation:
    return Recomputation(
        estimate=name,
        revision=1,
        same=True,
        cause=None,
        engine_version=pipeline.ENGINE_VERSION,
        engine_version_now=pipeline.ENGINE_VERSION,
        catalogue_revision=1,
        priced_on=asked_day(),
        differences=None,
        values=(),
        problem=None,
        faults=(),
    )


def asked_day() -> Any:
    return decode(EstimateRequest, json.dumps(asked()).encode()).job.start


async def test_a_later_catalogue_changes_nothing(database: Database) -> None:
    await load_catalogue(database)
    name = await kept(service_on(database), asked())
    await load_catalogue(database, priced_at("999.00"))
    assert await recomputed(database, name) == _same(name)


async def test_another_engine_is_told_with_what_it_changed(
    database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    await load_catalogue(database)
    name = await kept(service_on(database), asked())
    monkeypatch.setattr(pipeline, "ENGINE_VERSION", "0.2.0")
    monkeypatch.setattr(comparing, "ENGINE_VERSION", "0.2.0")
    found = await recomputed(database, name)
    assert (found.same, found.cause) == (False, "engine")
    assert (found.engine_version, found.engine_version_now) == ("0.1.0", "0.2.0")
    assert [(one.pointer, one.was, one.now) for one in found.values] == [
        ("/engine_version", "0.1.0", "0.2.0")
    ]
    assert found.differences is not None
    assert found.differences.lines == ()
    assert found.differences.total.amount == 0


async def test_records_that_are_no_longer_what_they_were_are_told(database: Database) -> None:
    """The text of a kept result with another price of the kit in it stands for such a change."""
    await load_catalogue(database)
    service = service_on(database)
    name = await kept(service, asked())
    read = await service.load(ORGANISATION, name)
    lines = tuple(
        msgspec.structs.replace(
            one,
            unit_cost=msgspec.structs.replace(one.unit_cost, amount=one.unit_cost.amount + 1),
            amount=msgspec.structs.replace(one.amount, amount=one.amount.amount + one.quantity),
        )
        if one.item == KIT
        else one
        for one in read.document.price.lines
    )
    price = msgspec.structs.replace(read.document.price, lines=lines)
    document = msgspec.structs.replace(read.document, price=price)
    await overwrite(database, name, result=packed(encode(document, "us")))
    found = await recomputed(database, name)
    assert (found.same, found.cause) == (False, "catalogue")
    assert found.differences is not None
    (line,) = found.differences.lines
    assert (line.item, [one.cause for one in line.parts]) == (KIT, ["price"])
    assert all("/price/lines/" in one.pointer for one in found.values)


async def test_a_request_that_is_no_longer_taken_is_told(database: Database) -> None:
    await load_catalogue(database)
    name = await kept(service_on(database), asked())
    outdated = {**asked(), "colour": "red"}
    await overwrite(
        database, name, request=packed(json.dumps(outdated).encode()), engine_version="0.0.9"
    )
    found = await recomputed(database, name)
    assert (found.same, found.cause, found.differences) == (False, "engine", None)
    assert found.problem is not None
    assert [one.pointer for one in found.faults] == ["/colour"]


async def test_a_document_that_is_no_longer_read_is_a_conflict(database: Database) -> None:
    await load_catalogue(database)
    service = service_on(database)
    name = await kept(service, asked())
    await overwrite(database, name, result=packed(b'{"engine_version": "0.0.1"}'))
    with pytest.raises(Conflict, match="no longer reads"):
        await service.load(ORGANISATION, name)


async def test_another_organisation_sees_nothing(database: Database, database_url: URL) -> None:
    await load_catalogue(database)
    service = service_on(database)
    name = await kept(service, asked())
    assert CALLER.organisation == ORGANISATION
    async with database.reader(EVERYONE) as connection:
        assert connection.dialect.name == database_url.get_backend_name()
    with pytest.raises(Exception, match="No estimate has this id"):
        await service.load("another", name)
