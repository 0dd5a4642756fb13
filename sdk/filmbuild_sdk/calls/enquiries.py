"""Calls of the service, described without sending them: enquiries.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from typing import Literal

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, key, path, query
from filmbuild_sdk.values import Choice


def list_enquiries(
    *,
    limit: int | None = None,
    cursor: str | None = None,
    state: Choice[Literal["answered", "closed", "new"]] | None = None,
) -> Call[models.EnquiryPage]:
    """Enquiries, newest first."""
    return Call(
        "GET",
        "/v1/enquiries",
        models.EnquiryPage,
        query=query(limit=limit, cursor=cursor, state=state),
    )


def create_enquiry(
    request: models.EnquiryRequest, *, idempotency_key: str | None = None
) -> Call[models.EnquiryReceipt]:
    """Send an enquiry."""
    return Call(
        "POST",
        "/v1/enquiries",
        models.EnquiryReceipt,
        body=request,
        idempotency_key=key(idempotency_key),
    )


def erase_enquiry(enquiry_id: str) -> Call[None]:
    """Erase who asked."""
    return Call("DELETE", path("/v1/enquiries/{}", enquiry_id), type(None))


def get_enquiry(enquiry_id: str) -> Call[models.Enquiry]:
    """One enquiry."""
    return Call("GET", path("/v1/enquiries/{}", enquiry_id), models.Enquiry)


def change_enquiry(
    enquiry_id: str, request: models.EnquiryChange, *, if_match: str
) -> Call[models.Enquiry]:
    """Say how far an enquiry has come."""
    return Call(
        "PATCH",
        path("/v1/enquiries/{}", enquiry_id),
        models.Enquiry,
        body=request,
        if_match=if_match,
    )


def get_quote_form(
    *, language: Choice[Literal["en", "es"]] | None = None
) -> Call[models.QuoteForm]:
    """What a page needs to show the quote form."""
    return Call("GET", "/v1/quote-form", models.QuoteForm, query=query(language=language))


def put_quote_form(
    request: models.QuoteFormSettings, *, if_match: str
) -> Call[models.KeptQuoteForm]:
    """Set up the quote form."""
    return Call("PUT", "/v1/quote-form", models.KeptQuoteForm, body=request, if_match=if_match)


def get_quote_form_challenge() -> Call[models.Challenge]:
    """A challenge, to be solved before an enquiry is sent."""
    return Call("GET", "/v1/quote-form/challenge", models.Challenge)


def price_quote_form(request: models.FloorQuestion) -> Call[models.QuotedRange]:
    """What a floor comes to, as a range."""
    return Call("POST", "/v1/quote-form/prices", models.QuotedRange, body=request, computing=True)


def get_quote_form_settings() -> Call[models.KeptQuoteForm]:
    """How the quote form is set up."""
    return Call("GET", "/v1/quote-form/settings", models.KeptQuoteForm)
