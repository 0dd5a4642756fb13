"""The calls as methods of the clients: repricings.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from typing import Literal

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.following import AsyncFollowRepricing, FollowRepricing
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender
from filmbuild_sdk.values import Choice


class RepricingsMethods(Sender):
    """The calls about repricings."""

    def list_repricings(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> Pages[models.RepricingPage, models.Repricing]:
        """Repricings, newest first.

        Those that are done too.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_repricings(limit=limit, cursor=cursor),
        )

    def create_repricing(
        self,
        request: models.RepricingRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Repricing:
        """Compute all open estimates at new prices.

        Begins work that goes on in the background, on one revision of the catalogue, and that
        survives whatever ends the service. Each estimate that is not accepted and whose price comes
        out otherwise gets a new revision, with `note` as its cause; its earlier revisions stay.
        Repeating it changes nothing more.
        """
        return self.send(
            calls.create_repricing(request, idempotency_key=idempotency_key), timeout=timeout
        )

    def get_repricing(self, repricing_id: str, *, timeout: Timeout = UNCHANGED) -> models.Repricing:
        """How far a repricing has come.

        Its counts, and by how much prices changed, in each currency: of all estimates once it is
        done, of those done so far until then.
        """
        return self.send(calls.get_repricing(repricing_id), timeout=timeout)

    def list_repriced_estimates(
        self,
        repricing_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        outcome: Choice[Literal["accepted", "refused", "repriced", "unchanged"]] | None = None,
        below_margin: bool | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.RepricedEstimatePage, models.RepricedEstimate]:
        """What became of each estimate.

        Those that are done, in the order in which they were: what each came to before and after, or
        why it was left as it was.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_repriced_estimates(
                repricing_id, limit=limit, cursor=cursor, outcome=outcome, below_margin=below_margin
            ),
        )

    def follow_repricing(
        self, repricing_id: str, *, last_event_id: str | None = None, timeout: Timeout = UNCHANGED
    ) -> FollowRepricing:
        """The progress of a repricing, as it is made.

        Server-sent events: `estimate` for each that is done, its data as in the list of estimates;
        `progress` after them, its data the repricing; and `end`, when the repricing is done, has
        failed or is stopped, after which the stream ends. After a connection that broke,
        `Last-Event-ID` goes on where it was; after `end` the answer is 204, which keeps browsers
        from connecting again. Comments come now and then, so that the connection is not taken for
        dead.
        """
        return FollowRepricing(
            self, calls.follow_repricing(repricing_id, last_event_id=last_event_id), timeout=timeout
        )

    def resume_repricing(
        self, repricing_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.Repricing:
        """Go on with a repricing that is stopped or has failed.

        With the estimates that are not done, on the same revision of the catalogue. Resuming one
        that is running changes nothing.
        """
        return self.send(calls.resume_repricing(repricing_id), timeout=timeout)

    def stop_repricing(
        self, repricing_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.Repricing:
        """Stop a repricing.

        Between two estimates: those that are done stay done, the others as they are. Stopping one
        that is stopped changes nothing.
        """
        return self.send(calls.stop_repricing(repricing_id), timeout=timeout)


class AsyncRepricingsMethods(AsyncSender):
    """The calls about repricings."""

    def list_repricings(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncPages[models.RepricingPage, models.Repricing]:
        """Repricings, newest first.

        Those that are done too.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_repricings(limit=limit, cursor=cursor),
        )

    async def create_repricing(
        self,
        request: models.RepricingRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Repricing:
        """Compute all open estimates at new prices.

        Begins work that goes on in the background, on one revision of the catalogue, and that
        survives whatever ends the service. Each estimate that is not accepted and whose price comes
        out otherwise gets a new revision, with `note` as its cause; its earlier revisions stay.
        Repeating it changes nothing more.
        """
        return await self.send(
            calls.create_repricing(request, idempotency_key=idempotency_key), timeout=timeout
        )

    async def get_repricing(
        self, repricing_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.Repricing:
        """How far a repricing has come.

        Its counts, and by how much prices changed, in each currency: of all estimates once it is
        done, of those done so far until then.
        """
        return await self.send(calls.get_repricing(repricing_id), timeout=timeout)

    def list_repriced_estimates(
        self,
        repricing_id: str,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        outcome: Choice[Literal["accepted", "refused", "repriced", "unchanged"]] | None = None,
        below_margin: bool | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.RepricedEstimatePage, models.RepricedEstimate]:
        """What became of each estimate.

        Those that are done, in the order in which they were: what each came to before and after, or
        why it was left as it was.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_repriced_estimates(
                repricing_id, limit=limit, cursor=cursor, outcome=outcome, below_margin=below_margin
            ),
        )

    def follow_repricing(
        self, repricing_id: str, *, last_event_id: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncFollowRepricing:
        """The progress of a repricing, as it is made.

        Server-sent events: `estimate` for each that is done, its data as in the list of estimates;
        `progress` after them, its data the repricing; and `end`, when the repricing is done, has
        failed or is stopped, after which the stream ends. After a connection that broke,
        `Last-Event-ID` goes on where it was; after `end` the answer is 204, which keeps browsers
        from connecting again. Comments come now and then, so that the connection is not taken for
        dead.
        """
        return AsyncFollowRepricing(
            self, calls.follow_repricing(repricing_id, last_event_id=last_event_id), timeout=timeout
        )

    async def resume_repricing(
        self, repricing_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.Repricing:
        """Go on with a repricing that is stopped or has failed.

        With the estimates that are not done, on the same revision of the catalogue. Resuming one
        that is running changes nothing.
        """
        return await self.send(calls.resume_repricing(repricing_id), timeout=timeout)

    async def stop_repricing(
        self, repricing_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.Repricing:
        """Stop a repricing.

        Between two estimates: those that are done stay done, the others as they are. Stopping one
        that is stopped changes nothing.
        """
        return await self.send(calls.stop_repricing(repricing_id), timeout=timeout)
