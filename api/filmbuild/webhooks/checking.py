"""What is asked of an endpoint, beyond its form."""

from datetime import timedelta

from msgspec import UNSET, UnsetType

from filmbuild.errors import Faults, Refusal
from filmbuild.webhooks.addresses import target_of
from filmbuild.webhooks.events import CHOOSABLE
from filmbuild.webhooks.wire import (
    WebhookEndpointChange,
    WebhookEndpointRequest,
    WebhookRotationRequest,
)

LONGEST_OVERLAP = timedelta(days=7)


def check_endpoint(asked: WebhookEndpointRequest | WebhookEndpointChange, *, private: bool) -> None:
    """Raises InvalidInput with all that is wrong."""
    faults = Faults()
    if asked.url is not UNSET:
        _check_url(asked.url, faults, private=private)
    _check_types(asked.event_types, faults)
    faults.raise_if_any()


def check_rotation(asked: WebhookRotationRequest) -> None:
    """Raises InvalidInput."""
    faults = Faults()
    if not timedelta(0) <= asked.overlap <= LONGEST_OVERLAP:
        faults.add("out-of-range", "accepted: a duration from PT0S to P7D", "overlap")
    faults.raise_if_any()


def _check_url(url: str, faults: Faults, *, private: bool) -> None:
    try:
        target_of(url, private=private)
    except Refusal as refusal:
        faults.add(refusal.code, refusal.detail, "url")


def _check_types(types: tuple[str, ...] | UnsetType | None, faults: Faults) -> None:
    for place, one in enumerate(types or ()):
        if one not in CHOOSABLE:
            detail = f"accepted: one of {', '.join(CHOOSABLE)}"
            faults.add("unknown-event-type", detail, "event_types", place)
