"""An organisation as callers see it."""

import msgspec

from filmbuild.organisations.profile import OrganisationProfile, OrganisationTexts
from filmbuild.pipeline.results.base import Moment


class Organisation(msgspec.Struct, frozen=True, kw_only=True):
    """The profile as it was last given."""

    created_at: Moment
    updated_at: Moment
    profile: OrganisationProfile


class TextsInUse(msgspec.Struct, frozen=True, kw_only=True):
    """The words of offers in one language.

    `own` is false where the organisation has given none in it, and the service's own words hold.
    """

    language: str
    own: bool
    texts: OrganisationTexts
