"""Computes estimates, and keeps those that are to be kept."""

import asyncio
from collections.abc import Callable
from datetime import UTC, datetime
from typing import TypeVar

import msgspec
from sqlalchemy.ext.asyncio import AsyncConnection

from filmbuild import idempotency
from filmbuild.catalogue.organisation import ORGANISATION
from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.db import Database
from filmbuild.edge import paging
from filmbuild.edge.encoding import encode
from filmbuild.edge.paging import PageQuery
from filmbuild.errors import NotFound
from filmbuild.estimates import store
from filmbuild.estimates.assemble import catalogue_for
from filmbuild.estimates.wire import EstimatePage, EstimateSummary
from filmbuild.idempotency import KeptAnswer, RequestKey
from filmbuild.money import Currency, Exact, Money
from filmbuild.pipeline import estimate as pipeline
from filmbuild.pipeline.comparison import comparison_document
from filmbuild.pipeline.drawing import takeoff_drawing
from filmbuild.pipeline.requests import (
    ComparisonRequest,
    EstimateRequest,
    LabourRequest,
    MaterialsRequest,
    ScheduleRequest,
    TakeoffRequest,
)
from filmbuild.pipeline.results import EstimateDocument, ScheduleDocument, TakeoffDocument
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.takeoff import takeoff_table
from filmbuild.pipeline.timeline import schedule_calendar, schedule_chart, schedule_table

T = TypeVar("T")
CREATED = 201
LONG_BODY_BYTES = 100_000
"""From here on a request takes long enough to keep others waiting, and is given a thread."""


class Made(msgspec.Struct, frozen=True):
    """A stored estimate, as it is answered."""

    id: str
    content: bytes


class _Envelope(msgspec.Struct, frozen=True):
    """A stored estimate, around texts that are kept as they were first written."""

    id: str
    created_at: datetime
    reference: str | None
    request: msgspec.Raw
    document: msgspec.Raw


class EstimateService:
    def __init__(self, database: Database, snapshots: CatalogueSnapshots) -> None:
        self._database = database
        self._snapshots = snapshots

    async def takeoff(self, request: TakeoffRequest, content: bytes) -> bytes:
        return await _run(
            content, lambda: encode(pipeline.takeoff_document(request), request.units)
        )

    async def takeoff_drawing(self, request: TakeoffRequest, _content: bytes) -> bytes:
        return await asyncio.to_thread(_drawing, request)

    async def takeoff_table(self, request: TakeoffRequest, content: bytes) -> bytes:
        return await _run(content, lambda: _table(request))

    async def materials(self, request: MaterialsRequest, content: bytes) -> bytes:
        catalogue = await self._catalogue(request)
        return await _run(
            content, lambda: encode(pipeline.materials_document(request, catalogue), request.units)
        )

    async def labour(self, request: LabourRequest, content: bytes) -> bytes:
        catalogue = await self._catalogue(request, request.materials)
        return await _run(
            content, lambda: encode(pipeline.labour_document(request, catalogue), request.units)
        )

    async def schedule(self, request: ScheduleRequest, content: bytes) -> bytes:
        catalogue = await self._catalogue(request, request.labour)
        return await _run(
            content, lambda: encode(pipeline.schedule_document(request, catalogue), request.units)
        )

    async def schedule_calendar(self, request: ScheduleRequest, _content: bytes) -> bytes:
        return await self._timeline(request, schedule_calendar)

    async def schedule_chart(self, request: ScheduleRequest, _content: bytes) -> bytes:
        return await self._timeline(request, schedule_chart)

    async def schedule_table(self, request: ScheduleRequest, _content: bytes) -> bytes:
        return await self._timeline(request, schedule_table)

    async def _timeline(
        self, request: ScheduleRequest, write: Callable[[ScheduleDocument], str]
    ) -> bytes:
        catalogue = await self._catalogue(request, request.labour)
        return await asyncio.to_thread(
            lambda: write(pipeline.schedule_document(request, catalogue)).encode()
        )

    async def comparison(self, request: ComparisonRequest, _content: bytes) -> bytes:
        """In a thread: it takes as long as all of its variants together."""
        catalogue = await self._catalogue(request)
        return await asyncio.to_thread(
            lambda: encode(comparison_document(request, catalogue), request.units)
        )

    async def calculation(self, request: EstimateRequest, content: bytes) -> bytes:
        catalogue = await self._catalogue(request)
        return await _run(
            content, lambda: encode(pipeline.estimate_document(request, catalogue), request.units)
        )

    async def create(
        self, request: EstimateRequest, content: bytes, key: RequestKey | None
    ) -> Made:
        """Raises IdempotencyKeyReused, and Conflict where its first request is not yet done."""
        if key is not None and (earlier := await self._earlier(key)):
            return earlier
        catalogue = await self._catalogue(request)
        document, result, asked = await _run(content, lambda: _compute(request, catalogue))
        now = datetime.now(UTC)
        estimate = _record(request, document, now, asked.decode(), result.decode())
        async with self._database.writer() as connection:
            if key is not None:
                if known := await idempotency.find(connection, key, now):
                    return await _repeat(connection, known)
                kept = KeptAnswer(status=CREATED, resource=estimate.id)
                await idempotency.keep(connection, key, kept, now)
            await store.insert_estimate(connection, ORGANISATION, estimate)
        return Made(estimate.id, _text(estimate))

    async def get(self, name: str) -> bytes:
        """Raises NotFound."""
        async with self._database.reader() as connection:
            estimate = await store.get_estimate(connection, ORGANISATION, name)
        if estimate is None:
            raise NotFound("No estimate has this id.")
        return _text(estimate)

    async def find(self, query: PageQuery, path: str) -> EstimatePage:
        after = _position(paging.after(query, path))
        async with self._database.reader() as connection:
            found, more = await store.page_of_estimates(
                connection, ORGANISATION, after, query.limit
            )
        last = f"{found[-1].created_at.isoformat()} {found[-1].id}" if more else None
        return EstimatePage(
            items=tuple(_summary(one) for one in found),
            next=None if last is None else paging.cursor(query, path, last),
        )

    async def _catalogue(
        self,
        request: MaterialsRequest
        | LabourRequest
        | ScheduleRequest
        | EstimateRequest
        | ComparisonRequest,
        previous: TakeoffDocument | None = None,
    ) -> Catalogue:
        earlier = None if previous is None else previous.priced_on
        return await catalogue_for(
            self._snapshots, request.job, request.catalogue_revision, earlier
        )

    async def _earlier(self, key: RequestKey) -> Made | None:
        async with self._database.reader() as connection:
            known = await idempotency.find(connection, key, datetime.now(UTC))
            return None if known is None else await _repeat(connection, known)


async def _run(content: bytes, compute: Callable[[], T]) -> T:
    if len(content) < LONG_BODY_BYTES:
        return compute()
    return await asyncio.to_thread(compute)


def _drawing(request: TakeoffRequest) -> bytes:
    takeoff = pipeline.takeoff_document(request).takeoff
    return takeoff_drawing(request.site, takeoff, request.units).encode()


def _table(request: TakeoffRequest) -> bytes:
    takeoff = pipeline.takeoff_document(request).takeoff
    return takeoff_table(takeoff, request.units).encode()


def _compute(
    request: EstimateRequest, catalogue: Catalogue
) -> tuple[EstimateDocument, bytes, bytes]:
    """The document, its text, and the text of what was asked."""
    document = pipeline.estimate_document(request, catalogue)
    return document, encode(document, request.units), encode(request, request.units)


async def _repeat(connection: AsyncConnection, known: KeptAnswer) -> Made:
    estimate = await store.get_estimate(connection, ORGANISATION, known.resource)
    if estimate is None:
        raise RuntimeError(f"the key of estimate {known.resource} outlived it")
    return Made(estimate.id, _text(estimate))


def _record(
    request: EstimateRequest, document: EstimateDocument, now: datetime, asked: str, result: str
) -> store.StoredEstimate:
    if document.catalogue_revision is None:
        raise RuntimeError("an estimate is computed on a revision of the catalogue")
    return store.StoredEstimate(
        id=store.new_estimate_id(),
        created_at=now,
        site_name=request.site.name,
        reference=request.reference,
        system_id=request.job.system,
        currency=document.price.currency,
        total=Exact(document.price.total.amount),
        catalogue_revision=document.catalogue_revision,
        engine_version=document.engine_version,
        request=asked,
        result=result,
    )


def _text(estimate: store.StoredEstimate) -> bytes:
    return msgspec.json.encode(
        _Envelope(
            estimate.id,
            estimate.created_at,
            estimate.reference,
            msgspec.Raw(estimate.request),
            msgspec.Raw(estimate.result),
        )
    )


def _summary(one: store.EstimateSummary) -> EstimateSummary:
    return EstimateSummary(
        id=one.id,
        created_at=one.created_at,
        reference=one.reference,
        site=one.site_name,
        system=one.system_id,
        total=Money(one.total, Currency(one.currency)),
        catalogue_revision=one.catalogue_revision,
        engine_version=one.engine_version,
    )


def _position(after: str | None) -> store.Position | None:
    if after is None:
        return None
    moment, _, name = after.partition(" ")
    return store.Position(datetime.fromisoformat(moment), name)
