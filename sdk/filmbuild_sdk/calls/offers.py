"""Calls of the service, described without sending them: offers.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, path


def get_offer(token: str) -> Call[models.OfferShown]:
    """An offer as its customer sees it."""
    return Call("GET", path("/v1/offers/{}", token), models.OfferShown)


def get_offer_linked_data(token: str) -> Call[str]:
    """The quotation as linked data."""
    return Call("GET", path("/v1/offers/{}", token), str, accept="application/ld+json")


def get_offer_print(token: str) -> Call[bytes]:
    """The quotation for print."""
    return Call("GET", path("/v1/offers/{}", token), bytes, accept="application/pdf")


def get_offer_xml(token: str) -> Call[str]:
    """UBL 2.1."""
    return Call("GET", path("/v1/offers/{}", token), str, accept="application/xml")


def get_offer_table(token: str) -> Call[str]:
    """The lines as a table."""
    return Call("GET", path("/v1/offers/{}", token), str, accept="text/csv")


def get_offer_page(token: str) -> Call[str]:
    """The quotation as a page."""
    return Call("GET", path("/v1/offers/{}", token), str, accept="text/html")


def accept_offer(token: str, request: models.Acceptance) -> Call[models.OfferShown]:
    """Accept an offer."""
    return Call("POST", path("/v1/offers/{}/acceptance", token), models.OfferShown, body=request)


def accept_offer_page(token: str, request: models.Acceptance) -> Call[str]:
    """The way back to the offer."""
    return Call(
        "POST", path("/v1/offers/{}/acceptance", token), str, body=request, accept="text/html"
    )


def decline_offer(token: str, request: models.Refusal) -> Call[models.OfferShown]:
    """Decline an offer."""
    return Call("POST", path("/v1/offers/{}/decline", token), models.OfferShown, body=request)


def decline_offer_page(token: str, request: models.Refusal) -> Call[str]:
    """The way back to the offer."""
    return Call("POST", path("/v1/offers/{}/decline", token), str, body=request, accept="text/html")
