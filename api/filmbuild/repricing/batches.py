"""The portions of a repricing: so many estimates at a time, each kept with what became of it.

They are computed outside of any transaction, and kept in one, under a lock on the repricing. That
one also finds which of them are still waiting: so none is done twice, however often and by however
many a portion is begun, and none is left out, as what was not kept is still waiting.
"""

import logging
from collections.abc import Sequence
from datetime import UTC, datetime

from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.errors import InvalidInput, Unavailable
from filmbuild.estimates import repricing as estimates
from filmbuild.estimates.repricing import Repriced
from filmbuild.estimates.store import StoredEstimate
from filmbuild.jobs import Work
from filmbuild.repricing import keeping, store
from filmbuild.repricing.records import Repricing, Row, State, row_of
from filmbuild.webhooks import outbox
from filmbuild.webhooks.events import Event, RepricingEventData

logger = logging.getLogger("filmbuild.repricing")
KIND = "repricing"
AT_ONCE = 20
FAILED = "The service failed on this estimate, and left it as it was; the log says why."


class Batches:
    def __init__(self, database: Database, snapshots: CatalogueSnapshots) -> None:
        self._database = database
        self._snapshots = snapshots

    @property
    def work(self) -> Work:
        return Work(portion=self.portion, failed=self.failed)

    async def portion(self, organisation: str, name: str) -> bool:
        """The next so many; whether there may be more."""
        async with self._database.reader(organisation) as connection:
            undertaking = await store.get(connection, organisation, name)
            if undertaking is None or undertaking.state != "running":
                return False
            found = await _next(connection, organisation, name)
        if not found:
            return await self._finish(organisation, name)
        computed = [await self._compute(organisation, undertaking, one) for one in found]
        async with self._database.writer(organisation) as connection:
            return await _keep(connection, organisation, name, computed)

    async def failed(
        self, connection: AsyncConnection, organisation: str, name: str, detail: str
    ) -> None:
        undertaking = await store.lock(connection, organisation, name)
        if undertaking is not None and undertaking.state == "running":
            now = datetime.now(UTC)
            await store.set_state(connection, organisation, name, "failed", now, detail)
            await outbox.write(connection, organisation, _ended(undertaking, "failed", now))

    async def _finish(self, organisation: str, name: str) -> bool:
        """Whether any are waiting after all."""
        async with self._database.writer(organisation) as connection:
            undertaking = await store.lock(connection, organisation, name)
            if undertaking is None or undertaking.state != "running":
                return False
            if undertaking.tally.done < undertaking.estimates:
                return True
            now = datetime.now(UTC)
            await store.set_state(connection, organisation, name, "done", now)
            await outbox.write(connection, organisation, _ended(undertaking, "done", now))
        return False

    async def _compute(
        self, organisation: str, undertaking: Repricing, found: StoredEstimate
    ) -> Repriced:
        """What is wrong with one estimate must not keep the others from their turn."""
        try:
            return await estimates.compute(
                self._snapshots,
                organisation,
                found,
                priced_on=undertaking.priced_on,
                catalogue_revision=undertaking.catalogue_revision,
            )
        except Unavailable:
            raise
        except InvalidInput as error:
            return Repriced(
                head=found.head, was=found.revision, problem=error.detail, faults=error.faults
            )
        except Exception:
            logger.exception("estimate %s could not be repriced", found.head.id)
            return Repriced(head=found.head, was=found.revision, problem=FAILED)


def _ended(undertaking: Repricing, state: State, now: datetime) -> Event:
    tally = undertaking.tally
    data = RepricingEventData(
        id=undertaking.id,
        state=state,
        estimates=undertaking.estimates,
        repriced=tally.repriced,
        unchanged=tally.unchanged,
        accepted=tally.accepted,
        refused=tally.refused,
    )
    return Event(type="repricing.finished", subject=undertaking.id, data=data, at=now)


async def _next(connection: AsyncConnection, organisation: str, name: str) -> list[StoredEstimate]:
    waiting = await store.waiting(connection, organisation, name, AT_ONCE)
    return await keeping.stored(connection, organisation, waiting)


async def _keep(
    connection: AsyncConnection, organisation: str, name: str, computed: Sequence[Repriced]
) -> bool:
    """Those that have changed since they were read stay waiting; whether to go on."""
    undertaking = await store.lock(connection, organisation, name)
    if undertaking is None or undertaking.state != "running":
        return False
    ids = [one.head.id for one in computed]
    waiting = await store.still_waiting(connection, organisation, name, ids)
    left = [one for one in computed if one.head.id in waiting]
    tally, rows = undertaking.tally, list[Row]()
    for outcome in await keeping.keep(
        connection, organisation, undertaking, left, datetime.now(UTC)
    ):
        row = row_of(outcome, tally.done + 1, undertaking.minimum_margin_percent)
        tally = tally.with_one(row)
        rows.append(row)
    await store.keep_rows(connection, organisation, name, rows, tally)
    return True
