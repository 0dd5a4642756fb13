"""Computes what is asked and keeps nothing."""

import asyncio
from collections.abc import Callable
from typing import TypeVar

from filmbuild.catalogue.snapshot import CatalogueSnapshots
from filmbuild.edge.encoding import encode
from filmbuild.estimates.assemble import catalogue_for
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
from filmbuild.pipeline.results import ScheduleDocument, TakeoffDocument
from filmbuild.pipeline.specification import Catalogue
from filmbuild.pipeline.takeoff import takeoff_table
from filmbuild.pipeline.timeline import schedule_calendar, schedule_chart, schedule_table

T = TypeVar("T")
LONG_BODY_BYTES = 100_000
"""From here on a request takes long enough to keep others waiting, and is given a thread."""


class Stages:
    """Every operation reads the catalogue of the organisation that asks."""

    def __init__(self, snapshots: CatalogueSnapshots) -> None:
        self._snapshots = snapshots

    async def takeoff(self, _organisation: str, request: TakeoffRequest, content: bytes) -> bytes:
        return await run(content, lambda: encode(pipeline.takeoff_document(request), request.units))

    async def takeoff_drawing(
        self, _organisation: str, request: TakeoffRequest, _content: bytes
    ) -> bytes:
        return await asyncio.to_thread(_drawing, request)

    async def takeoff_table(
        self, _organisation: str, request: TakeoffRequest, content: bytes
    ) -> bytes:
        return await run(content, lambda: _table(request))

    async def materials(
        self, organisation: str, request: MaterialsRequest, content: bytes
    ) -> bytes:
        catalogue = await self._catalogue(organisation, request)
        return await run(
            content, lambda: encode(pipeline.materials_document(request, catalogue), request.units)
        )

    async def labour(self, organisation: str, request: LabourRequest, content: bytes) -> bytes:
        catalogue = await self._catalogue(organisation, request, request.materials)
        return await run(
            content, lambda: encode(pipeline.labour_document(request, catalogue), request.units)
        )

    async def schedule(self, organisation: str, request: ScheduleRequest, content: bytes) -> bytes:
        catalogue = await self._catalogue(organisation, request, request.labour)
        return await run(
            content, lambda: encode(pipeline.schedule_document(request, catalogue), request.units)
        )

    async def schedule_calendar(
        self, organisation: str, request: ScheduleRequest, _content: bytes
    ) -> bytes:
        return await self._timeline(organisation, request, schedule_calendar)

    async def schedule_chart(
        self, organisation: str, request: ScheduleRequest, _content: bytes
    ) -> bytes:
        return await self._timeline(organisation, request, schedule_chart)

    async def schedule_table(
        self, organisation: str, request: ScheduleRequest, _content: bytes
    ) -> bytes:
        return await self._timeline(organisation, request, schedule_table)

    async def _timeline(
        self,
        organisation: str,
        request: ScheduleRequest,
        write: Callable[[ScheduleDocument], str],
    ) -> bytes:
        catalogue = await self._catalogue(organisation, request, request.labour)
        return await asyncio.to_thread(
            lambda: write(pipeline.schedule_document(request, catalogue)).encode()
        )

    async def comparison(
        self, organisation: str, request: ComparisonRequest, _content: bytes
    ) -> bytes:
        """In a thread: it takes as long as all of its variants together."""
        catalogue = await self._catalogue(organisation, request)
        return await asyncio.to_thread(
            lambda: encode(comparison_document(request, catalogue), request.units)
        )

    async def calculation(
        self, organisation: str, request: EstimateRequest, content: bytes
    ) -> bytes:
        catalogue = await self._catalogue(organisation, request)
        return await run(
            content, lambda: encode(pipeline.estimate_document(request, catalogue), request.units)
        )

    async def _catalogue(
        self,
        organisation: str,
        request: MaterialsRequest
        | LabourRequest
        | ScheduleRequest
        | EstimateRequest
        | ComparisonRequest,
        previous: TakeoffDocument | None = None,
    ) -> Catalogue:
        earlier = None if previous is None else previous.priced_on
        return await catalogue_for(
            self._snapshots, organisation, request.job, request.catalogue_revision, earlier
        )


async def run(content: bytes, compute: Callable[[], T]) -> T:
    """In a thread where the request is long, so that others need not wait for it."""
    if len(content) < LONG_BODY_BYTES:
        return compute()
    return await asyncio.to_thread(compute)


def _drawing(request: TakeoffRequest) -> bytes:
    takeoff = pipeline.takeoff_document(request).takeoff
    return takeoff_drawing(request.site, takeoff, request.units).encode()


def _table(request: TakeoffRequest) -> bytes:
    takeoff = pipeline.takeoff_document(request).takeoff
    return takeoff_table(takeoff, request.units).encode()
