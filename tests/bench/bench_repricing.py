"""Estimates repriced in the background, beside the same estimates computed and not kept.

Portions of a repricing and runs of the bare pipeline (from the request's text to the answer's) take
turns within one run and one process, so that both meet the same machine.
"""

import asyncio
import statistics
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import msgspec
import private_cluster
import reference
from calling import ORGANISATION
from prepared import prepare

from filmbuild.catalogue import loader, wire
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import EVERYONE, Database
from filmbuild.edge.decoding import decode
from filmbuild.edge.encoding import encode
from filmbuild.edge.operations import Caller
from filmbuild.estimates import store
from filmbuild.estimates.records import computed, revision_of
from filmbuild.pipeline.estimate import estimate_document
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.specification import Catalogue
from filmbuild.repricing.batches import AT_ONCE, Batches
from filmbuild.repricing.service import RepricingService
from filmbuild.repricing.wire import RepricingRequest

AREAS = (1, 12)
PORTIONS = 8
CALLER = Caller(organisation=ORGANISATION, actor="benchmark")


def figures() -> list[dict[str, Any]]:
    found = [one for areas in AREAS for one in _figures("sqlite", areas, None)]
    binaries = private_cluster.programs()
    if binaries is not None:
        with private_cluster.cluster(binaries) as cluster:
            for areas in AREAS:
                url = cluster.create(f"bench_{areas}").render_as_string(hide_password=False)
                found += _figures("postgresql", areas, url)
    return found


def _figures(name: str, areas: int, url: str | None) -> list[dict[str, Any]]:
    with tempfile.TemporaryDirectory() as folder:
        settings, catalogue = prepare(folder, url)
        repriced, bare = asyncio.run(_measured(Database(settings.database_url), catalogue, areas))
    ratios = [one / other for one, other in zip(repriced, bare, strict=True)]
    label = f"repricing.{name}.{areas}_areas"
    return [
        {"name": label, "value": statistics.median(repriced), "unit": "estimates/s"},
        {"name": f"{label}_over_bare", "value": statistics.median(ratios), "unit": "ratio"},
    ]


async def _measured(
    database: Database, catalogue: Catalogue, areas: int
) -> tuple[list[float], list[float]]:
    """Estimates per second of each portion, and of as many runs of the bare pipeline."""
    text = reference.request(areas)
    await _keep_copies(database, catalogue, text, PORTIONS * AT_ONCE)
    await loader.load(database, ORGANISATION, wire.read(_dearer()), "benchmark")
    name = (await RepricingService(database).begin(CALLER, RepricingRequest(note="x"), None)).id
    batches = Batches(database, CatalogueSnapshots(database))

    def once() -> bytes:
        asked = decode(EstimateRequest, text)
        return encode(estimate_document(asked, catalogue), asked.units)

    repriced, bare = [], []
    for _ in range(PORTIONS):
        bare.append(_rate(once))
        start = time.perf_counter()
        await batches.portion(ORGANISATION, name)
        repriced.append(AT_ONCE / (time.perf_counter() - start))
    await database.dispose()
    return repriced, bare


def _rate(once: Callable[[], object]) -> float:
    start = time.perf_counter()
    for _ in range(AT_ONCE):
        once()
    return AT_ONCE / (time.perf_counter() - start)


async def _keep_copies(database: Database, catalogue: Catalogue, text: bytes, many: int) -> None:
    made = computed(decode(EstimateRequest, text), text, catalogue)
    now = datetime.now(UTC)
    async with database.writer(EVERYONE) as connection:
        for _ in range(many):
            head = store.EstimateHead(
                id=store.new_estimate_id(),
                created_at=now,
                site_name=made.site_name,
                reference=made.reference,
            )
            first = revision_of(made, number=1, now=now, actor=CALLER.actor)
            await store.insert_estimate(connection, ORGANISATION, head, first)


def _dearer() -> bytes:
    """The demo catalogue at prices that are twice as high."""
    document = msgspec.json.decode(wire.demo())
    for price in document["prices"]:
        price["amount"] = f"{2 * float(price['amount']):.2f}"
        for one in price.get("breaks", ()):
            one["amount"] = f"{2 * float(one['amount']):.2f}"
    return msgspec.json.encode(document)
