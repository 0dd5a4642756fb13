"""Calls of the service, described without sending them: organisation.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

from __future__ import annotations

from filmbuild_sdk import models
from filmbuild_sdk.call import Call, path


def get_organisation() -> Call[models.Organisation]:
    """What the organisation says of itself."""
    return Call("GET", "/v1/organisation", models.Organisation)


def put_organisation(
    request: models.OrganisationProfile, *, if_match: str | None = None
) -> Call[models.Organisation]:
    """Say who offers."""
    return Call(
        "PUT",
        "/v1/organisation",
        models.Organisation,
        body=request,
        if_match=if_match,
        making=if_match is None,
    )


def get_organisation_texts(language: str) -> Call[models.TextsInUse]:
    """The words of offers in one language."""
    return Call("GET", path("/v1/organisation/texts/{}", language), models.TextsInUse)


def put_organisation_texts(
    language: str, request: models.OrganisationTexts, *, if_match: str | None = None
) -> Call[models.TextsInUse]:
    """Say it in your own words."""
    return Call(
        "PUT",
        path("/v1/organisation/texts/{}", language),
        models.TextsInUse,
        body=request,
        if_match=if_match,
        making=if_match is None,
    )
