"""Calls of the service, described without sending them: webhooks.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query


def list_webhook_deliveries(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    endpoint: str | None = None,
    state: str | None = None,
) -> Call[models.WebhookDeliveryPage]:
    """What was sent, and what waits to be, newest first."""
    return Call(
        "GET",
        "/v1/webhook-deliveries",
        models.WebhookDeliveryPage,
        query=query(limit=limit, cursor=cursor, endpoint=endpoint, state=state),
    )


def get_webhook_delivery(delivery_id: str) -> Call[models.WebhookDeliveryRecord]:
    """A delivery with its message and every attempt at it."""
    return Call("GET", path("/v1/webhook-deliveries/{}", delivery_id), models.WebhookDeliveryRecord)


def redeliver_webhook(delivery_id: str) -> Call[models.WebhookDelivery]:
    """Send a message once more."""
    return Call(
        "POST", path("/v1/webhook-deliveries/{}/redelivery", delivery_id), models.WebhookDelivery
    )


def list_webhook_endpoints(
    *, limit: int | None = None, cursor: str | None = None
) -> Call[models.WebhookEndpointPage]:
    """Webhook endpoints, the oldest first."""
    return Call(
        "GET",
        "/v1/webhook-endpoints",
        models.WebhookEndpointPage,
        query=query(limit=limit, cursor=cursor),
    )


def create_webhook_endpoint(
    request: models.WebhookEndpointRequest, *, idempotency_key: str | None = None
) -> Call[models.NewWebhookEndpoint]:
    """Have messages sent to a URL."""
    return Call(
        "POST",
        "/v1/webhook-endpoints",
        models.NewWebhookEndpoint,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def delete_webhook_endpoint(endpoint_id: str, *, if_match: str) -> Call[None]:
    """Send nothing more to a webhook endpoint."""
    return Call(
        "DELETE", path("/v1/webhook-endpoints/{}", endpoint_id), type(None), if_match=if_match
    )


def get_webhook_endpoint(endpoint_id: str) -> Call[models.WebhookEndpoint]:
    """Where messages go, and whether they arrive."""
    return Call("GET", path("/v1/webhook-endpoints/{}", endpoint_id), models.WebhookEndpoint)


def patch_webhook_endpoint(
    endpoint_id: str, request: models.WebhookEndpointChange, *, if_match: str
) -> Call[models.WebhookEndpoint]:
    """Change some members of a webhook endpoint."""
    return Call(
        "PATCH",
        path("/v1/webhook-endpoints/{}", endpoint_id),
        models.WebhookEndpoint,
        body=request,
        if_match=if_match,
    )


def rotate_webhook_secret(
    endpoint_id: str, request: models.WebhookRotationRequest, *, idempotency_key: str | None = None
) -> Call[models.NewWebhookEndpoint]:
    """Put a new secret in the place of one."""
    return Call(
        "POST",
        path("/v1/webhook-endpoints/{}/rotation", endpoint_id),
        models.NewWebhookEndpoint,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def test_webhook_endpoint(endpoint_id: str) -> Call[models.WebhookDelivery]:
    """Send a test message."""
    return Call("POST", path("/v1/webhook-endpoints/{}/test", endpoint_id), models.WebhookDelivery)
