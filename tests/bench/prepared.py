"""A fresh database with the demo catalogue, and that catalogue as the pipeline reads it."""

import asyncio
from pathlib import Path

import msgspec
import new_databases
import reference
from calling import ORGANISATION
from sqlalchemy import make_url

from filmbuild.catalogue import loader, wire
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.edge.decoding import decode
from filmbuild.estimates.assemble import catalogue_for
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.pipeline.specification import Catalogue
from filmbuild.settings import Settings, read


def prepare(folder: str, url: str | None = None) -> tuple[Settings, Catalogue]:
    """In the folder, unless another database is named."""
    Path(folder).mkdir(parents=True, exist_ok=True)
    settings = read({"FILMBUILD_DATA_FOLDER": folder})
    if url is not None:
        settings = msgspec.structs.replace(settings, database_url=make_url(url))
    new_databases.make(settings.database_url)
    return settings, asyncio.run(_catalogue(settings))


async def _catalogue(settings: Settings) -> Catalogue:
    database = Database(settings.database_url)
    try:
        await loader.load(database, ORGANISATION, wire.read(wire.demo()), "benchmark")
        job = decode(EstimateRequest, reference.request(1)).job
        return await catalogue_for(CatalogueSnapshots(database), ORGANISATION, job, None)
    finally:
        await database.dispose()
