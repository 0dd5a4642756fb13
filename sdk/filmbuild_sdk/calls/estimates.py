"""Calls of the service, described without sending them: estimates.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query


def calculate(request: models.EstimateRequest) -> Call[models.EstimateDocument]:
    """The whole estimate, without keeping it."""
    return Call("POST", "/v1/calculations", models.EstimateDocument, body=request)


def compare(request: models.ComparisonRequest) -> Call[models.ComparisonDocument]:
    """The same job in several ways, side by side."""
    return Call("POST", "/v1/comparisons", models.ComparisonDocument, body=request)


def list_estimates(
    *, limit: int | None = None, cursor: str | None = None
) -> Call[models.EstimatePage]:
    """Stored estimates, newest first."""
    return Call(
        "GET", "/v1/estimates", models.EstimatePage, query=query(limit=limit, cursor=cursor)
    )


def create_estimate(
    request: models.EstimateRequest, *, idempotency_key: str | None = None
) -> Call[models.StoredEstimate]:
    """Make an estimate and keep it."""
    return Call(
        "POST",
        "/v1/estimates",
        models.StoredEstimate,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def get_estimate(estimate_id: str) -> Call[models.StoredEstimate]:
    """One stored estimate."""
    return Call("GET", path("/v1/estimates/{}", estimate_id), models.StoredEstimate)
