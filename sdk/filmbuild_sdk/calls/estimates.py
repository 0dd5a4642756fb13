"""Calls of the service, described without sending them: estimates.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


def calculate(request: models.EstimateRequest) -> Call[models.EstimateDocument]:
    """The whole estimate, without keeping it."""
    return Call("POST", "/v1/calculations", models.EstimateDocument, body=request, computing=True)


def compare(request: models.ComparisonRequest) -> Call[models.ComparisonDocument]:
    """The same job in several ways, side by side."""
    return Call("POST", "/v1/comparisons", models.ComparisonDocument, body=request, computing=True)


def list_estimates(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    state: Choice[Literal["accepted", "open"]] | None = None,
    reference: str | None = None,
) -> Call[models.EstimatePage]:
    """Stored estimates, newest first."""
    return Call(
        "GET",
        "/v1/estimates",
        models.EstimatePage,
        query=query(limit=limit, cursor=cursor, state=state, reference=reference),
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


def compare_estimate_revisions(
    estimate_id: str, *, from_revision: int | None = None, to_revision: int | None = None
) -> Call[models.RevisionDifferences]:
    """What one revision differs in from another."""
    return Call(
        "GET",
        path("/v1/estimates/{}/differences", estimate_id),
        models.RevisionDifferences,
        query=query(from_revision=from_revision, to_revision=to_revision),
    )


def get_job_pack(
    estimate_id: str, *, language: str | None = None, revision: int | None = None
) -> Call[models.JobPack]:
    """The crew's papers for a stored estimate."""
    return Call(
        "GET",
        path("/v1/estimates/{}/job-pack", estimate_id),
        models.JobPack,
        query=query(language=language, revision=revision),
    )


def get_job_pack_print(
    estimate_id: str, *, language: str | None = None, revision: int | None = None
) -> Call[bytes]:
    """The job pack for print."""
    return Call(
        "GET",
        path("/v1/estimates/{}/job-pack", estimate_id),
        bytes,
        query=query(language=language, revision=revision),
        accept="application/pdf",
    )


def get_job_pack_page(
    estimate_id: str, *, language: str | None = None, revision: int | None = None
) -> Call[str]:
    """The job pack as a page."""
    return Call(
        "GET",
        path("/v1/estimates/{}/job-pack", estimate_id),
        str,
        query=query(language=language, revision=revision),
        accept="text/html",
    )


def list_estimate_revisions(
    estimate_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.EstimateRevisionPage]:
    """The revisions of an estimate, newest first."""
    return Call(
        "GET",
        path("/v1/estimates/{}/revisions", estimate_id),
        models.EstimateRevisionPage,
        query=query(limit=limit, cursor=cursor),
    )


def revise_estimate(
    estimate_id: str,
    request: models.RevisionRequest,
    *,
    if_match: str,
    idempotency_key: str | None = None,
) -> Call[models.EstimateRevision]:
    """Add a revision to an estimate."""
    return Call(
        "POST",
        path("/v1/estimates/{}/revisions", estimate_id),
        models.EstimateRevision,
        body=request,
        if_match=if_match,
        idempotency_key=key(idempotency_key),
    )


def get_estimate_revision(estimate_id: str, revision: str) -> Call[models.EstimateRevision]:
    """One revision of an estimate."""
    return Call(
        "GET", path("/v1/estimates/{}/revisions/{}", estimate_id, revision), models.EstimateRevision
    )


def recompute_estimate_revision(estimate_id: str, revision: str) -> Call[models.Recomputation]:
    """Compute a revision again."""
    return Call(
        "POST",
        path("/v1/estimates/{}/revisions/{}/recomputation", estimate_id, revision),
        models.Recomputation,
        computing=True,
    )
