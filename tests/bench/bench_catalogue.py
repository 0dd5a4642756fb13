"""The same job computed on a catalogue of 100 packs and on one of 100,000, in one process.

And what the larger one takes to be read, to follow a change of one price, and to change a record.
"""

import asyncio
import gc
import statistics
import tempfile
import time
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

import msgspec
import new_databases
import reference
from calling import ORGANISATION

from filmbuild.catalogue import loader, wire
from filmbuild.catalogue.kinds import RESOURCES
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.catalogue.wishes import patch
from filmbuild.catalogue.writing import Basis, CatalogueWriter, Order, Wish
from filmbuild.db import Database
from filmbuild.edge.decoding import decode
from filmbuild.edge.operations import Caller
from filmbuild.estimates.service import EstimateService
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.settings import read

FEW, MANY = 100, 100_000
PACKS_OF_A_PRODUCT = 10
ROUNDS = 60
CHANGES = 5
REPEATS = 2_000
CALLER = Caller(organisation=ORGANISATION, actor="benchmark")


def figures() -> list[dict[str, Any]]:
    with tempfile.TemporaryDirectory() as folder:
        few, many = Path(folder, "few"), Path(folder, "many")
        for one in (few, many):
            one.mkdir()
        return asyncio.run(_measure(few, many))


async def _measure(folder_of_few: Path, folder_of_many: Path) -> list[dict[str, Any]]:
    few = await _made(folder_of_few, FEW)
    many = await _made(folder_of_many, MANY)
    try:
        before = _resident()
        snapshots = CatalogueSnapshots(many)
        cold = await _seconds(lambda: snapshots.current(ORGANISATION))
        gc.collect()
        held = _resident() - before
        ratio, milliseconds = await _calculations(few, many, snapshots)
        return [
            _figure("catalogue.calculation_100000_over_100_packs", ratio, "ratio"),
            _figure("catalogue.calculation_on_100000_packs", milliseconds, "ms"),
            _figure("catalogue.revision_check", await _check(snapshots) * 1e6, "us"),
            _figure("catalogue.cold_load", cold, "s"),
            _figure("catalogue.memory", held / 2**20, "MiB"),
            *await _changed(many, snapshots),
        ]
    finally:
        await few.dispose()
        await many.dispose()


async def _made(folder: Path, packs: int) -> Database:
    settings = read({"FILMBUILD_DATA_FOLDER": str(folder)})
    new_databases.make(settings.database_url)
    database = Database(settings.database_url)
    document = msgspec.json.encode(_document(packs))
    await loader.load(database, ORGANISATION, wire.read(document), "benchmark")
    return database


def _document(packs: int) -> dict[str, Any]:
    """The demo catalogue, filled up with copies of one product, its kit and the kit's prices."""
    document: dict[str, Any] = msgspec.json.decode(wire.demo())
    pack = document["packs"][0]
    product = next(one for one in document["products"] if one["id"] == pack["product"])
    prices = [one for one in document["prices"] if one["pack"] == pack["id"]]
    for number in range(packs - len(document["packs"])):
        of = f"copy-{number // PACKS_OF_A_PRODUCT}"
        if number % PACKS_OF_A_PRODUCT == 0:
            document["products"].append({**product, "id": of, "name": of})
        copy = {**pack, "id": f"{of}-{number}", "product": of}
        document["packs"].append(copy)
        document["prices"] += [{**one, "pack": copy["id"]} for one in prices]
    return document


async def _calculations(
    few: Database, many: Database, snapshots: CatalogueSnapshots
) -> tuple[float, float]:
    """Medians of turns that alternate, so that both meet the same machine."""
    body = reference.request(1)
    request = decode(EstimateRequest, body)
    services = (
        EstimateService(few, CatalogueSnapshots(few)),
        EstimateService(many, snapshots),
    )
    times: tuple[list[float], list[float]] = ([], [])
    for turn in range(ROUNDS):
        for service, kept in zip(services, times, strict=True):
            taken = await _seconds(lambda service=service: service.calculation(request, body))  # type: ignore[misc]  # mypy types no defaults of lambdas
            if turn > ROUNDS // 10:
                kept.append(taken)
    medians = [statistics.median(one) for one in times]
    return medians[1] / medians[0], medians[1] * 1e3


async def _check(snapshots: CatalogueSnapshots) -> float:
    start = time.perf_counter()
    for _ in range(REPEATS):
        await snapshots.newest(ORGANISATION)
    return (time.perf_counter() - start) / REPEATS


async def _changed(many: Database, snapshots: CatalogueSnapshots) -> list[dict[str, Any]]:
    """A tax rule, a pack, and a price are changed in turn; each is then seen by the next request."""
    writer = CatalogueWriter(many, snapshots)
    named: dict[str, tuple[list[float], list[float]]] = {}
    for turn in range(CHANGES):
        for kind, name in (("taxes", "demo"), ("packs", "copy-7-70")):
            resource = next(one for one in RESOURCES if one.stored.name == kind)
            known = (await snapshots.current(ORGANISATION)).records(kind).ids
            chosen = name if name in known else known[0]

            async def wish(basis: Basis, resource: Any = resource, chosen: str = chosen) -> Wish:
                change = {"name": f"Changed {turn}"}  # noqa: B023 - made and used in the same turn
                return await patch(basis, resource, chosen, change, {"if-match": "*"})

            order = Order(caller=CALLER, note="benchmark")
            writing, following = named.setdefault(kind, ([], []))
            writing.append(await _seconds(lambda wish=wish, order=order: writer.apply(order, wish)))  # type: ignore[misc]  # as above
            following.append(await _seconds(lambda: snapshots.current(ORGANISATION)))
    return [
        _figure(f"catalogue.{what}_{kind}", statistics.median(times) * 1e3, "ms")
        for kind, both in named.items()
        for what, times in zip(("change_one_of", "follow_a_change_of"), both, strict=True)
    ]


async def _seconds(work: Callable[[], Awaitable[object]]) -> float:
    start = time.perf_counter()
    await work()
    return time.perf_counter() - start


def _resident() -> int:
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * 4096


def _figure(name: str, value: float, unit: str) -> dict[str, Any]:
    return {"name": name, "value": value, "unit": unit}
