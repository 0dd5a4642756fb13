"""The catalogue in memory: one immutable snapshot per organisation and revision."""

import asyncio
from collections import OrderedDict, defaultdict
from datetime import date

from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.catalogue import store, tables
from filmbuild.catalogue.contents import (
    CatalogueSnapshot,
    Difference,
    Records,
    StoredRecordError,
    build,
    build_after,
)
from filmbuild.catalogue.store import KINDS
from filmbuild.db import Database
from filmbuild.errors import NotFound, Unavailable
from filmbuild.money import Currency
from filmbuild.pipeline.specification import Catalogue

__all__ = ["CatalogueSnapshot", "CatalogueSnapshots", "Records", "StoredRecordError"]

MOST_SNAPSHOTS = 64
MOST_RECORDS = 1_000_000
"""In all snapshots together, as if none were shared: some kilobytes of memory each at most."""


class CatalogueSnapshots:
    """Snapshots of the latest revision and of those asked for by number, the last used kept.

    Each request asks the database for the number of the newest revision, and for nothing else
    while that is in memory: several processes on one database agree at once.
    """

    def __init__(
        self,
        database: Database,
        *,
        capacity: int = MOST_SNAPSHOTS,
        most_records: int = MOST_RECORDS,
    ) -> None:
        self._database = database
        self._capacity = capacity
        self._most_records = most_records
        self._kept: OrderedDict[tuple[str, int], CatalogueSnapshot] = OrderedDict()
        self._weight = 0
        self._pulse = database.pulse(tables.catalogue_revision.name, "revision")
        self._loading: defaultdict[str, asyncio.Lock] = defaultdict(asyncio.Lock)

    async def current(self, organisation: str) -> CatalogueSnapshot:
        """Raises `Unavailable` before any catalogue has been loaded."""
        newest = await self.newest(organisation)
        if newest is None:
            raise Unavailable("No catalogue has been loaded yet.")
        return await self.at(organisation, newest)

    async def newest(self, organisation: str) -> int | None:
        """The number of the newest revision, as the database has it now."""
        return await self._pulse.largest(organisation)

    async def at(self, organisation: str, revision: int) -> CatalogueSnapshot:
        """Raises `NotFound`."""
        found = self._find(organisation, revision)
        if found is None:
            async with self._loading[organisation]:
                found = self._find(organisation, revision)
                if found is None:
                    found = await self._load(organisation, revision)
                    self._keep(found)
        return found

    async def priced(
        self, organisation: str, currency: Currency, day: date, revision: int | None = None
    ) -> Catalogue:
        if revision is None:
            return (await self.current(organisation)).priced(currency, day)
        return (await self.at(organisation, revision)).priced(currency, day)

    async def held(self) -> float:
        """How many are in memory."""
        return float(len(self._kept))

    def _find(self, organisation: str, revision: int) -> CatalogueSnapshot | None:
        found = self._kept.get((organisation, revision))
        if found is not None:
            self._kept.move_to_end((organisation, revision))
        return found

    def _keep(self, snapshot: CatalogueSnapshot) -> None:
        """The one that was just asked for stays, however large it is."""
        self._kept[snapshot.organisation, snapshot.revision] = snapshot
        self._weight += snapshot.weight
        while len(self._kept) > 1 and (
            len(self._kept) > self._capacity or self._weight > self._most_records
        ):
            _, dropped = self._kept.popitem(last=False)
            self._weight -= dropped.weight

    def _nearest(self, organisation: str, revision: int) -> CatalogueSnapshot | None:
        """The latest before a revision that is in memory."""
        kept = (number for owner, number in self._kept if owner == organisation)
        before = max((number for number in kept if number < revision), default=None)
        return None if before is None else self._kept[organisation, before]

    async def _load(self, organisation: str, revision: int) -> CatalogueSnapshot:
        nearest = self._nearest(organisation, revision)
        async with self._database.reader(organisation) as connection:
            made = await store.find_revision(connection, organisation, revision)
            if made is None:
                raise NotFound(f"The catalogue has no revision {revision}.")
            if nearest is None:
                texts = {
                    kind.name: await store.specifications(connection, organisation, kind, revision)
                    for kind in KINDS
                }
                prices = await store.prices(connection, organisation, revision)
                return await asyncio.to_thread(build, organisation, made, texts, prices)
            difference = await _difference(connection, organisation, nearest.revision, revision)
        return await asyncio.to_thread(build_after, nearest, made, difference)


async def _difference(
    connection: AsyncConnection, organisation: str, before: int, revision: int
) -> Difference:
    begun = {
        kind.name: await store.begun_since(connection, organisation, kind, before, revision)
        for kind in KINDS
    }
    ended = {
        kind.name: await store.ended_since(connection, organisation, kind, before, revision)
        for kind in KINDS
    }
    prices = await store.prices(connection, organisation, revision, since=before)
    return Difference(begun, ended, prices)
