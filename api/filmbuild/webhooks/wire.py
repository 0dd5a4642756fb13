"""Endpoints and deliveries as callers see them."""

from datetime import datetime, timedelta
from typing import Annotated, Any

import msgspec
from msgspec import UNSET, Meta, UnsetType

from filmbuild.edge.paging import PageQuery

EventType = Annotated[
    str,
    Meta(
        pattern=r"^[a-z]{1,30}\.[a-z-]{1,30}$(?!\n)",
        description="The name of one of the webhooks of this contract.",
    ),
]
EventTypes = Annotated[tuple[EventType, ...], Meta(min_length=1, max_length=50)]
Url = Annotated[str, Meta(min_length=1, max_length=2000)]
Description = Annotated[str, Meta(max_length=200, pattern=r"^[^\x00-\x1f\x7f]*$(?!\n)")]
EndpointId = Annotated[str, Meta(pattern=r"^whe_[0-9a-z]{26}$(?!\n)")]
DeliveryState = Annotated[
    str,
    Meta(
        pattern=r"^(waiting|delivered|failed|cancelled)$(?!\n)",
        description="waiting, delivered, failed or cancelled",
    ),
]


class WebhookEndpointRequest(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Where to send messages: an https URL of a public host. Without `event_types`, of all types."""

    url: Url
    event_types: EventTypes | None = None
    description: Description = ""
    enabled: bool = True


class WebhookEndpointChange(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What is left out stays as it is; `event_types` of null are all types."""

    url: Url | UnsetType = UNSET
    event_types: EventTypes | UnsetType | None = UNSET
    description: Description | UnsetType = UNSET
    enabled: bool | UnsetType = UNSET


class WebhookRotationRequest(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Messages are signed with the old secret too for `overlap`, at most 7 days.

    Give PT0S where somebody has seen the secret who should not.
    """

    overlap: timedelta = timedelta(days=1)


class WebhookEndpoint(msgspec.Struct, frozen=True, kw_only=True):
    """An endpoint without its secret.

    `disabled_because` says why the service itself has disabled it. `failing_since` is the first
    attempt after the last that was received, and `old_secret_until` the end of an overlap.
    """

    id: str
    url: str
    event_types: tuple[str, ...] | None
    description: str
    enabled: bool
    disabled_because: str | None
    failing_since: datetime | None
    old_secret_until: datetime | None
    created_at: datetime
    updated_at: datetime


class NewWebhookEndpoint(WebhookEndpoint, frozen=True, kw_only=True):
    """`secret` is told this once: a repeated request is answered without it."""

    secret: str | None


class WebhookEndpointPage(msgspec.Struct, frozen=True, kw_only=True):
    items: tuple[WebhookEndpoint, ...]
    next: str | None


class WebhookDelivery(msgspec.Struct, frozen=True, kw_only=True):
    """A message to one endpoint. `event` is its webhook-id, `subject` the id of what it is about."""

    id: str
    endpoint: str
    event: str
    type: str
    subject: str
    state: str
    attempts: int
    created_at: datetime
    next_attempt_at: datetime | None
    ended_at: datetime | None


class WebhookAttempt(msgspec.Struct, frozen=True, kw_only=True):
    """`status` is missing where no answer came; `answer` is how it began."""

    number: int
    at: datetime
    duration: timedelta
    status: int | None
    problem: str | None
    answer: str | None


class WebhookDeliveryRecord(WebhookDelivery, frozen=True, kw_only=True):
    """With what is sent, and the last hundred attempts at it."""

    message: dict[str, Any]
    log: tuple[WebhookAttempt, ...]


class WebhookDeliveryPage(msgspec.Struct, frozen=True, kw_only=True):
    items: tuple[WebhookDelivery, ...]
    next: str | None


class WebhookDeliveryQuery(PageQuery, frozen=True, kw_only=True, forbid_unknown_fields=True):
    endpoint: EndpointId | None = None
    state: DeliveryState | None = None
