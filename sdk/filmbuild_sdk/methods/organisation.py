"""The calls as methods of the clients: organisation.

Generated from openapi/openapi.json by sdk/generate.py: change those, not this.
"""

# ruff: noqa: ASYNC109 - the contract's words, and the HTTP client's timeout

from __future__ import annotations

from filmbuild_sdk import calls, models
from filmbuild_sdk.call import UNCHANGED, Timeout
from filmbuild_sdk.sending import AsyncSender, Sender


class OrganisationMethods(Sender):
    """The calls about organisation."""

    def get_organisation(self, *, timeout: Timeout = UNCHANGED) -> models.Organisation:
        """What the organisation says of itself.

        The seller of its offers, how they are numbered, how long they are open, and how they are
        paid.
        """
        return self.send(calls.get_organisation(), timeout=timeout)

    def put_organisation(
        self,
        request: models.OrganisationProfile,
        *,
        if_match: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Organisation:
        """Say who offers.

        Offers that were made before keep what they say. Makes the record where there is none. After
        that If-Match is needed, with the ETag that it was last read with.
        """
        return self.send(calls.put_organisation(request, if_match=if_match), timeout=timeout)

    def get_organisation_texts(
        self, language: str, *, timeout: Timeout = UNCHANGED
    ) -> models.TextsInUse:
        """The words of offers in one language.

        The organisation's own, or the service's where it has given none: there are such in English
        and in Spanish.
        """
        return self.send(calls.get_organisation_texts(language), timeout=timeout)

    def put_organisation_texts(
        self,
        language: str,
        request: models.OrganisationTexts,
        *,
        if_match: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TextsInUse:
        """Say it in your own words.

        All of them in place of all that were in use: what is left out is not said. Offers that were
        made before keep their words. Makes the record where there is none. After that If-Match is
        needed, with the ETag that it was last read with.
        """
        return self.send(
            calls.put_organisation_texts(language, request, if_match=if_match), timeout=timeout
        )


class AsyncOrganisationMethods(AsyncSender):
    """The calls about organisation."""

    async def get_organisation(self, *, timeout: Timeout = UNCHANGED) -> models.Organisation:
        """What the organisation says of itself.

        The seller of its offers, how they are numbered, how long they are open, and how they are
        paid.
        """
        return await self.send(calls.get_organisation(), timeout=timeout)

    async def put_organisation(
        self,
        request: models.OrganisationProfile,
        *,
        if_match: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.Organisation:
        """Say who offers.

        Offers that were made before keep what they say. Makes the record where there is none. After
        that If-Match is needed, with the ETag that it was last read with.
        """
        return await self.send(calls.put_organisation(request, if_match=if_match), timeout=timeout)

    async def get_organisation_texts(
        self, language: str, *, timeout: Timeout = UNCHANGED
    ) -> models.TextsInUse:
        """The words of offers in one language.

        The organisation's own, or the service's where it has given none: there are such in English
        and in Spanish.
        """
        return await self.send(calls.get_organisation_texts(language), timeout=timeout)

    async def put_organisation_texts(
        self,
        language: str,
        request: models.OrganisationTexts,
        *,
        if_match: str | None = None,
        timeout: Timeout = UNCHANGED,
    ) -> models.TextsInUse:
        """Say it in your own words.

        All of them in place of all that were in use: what is left out is not said. Offers that were
        made before keep their words. Makes the record where there is none. After that If-Match is
        needed, with the ETag that it was last read with.
        """
        return await self.send(
            calls.put_organisation_texts(language, request, if_match=if_match), timeout=timeout
        )
