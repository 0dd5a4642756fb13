"""Calls of the service, described without sending them: quotations.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


def list_quotations(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    state: Choice[
        Literal["accepted", "declined", "draft", "expired", "issued", "superseded", "withdrawn"]
    ]
    | None = None,
) -> Call[models.QuotationPage]:
    """Quotations, newest first."""
    return Call(
        "GET",
        "/v1/quotations",
        models.QuotationPage,
        query=query(limit=limit, cursor=cursor, state=state),
    )


def create_quotation(
    request: models.QuotationRequest, *, idempotency_key: str | None = None
) -> Call[models.Quotation]:
    """Draft a quotation."""
    return Call(
        "POST",
        "/v1/quotations",
        models.Quotation,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def get_quotation(quotation_id: str) -> Call[models.Quotation]:
    """A quotation as its seller sees it."""
    return Call("GET", path("/v1/quotations/{}", quotation_id), models.Quotation)


def get_quotation_linked_data(quotation_id: str) -> Call[str]:
    """The quotation as linked data."""
    return Call("GET", path("/v1/quotations/{}", quotation_id), str, accept="application/ld+json")


def get_quotation_print(quotation_id: str) -> Call[bytes]:
    """The quotation for print."""
    return Call("GET", path("/v1/quotations/{}", quotation_id), bytes, accept="application/pdf")


def get_quotation_xml(quotation_id: str) -> Call[str]:
    """UBL 2.1."""
    return Call("GET", path("/v1/quotations/{}", quotation_id), str, accept="application/xml")


def get_quotation_table(quotation_id: str) -> Call[str]:
    """The lines as a table."""
    return Call("GET", path("/v1/quotations/{}", quotation_id), str, accept="text/csv")


def get_quotation_page(quotation_id: str) -> Call[str]:
    """The quotation as a page."""
    return Call("GET", path("/v1/quotations/{}", quotation_id), str, accept="text/html")


def create_change_order(
    quotation_id: str, request: models.ChangeOrderRequest, *, idempotency_key: str | None = None
) -> Call[models.Quotation]:
    """Draft a change to accepted work."""
    return Call(
        "POST",
        path("/v1/quotations/{}/change-orders", quotation_id),
        models.Quotation,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def list_quotation_history(
    quotation_id: str, *, limit: int | None = None, cursor: str | None = None
) -> Call[models.QuotationHistoryPage]:
    """What happened to a quotation."""
    return Call(
        "GET",
        path("/v1/quotations/{}/history", quotation_id),
        models.QuotationHistoryPage,
        query=query(limit=limit, cursor=cursor),
    )


def issue_quotation(quotation_id: str, *, if_match: str) -> Call[models.Quotation]:
    """Issue a draft."""
    return Call(
        "POST", path("/v1/quotations/{}/issue", quotation_id), models.Quotation, if_match=if_match
    )


def renew_quotation_link(quotation_id: str, *, if_match: str) -> Call[models.Quotation]:
    """Give the customer a new link."""
    return Call(
        "POST", path("/v1/quotations/{}/link", quotation_id), models.Quotation, if_match=if_match
    )


def revise_quotation(
    quotation_id: str, request: models.QuotationRequest, *, idempotency_key: str | None = None
) -> Call[models.Quotation]:
    """Draft what takes its place."""
    return Call(
        "POST",
        path("/v1/quotations/{}/revision", quotation_id),
        models.Quotation,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def withdraw_quotation(
    quotation_id: str, request: models.WithdrawalRequest, *, if_match: str
) -> Call[models.Quotation]:
    """Withdraw a draft or an open offer."""
    return Call(
        "POST",
        path("/v1/quotations/{}/withdrawal", quotation_id),
        models.Quotation,
        body=request,
        if_match=if_match,
    )
