"""The calls as methods of the clients: estimates.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender


class EstimatesMethods(Sender):
    """The calls about estimates."""

    def calculate(
        self, request: models.EstimateRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.EstimateDocument:
        """The whole estimate, without keeping it.

        Takeoff, materials, labour, schedule and price.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return self.send(calls.calculate(request), timeout=timeout)

    def compare(
        self, request: models.ComparisonRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.ComparisonDocument:
        """The same job in several ways, side by side.

        The site is measured once, and the job estimated with each of up to 20 crews, starts,
        systems, calendars or conditions. Each variant has its figures, or why it cannot be done;
        the cheapest and the earliest are named. All are priced on the same day.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return self.send(calls.compare(request), timeout=timeout)

    def list_estimates(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> Pages[models.EstimatePage, models.EstimateSummary]:
        """Stored estimates, newest first.

        One line for each estimate; the whole of it is at its own path.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_estimates(limit=limit, cursor=cursor),
        )

    def create_estimate(
        self,
        request: models.EstimateRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.StoredEstimate:
        """Make an estimate and keep it.

        The whole pipeline, stored with what it was asked. A stored estimate never changes, whatever
        happens to the catalogue.
        """
        return self.send(
            calls.create_estimate(request, idempotency_key=idempotency_key), timeout=timeout
        )

    def get_estimate(
        self, estimate_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.StoredEstimate:
        """One stored estimate.

        The same bytes that its creation was answered with.
        """
        return self.send(calls.get_estimate(estimate_id), timeout=timeout)


class AsyncEstimatesMethods(AsyncSender):
    """The calls about estimates."""

    async def calculate(
        self, request: models.EstimateRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.EstimateDocument:
        """The whole estimate, without keeping it.

        Takeoff, materials, labour, schedule and price.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return await self.send(calls.calculate(request), timeout=timeout)

    async def compare(
        self, request: models.ComparisonRequest, *, timeout: Timeout = UNCHANGED
    ) -> models.ComparisonDocument:
        """The same job in several ways, side by side.

        The site is measured once, and the job estimated with each of up to 20 crews, starts,
        systems, calendars or conditions. Each variant has its figures, or why it cannot be done;
        the cheapest and the earliest are named. All are priced on the same day.

        Nothing is stored. The same body on the same catalogue revision always gets the same answer,
        byte for byte; `catalogue_revision` of the body chooses an earlier revision.
        """
        return await self.send(calls.compare(request), timeout=timeout)

    def list_estimates(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncPages[models.EstimatePage, models.EstimateSummary]:
        """Stored estimates, newest first.

        One line for each estimate; the whole of it is at its own path.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_estimates(limit=limit, cursor=cursor),
        )

    async def create_estimate(
        self,
        request: models.EstimateRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.StoredEstimate:
        """Make an estimate and keep it.

        The whole pipeline, stored with what it was asked. A stored estimate never changes, whatever
        happens to the catalogue.
        """
        return await self.send(
            calls.create_estimate(request, idempotency_key=idempotency_key), timeout=timeout
        )

    async def get_estimate(
        self, estimate_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.StoredEstimate:
        """One stored estimate.

        The same bytes that its creation was answered with.
        """
        return await self.send(calls.get_estimate(estimate_id), timeout=timeout)
