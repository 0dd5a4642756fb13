"""The calls as methods of the clients: webhooks.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.paging import AsyncPages, Pages
from filmbuild_sdk.sending import AsyncSender, Sender


class WebhooksMethods(Sender):
    """The calls about webhooks."""

    def list_webhook_deliveries(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        endpoint: str | None = None,
        state: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> Pages[models.WebhookDeliveryPage, models.WebhookDelivery]:
        """What was sent, and what waits to be, newest first.

        Of the last 30 days.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_webhook_deliveries(
                limit=limit, cursor=cursor, endpoint=endpoint, state=state
            ),
        )

    def get_webhook_delivery(
        self, delivery_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.WebhookDeliveryRecord:
        """A delivery with its message and every attempt at it.

        What came back is kept as its status and its first 200 characters.
        """
        return self.send(calls.get_webhook_delivery(delivery_id), timeout=timeout)

    def redeliver_webhook(
        self, delivery_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.WebhookDelivery:
        """Send a message once more.

        At once, whatever became of it before, with the same webhook-id and a new timestamp; and if
        it fails, again after the same pauses as a new one. Messages about the same record that
        still wait come after it.
        """
        return self.send(calls.redeliver_webhook(delivery_id), timeout=timeout)

    def list_webhook_endpoints(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> Pages[models.WebhookEndpointPage, models.WebhookEndpoint]:
        """Webhook endpoints, the oldest first.

        Those that are disabled too. None tells its secret.
        """
        return Pages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_webhook_endpoints(limit=limit, cursor=cursor),
        )

    def create_webhook_endpoint(
        self,
        request: models.WebhookEndpointRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.NewWebhookEndpoint:
        """Have messages sent to a URL.

        From now on, when something of the chosen types happens. Each message is signed by the
        Standard Webhooks specification 1.0 with the secret that the answer tells, this once. It is
        sent until it is answered with 2xx, or given up after three days: after 5 s, 5 min, 30 min,
        2, 5, 10, 14, 20 and 24 h. It may come more than once, each time with the same webhook-id.
        Messages about one record come in the order in which they happened: a later one waits for
        the earlier. 410 disables the endpoint, and so do three days without success. Redirects are
        not followed.
        """
        return self.send(
            calls.create_webhook_endpoint(request, idempotency_key=idempotency_key), timeout=timeout
        )

    def delete_webhook_endpoint(
        self, endpoint_id: str, *, if_match: str, timeout: Timeout = UNCHANGED
    ) -> None:
        """Send nothing more to a webhook endpoint.

        What waits is cancelled. The log of its deliveries stays for its 30 days.
        """
        return self.send(
            calls.delete_webhook_endpoint(endpoint_id, if_match=if_match), timeout=timeout
        )

    def get_webhook_endpoint(
        self, endpoint_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.WebhookEndpoint:
        """Where messages go, and whether they arrive.

        Without the secret.
        """
        return self.send(calls.get_webhook_endpoint(endpoint_id), timeout=timeout)

    def patch_webhook_endpoint(
        self,
        endpoint_id: str,
        request: models.WebhookEndpointChange,
        *,
        if_match: str,
        timeout: Timeout = UNCHANGED,
    ) -> models.WebhookEndpoint:
        """Change some members of a webhook endpoint.

        A merge patch (RFC 7396). Disabling it cancels what waits to be sent, and what happens until
        it is enabled again is not sent later.
        """
        return self.send(
            calls.patch_webhook_endpoint(endpoint_id, request, if_match=if_match), timeout=timeout
        )

    def rotate_webhook_secret(
        self,
        endpoint_id: str,
        request: models.WebhookRotationRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.NewWebhookEndpoint:
        """Put a new secret in the place of one.

        The answer tells it, this once. For the overlap messages carry two signatures, one by each
        secret, so that none is refused while the receiver changes over.
        """
        return self.send(
            calls.rotate_webhook_secret(endpoint_id, request, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    def test_webhook_endpoint(
        self, endpoint_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.WebhookDelivery:
        """Send a test message.

        Of the type `webhook.test`, whatever the endpoint has chosen. The delivery tells how it
        went.
        """
        return self.send(calls.test_webhook_endpoint(endpoint_id), timeout=timeout)


class AsyncWebhooksMethods(AsyncSender):
    """The calls about webhooks."""

    def list_webhook_deliveries(
        self,
        *,
        limit: int | None = None,
        cursor: str | None = None,
        endpoint: str | None = None,
        state: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> AsyncPages[models.WebhookDeliveryPage, models.WebhookDelivery]:
        """What was sent, and what waits to be, newest first.

        Of the last 30 days.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_webhook_deliveries(
                limit=limit, cursor=cursor, endpoint=endpoint, state=state
            ),
        )

    async def get_webhook_delivery(
        self, delivery_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.WebhookDeliveryRecord:
        """A delivery with its message and every attempt at it.

        What came back is kept as its status and its first 200 characters.
        """
        return await self.send(calls.get_webhook_delivery(delivery_id), timeout=timeout)

    async def redeliver_webhook(
        self, delivery_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.WebhookDelivery:
        """Send a message once more.

        At once, whatever became of it before, with the same webhook-id and a new timestamp; and if
        it fails, again after the same pauses as a new one. Messages about the same record that
        still wait come after it.
        """
        return await self.send(calls.redeliver_webhook(delivery_id), timeout=timeout)

    def list_webhook_endpoints(
        self, *, limit: int | None = None, cursor: str | None = None, timeout: Timeout = UNCHANGED
    ) -> AsyncPages[models.WebhookEndpointPage, models.WebhookEndpoint]:
        """Webhook endpoints, the oldest first.

        Those that are disabled too. None tells its secret.
        """
        return AsyncPages(
            lambda call: self.send(call, timeout=timeout),
            calls.list_webhook_endpoints(limit=limit, cursor=cursor),
        )

    async def create_webhook_endpoint(
        self,
        request: models.WebhookEndpointRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.NewWebhookEndpoint:
        """Have messages sent to a URL.

        From now on, when something of the chosen types happens. Each message is signed by the
        Standard Webhooks specification 1.0 with the secret that the answer tells, this once. It is
        sent until it is answered with 2xx, or given up after three days: after 5 s, 5 min, 30 min,
        2, 5, 10, 14, 20 and 24 h. It may come more than once, each time with the same webhook-id.
        Messages about one record come in the order in which they happened: a later one waits for
        the earlier. 410 disables the endpoint, and so do three days without success. Redirects are
        not followed.
        """
        return await self.send(
            calls.create_webhook_endpoint(request, idempotency_key=idempotency_key), timeout=timeout
        )

    async def delete_webhook_endpoint(
        self, endpoint_id: str, *, if_match: str, timeout: Timeout = UNCHANGED
    ) -> None:
        """Send nothing more to a webhook endpoint.

        What waits is cancelled. The log of its deliveries stays for its 30 days.
        """
        return await self.send(
            calls.delete_webhook_endpoint(endpoint_id, if_match=if_match), timeout=timeout
        )

    async def get_webhook_endpoint(
        self, endpoint_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.WebhookEndpoint:
        """Where messages go, and whether they arrive.

        Without the secret.
        """
        return await self.send(calls.get_webhook_endpoint(endpoint_id), timeout=timeout)

    async def patch_webhook_endpoint(
        self,
        endpoint_id: str,
        request: models.WebhookEndpointChange,
        *,
        if_match: str,
        timeout: Timeout = UNCHANGED,
    ) -> models.WebhookEndpoint:
        """Change some members of a webhook endpoint.

        A merge patch (RFC 7396). Disabling it cancels what waits to be sent, and what happens until
        it is enabled again is not sent later.
        """
        return await self.send(
            calls.patch_webhook_endpoint(endpoint_id, request, if_match=if_match), timeout=timeout
        )

    async def rotate_webhook_secret(
        self,
        endpoint_id: str,
        request: models.WebhookRotationRequest,
        *,
        idempotency_key: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.NewWebhookEndpoint:
        """Put a new secret in the place of one.

        The answer tells it, this once. For the overlap messages carry two signatures, one by each
        secret, so that none is refused while the receiver changes over.
        """
        return await self.send(
            calls.rotate_webhook_secret(endpoint_id, request, idempotency_key=idempotency_key),
            timeout=timeout,
        )

    async def test_webhook_endpoint(
        self, endpoint_id: str, *, timeout: Timeout = UNCHANGED
    ) -> models.WebhookDelivery:
        """Send a test message.

        Of the type `webhook.test`, whatever the endpoint has chosen. The delivery tells how it
        went.
        """
        return await self.send(calls.test_webhook_endpoint(endpoint_id), timeout=timeout)
