"""Begins repricings, tells of them, and stops and resumes them."""

from datetime import UTC, datetime

from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild import idempotency, jobs
from filmbuild.catalogue import store as catalogue
from filmbuild.db import Database
from filmbuild.db.identities import new_identity
from filmbuild.edge import paging
from filmbuild.edge.operations import Caller
from filmbuild.edge.paging import PageQuery
from filmbuild.errors import Conflict, Fault, Faults, InvalidInput, NotFound, Unavailable
from filmbuild.idempotency import KeptAnswer, RequestKey
from filmbuild.repricing import store
from filmbuild.repricing.answers import answer, estimate_answer
from filmbuild.repricing.batches import KIND
from filmbuild.repricing.records import Repricing
from filmbuild.repricing.wire import (
    RepricedEstimatePage,
    RepricedEstimatesQuery,
    RepricingPage,
    RepricingRequest,
)

ACCEPTED = 202


class RepricingService:
    def __init__(self, database: Database) -> None:
        self._database = database

    async def begin(
        self, caller: Caller, asked: RepricingRequest, key: RequestKey | None
    ) -> Repricing:
        """Raises InvalidInput, IdempotencyKeyReused, and Unavailable before any catalogue is loaded."""
        organisation, name, now = caller.organisation, new_identity("rep"), datetime.now(UTC)
        async with self._database.writer(organisation) as connection:
            if key is not None:
                if known := await idempotency.find(connection, key, now):
                    return await _found(connection, organisation, known.resource)
                kept = KeptAnswer(status=ACCEPTED, resource=name)
                await idempotency.keep(connection, key, kept, now)
            made = Repricing(
                id=name,
                created_at=now,
                actor=caller.actor,
                note=asked.note,
                catalogue_revision=await _revision(
                    connection, organisation, asked.catalogue_revision
                ),
                priced_on=asked.priced_on,
                minimum_margin_percent=asked.minimum_margin_percent,
            )
            await _check_choice(connection, organisation, asked)
            await store.insert_repricing(connection, organisation, made, asked.estimates)
            await jobs.ask(connection, organisation, KIND, name, now)
            return await _found(connection, organisation, name)

    async def get(self, organisation: str, name: str) -> Repricing:
        """Raises NotFound."""
        async with self._database.reader(organisation) as connection:
            return await _found(connection, organisation, name)

    async def find(self, organisation: str, query: PageQuery, path: str) -> RepricingPage:
        after = paging.after_moment(query, path, store.Position)
        async with self._database.reader(organisation) as connection:
            found, more = await store.page(connection, organisation, after, query.limit)
        last = f"{found[-1].created_at.isoformat()} {found[-1].id}" if more else None
        return RepricingPage(
            items=tuple(answer(one) for one in found),
            next=None if last is None else paging.cursor(query, path, last),
        )

    async def find_estimates(
        self, organisation: str, name: str, query: RepricedEstimatesQuery, path: str
    ) -> RepricedEstimatePage:
        """Those that are done. Raises NotFound."""
        after = paging.after_number(query, path)
        async with self._database.reader(organisation) as connection:
            await _found(connection, organisation, name)
            found = await store.done_after(
                connection,
                organisation,
                name,
                after or 0,
                query.limit + 1,
                outcome=query.outcome,
                below_margin=query.below_margin,
            )
        shown = found[: query.limit]
        more = len(found) > query.limit
        return RepricedEstimatePage(
            items=tuple(estimate_answer(one) for one in shown),
            next=paging.cursor(query, path, str(shown[-1].sequence)) if more else None,
        )

    async def stop(self, organisation: str, name: str) -> Repricing:
        """What is being computed just now is thrown away. Raises NotFound and Conflict."""
        now = datetime.now(UTC)
        async with self._database.writer(organisation) as connection:
            found = await _locked(connection, organisation, name)
            if found.over:
                raise Conflict(f"The repricing is {found.state} already.")
            if found.state == "running":
                await store.set_state(connection, organisation, name, "stopped", now)
            return await _found(connection, organisation, name)

    async def resume(self, organisation: str, name: str) -> Repricing:
        """Goes on with the estimates that are waiting. Raises NotFound and Conflict."""
        async with self._database.writer(organisation) as connection:
            found = await _locked(connection, organisation, name)
            if found.state == "done":
                raise Conflict("The repricing is done already.")
            if found.state != "running":
                await store.set_state(connection, organisation, name, "running")
                await jobs.ask(connection, organisation, KIND, name, datetime.now(UTC))
            return await _found(connection, organisation, name)


async def _revision(connection: AsyncConnection, organisation: str, asked: int | None) -> int:
    """Fixed when it begins, so that all estimates are computed on the same catalogue."""
    newest = await catalogue.latest_revision(connection, organisation)
    if newest is None:
        raise Unavailable("No catalogue has been loaded yet.")
    if asked is not None and asked > newest:
        detail = f"The catalogue has no revision {asked}. Its revisions are 1 to {newest}."
        fault = Fault("/catalogue_revision", "unknown-revision", detail)
        raise InvalidInput("The request is not valid.", (fault,))
    return asked or newest


async def _found(connection: AsyncConnection, organisation: str, name: str) -> Repricing:
    found = await store.get(connection, organisation, name)
    if found is None:
        raise NotFound("No repricing has this id.")
    return found


async def _locked(connection: AsyncConnection, organisation: str, name: str) -> Repricing:
    found = await store.lock(connection, organisation, name)
    if found is None:
        raise NotFound("No repricing has this id.")
    return found


async def _check_choice(
    connection: AsyncConnection, organisation: str, asked: RepricingRequest
) -> None:
    if asked.estimates is None or asked.estimates.ids is None:
        return
    known = await store.known_estimates(connection, organisation, asked.estimates.ids)
    faults = Faults()
    for place, one in enumerate(asked.estimates.ids):
        if one not in known:
            faults.at("estimates", "ids").add("unknown-estimate", "no estimate has this id", place)
    faults.raise_if_any()
