"""Keeps estimates, in revisions that never change.

Features above build on `load`, `reprice` (or `compute_repricing` and `keep_repricing`), and on the
queries `mark_accepted` and `open_estimates` of the store.
"""

from collections.abc import Awaitable, Callable, Mapping
from datetime import UTC, date, datetime

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild import idempotency
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.edge import paging
from filmbuild.edge.operations import Caller
from filmbuild.edge.paging import PageQuery
from filmbuild.edge.preconditions import check_match
from filmbuild.errors import NotFound
from filmbuild.estimates import repricing, store
from filmbuild.estimates.answers import (
    Made,
    estimate_answer,
    estimate_line,
    revision_answer,
    revision_line,
    tag,
)
from filmbuild.estimates.assemble import catalogue_for
from filmbuild.estimates.records import Computed, LoadedRevision, computed, loaded, revision_of
from filmbuild.estimates.repricing import RepriceCause, Repriced, RepriceOutcome
from filmbuild.estimates.rooted import rooted
from filmbuild.estimates.stages import run
from filmbuild.estimates.store import EstimateHead, StoredEstimate, StoredRevision
from filmbuild.estimates.telling import event_of
from filmbuild.estimates.texts import unpacked
from filmbuild.estimates.wire import (
    EstimatePage,
    EstimateRevisionPage,
    EstimatesQuery,
    RevisionRequest,
)
from filmbuild.idempotency import KeptAnswer, RequestKey
from filmbuild.pipeline.requests import EstimateRequest
from filmbuild.webhooks import outbox

CREATED = 201
Along = Callable[[AsyncConnection, RepriceOutcome], Awaitable[None]]


class _Wrapped(msgspec.Struct):
    """A request for a revision, of which the request itself is kept as it came."""

    request: msgspec.Raw


class _Referenced(msgspec.Struct):
    reference: str | None = None


_WRAPPED = msgspec.json.Decoder(_Wrapped)
_REFERENCED = msgspec.json.Decoder(_Referenced)


class EstimateService:
    def __init__(self, database: Database, snapshots: CatalogueSnapshots) -> None:
        self._database = database
        self._snapshots = snapshots

    async def create(
        self, caller: Caller, request: EstimateRequest, content: bytes, key: RequestKey | None
    ) -> Made:
        """Raises IdempotencyKeyReused, and Conflict where its first request is not yet done."""
        if key is not None and (earlier := await self._earlier(key)):
            return earlier
        made = await self._computed(caller.organisation, request, content)
        now = datetime.now(UTC)
        head = EstimateHead(
            id=store.new_estimate_id(),
            created_at=now,
            site_name=made.site_name,
            reference=made.reference,
        )
        first = revision_of(made, number=1, now=now, actor=caller.actor)
        async with self._database.writer(caller.organisation) as connection:
            if key is not None:
                if known := await idempotency.find(connection, key, now):
                    return await _repeat(connection, key.organisation, known)
                kept = KeptAnswer(status=CREATED, resource=head.id)
                await idempotency.keep(connection, key, kept, now)
            await store.insert_estimate(connection, caller.organisation, head, first)
            told = event_of("created", head.id, first)
            await outbox.write(connection, caller.organisation, told)
        return estimate_answer(head, first, made.request, made.result)

    async def revise(
        self,
        caller: Caller,
        name: str,
        body: RevisionRequest,
        content: bytes,
        headers: Mapping[str, str],
        key: RequestKey | None,
    ) -> Made:
        """Adds a revision to the estimate that `headers` say has not changed.

        Raises NotFound, PreconditionRequired, PreconditionFailed, and what creating raises.
        """
        seen = await self._head(caller.organisation, name)
        # looked for after the head was, or what its own first request did would refuse it
        if key is not None and (earlier := await self._earlier(key)):
            return earlier
        check_match(headers, tag(seen))
        text = bytes(_WRAPPED.decode(content).request)
        with rooted("/request"):
            made = await self._computed(caller.organisation, body.request, text)
        now = datetime.now(UTC)
        async with self._database.writer(caller.organisation) as connection:
            head = await store.lock_estimate(connection, caller.organisation, name)
            if key is not None and (known := await idempotency.find(connection, key, now)):
                return await _repeat(connection, key.organisation, known)
            if head is None:
                raise NotFound("No estimate has this id.")
            check_match(headers, tag(head))
            number = head.latest_revision + 1
            revision = revision_of(
                made, number=number, now=now, actor=caller.actor, cause=body.cause
            )
            if key is not None:
                kept = KeptAnswer(status=CREATED, resource=f"{name}/{number}")
                await idempotency.keep(connection, key, kept, now)
            named = msgspec.structs.replace(
                head, site_name=made.site_name, reference=made.reference
            )
            head = await store.add_revision(connection, caller.organisation, named, revision)
            told = event_of("revised", name, revision)
            await outbox.write(connection, caller.organisation, told)
        return revision_answer(head, revision, made.request, made.result)

    async def get(self, organisation: str, name: str) -> Made:
        """The estimate at its latest revision. Raises NotFound."""
        found = await self.find_stored(organisation, name, None)
        return estimate_answer(found.head, found.revision, *_texts(found.revision))

    async def get_revision(self, organisation: str, name: str, number: int) -> Made:
        """Raises NotFound."""
        found = await self.find_stored(organisation, name, number)
        return revision_answer(found.head, found.revision, *_texts(found.revision))

    async def find(self, organisation: str, query: EstimatesQuery, path: str) -> EstimatePage:
        after = paging.after_moment(query, path, store.Position)
        filters = store.Filters(query.state, query.reference)
        async with self._database.reader(organisation) as connection:
            found, more = await store.page_of_estimates(
                connection, organisation, after, query.limit, filters
            )
        last = f"{found[-1].head.created_at.isoformat()} {found[-1].head.id}" if more else None
        return EstimatePage(
            items=tuple(estimate_line(one) for one in found),
            next=None if last is None else paging.cursor(query, path, last),
        )

    async def find_revisions(
        self, organisation: str, name: str, query: PageQuery, path: str
    ) -> tuple[EstimateRevisionPage, str]:
        """A page, and the tag of the estimate. Raises NotFound."""
        before = paging.after_number(query, path)
        async with self._database.reader(organisation) as connection:
            head = await store.get_head(connection, organisation, name)
            if head is None:
                raise NotFound("No estimate has this id.")
            found, more = await store.page_of_revisions(
                connection, organisation, name, before, query.limit
            )
        page = EstimateRevisionPage(
            items=tuple(revision_line(one) for one in found),
            next=paging.cursor(query, path, str(found[-1].revision)) if more else None,
        )
        return page, tag(head)

    async def find_stored(
        self, organisation: str, name: str, revision: int | None
    ) -> StoredEstimate:
        """With the latest revision where none is named. Raises NotFound."""
        async with self._database.reader(organisation) as connection:
            found = await store.get_estimate(connection, organisation, name, revision)
        if found is None:
            what = "No estimate has this id." if revision is None else _NO_REVISION
            raise NotFound(what)
        return found

    async def load(
        self, organisation: str, name: str, revision: int | None = None
    ) -> LoadedRevision:
        """A revision with its request and its document decoded, the latest where none is named.

        Raises NotFound, and InvalidInput or Conflict where this version no longer reads the request
        or the document of an earlier one.
        """
        return loaded(await self.find_stored(organisation, name, revision))

    async def reprice(
        self,
        organisation: str,
        name: str,
        *,
        actor: str,
        cause: RepriceCause,
        priced_on: date | None = None,
        catalogue_revision: int | None = None,
        along: Along | None = None,
    ) -> RepriceOutcome:
        """The latest revision's request on another catalogue revision or price day.

        The catalogue is the current one where no revision is named, and the day the request's own
        where none is given. A new revision is made only where the price comes out otherwise, and
        once for each cause: repeating it has the same outcome. `along` writes what is to be kept in
        the same transaction, whatever the outcome. Raises NotFound.
        """
        while True:
            repriced = await self.compute_repricing(
                organisation, name, priced_on=priced_on, catalogue_revision=catalogue_revision
            )
            async with self._database.writer(organisation) as connection:
                outcome = await self.keep_repricing(
                    connection, organisation, repriced, actor=actor, cause=cause
                )
                if outcome is not None:
                    if along is not None:
                        await along(connection, outcome)
                    return outcome

    async def compute_repricing(
        self,
        organisation: str,
        name: str,
        *,
        priced_on: date | None = None,
        catalogue_revision: int | None = None,
    ) -> Repriced:
        """The first half of `reprice`, which writes nothing, so that many can be kept at once."""
        found = await self.find_stored(organisation, name, None)
        return await repricing.compute(
            self._snapshots,
            organisation,
            found,
            priced_on=priced_on,
            catalogue_revision=catalogue_revision,
        )

    async def keep_repricing(
        self,
        connection: AsyncConnection,
        organisation: str,
        repriced: Repriced,
        *,
        actor: str,
        cause: RepriceCause,
    ) -> RepriceOutcome | None:
        """The second half, in the caller's transaction.

        None where the estimate has changed in between: compute it once more.
        """
        return await repricing.keep(connection, organisation, repriced, actor=actor, cause=cause)

    async def _computed(
        self, organisation: str, request: EstimateRequest, content: bytes
    ) -> Computed:
        catalogue = await catalogue_for(
            self._snapshots, organisation, request.job, request.catalogue_revision
        )
        return await run(content, lambda: computed(request, content, catalogue))

    async def _head(self, organisation: str, name: str) -> EstimateHead:
        async with self._database.reader(organisation) as connection:
            head = await store.get_head(connection, organisation, name)
        if head is None:
            raise NotFound("No estimate has this id.")
        return head

    async def _earlier(self, key: RequestKey) -> Made | None:
        async with self._database.reader(key.organisation) as connection:
            known = await idempotency.find(connection, key, datetime.now(UTC))
            if known is None:
                return None
            return await _repeat(connection, key.organisation, known)


_NO_REVISION = "The estimate has no such revision."


async def _repeat(connection: AsyncConnection, organisation: str, known: KeptAnswer) -> Made:
    """The answer as it was first given, whatever has become of the estimate since."""
    name, _, number = known.resource.partition("/")
    made = int(number or 1)
    found = await store.get_estimate(connection, organisation, name, made)
    if found is None:
        raise RuntimeError(f"the key of estimate {known.resource} outlived it")
    texts = _texts(found.revision)
    head = msgspec.structs.replace(found.head, latest_revision=made)
    if number:
        return revision_answer(head, found.revision, *texts)
    then = msgspec.structs.replace(
        head, state="open", accepted_revision=None, reference=_REFERENCED.decode(texts[0]).reference
    )
    return estimate_answer(then, found.revision, *texts)


def _texts(revision: StoredRevision) -> tuple[bytes, bytes]:
    return unpacked(revision.request), unpacked(revision.result)
