"""What the service is sent and what it answers: webhooks.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from collections.abc import Sequence
from typing import Any

from msgspec import UNSET, UnsetType

from filmbuild_sdk.values import Answer, Input


class NewWebhookEndpoint(Answer, frozen=True, kw_only=True):
    """`secret` is told this once: a repeated request is answered without it."""

    id: str
    url: str
    event_types: tuple[str, ...] | None
    description: str
    enabled: bool
    disabled_because: str | None
    failing_since: str | None
    old_secret_until: str | None
    created_at: str
    updated_at: str
    secret: str | None


class WebhookDelivery(Answer, frozen=True, kw_only=True):
    """A message to one endpoint. `event` is its webhook-id, `subject` the id of what it is about."""

    id: str
    endpoint: str
    event: str
    type: str
    subject: str
    state: str
    attempts: int
    created_at: str
    next_attempt_at: str | None
    ended_at: str | None


class WebhookDeliveryPage(Answer, frozen=True, kw_only=True):
    items: tuple[WebhookDelivery, ...]
    next: str | None


class WebhookAttempt(Answer, frozen=True, kw_only=True):
    """`status` is missing where no answer came; `answer` is how it began."""

    number: int
    at: str
    duration: str
    status: int | None
    problem: str | None
    answer: str | None


class WebhookDeliveryRecord(Answer, frozen=True, kw_only=True):
    """With what is sent, and the last hundred attempts at it."""

    id: str
    endpoint: str
    event: str
    type: str
    subject: str
    state: str
    attempts: int
    created_at: str
    next_attempt_at: str | None
    ended_at: str | None
    message: dict[str, Any]
    log: tuple[WebhookAttempt, ...]


class WebhookEndpoint(Answer, frozen=True, kw_only=True):
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
    failing_since: str | None
    old_secret_until: str | None
    created_at: str
    updated_at: str


class WebhookEndpointChange(Input, frozen=True, kw_only=True):
    """What is left out stays as it is; `event_types` of null are all types."""

    description: str | UnsetType = UNSET
    enabled: bool | UnsetType = UNSET
    event_types: Sequence[str] | UnsetType | None = UNSET
    url: str | UnsetType = UNSET


class WebhookEndpointPage(Answer, frozen=True, kw_only=True):
    items: tuple[WebhookEndpoint, ...]
    next: str | None


class WebhookEndpointRequest(Input, frozen=True, kw_only=True):
    """Where to send messages: an https URL of a public host. Without `event_types`, of all types."""

    url: str
    description: str | UnsetType = UNSET  # left out: ""
    enabled: bool | UnsetType = UNSET  # left out: true
    event_types: Sequence[str] | None = None


class WebhookRotationRequest(Input, frozen=True, kw_only=True):
    """Messages are signed with the old secret too for `overlap`, at most 7 days.

    Give PT0S where somebody has seen the secret who should not.
    """

    overlap: str | UnsetType = UNSET  # left out: "P1D"
