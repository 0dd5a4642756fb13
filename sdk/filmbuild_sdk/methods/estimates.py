"""The calls as methods of the clients: estimates.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from typing import Literal

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.values import Choice


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
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        state: Choice[Literal["accepted", "open"]] | None = None,
        reference: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.EstimatePage, models.EstimateSummary]:
        """Stored estimates, newest first.

        One line for each estimate at its latest revision; the whole of it is at its own path.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_estimates(limit=limit, cursor=cursor, state=state, reference=reference),
        )

    def create_estimate(
        self,
        request: models.EstimateRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.StoredEstimate:
        """Make an estimate and keep it.

        The whole pipeline, stored with what it was asked as its first revision. A revision never
        changes, whatever happens to the catalogue.
        """
        return self.send(
            calls.create_estimate(request, idempotency_key=idempotency_key), timeout=timeout
        )

    def get_estimate(
        self, estimate_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.StoredEstimate:
        """One stored estimate.

        At its latest revision: the request as it came, and the document with the bytes that it was
        first answered with.
        """
        return self.send(calls.get_estimate(estimate_id), timeout=timeout)

    def compare_estimate_revisions(
        self,
        estimate_id: str,
        *,
        from_revision: int | None = None,
        to_revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RevisionDifferences:
        """What one revision differs in from another.

        Line by line, each difference cut into the parts that more or less of it, its price, a rate,
        a rule, or the sum that it is a share of has brought about. The amounts of lines and terms
        add up to the difference of the totals. Only what differs is in it.
        """
        return self.send(
            calls.compare_estimate_revisions(
                estimate_id, from_revision=from_revision, to_revision=to_revision
            ),
            timeout=timeout,
        )

    def get_job_pack(
        self,
        estimate_id: str,
        *,
        language: str | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.JobPack:
        """The crew's papers for a stored estimate.

        All that the crew needs and none of the prices: the drawing, the plan day by day with the
        bar chart, when each area may be used, the loading list, the mixing sheet, and the cautions
        with their sources. `Accept` chooses between the data, a page and print.

        Of the revision that is asked for, on the catalogue that it was made on.
        """
        return self.send(
            calls.get_job_pack(estimate_id, language=language, revision=revision), timeout=timeout
        )

    def get_job_pack_print(
        self,
        estimate_id: str,
        *,
        language: str | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> bytes:
        """The job pack for print.

        A tagged PDF with the fonts in it; the same job on the same catalogue revision always has
        the same bytes.
        """
        return self.send(
            calls.get_job_pack_print(estimate_id, language=language, revision=revision),
            timeout=timeout,
        )

    def get_job_pack_page(
        self,
        estimate_id: str,
        *,
        language: str | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The job pack as a page.

        For screens of any size and for print, with its own style sheet and no scripts.
        """
        return self.send(
            calls.get_job_pack_page(estimate_id, language=language, revision=revision),
            timeout=timeout,
        )

    def list_estimate_revisions(
        self,
        estimate_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.EstimateRevisionPage, models.RevisionSummary]:
        """The revisions of an estimate, newest first.

        Who made each of them and why, on which catalogue revision and at the prices of which day,
        and what came out.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_estimate_revisions(estimate_id, limit=limit, cursor=cursor),
        )

    def revise_estimate(
        self,
        estimate_id: str,
        request: models.RevisionRequest,
        *,
        if_match: str,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.EstimateRevision:
        """Add a revision to an estimate.

        The whole pipeline over the request as it now is, stored with its `cause` as the estimate's
        next revision; those before it stay as they are. An estimate that has been accepted can be
        revised too: what was agreed on remains its accepted revision.
        """
        return self.send(
            calls.revise_estimate(
                estimate_id, request, if_match=if_match, idempotency_key=idempotency_key
            ),
            timeout=timeout,
        )

    def get_estimate_revision(
        self, estimate_id: str, revision: str, *, timeout: Timeout = UNCHANGED
    ) -> models.EstimateRevision:
        """One revision of an estimate.

        It never changes.
        """
        return self.send(calls.get_estimate_revision(estimate_id, revision), timeout=timeout)

    def recompute_estimate_revision(
        self, estimate_id: str, revision: str, *, timeout: Timeout = UNCHANGED
    ) -> models.Recomputation:
        """Compute a revision again.

        The stored request on the stored catalogue revision, at the prices of the stored day: says
        that every byte is the same, or what changed and why. Nothing is stored.
        """
        return self.send(calls.recompute_estimate_revision(estimate_id, revision), timeout=timeout)


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
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        state: Choice[Literal["accepted", "open"]] | None = None,
        reference: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.EstimatePage, models.EstimateSummary]:
        """Stored estimates, newest first.

        One line for each estimate at its latest revision; the whole of it is at its own path.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_estimates(limit=limit, cursor=cursor, state=state, reference=reference),
        )

    async def create_estimate(
        self,
        request: models.EstimateRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.StoredEstimate:
        """Make an estimate and keep it.

        The whole pipeline, stored with what it was asked as its first revision. A revision never
        changes, whatever happens to the catalogue.
        """
        return await self.send(
            calls.create_estimate(request, idempotency_key=idempotency_key), timeout=timeout
        )

    async def get_estimate(
        self, estimate_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.StoredEstimate:
        """One stored estimate.

        At its latest revision: the request as it came, and the document with the bytes that it was
        first answered with.
        """
        return await self.send(calls.get_estimate(estimate_id), timeout=timeout)

    async def compare_estimate_revisions(
        self,
        estimate_id: str,
        *,
        from_revision: int | None = None,
        to_revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.RevisionDifferences:
        """What one revision differs in from another.

        Line by line, each difference cut into the parts that more or less of it, its price, a rate,
        a rule, or the sum that it is a share of has brought about. The amounts of lines and terms
        add up to the difference of the totals. Only what differs is in it.
        """
        return await self.send(
            calls.compare_estimate_revisions(
                estimate_id, from_revision=from_revision, to_revision=to_revision
            ),
            timeout=timeout,
        )

    async def get_job_pack(
        self,
        estimate_id: str,
        *,
        language: str | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.JobPack:
        """The crew's papers for a stored estimate.

        All that the crew needs and none of the prices: the drawing, the plan day by day with the
        bar chart, when each area may be used, the loading list, the mixing sheet, and the cautions
        with their sources. `Accept` chooses between the data, a page and print.

        Of the revision that is asked for, on the catalogue that it was made on.
        """
        return await self.send(
            calls.get_job_pack(estimate_id, language=language, revision=revision), timeout=timeout
        )

    async def get_job_pack_print(
        self,
        estimate_id: str,
        *,
        language: str | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> bytes:
        """The job pack for print.

        A tagged PDF with the fonts in it; the same job on the same catalogue revision always has
        the same bytes.
        """
        return await self.send(
            calls.get_job_pack_print(estimate_id, language=language, revision=revision),
            timeout=timeout,
        )

    async def get_job_pack_page(
        self,
        estimate_id: str,
        *,
        language: str | None = None,
        revision: int | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> str:
        """The job pack as a page.

        For screens of any size and for print, with its own style sheet and no scripts.
        """
        return await self.send(
            calls.get_job_pack_page(estimate_id, language=language, revision=revision),
            timeout=timeout,
        )

    def list_estimate_revisions(
        self,
        estimate_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.EstimateRevisionPage, models.RevisionSummary]:
        """The revisions of an estimate, newest first.

        Who made each of them and why, on which catalogue revision and at the prices of which day,
        and what came out.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_estimate_revisions(estimate_id, limit=limit, cursor=cursor),
        )

    async def revise_estimate(
        self,
        estimate_id: str,
        request: models.RevisionRequest,
        *,
        if_match: str,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.EstimateRevision:
        """Add a revision to an estimate.

        The whole pipeline over the request as it now is, stored with its `cause` as the estimate's
        next revision; those before it stay as they are. An estimate that has been accepted can be
        revised too: what was agreed on remains its accepted revision.
        """
        return await self.send(
            calls.revise_estimate(
                estimate_id, request, if_match=if_match, idempotency_key=idempotency_key
            ),
            timeout=timeout,
        )

    async def get_estimate_revision(
        self, estimate_id: str, revision: str, *, timeout: Timeout = UNCHANGED
    ) -> models.EstimateRevision:
        """One revision of an estimate.

        It never changes.
        """
        return await self.send(calls.get_estimate_revision(estimate_id, revision), timeout=timeout)

    async def recompute_estimate_revision(
        self, estimate_id: str, revision: str, *, timeout: Timeout = UNCHANGED
    ) -> models.Recomputation:
        """Compute a revision again.

        The stored request on the stored catalogue revision, at the prices of the stored day: says
        that every byte is the same, or what changed and why. Nothing is stored.
        """
        return await self.send(
            calls.recompute_estimate_revision(estimate_id, revision), timeout=timeout
        )
