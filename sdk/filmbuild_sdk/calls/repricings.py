"""Calls of the service, described without sending them: repricings.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


def list_repricings(
    *, limit: int | None = None, cursor: str | None = None
) -> Call[models.RepricingPage]:
    """Repricings, newest first."""
    return Call(
        "GET", "/v1/repricings", models.RepricingPage, query=query(limit=limit, cursor=cursor)
    )


def create_repricing(
    request: models.RepricingRequest, *, idempotency_key: str | None = None
) -> Call[models.Repricing]:
    """Compute all open estimates at new prices."""
    return Call(
        "POST",
        "/v1/repricings",
        models.Repricing,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def get_repricing(repricing_id: str) -> Call[models.Repricing]:
    """How far a repricing has come."""
    return Call("GET", path("/v1/repricings/{}", repricing_id), models.Repricing)


def list_repriced_estimates(
    repricing_id: str,
    *,
    limit: int | None = None,
    cursor: str | None = None,
    outcome: Choice[Literal["accepted", "refused", "repriced", "unchanged"]] | None = None,
    below_margin: bool | None = None,
) -> Call[models.RepricedEstimatePage]:
    """What became of each estimate."""
    return Call(
        "GET",
        path("/v1/repricings/{}/estimates", repricing_id),
        models.RepricedEstimatePage,
        query=query(limit=limit, cursor=cursor, outcome=outcome, below_margin=below_margin),
    )


def follow_repricing(repricing_id: str, *, last_event_id: str | None = None) -> Call[str]:
    """The progress of a repricing, as it is made."""
    return Call(
        "GET",
        path("/v1/repricings/{}/events", repricing_id),
        str,
        accept="text/event-stream",
        last_event_id=last_event_id,
    )


def resume_repricing(repricing_id: str) -> Call[models.Repricing]:
    """Go on with a repricing that is stopped or has failed."""
    return Call("POST", path("/v1/repricings/{}/resume", repricing_id), models.Repricing)


def stop_repricing(repricing_id: str) -> Call[models.Repricing]:
    """Stop a repricing."""
    return Call("POST", path("/v1/repricings/{}/stop", repricing_id), models.Repricing)
